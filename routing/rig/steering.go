package rig

import (
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Steering is what the coupling does to the first axle of a tow vehicle, by which it
// steers.
type Steering struct {
	Empty   measure.Mass // what it carries uncoupled
	Coupled Estimate
	Remains Shares // of Empty
	Share   Shares // Coupled of the tow vehicle with what rests on it
	Weighed bool
}

// Steering works out what the first axle keeps. What rests on a coupling behind the rear
// axle levers it up, what rests ahead of that axle loads it. It does not consider grades,
// braking, or the wind.
func (r Rig) Steering(s Statics) measure.Known[Steering] {
	t := r.Tow.Truck
	gross, ok := s.TowGross.Value()
	switch {
	case len(t.Axles) < 2 || t.CouplingAt == nil:
		return measure.Because[Steering](say.That("rig.no_tow_axles"))
	case t.Axles[0].Empty == nil || *t.Axles[0].Empty <= 0:
		return measure.Because[Steering](say.That("rig.no_empty_axles"))
	case len(s.Tow) == 0 || !ok || gross.Low <= 0:
		return measure.Because[Steering](say.That("rig.coupling_not_weighed"))
	}
	out := Steering{Empty: *t.Axles[0].Empty, Coupled: s.Tow[0], Weighed: s.Weighed}
	of := func(m, whole measure.Mass) float64 { return float64(m) / float64(whole) }
	on := out.Coupled
	out.Remains = Shares{of(on.Low, out.Empty), of(on.Likely, out.Empty), of(on.High, out.Empty)}
	heavy, light := on.Low, on.High // of the first axle where most rests on the coupling, and least
	if *t.CouplingAt <= rearOf(t) {
		heavy, light = light, heavy
	}
	one, other := of(heavy, gross.High), of(light, gross.Low)
	out.Share = Shares{min(one, other), of(on.Likely, gross.Likely), max(one, other)}
	return measure.Exactly(out)
}

// rearOf is where the middle of the axles behind the first stands; there must be one.
func rearOf(t Truck) measure.Length {
	return axlesAt(t.Axles[1:]) / measure.Length(len(t.Axles)-1)
}

// steersLeast is the least share of a vehicle's mass on its steering axles that was found
// published: of the approval of types in Europe, for vehicles that are loaded until their
// rear axle carries all it may, what rests on the coupling included. Nothing of the kind
// was found in Canada or the United States.
const steersLeast = 0.20

func steersRow() finding.Citation {
	return finding.Citation{
		ID: "steering-share", Published: "20 % of the greatest laden mass on the steering axles", Status: finding.Secondary,
		Source:  "Commission Regulation (EU) No 1230/2012, masses and dimensions (not law in Canada or the United States)",
		Section: "annex I", Year: "2012", ReadOn: handlingRead, Decides: true,
	}
}

// steers answers whether enough stays on the first axle to steer by.
func (r Rig) steers(s Statics) finding.Finding {
	f := finding.Finding{
		Topic: finding.Rig, Rule: RuleSteering, Place: say.That("rig.tow_axle", "number", 1),
		Outcome: finding.Unknown, Settles: finding.By(weigh(ofAxles, say.That("task.weigh_rig"))),
	}
	known := r.Steering(s)
	k, ok := known.Value()
	if !ok {
		f.Answer(finding.Unknown, finding.NotDescribed, say.That("rig.steering_unknown", "why", known.Why()))
		return f
	}
	f.Citations = []finding.Citation{steersRow()}
	f.Figures = say.That("rig.steering_figures", "coupled", k.Coupled.Says(), "empty", k.Empty,
		"remains", 100*k.Remains.Likely, "share", 100*k.Share.Likely)
	least := say.That("rig.steers_least", "percent", 100*steersLeast)
	switch {
	case k.Share.Likely < steersLeast:
		f.Answer(finding.Review, finding.Exceeded, say.That("rig.steers_less", "least", least))
	case k.Share.Low < steersLeast:
		f.Answer(finding.Review, finding.Little, say.That("rig.steers_perhaps_less", "least", least))
	case k.Remains.Low >= 1 && *r.Tow.CouplingAt <= rearOf(r.Tow.Truck):
		says := say.That("rig.steers_loaded")
		f.Citations = []finding.Citation{{
			ID: "tow.coupling_behind_first_axle", Shows: says, Status: finding.Verified, Source: ofDescription, Decides: true,
		}}
		f.Answer(finding.Clear, "", says)
	case !k.Weighed:
		f.Answer(finding.Unknown, finding.NotMeasured, say.That("rig.steers_if_likely", "least", least))
	default:
		f.Answer(finding.Clear, "", say.That("rig.steers", "least", least))
	}
	return f
}
