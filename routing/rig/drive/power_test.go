package drive

import (
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

func watts(p measure.Power) *measure.Power { return &p }

func exactly(area measure.Area, kg measure.Mass, power *measure.Power) Vehicle {
	mass := kg * measure.Kilogram
	return Vehicle{DragArea: Exactly(area), Mass: Exactly(mass), Fuel: Diesel, Power: power}
}

// Worked by hand: at the speed that is held the wheels take what 150 kW leave after
// 5 kW of auxiliaries, by 0.85.
func TestHolds(t *testing.T) {
	v, w := exactly(7, 10_000, watts(150_000)), still(1.225)
	for _, tc := range []struct{ grade, speed float64 }{
		{0, 27.53}, {0.02, 22.78}, {0.06, 15.23}, {0.12, 9.287},
	} {
		got, ok := v.Holds(Section{Grade: tc.grade, Surface: Paved}, w, 50)
		if !ok {
			t.Errorf("cannot climb %v", tc.grade)
		}
		near(t, "speed", float64(got), tc.speed, 0.02)
		air, rolling, climb := Load{DragArea: 7, Air: 1.225, Rolling: 0.0125, Mass: 10_000 * measure.Kilogram, Grade: tc.grade}.Force(got)
		near(t, "power at the wheels", float64(air+rolling+climb)*float64(got), 145_000*0.85, 1)
	}
}

func TestHoldsLimits(t *testing.T) {
	w := OfKelvins(0, coldest)
	for name, tc := range map[string]struct {
		power *measure.Power
		grade float64
		limit measure.Speed
		want  measure.Speed
		ok    bool
	}{
		"power not known":       {nil, 0.30, 25, 25, true},
		"enough":                {watts(400_000), 0, 20, 20, true},
		"downhill":              {watts(20_000), -0.05, 25, 25, true},
		"cannot climb":          {watts(20_000), 0.30, 25, crawl, false},
		"no more than its fan":  {watts(4000), 0, 25, crawl, false},
		"cannot, below a crawl": {watts(20_000), 0.50, 1, 1, false},
	} {
		got, ok := exactly(7, 10_000, tc.power).Holds(Section{Grade: tc.grade, Surface: Paved}, w, tc.limit)
		if ok != tc.ok || got != tc.want {
			t.Errorf("%s: %v, %v, want %v, %v", name, got, ok, tc.want, tc.ok)
		}
	}
}

// A steeper climb, more mass, more drag or less power never lets a rig go faster.
// That the power a speed takes grows with it, which the search needs, is what makes
// the result the root: just below it there is power enough, just above there is not.
func TestHoldsFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		area := measure.Area(rapid.Float64Range(2, 12).Draw(t, "area"))
		mass := measure.Mass(rapid.Int64Range(2000, 30_000).Draw(t, "kg"))
		power := measure.Power(rapid.Float64Range(60_000, 400_000).Draw(t, "W"))
		s := Section{Grade: rapid.Float64Range(-0.12, 0.15).Draw(t, "grade"), Surface: Surface(rapid.IntRange(0, 3).Draw(t, "surface"))}
		w := OfKelvins(0, coldest)
		w.Wind = measure.Speed(rapid.Float64Range(0, 20).Draw(t, "wind"))
		if rapid.Bool().Draw(t, "known") {
			from := rapid.Float64Range(0, 360).Draw(t, "from")
			w.From = &from
		}
		const limit = 40
		base := exactly(area, mass, &power)
		got, ok := base.Holds(s, w, limit)
		steeper := s
		steeper.Grade += 0.01
		for name, tc := range map[string]struct {
			v Vehicle
			s Section
		}{
			"grade": {base, steeper}, "power": {exactly(area, mass, watts(power*0.9)), s},
		} {
			if other, still := tc.v.Holds(tc.s, w, limit); other > got*(1+1e-9) || still && !ok {
				t.Fatalf("%s: %v, not at most %v", name, other, got)
			}
		}
		calm, _ := base.Holds(s, OfKelvins(0, coldest), limit)
		// A tail wind faster than the rig pushes the more, the more drag it meets.
		if other, _ := exactly(area+1, mass, &power).Holds(s, OfKelvins(0, coldest), limit); other > calm*(1+1e-9) {
			t.Fatalf("drag: %v, not at most %v", other, calm)
		}
		if s.Grade >= 0 {
			if other, _ := exactly(area, mass+500, &power).Holds(s, w, limit); other > got*(1+1e-9) {
				t.Fatalf("mass: %v, not at most %v", other, got)
			}
		}
		if ok && got < limit {
			_, dearest, _, _ := base.places()
			high := base.at(dearest, w)
			wheels := (float64(power) - 5000) * 0.85
			for _, side := range []float64{1 - 1e-6, 1 + 1e-6} {
				speed := got * measure.Speed(side)
				air, rolling, climb := high.against(s, w.pushes(speed, s.Heading), speed)
				if short := float64(air+rolling+climb)*float64(speed) > wheels; short != (side > 1) {
					t.Fatalf("at %v of %v: short %v", side, got, short)
				}
			}
		}
	})
}

func BenchmarkHolds(b *testing.B) {
	v, w := exactly(7, 10_000, watts(150_000)), OfKelvins(0, coldest)
	b.ReportAllocs()
	for b.Loop() {
		v.Holds(Section{Grade: 0.06, Surface: Paved}, w, 30)
	}
}

func BenchmarkHoldsInWindFromAnywhere(b *testing.B) {
	v, w := exactly(7, 10_000, watts(150_000)), OfKelvins(0, coldest)
	w.Wind = 10
	b.ReportAllocs()
	for b.Loop() {
		v.Holds(Section{Grade: 0.06, Surface: Paved}, w, 30)
	}
}

func BenchmarkDescents(b *testing.B) {
	way := hilly(10_000)
	b.ReportAllocs()
	for b.Loop() {
		Descents(way)
	}
}
