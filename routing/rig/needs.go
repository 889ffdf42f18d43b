package rig

import (
	"math"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Needs is what a unit asks of whatever tows it, worked out from the unit alone. A
// rating is to be no less than the high end; driver, passengers, tools, and a coupling
// in the bed come on top of what rests on it.
type Needs struct {
	Resting measure.Known[Estimate] // the least payload, and the least vertical rating of the coupling
	// Towed is the least towed rating of truck and coupling; beside the truck's own mass, of both together.
	Towed measure.Known[Estimate]
	// ByShare tells that what rests on the coupling is only the share of the unit's
	// mass that makers ask for.
	ByShare bool
	Why     say.Remark // why neither is known
}

// Needs works out what truck the unit takes.
func (r Rig) Needs(s Statics) Needs {
	out := Needs{Resting: s.Coupling}
	mass, stated := r.Unit.Mass.Value()
	switch {
	case s.Unit.High > 0:
		out.Towed = measure.Exactly(heavier(s.Unit, r.Unit.Mass))
	case stated:
		out.Towed = measure.Exactly(Exactly(mass))
	default:
		out.Why = say.That("rig.nothing_weighed")
		return out
	}
	if want, known := couplingShares[r.Unit.Coupling]; known && out.Resting.Open() {
		towed, _ := out.Towed.Value()
		out.Resting, out.ByShare = measure.Exactly(towed.between(want)), true
	}
	return out
}

// between is what a share of a mass is, rounded up.
func (e Estimate) between(want shareRange) Estimate {
	of := func(m measure.Mass, share float64) measure.Mass { return measure.Mass(math.Ceil(float64(m) * share)) }
	return Estimate{of(e.Low, want.low), of(e.Likely, (want.low+want.high)/2), of(e.High, want.high)}
}
