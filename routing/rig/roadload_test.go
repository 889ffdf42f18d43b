package rig

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

func near(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: %v, want %v within %v", name, got, want, tolerance)
	}
}

// U.S. Standard Atmosphere, 1976 (NOAA, NASA, USAF): sea-level values as
// published, 288.15 K, 101 325 Pa, 1.225 kg/m3. The rows above are worked out
// from its formula; the standard's own table has 1.1117, 1.0066 and 0.9093
// (from memory) at 1000, 2000 and 3000 m geometric altitude.
func TestStandardAir(t *testing.T) {
	for _, tc := range []struct{ altitude, kelvins, pascals, density float64 }{
		{0, 288.15, 101325, 1.2250},
		{500, 284.90, 95461, 1.1673},
		{1000, 281.65, 89875, 1.1116},
		{1500, 278.40, 84556, 1.0581},
		{2000, 275.15, 79495, 1.0065},
		{2500, 271.90, 74683, 0.9569},
		{3000, 268.65, 70109, 0.9091},
	} {
		kelvins, pascals, density := StandardAir(tc.altitude)
		near(t, "temperature", kelvins, tc.kelvins, 0.005)
		near(t, "pressure", pascals, tc.pascals, 1)
		near(t, "density", float64(density), tc.density, 0.0005)
	}
}

// Worked from the road-load equation by hand, independent of this code: 10 000
// kg, CdA 7.0 m2, Crr 0.008, air 1.225 kg/m3, driveline 0.90, 4 kW, engine
// 0.38, 35.8 MJ/L. It tests the arithmetic, not the truth of the figures.
func TestRoadLoad(t *testing.T) {
	d := Driveline{Engine: 0.38, Driveline: 0.90, Auxiliary: 4000, Heating: 35.8e9}
	for _, tc := range []struct{ kmh, grade, air, rolling, climb, watts, per100km float64 }{
		{80, 0, 2117, 785, 0, 64_485, 25.02},
		{90, 0, 2680, 785, 0, 86_605, 29.47},
		{100, 0, 3308, 785, 0, 113_689, 34.49},
		{90, 0.02, 2680, 784, 1961, 135_625, 45.48},
		{80, 0.06, 2117, 783, 5873, 194_974, 72.98},
	} {
		l := Load{DragArea: 7, Air: 1.225, Rolling: 0.008, Mass: 10_000 * measure.Kilogram, Grade: tc.grade}
		v := measure.Speed(tc.kmh) * measure.KilometrePerHour
		air, rolling, climb := l.Force(v)
		near(t, "air", float64(air), tc.air, 0.5)
		near(t, "rolling", float64(rolling), tc.rolling, 0.6)
		near(t, "climb", float64(climb), tc.climb, 0.6)
		near(t, "power", float64(air+rolling+climb)*float64(v), tc.watts, 20)
		near(t, "fuel", float64(d.Fuel(l, v, 100_000)/measure.Litre), tc.per100km, 0.01)
	}
}

// Drag grows with the square of speed: from 100 to 120 km/h by 1.44.
func TestDragSquare(t *testing.T) {
	l := Load{DragArea: 7, Air: 1.225}
	slow, _, _ := l.Force(100 * measure.KilometrePerHour)
	fast, _, _ := l.Force(120 * measure.KilometrePerHour)
	near(t, "ratio", float64(fast/slow), 1.44, 1e-12)
}

// 21CTP energy audit (U.S. Department of Energy, from memory): 80 000 lb at
// 65 mph burns 400 kWh of fuel in an hour, of which 85 go into air and 51 into
// tires. The same rig by these formulas must come close to that sum.
func TestHeavyTruckAudit(t *testing.T) {
	l := Load{DragArea: 5.66, Air: 1.225, Rolling: 0.0049, Mass: 80_000 * measure.Pound}
	v := 65 * measure.MilePerHour
	air, rolling, _ := l.Force(v)
	near(t, "air, kW", float64(air)*float64(v)/1000, 85, 1)
	near(t, "tires, kW", float64(rolling)*float64(v)/1000, 51, 1)
	d := Driveline{Engine: 0.40, Driveline: 136.0 / 145, Auxiliary: 15_000, Heating: 35.8e9}
	near(t, "L per hour", float64(d.Fuel(l, v, measure.Distance(v)*3600)/measure.Litre), 40.2, 0.4)
}

func example() Rig {
	h, w, m := 4*measure.Metre, 2500*measure.Millimetre, 9000*measure.Kilogram
	return Rig{Unit: Unit{Height: &h, Width: &w}, Tow: Tow{Fuel: Diesel}, Mass: &m}
}

func TestBurnUnknown(t *testing.T) {
	for name, change := range map[string]func(*Rig, *measure.Speed){
		"fuel":   func(r *Rig, _ *measure.Speed) { r.Tow.Fuel = FuelUnknown },
		"mass":   func(r *Rig, _ *measure.Speed) { r.Mass = nil },
		"height": func(r *Rig, _ *measure.Speed) { r.Unit.Height = nil },
		"speed":  func(_ *Rig, v *measure.Speed) { *v = 0 },
	} {
		r, v := example(), measure.Speed(25)
		change(&r, &v)
		if fuel, why := r.Burn(v, 1000); why == "" || fuel != (Range{}) {
			t.Errorf("without %s: %v, %q", name, fuel, why)
		}
	}
}

// The low end is below the high end, and both grow with speed, mass and size.
func TestBurnGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := example()
		mass := measure.Mass(rapid.Int64Range(2000, 30_000).Draw(t, "kg")) * measure.Kilogram
		r.Mass = &mass
		v := measure.Speed(rapid.Float64Range(10, 25).Draw(t, "v"))
		base, why := r.Burn(v, 10_000)
		if why != "" || !(0 < base.Low && base.Low < base.High) {
			t.Fatalf("%v, %q", base, why)
		}
		heavier, taller := r, r
		more, higher := mass+measure.Tonne, *r.Unit.Height+measure.Metre
		heavier.Mass, taller.Unit.Height = &more, &higher
		for name, got := range map[string]Range{"mass": burn(heavier, v), "height": burn(taller, v)} {
			if got.Low <= base.Low || got.High <= base.High {
				t.Fatalf("more %s burns %v, not more than %v", name, got, base)
			}
		}
	})
}

func burn(r Rig, v measure.Speed) Range {
	fuel, _ := r.Burn(v, 10_000)
	return fuel
}
