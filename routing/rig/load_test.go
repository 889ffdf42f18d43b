package rig

import (
	"testing"
	"time"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
)

// The load and its trailer are two things: what is given of the one is never taken for
// the other. 23 CFR 658.5 takes a length of a semitrailer from its own front to its rear,
// load aside.
func TestALoadIsNotItsTrailer(t *testing.T) {
	load := Unit{Kind: limit.LoadOnTrailer, Height: m(4.1), Length: m(9), Width: measure.Given(m(3.0)), Mass: measure.Given(kg(8000)), CouplingToRear: m(11)}
	tow := Tow{Width: measure.Given(m(2.4)), Height: m(3), Mass: kg(9000), FrontToCoupling: m(6)}
	known := func(q finding.Quantity, atLeast bool) finding.Quantity {
		if atLeast {
			return q.Least()
		}
		return q
	}
	length := func(metres float64, atLeast bool) finding.Quantity { return known(finding.Of(*m(metres)), atLeast) }
	mass := func(n int64, atLeast bool) finding.Quantity { return known(finding.Of(*kg(n)), atLeast) }
	none := finding.Quantity{}
	for name, tc := range map[string]struct {
		trailer                Own
		width, trailerLen, all finding.Quantity
	}{
		"trailer not described":  {Own{}, length(3.0, true), none, mass(17000, true)},
		"its length alone":       {Own{Length: m(10)}, length(3.0, true), length(10, false), mass(17000, true)},
		"shorter than its load":  {Own{Length: m(8)}, length(3.0, true), length(8, true), mass(17000, true)},
		"narrower than its load": {Own{Length: m(10), Width: m(2.6), Mass: kg(4000)}, length(3.0, false), length(10, false), mass(21000, false)},
		"wider than its load":    {Own{Width: m(3.2)}, length(3.2, false), none, mass(17000, true)},
		"heavier than its load":  {Own{Mass: kg(9000)}, length(3.0, true), none, mass(26000, false)},
	} {
		u := load
		u.Trailer = tc.trailer
		r, err := Assemble(u, tow, Overall{}, "")
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		v := r.Vehicle(clearance.DefaultAllowances())
		for q, want := range map[limit.Quantity]finding.Quantity{limit.Width: tc.width, limit.TrailerLength: tc.trailerLen, limit.GrossMass: tc.all, limit.CombinationLength: length(17, false), limit.Height: length(4.1, false)} {
			if got := q.Known(v.Measures[q]); got != want {
				t.Errorf("%s, %s: %q, want %q", name, q, got, want)
			}
		}
		if again, err := Assemble(r.Unit, r.Tow, Overall{}, ""); err != nil || again.Unit.Load != r.Unit.Load {
			t.Errorf("%s: taken for the load a second time: %v", name, err)
		}
	}
}

// Tires belong to the trailer; a deck or a fender may be wider still.
func TestTiresUnderALoad(t *testing.T) {
	u := Unit{Kind: limit.LoadOnTrailer, Width: measure.Given(m(2.4)), Frame: Frame{Axles: []Axle{shod(6, 2.4, 0.25)}}}
	for name, tc := range map[string]struct {
		trailer *measure.Length
		want    finding.Quantity
	}{
		"trailer not known": {nil, finding.Of(*m(2.65)).Least()},
		"trailer given":     {m(2.5), finding.Of(*m(2.65))},
		"a wider trailer":   {m(2.9), finding.Of(*m(2.9))},
	} {
		u.Trailer.Width = tc.trailer
		r, err := Assemble(u, Tow{Width: measure.Given(m(2))}, Overall{}, "")
		if err != nil {
			t.Fatal(err)
		}
		if got := limit.Width.Known(r.Vehicle(clearance.DefaultAllowances()).Measures[limit.Width]); got != tc.want {
			t.Errorf("%s: %q, want %q", name, got, tc.want)
		}
	}
}

// A trailer by itself beside a unit that is not said to be a load is one of the two too
// many.
func TestTrailerWithoutALoad(t *testing.T) {
	for _, kind := range []limit.Kind{limit.KindUnknown, limit.TinyHome} {
		if _, err := Assemble(Unit{Kind: kind, Trailer: Own{Length: m(9)}}, Tow{}, Overall{}, ""); field(t, err) != "unit.trailer" {
			t.Errorf("%q: %v", kind, err)
		}
	}
}

// What a load weighs is the least that its licence and its brakes are asked about.
func TestTaskOfALoad(t *testing.T) {
	r, err := Assemble(Unit{Kind: limit.LoadOnTrailer, Mass: measure.Given(kg(8000))}, Tow{Mass: kg(5000)}, Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	task := r.Drive("CA-ON", time.Time{})
	for want, got := range map[measure.Mass]measure.Known[measure.Mass]{*kg(8000): task.Unit, *kg(13000): task.Rig} {
		if least, _ := got.Least(); !got.AtLeast() || least != want {
			t.Errorf("%v, want at least %v", got, want)
		}
	}
}
