package drive

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

const (
	footPerSecond2 = 0.3048 / Gravity // in g
	mph20          = 20 * measure.MilePerHour
)

// made is a rig whose brakes are made for what it carries, with a strength that is known.
func made(tow, unit measure.Mass, strength float64) Stopping {
	of := func(m measure.Mass) Wheels {
		return Wheels{Carry: Exactly(m), Made: Exactly(m), Strength: Exactly(strength)}
	}
	return Stopping{of(tow), of(unit)}
}

// 49 CFR 393.52 (the same table in 67 Pa. Code chapter 175, table I, read): 14 ft/s2 from
// 20 mph within 35 ft for one vehicle, 40 ft for several: what is left beside the braking
// is how long brakes may take to pull.
func TestLagOfTheRule(t *testing.T) {
	v := float64(mph20)
	braking := v * v / (2 * 14 * 0.3048)
	for feet, want := range map[float64]float64{35: answers.Low, 40: 0.32} {
		if lag := (feet*0.3048 - braking) / v; math.Abs(lag-want) > 0.005 {
			t.Errorf("%v ft leave %.3f s, want %v", feet, lag, want)
		}
	}
	if answers.Likely > 0.32 {
		t.Errorf("likely brakes answer later than the rule lets them: %v s", answers.Likely)
	}
}

// N.J.S.A. 39:3-68 (read): from 20 mph on dry pavement of a friction of about 0.6, 30 ft
// and 14 ft/s2 with brakes on all wheels, 45 ft and 9.5 ft/s2 without.
func TestStopsOfAStatute(t *testing.T) {
	for feet, rate := range map[float64]float64{30: 14, 45: 9.5} {
		s := made(4*measure.Tonne, 6*measure.Tonne, rate*footPerSecond2)
		if got := s.Slows(false).Likely; math.Abs(got-rate*footPerSecond2) > 1e-9 {
			t.Errorf("%v g, want %v", got, rate*footPerSecond2)
		}
		before := float64(mph20) * (reacts.Likely + answers.Likely)
		if braked := (float64(s.Distance(mph20, false).Likely) - before) / 0.3048; math.Abs(braked-feet) > 1 {
			t.Errorf("%.1f ft, want %v", braked, feet)
		}
	}
}

// Worked by hand: 4 t whose brakes pull 0.6 of 5 t, and 6 t of which 5 t have brakes that
// pull 0.45: 3 + 2.25 of 10 t. Wet, the tires of the tow vehicle hold only 0.45 of 4 t, and
// those of the unit all that its brakes pull.
func TestSlowsByHand(t *testing.T) {
	s := Stopping{
		Tow:  Wheels{Exactly(4 * measure.Tonne), Exactly(5 * measure.Tonne), OfTow},
		Unit: Wheels{Exactly(6 * measure.Tonne), Exactly(5 * measure.Tonne), OfUnit},
	}
	if got := s.Slows(false).Likely; math.Abs(got-(2.8+2.25)/10) > 1e-9 { // 0.7 of 4 t is less than 3 t
		t.Errorf("dry: %v g", got)
	}
	if got := s.Slows(true).Likely; math.Abs(got-(1.8+2.25)/10) > 1e-9 {
		t.Errorf("wet: %v g", got)
	}
}

// Wet roads, more speed and brakes that do not work never stop a rig sooner.
func TestStopsLater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tonnes := func(name string) measure.Mass {
			return measure.Mass(rapid.Int64Range(1000, 10_000).Draw(t, name)) * measure.Kilogram
		}
		s := Stopping{
			Tow:  Wheels{Exactly(tonnes("tow")), Exactly(tonnes("made")), OfTow},
			Unit: Wheels{Exactly(tonnes("unit")), Exactly(tonnes("unit made")), OfUnit},
		}
		v := measure.Speed(rapid.Float64Range(5, 30).Draw(t, "speed"))
		alone := s
		alone.Unit.Made = Band[measure.Mass]{}
		d := s.Distance(v, false)
		if !(d.Low <= d.Likely && d.Likely <= d.High) {
			t.Fatalf("%+v", d)
		}
		for name, worse := range map[string]Band[measure.Distance]{
			"wet": s.Distance(v, true), "faster": s.Distance(v+1, false), "alone": alone.Distance(v, false),
		} {
			if worse.Likely < d.Likely {
				t.Fatalf("%s: %v, else %v", name, worse, d)
			}
		}
	})
}

// With every figure drawn at random, nine of ten stops lie within the ends.
func TestNineOfTenStops(t *testing.T) {
	s := Stopping{
		Tow:  Wheels{Exactly(4 * measure.Tonne), Exactly(6 * measure.Tonne), OfTow},
		Unit: Wheels{Band[measure.Mass]{6 * measure.Tonne, 5 * measure.Tonne, 7 * measure.Tonne}, Exactly(7 * measure.Tonne), OfUnit},
	}
	v := 90 * measure.KilometrePerHour
	ends := s.Distance(v, false)
	random := rand.New(rand.NewPCG(1, 2))
	const draws = 20_000
	within := 0
	for range draws {
		var p stop
		for _, cause := range causesOfStop {
			*cause(&p) = random.NormFloat64() / 1.6449 // of which nine of ten lie within one step
		}
		d := float64(v)*(reacts.at(p.react)+answers.at(p.lag)) + float64(v*v)/(2*Gravity*s.slows(false, p))
		if float64(ends.Low) <= d && d <= float64(ends.High) {
			within++
		}
	}
	if share := float64(within) / draws; share < 0.86 || share > 0.94 {
		t.Errorf("%.3f of all lie within the ends", share)
	}
}
