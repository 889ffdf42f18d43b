package rig

import (
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
)

// A truck whose ratings are what the unit needs is not overloaded by it; one that is
// rated for the least step less may be. What the unit needs is the same whatever tows it.
func TestNeedsAreEnoughAndNoMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := unitOf(Equalized, []float64{5, 6, 7})
		u.Ticket = nil
		for range rapid.IntRange(1, 4).Draw(t, "parts") {
			at := measure.Length(rapid.IntRange(0, 9000).Draw(t, "along")) * measure.Millimetre
			low := measure.Mass(rapid.IntRange(100, 3000).Draw(t, "kilograms")) * measure.Kilogram
			more := measure.Mass(rapid.IntRange(0, 300).Draw(t, "give or take")) * measure.Kilogram
			u.Frame.Parts = append(u.Frame.Parts, Part{Name: "part", Mass: Estimate{low, low + more, low + 2*more}, Place: Coordinates{Along: &at}})
		}
		alone, err := Assemble(u, Tow{}, Overall{}, "")
		if err != nil {
			t.Fatal(err)
		}
		needs := alone.Needs(alone.Statics())
		resting, ok := needs.Resting.Value()
		if !ok || needs.ByShare || resting.High <= 0 {
			t.Skip("nothing rests on the coupling")
		}
		towed, _ := needs.Towed.Value()
		truck := 3000 * measure.Kilogram
		for _, less := range []measure.Mass{0, 1} {
			gross, vertical, pulls, both := truck+resting.High-less, resting.High-less, towed.High-less, truck+towed.High-less
			tow := Tow{Mass: &truck}
			tow.Truck.Ratings = Ratings{Gross: &gross, Vertical: &vertical, Towed: &pulls, Combined: &both}
			unit := u
			unit.Frame.Ratings = Ratings{Vertical: &vertical, Towed: &pulls}
			r, err := Assemble(unit, tow, Overall{}, "")
			if err != nil {
				t.Fatal(err)
			}
			found := map[finding.Rule]finding.Finding{}
			for _, f := range r.Ratings(r.Statics()) {
				found[f.Rule] = f
			}
			for _, rule := range []finding.Rule{RuleTow, RuleCoupling, RuleTowed, RuleCombined} {
				over := found[rule].Reason == finding.Exceeded
				if over != (less > 0) && found[rule].Reason != finding.Little {
					t.Fatalf("%s, rated for %d less: %+v", rule, less, found[rule])
				}
			}
		}
	})
}

// A unit of which only the mass is given rests on its coupling as makers ask for: 10 to
// 15 % on a ball (the figures of the shares, see couplingShares).
func TestNeedsByShare(t *testing.T) {
	mass := 4000 * measure.Kilogram
	r, err := Assemble(Unit{Coupling: Ball, Mass: measure.Exactly(mass)}, Tow{}, Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	needs := r.Needs(r.Statics())
	if got, _ := needs.Resting.Value(); !needs.ByShare || got != (Estimate{400 * measure.Kilogram, 500 * measure.Kilogram, 600 * measure.Kilogram}) {
		t.Errorf("%+v", needs)
	}
	if got, _ := needs.Towed.Value(); got != Exactly(mass) {
		t.Errorf("%+v", got)
	}
	r.Unit.Coupling = ""
	if needs := r.Needs(r.Statics()); !needs.Resting.Open() || needs.ByShare {
		t.Errorf("a share of no kind: %+v", needs)
	}
	if needs := (Rig{}).Needs(Statics{}); !needs.Resting.Open() || !needs.Towed.Open() || needs.Why.None() {
		t.Errorf("of nothing: %+v", needs)
	}
}
