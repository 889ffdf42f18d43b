package rig

import (
	"strings"
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
)

// lifted is a unit whose centre of gravity lies behind its axle by some metres, with its
// coupling 1 m behind the rear axle of a tow vehicle of 4 m.
func lifted(t *testing.T, behind, giveOrTake float64) (Rig, Statics) {
	t.Helper()
	mass := 5 * measure.Tonne
	spread := measure.Mass(giveOrTake) * measure.Kilogram
	rear := part("tail", 0, 12)
	rear.Mass = Estimate{0, spread / 2, spread}
	u := unitOf(Equalized, []float64{6}, part("house", mass, 6+behind), rear)
	u.Coupling = Ball
	tow := truck(1500*measure.Kilogram, 1500*measure.Kilogram, 4, 5)
	r, err := Assemble(u, tow, Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	return r, r.Statics()
}

func ofRule(t *testing.T, findings []finding.Finding, rule string) finding.Finding {
	t.Helper()
	for _, f := range findings {
		if string(f.Rule) == rule {
			return f
		}
	}
	t.Fatalf("no finding of %s", rule)
	return finding.Finding{}
}

// Statics of a lever (J. L. Meriam, Engineering Mechanics: Statics, equilibrium of a rigid
// body, from memory): 5 t whose centre lies 0.6 m behind the axle, 6 m behind the coupling,
// lifts it with 500 kg. 5 m behind the first axle of a wheelbase of 4 m that takes
// 500 x 5 / 4 = 625 kg off the rear axle.
func TestACouplingThatIsSurelyLiftedIsForbidden(t *testing.T) {
	r, s := lifted(t, 0.6, 0)
	if of(s.Coupling).Likely != -500*measure.Kilogram {
		t.Fatalf("%v rests on the coupling", of(s.Coupling))
	}
	found := r.Ratings(s)
	f := ofRule(t, found, "coupling rating") // no rating is given: it is lifted whatever that is
	if f.Outcome != finding.Forbidden || !strings.Contains(said(f), "rig.unloads(loses: rig.mass(mass: 625 kg") || !strings.Contains(said(f), "empty: 1500 kg") || !asks(f) {
		t.Errorf("%s: %s", f.Outcome, said(f))
	}
	if f := ofRule(t, found, "coupling share"); f.Outcome != finding.Forbidden {
		t.Errorf("%s: %s", f.Outcome, said(f))
	}
	r.Unit.Ratings.Vertical, r.Tow.Ratings.Vertical = kg(900), kg(900)
	if f := ofRule(t, r.Ratings(s), "coupling rating"); f.Outcome != finding.Forbidden {
		t.Errorf("within its rating: %s", said(f))
	}
	r.Tow = Tow{}
	if f := ofRule(t, r.Ratings(r.Statics()), "coupling rating"); f.Outcome != finding.Forbidden || !strings.Contains(said(f), "rig.unloads_unknown") {
		t.Errorf("tow vehicle not described: %s: %s", f.Outcome, said(f))
	}
}

// A coupling that is lifted at one end of what the parts weigh is for a person.
func TestACouplingThatMayBeLiftedIsForAPerson(t *testing.T) {
	r, s := lifted(t, -0.1, 300)
	if of(s.Coupling).Low >= 0 || of(s.Coupling).High <= 0 {
		t.Fatalf("%v rests on the coupling", of(s.Coupling))
	}
	if f := ofRule(t, r.Ratings(s), "coupling rating"); f.Outcome != finding.Review || !strings.Contains(said(f), "rig.may_be_lifted") || !strings.Contains(said(f), "rig.unloads(") {
		t.Errorf("%s: %s", f.Outcome, said(f))
	}
}

// A first axle that the unit lifts off the road steers nothing.
func TestAnAxleThatIsSurelyLiftedIsForbidden(t *testing.T) {
	u := unitOf(Equalized, []float64{6}, part("house", 9*measure.Tonne, 2))
	u.Coupling = Ball
	r, err := Assemble(u, truck(1000*measure.Kilogram, 1500*measure.Kilogram, 4, 5.5), Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	if f := ofRule(t, r.Ratings(r.Statics()), "tow axle rating"); f.Outcome != finding.Forbidden || !strings.Contains(said(f), "rig.lifted(what: rig.tow_axle(number: 1))") {
		t.Errorf("%s: %s", f.Outcome, said(f))
	}
}
