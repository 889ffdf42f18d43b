package rig

import (
	"math"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Level is how a unit stands on its coupling.
type Level struct {
	Off   measure.Length // the coupling stands higher than where the unit is level; negative: lower
	Pitch float64        // degrees, nose up positive
	// Higher is how much higher its highest place stands than while it is level, at the
	// most; negative: lower.
	Higher measure.Length
	Tail   measure.Length // how much lower its rear end stands; negative: higher
	// Onto is what the last axle of independent springs takes more, and the first less;
	// nil: springs are equalized, or not known.
	Onto *Estimate
	// EachInch is the same for one inch (25.4 mm) at the coupling, upwards.
	EachInch *Estimate
}

// Level works out how the unit stands, from the heights of both sides of the coupling. It
// turns about the middle of its axles; springs and tires that give way, and the centre of
// gravity that goes back as the nose goes up, are not considered.
func (r Rig) Level() measure.Known[Level] {
	u, t := r.Unit, r.Tow.Truck
	switch {
	case len(u.Frame.Axles) == 0 || axlesAt(u.Frame.Axles) <= 0:
		return measure.Because[Level](say.That("rig.no_unit_axles"))
	case u.CouplingHeight == nil:
		return measure.Because[Level](say.That("rig.field_missing", "field", "unit.coupling_height"))
	case t.CouplingHeight == nil:
		return measure.Because[Level](say.That("rig.field_missing", "field", "tow.coupling_height"))
	}
	long := axlesAt(u.Frame.Axles).Metres() / float64(len(u.Frame.Axles))
	out := Level{Off: *t.CouplingHeight - *u.CouplingHeight}
	slope := out.Off.Metres() / long
	out.Pitch = math.Atan(slope) * 180 / math.Pi
	up := func(along measure.Length) measure.Length { return measure.OfMetres(slope * (long - along.Metres())) }
	out.Higher = u.higher(up)
	if u.CouplingToRear != nil {
		out.Tail = -up(*u.CouplingToRear)
	}
	if n := len(u.Frame.Axles); u.Suspension == Independent && n > 1 {
		onto, inch := u.leans(n-1, slope), u.leans(n-1, measure.Inch.Metres()/long)
		out.Onto, out.EachInch = &onto, &inch
	}
	return measure.Exactly(out)
}

// Leans says what goes from one independent axle to another, and what an inch does.
func (l Level) Leans() say.Remark {
	return say.That("rig.leans", "onto", l.Onto.Says(), "up", l.Off > 0, "inch", measure.Inch, "each", l.EachInch.Says())
}

// higher is how much the highest place of a unit rises, by how much each place along it
// does. Where no outline is described the highest place may be anywhere.
func (u Unit) higher(up func(measure.Length) measure.Length) measure.Length {
	if e, ok := u.extent(Travelling, nil); ok {
		top := e.Bottom
		for _, b := range u.OutlineIn(Travelling, nil) {
			top = max(top, b.Top+max(up(b.From), up(b.To)))
		}
		return top - e.Top
	}
	front, rear := measure.Length(0), measure.Length(0)
	if u.CouplingToRear != nil {
		rear = *u.CouplingToRear
		if u.Length != nil {
			front = rear - *u.Length
		}
	}
	return max(up(front), up(rear), 0)
}

// deflection is how far springs of an axle give way under its rating: rubber in torsion
// and leaves of trailers, 50 to 100 mm (from memory).
var deflection = struct{ stiff, likely, soft measure.Length }{
	50 * measure.Millimetre, 75 * measure.Millimetre, 100 * measure.Millimetre,
}

// leans is what an axle with springs of its own takes more where the unit stands on a
// slope, rise over run with its nose up: by its rating for each deflection that it gives
// way under it, as far as it stands behind the place about which their springs turn.
// Without all ratings nothing is, and the axles are not known anyway.
func (u Unit) leans(i int, slope float64) Estimate {
	var middle, all float64
	for _, a := range u.Frame.Axles {
		if a.Rating == nil {
			return Estimate{}
		}
		middle, all = middle+a.Rating.Kilograms()*a.At.Metres(), all+a.Rating.Kilograms()
	}
	middle /= all
	a := u.Frame.Axles[i]
	by := func(gives measure.Length) measure.Mass {
		return times(slope*(a.At.Metres()-middle)/gives.Metres(), *a.Rating)
	}
	stiff, soft := by(deflection.stiff), by(deflection.soft)
	return Estimate{min(stiff, soft), by(deflection.likely), max(stiff, soft)}
}

// tilt puts onto independent axles what a unit that does not stand level does.
func (s *Statics) tilt(r Rig) {
	l, ok := r.Level().Value()
	if !ok || l.Onto == nil || len(s.Axles) != len(r.Unit.Frame.Axles) || s.Each {
		return
	}
	slope := math.Tan(l.Pitch * math.Pi / 180)
	for i := range s.Axles {
		s.Axles[i] = s.Axles[i].Add(r.Unit.leans(i, slope))
	}
}

// levelWithin is what a unit may stand off level, at its coupling, and be called level:
// what a tape on the ground tells, this project's choice. A maker of hitches asks for
// parallel to the ground, or the front slightly down (a manual, read).
const levelWithin = measure.Inch

// stands answers whether the unit stands level behind its tow vehicle.
func (r Rig) stands() finding.Finding {
	f := finding.Finding{Topic: finding.Rig, Rule: RuleLevel, Place: say.That("rig.unit"), Outcome: finding.Unknown}
	known := r.Level()
	l, ok := known.Value()
	if !ok {
		f.Answer(finding.Unknown, finding.NotDescribed, say.That("rig.level_unknown", "why", known.Why()))
		f.Settles = [][]finding.Step{{height("unit.coupling_height"), height("tow.coupling_height")}}
		return f
	}
	f.Value = finding.Of(l.Off)
	says := say.That(
		"rig.level",
		"up",
		l.Off > 0,
		"off",
		max(l.Off, -l.Off),
		"degrees",
		math.Abs(l.Pitch),
		"over",
		l.Higher,
		"raised",
		l.Higher > 0,
	)
	if max(l.Off, -l.Off) <= levelWithin {
		says = say.That("rig.stands_level", "within", levelWithin)
	}
	f.Citations = []finding.Citation{{
		ID: "unit.coupling_height", Shows: says, Status: finding.Verified, Source: ofDescription, Decides: true,
	}}
	if max(l.Off, -l.Off) <= levelWithin {
		f.Answer(finding.Clear, "", says)
		return f
	}
	f.Answer(finding.Review, finding.Practice, says)
	if l.Onto != nil {
		f.Says = append(f.Says, l.Leans())
	}
	f.Settles = finding.By(
		seeTo(say.That("rig.walks_round"), say.That("task.level", "off", max(l.Off, -l.Off), "up", l.Off > 0)),
	)
	return f
}

// height is the step of measuring how high a side of the coupling is.
func height(field string) finding.Step {
	return finding.Step{By: finding.Answer, Of: field, Asks: say.That("task.coupling_height", "field", field)}
}
