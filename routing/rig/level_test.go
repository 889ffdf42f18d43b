package rig

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
)

// coupledAt is a rig whose coupling is so high, of a unit that stands level at 0.5 m.
func coupledAt(u Unit, height float64) Rig {
	u.CouplingHeight = known(0.5)
	tow := truck(2000*measure.Kilogram, 1500*measure.Kilogram, 4, 5.2)
	tow.Height, tow.Truck.CouplingHeight = known(2), known(height)
	return Rig{Unit: u, Tow: tow}
}

// Worked by hand: a coupling 60 mm high of a unit with the middle of its axles 6 m behind
// it pitches it by atan(0.01). A box 2 m behind the coupling rises by 40 mm, the rear end
// 9 m behind it sinks by 30 mm; two axles 1 m apart, each rated 2,000 kg, move by 5 mm:
// of the 75 mm that such springs give way under 2,000 kg, 133 kg.
func TestLevelByHand(t *testing.T) {
	u := unitOf(Independent, []float64{5.5, 6.5}, part("all", 3000*measure.Kilogram, 5.5))
	u.Frame.Axles[0].Rating, u.Frame.Axles[1].Rating = mass(2000), mass(2000)
	u.Outline, u.CouplingToRear = boxOf2(2, 9, 4), known(9)
	r := coupledAt(u, 0.56)
	l, ok := r.Level().Value()
	if !ok {
		t.Fatal(r.Level().Why())
	}
	near(t, "pitch", l.Pitch, math.Atan(0.01)*180/math.Pi, 1e-9)
	near(t, "higher, m", l.Higher.Metres(), 0.04, 1e-9)
	near(t, "tail, m", l.Tail.Metres(), 0.03, 1e-9)
	near(t, "onto the last axle, kg", l.Onto.Likely.Kilograms(), 2000*5.0/75, 1e-3)
	near(t, "for each inch of so many, kg", l.EachInch.Likely.Kilograms()*l.Off.Metres()/0.0254, l.Onto.Likely.Kilograms(), 1e-3)
	level := coupledAt(u, 0.5).Statics()
	s := r.Statics()
	near(t, "last axle, kg", (s.Axles[1].Likely - level.Axles[1].Likely).Kilograms(), 2000*5.0/75, 1e-3)
	near(t, "first axle, kg", (s.Axles[0].Likely - level.Axles[0].Likely).Kilograms(), -2000*5.0/75, 1e-3)
	u.Suspension = Equalized
	if even := coupledAt(u, 0.56).Statics(); even.Axles[0] != level.Axles[0] {
		t.Errorf("beams share alike: %+v", even.Axles)
	}
}

// boxOf2 is an outline of one box.
func boxOf2(from, to, top float64) []Box { return []Box{*boxOf(from, to, 1.2, 0.6, top)} }

// A unit whose nose is lifted passes under structures as high as it then stands.
func TestLiftedNoseIsHigher(t *testing.T) {
	u := unitOf(Equalized, []float64{5.5, 6.5})
	u.Coupling, u.Outline = Ball, boxOf2(2, 9, 4)
	for height, want := range map[float64]float64{0.5: 4, 0.56: 4.04, 0.44: 4.03} { // 3 m behind the axles
		r := coupledAt(u, height)
		got, err := Assemble(r.Unit, r.Tow, Overall{}, "")
		if err != nil {
			t.Fatal(err)
		}
		near(t, "height", got.Height.Pointer().Metres(), want, 1e-9)
	}
}

// Off level by more than an inch somebody sees to it, within it stands level, and without
// a height nothing is known.
func TestStandsLevel(t *testing.T) {
	u := unitOf(Equalized, []float64{6})
	for height, want := range map[float64]finding.Outcome{
		0.5: finding.Clear, 0.5254: finding.Clear, 0.526: finding.Review, 0.474: finding.Review,
	} {
		if f := coupledAt(u, height).stands(); f.Outcome != want {
			t.Errorf("%v m: %+v", height, f)
		}
	}
	r := coupledAt(u, 0.5)
	r.Tow.Truck.CouplingHeight = nil
	if f := r.stands(); f.Outcome != finding.Unknown || !asks(f) {
		t.Errorf("%+v", f)
	}
}

// What leans from one axle to another is nothing in all, whatever axles are rated.
func TestLeansAddUpToNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawnUnit(t)
		u.Suspension = Independent
		for i := range u.Frame.Axles {
			u.Frame.Axles[i].Rating = mass(float64(rapid.IntRange(500, 5000).Draw(t, "rating")))
		}
		slope := rapid.Float64Range(-0.05, 0.05).Draw(t, "slope")
		var all measure.Mass
		for i := range u.Frame.Axles {
			all += u.leans(i, slope).Likely
		}
		if math.Abs(all.Kilograms()) > 1e-4 {
			t.Fatalf("%v kg", all.Kilograms())
		}
	})
}
