package rig

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
)

// tire is a tire of an axle at a pressure, of the pressure of its rating, in psi.
func tire(at, ratedAt float64, of Service, symbol Symbol) Tires {
	p, rated := measure.Pressure(at)*measure.PSI, measure.Pressure(ratedAt)*measure.PSI
	return Tires{For: of, Pressure: &p, RatedAt: &rated, SpeedSymbol: symbol}
}

// Tables of load and inflation, as printed: LT235/85R16 load range E, single (an owner's
// manual of a motor home, specifications, 1990, read), ST225/75R15 and ST235/80R16 (a
// maker's table in an article on trailer tires, read). What a tire is told to carry at the
// least lies below the table, what it is told at the most above it.
func TestPressureOfTables(t *testing.T) {
	for name, table := range map[string]map[float64]float64{
		"LT235/85R16": {35: 1700, 40: 1870, 45: 2030, 50: 2205, 55: 2335, 60: 2485, 65: 2623, 70: 2765, 75: 2905, 80: 3042},
		"ST225/75R15": {35: 1760, 50: 2150, 65: 2540, 80: 2840},
		"ST235/80R16": {35: 2090, 50: 2600, 65: 3000, 80: 3420},
	} {
		for psi, pounds := range table {
			low, high, ok := tire(psi, 80, LightTruckTire, "").inflated()
			if is := pounds / table[80]; !ok || low > is+1e-9 || high < is-1e-9 {
				t.Errorf("%s at %.0f psi: %.3f to %.3f, the table has %.3f", name, psi, low, high, is)
			}
		}
	}
	if low, high, _ := tire(95, 80, LightTruckTire, "").inflated(); low != 1 || high != 1 {
		t.Errorf("more pressure carries more: %v, %v", low, high)
	}
}

// 49 CFR 571.120, S5.1.2: on anything but a passenger car the rating of a passenger car's
// tire is divided by 1.10.
func TestPassengerTireOnATrailer(t *testing.T) {
	a := Axle{Tires: 2, Each: mass(1100), On: tire(35, 35, PassengerTire, "S")}
	if low, high, ok := a.Now(false); !ok || math.Abs(low.Kilograms()-2000) > 1e-6 || low != high {
		t.Errorf("%v to %v", low, high)
	}
	if low, _, _ := a.Now(true); low != 2200*measure.Kilogram {
		t.Errorf("under a car: %v", low)
	}
}

// The Tire and Rim Association, as quoted: trailer tires without a symbol run to 65 mph at
// their pressure, to 75 mph with 10 psi more. Symbols: a published chart of ISO 4000-1.
func TestSpeedOfTires(t *testing.T) {
	for _, tc := range []struct {
		of   Tires
		want measure.Speed
	}{
		{tire(80, 80, TrailerTire, ""), 65 * measure.MilePerHour},
		{tire(90, 80, TrailerTire, ""), 75 * measure.MilePerHour},
		{tire(80, 80, TrailerTire, "N"), 140 * measure.KilometrePerHour},
		{tire(80, 80, LightTruckTire, "Q"), 160 * measure.KilometrePerHour},
		{tire(80, 80, LightTruckTire, ""), 0},
	} {
		if got := tc.of.fastest(); got != tc.want {
			t.Errorf("%+v: %v, want %v", tc.of, got, tc.want)
		}
	}
	for _, s := range Symbols() {
		if symbols[s] == 0 {
			t.Errorf("%s has no speed", s)
		}
	}
}

// weighedAxle is a unit of one axle that was weighed, on given tires.
func weighedAxle(kg float64, on Tires) Rig {
	u := unitOf(Equalized, []float64{6})
	u.Frame.Axles[0].Tires, u.Frame.Axles[0].Each, u.Frame.Axles[0].On = 2, mass(1000), on
	u.Ticket = &Ticket{Coupling: 300 * measure.Kilogram, Axles: []measure.Mass{*mass(kg)}}
	return Rig{Unit: u}
}

func TestTiresAreJudged(t *testing.T) {
	for name, tc := range map[string]struct {
		rig    Rig
		at     measure.Speed
		want   finding.Outcome
		reason finding.Reason
	}{
		"nothing is known of them":     {weighedAxle(1900, Tires{}), 0, finding.Unknown, finding.NotGiven},
		"full pressure":                {weighedAxle(1900, tire(80, 80, TrailerTire, "")), 0, finding.Clear, ""},
		"over at full pressure":        {weighedAxle(2100, tire(80, 80, TrailerTire, "")), 0, finding.Forbidden, finding.Exceeded},
		"surely over at half pressure": {weighedAxle(1900, tire(40, 80, TrailerTire, "")), 0, finding.Forbidden, finding.Exceeded},
		"likely over at half pressure": {weighedAxle(1300, tire(40, 80, TrailerTire, "")), 0, finding.Review, finding.Exceeded},
		"within at half pressure":      {weighedAxle(1000, tire(40, 80, TrailerTire, "")), 0, finding.Unknown, finding.NoRow},
		"too fast":                     {weighedAxle(1900, tire(80, 80, TrailerTire, "")), 110, finding.Review, finding.Exceeded},
		"how fast is not known":        {weighedAxle(1900, tire(80, 80, TruckTire, "")), 0, finding.Unknown, finding.NotGiven},
	} {
		tc.rig.WindRoad = tc.at * measure.KilometrePerHour
		if f := tc.rig.tires(tc.rig.Statics()); f.Outcome != tc.want || f.Reason != tc.reason {
			t.Errorf("%s: %s, %s: %s", name, f.Outcome, f.Reason, said(f))
		}
	}
	parts := Rig{Unit: unitOf(Equalized, []float64{6}, part("all", 2000*measure.Kilogram, 5))}
	parts.Unit.Frame.Axles[0].Tires, parts.Unit.Frame.Axles[0].Each = 2, mass(1000)
	parts.Unit.Frame.Axles[0].On = tire(80, 80, TrailerTire, "N")
	if f := parts.tires(parts.Statics()); f.Outcome != finding.Unknown || f.Reason != finding.NotMeasured {
		t.Errorf("what nobody weighed: %+v", f)
	}
}

// More load, less pressure and more speed never make a graver answer milder.
func TestTiresOnlyGetWorse(t *testing.T) {
	grave := func(r Rig) int {
		for i, o := range gravest {
			if r.tires(r.Statics()).Outcome == o {
				return i
			}
		}
		return -1
	}
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		kg, psi, kmh := draw("kg", 500, 3000), draw("psi", 20, 100), draw("km/h", 50, 120)
		one := weighedAxle(kg, tire(psi, 80, TrailerTire, ""))
		one.WindRoad = measure.Speed(kmh) * measure.KilometrePerHour
		worse := weighedAxle(kg+draw("more", 0, 500), tire(psi-draw("less", 0, 10), 80, TrailerTire, ""))
		worse.WindRoad = one.WindRoad + measure.Speed(draw("faster", 0, 20))
		if grave(worse) > grave(one) {
			t.Fatalf("%v, and worse it is %v", gravest[grave(one)], gravest[grave(worse)])
		}
	})
}
