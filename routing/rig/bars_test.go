package rig

import (
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
)

// barred is a truck with bars that return a share of what the ball takes off its first
// axle.
func barred(t Tow, share float64) Tow {
	t.Truck.Distribution = &Distribution{Returns: &share}
	return t
}

// Worked by hand: 500 kg on a ball 1.2 m behind the rear axle of a 4 m wheelbase take
// 150 kg off the first axle, and put 650 kg on the rear one. Bars that return all of it,
// with the unit's axles 6 m behind the ball, transmit 500 g 1.2 / (1 + 1.2/6) = 500 g 1 m:
// a sixth of 500 kg goes to the unit, the rest, 416.67 kg, to the rear axle, the first
// carries what it does uncoupled.
func TestBarsByHand(t *testing.T) {
	u := unitOf(Equalized, []float64{5.5, 6.5}, part("all", 4000*measure.Kilogram, 6*3500.0/4000))
	u.Coupling = Ball
	tow := truck(1800*measure.Kilogram, 1200*measure.Kilogram, 4, 5.2)
	s := balance(t, u, barred(tow, 1))
	near(t, "on the ball", of(s.Coupling).Likely.Kilograms(), 500, 1e-6)
	near(t, "first axle", s.Tow[0].Likely.Kilograms(), 1800, 1e-6)
	near(t, "rear axle", s.Tow[1].Likely.Kilograms(), 1200+500*5/6.0, 1e-6)
	near(t, "axles of the unit", (s.Axles[0].Likely + s.Axles[1].Likely).Kilograms(), 3500+500/6.0, 1e-6)
	near(t, "moment, N m", s.Bars.Moment, 500*9.80665, 1e-3)
	near(t, "tow vehicle", of(s.TowGross).Likely.Kilograms(), 3000+500*5/6.0, 1e-6)
	half := balance(t, u, barred(tow, 0.5))
	near(t, "first axle, half", half.Tow[0].Likely.Kilograms(), 1725, 1e-6)
	none := balance(t, u, barred(tow, 0))
	near(t, "first axle, slack bars", none.Tow[0].Likely.Kilograms(), 1650, 1e-6)
}

// Bars move what is there: all axles add up to the rig with and without them, they never
// add to the rear axles of the tow vehicle, and where nobody said how they are set the
// ends hold every setting.
func TestBarsMoveOnly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawnUnit(t)
		u.Coupling = Ball
		tow := truck(2000*measure.Kilogram, 1500*measure.Kilogram, rapid.Float64Range(3, 5).Draw(t, "base"),
			rapid.Float64Range(5.1, 7).Draw(t, "ball"))
		bare := Rig{Unit: u, Tow: tow}.Statics()
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		set := Rig{Unit: u, Tow: barred(tow, share)}.Statics()
		if set.Bars == nil {
			return // the unit may lift its coupling
		}
		open := tow
		open.Truck.Distribution = &Distribution{}
		loose := Rig{Unit: u, Tow: open}.Statics()
		sum := func(s Statics) (all measure.Mass) {
			for _, e := range append(append([]Estimate{}, s.Tow...), s.Axles...) {
				all += e.Likely
			}
			return all
		}
		if sum(bare) != sum(set) {
			t.Fatalf("bars make %d of %d", sum(set), sum(bare))
		}
		if set.Tow[1].High > bare.Tow[1].High || set.Tow[0].Low < bare.Tow[0].Low {
			t.Fatalf("bars load the rear axle or lift the first: %+v, without %+v", set.Tow, bare.Tow)
		}
		for i, e := range append(append([]Estimate{}, set.Tow...), set.Axles...) {
			a := append(append([]Estimate{}, loose.Tow...), loose.Axles...)[i]
			if e.Low < a.Low-1 || e.High > a.High+1 {
				t.Fatalf("axle %d: %+v is not within %+v", i, e, a)
			}
		}
	})
}

// Bars clear nothing: a rear axle that is over its rating without them stays unsettled
// with them, and what was weighed of the unit alone no longer clears its axles.
func TestBarsClearNothing(t *testing.T) {
	u := unitOf(Equalized, []float64{6})
	u.Coupling, u.Frame.Axles[0].Rating, u.Frame.Axles[0].Each, u.Frame.Axles[0].Tires = Ball, mass(3600), mass(1800), 2
	u.Ticket = &Ticket{Coupling: 500 * measure.Kilogram, Axles: []measure.Mass{3500 * measure.Kilogram}}
	tow := barred(truck(1800*measure.Kilogram, 1200*measure.Kilogram, 4, 5.2), 1)
	tow.Truck.Axles[1].Rating, tow.Truck.Axles[1].Each, tow.Truck.Axles[1].Tires = mass(1700), mass(850), 2
	r, err := Assemble(u, tow, Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range r.Ratings(r.Statics()) {
		if (f.Rule == RuleUnitAxle || f.Rule == RuleTowAxle) && f.Outcome == finding.Clear {
			t.Errorf("cleared: %+v", f)
		}
	}
}

func mass(kg float64) *measure.Mass {
	m := measure.Mass(kg * float64(measure.Kilogram))
	return &m
}

// A plate or a ball in the bed has no bars.
func TestBarsAreOfABall(t *testing.T) {
	u := unitOf(Equalized, []float64{6})
	u.Coupling = Gooseneck
	if _, err := Assemble(u, barred(truck(1, 1, 4, 3.8), 1), Overall{}, ""); err == nil {
		t.Error("a gooseneck has bars")
	}
}
