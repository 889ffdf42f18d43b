package rig

import (
	"math"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/sweep"
)

// Manoeuvre is a corner, a driveway or a gate that was tried without a trip.
type Manoeuvre struct {
	Place sweep.Place
	Fit   measure.Known[sweep.Fit]
	// Lock is the least radius that was tried; Assumed tells that the tow vehicle's is not
	// given.
	Lock    measure.Length
	Assumed bool
	// Bends is how far the rig may bend, in degrees; 0: nothing keeps it from it, or that is
	// not known.
	Bends float64
}

// anyLock is the least radius of the middle of the first axle where that of the tow vehicle
// is not given, as at the corners of a way: 12.5 m.
const anyLock = 12_500 * measure.Millimetre

// keptBeside is the room that a driver is to have on either side of a line: this project's
// choice, for a line that nobody drives exactly.
const keptBeside = 500 * measure.Millimetre

// Try looks for a line through a place. Errors are [*measure.FieldError] for a place that
// is none.
func (r Rig) Try(p sweep.Place) (*Manoeuvre, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	out := &Manoeuvre{Place: p, Lock: anyLock, Assumed: r.Tow.TurningRadius == nil}
	if !out.Assumed {
		out.Lock = *r.Tow.TurningRadius
	}
	if b, ok := r.Bending().Value(); ok && b.First != nil {
		out.Bends = max(b.First.Angle, 0.1) // one that touches as it stands straight gets round nothing
	}
	known := r.inPlan()
	plan, ok := known.Value()
	if !ok {
		out.Fit = measure.Because[sweep.Fit](known.Why())
		return out, nil
	}
	fit, err := plan.Through(p, measure.Distance(out.Lock.Metres()), sweep.Angle(out.Bends)*sweep.Degree)
	if err != nil {
		out.Fit = measure.Because[sweep.Fit](say.Of(err))
		return out, nil
	}
	out.Fit = measure.Exactly(fit)
	return out, nil
}

// Least is what is kept on the narrower side; negative: by so much the rig reaches over.
func (m *Manoeuvre) Least() measure.Length {
	fit, _ := m.Fit.Value()
	return measure.OfMetres(math.Floor(1000*float64(min(fit.Left, fit.Right))) / 1000)
}

// Finding answers whether the rig gets through.
func (m *Manoeuvre) Finding() finding.Finding {
	f := finding.Finding{
		Topic: finding.Rig, Rule: RuleCorner, Place: say.That("rig.corner"),
		Settles: finding.By(seeTo(say.That("rig.walks_place"), say.That("task.corner"))),
	}
	fit, ok := m.Fit.Value()
	if !ok {
		f.Answer(finding.Unknown, finding.NotDescribed, say.That("rig.corner_unknown", "why", m.Fit.Why()))
		f.Settles = finding.By(describe("unit.running_gear"))
		return f
	}
	least := m.Least()
	f.Margin = finding.Of(least)
	switch narrow := m.narrower(); {
	case narrow != "":
		f.Answer(finding.Forbidden, finding.Exceeded, say.That("rig.corner_narrow", "field", narrow))
	case !fit.Passes():
		f.Answer(finding.Review, finding.Exceeded, say.That("rig.corner_short", "short", -least))
	case m.Assumed:
		f.Answer(finding.Unknown, finding.NotGiven, say.That("rig.corner_if", "left", least, "lock", m.Lock))
		f.Settles = finding.By(describe("tow.turning_radius"))
	case least < keptBeside:
		f.Answer(finding.Review, finding.Little, say.That("rig.corner_little", "left", least, "asked", keptBeside))
	default:
		says := say.That("rig.corner_passes", "left", least)
		f.Citations = []finding.Citation{{
			ID: "corner", Shows: says, Status: finding.Verified, Source: ofDescription, Decides: true,
		}}
		f.Answer(finding.Clear, "", says)
	}
	return f
}

// narrower is the field of a width that is less than the rig is wide: no line leads through
// it. "" for none.
func (m *Manoeuvre) narrower() string {
	fit, _ := m.Fit.Value()
	wide := max(fit.Rig.TowWidth, fit.Rig.UnitWidth)
	switch {
	case m.Place.From < wide:
		return "corner.from"
	case m.Place.Into < wide:
		return "corner.into"
	case m.Place.Gate != nil && m.Place.Gate.Width < wide:
		return "corner.gate.width"
	}
	return ""
}
