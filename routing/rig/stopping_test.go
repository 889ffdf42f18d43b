package rig

import (
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
)

// stoppable is a rig of 3.5 t that pulls 6 t on two axles whose brakes are made for 3 t each.
func stoppable(b Brakes) Rig {
	u := unitOf(Equalized, []float64{5.5, 6.5}, part("all", 6000*measure.Kilogram, 5.3))
	u.Frame.Brakes = b
	u.Frame.Axles[0].Rating, u.Frame.Axles[1].Rating = mass(3000), mass(3000)
	tow := truck(2000*measure.Kilogram, 1500*measure.Kilogram, 4, 5.2)
	tow.Mass, tow.Truck.Ratings.Gross = mass(3500), mass(5000)
	return Rig{Unit: u, Tow: tow}
}

// No brakes at the unit are too little by what 49 CFR 393.52 asks of combinations, with
// brakes only trying them tells, and without a word on them nothing is known. Nothing of
// it is ever clear.
func TestStoppingIsNeverClear(t *testing.T) {
	for b, want := range map[Brakes]finding.Outcome{
		NoBrakes: finding.Review, Electric: finding.Unknown, BrakesUnknown: finding.Unknown,
	} {
		r := stoppable(b)
		f := r.brakes(r.Statics())
		if f.Outcome != want || !asks(f) {
			t.Errorf("%q: %+v", b, f)
		}
	}
	bare := Rig{}
	if f := bare.brakes(bare.Statics()); f.Outcome != finding.Unknown || !asks(f) {
		t.Errorf("%+v", f)
	}
}

// Axles without brakes brake nothing, and those whose brakes are made for less pull less.
func TestBrakesOfAxles(t *testing.T) {
	slows := func(change func(*Rig)) float64 {
		r := stoppable(Electric)
		change(&r)
		k, _ := r.Stops(r.Statics()).Value()
		return k.Slows.Likely
	}
	all := slows(func(*Rig) {})
	one := slows(func(r *Rig) { r.Unit.Frame.Axles[0].Unbraked = true })
	none := slows(func(r *Rig) { r.Unit.Frame.Axles[0].Unbraked, r.Unit.Frame.Axles[1].Unbraked = true, true })
	small := slows(func(r *Rig) { r.Unit.Frame.Axles[0].BrakeRating = mass(1500) })
	if !(all > small && small > one && one > none) {
		t.Errorf("all %v, smaller %v, one %v, none %v", all, small, one, none)
	}
	near(t, "what one axle's brakes pull, g", all-one, 0.45*3000/9500, 1e-3)
}
