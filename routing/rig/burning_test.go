package rig

import (
	"testing"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig/drive"
)

// Faster and steeper burns more; what the engine may not hold says nothing.
func TestBurning(t *testing.T) {
	b := of(pulled().Burning())
	at := map[measure.Speed]map[float64]Rate{}
	for _, r := range b.Rates {
		if at[r.Speed] == nil {
			at[r.Speed] = map[float64]Rate{}
		}
		at[r.Speed][r.Grade] = r
		if !(0 < r.Burns.Low && r.Burns.Low < r.Burns.Likely && r.Burns.Likely < r.Burns.High) {
			t.Errorf("%+v", r)
		}
	}
	slow, fast := at[60*measure.KilometrePerHour], at[100*measure.KilometrePerHour]
	if !(slow[0].Burns.Likely < fast[0].Burns.Likely && slow[0].Burns.Likely < slow[0.02].Burns.Likely) {
		t.Errorf("%+v, %+v", slow, fast)
	}
	if !slow[0].Held || fast[0.06].Held {
		t.Errorf("holds 60 km/h on the level %v, 100 km/h on 6 %% %v", slow[0].Held, fast[0.06].Held)
	}
	near(t, "miles per US gallon at 25 L/100 km", (25 * measure.LitrePer100Kilometres).MilesPerUSGallon(), 235.2146/25, 1e-4)
	r := pulled()
	r.Tow.Fuel = drive.FuelUnknown
	if open := r.Burning(); !open.Open() || open.Why().None() {
		t.Errorf("%+v", open)
	}
}

// Logs that burn more than is likely raise what the rig is said to burn, and say so.
func TestBurningByLogs(t *testing.T) {
	r := pulled()
	before := of(r.Burning())
	rate := func(b Burning) measure.Consumption { return b.Rates[2].Burns.Likely } // 90 km/h on the level
	r.Tow.Logs = []drive.Log{{
		Fuel: measure.Volume(1.3 * float64(rate(before)) * 500_000), Distance: 500_000, Speed: 90 * measure.KilometrePerHour,
	}}
	after := of(r.Burning())
	if before.Logs != 0 || after.Logs != 1 || rate(after) <= rate(before) {
		t.Errorf("%v after %v", rate(after), rate(before))
	}
	if after.Without != before.Now || after.Now.Drag.Likely <= before.Now.Drag.Likely ||
		after.Now.Rolling.Likely <= before.Now.Rolling.Likely || after.Now.Engine.Likely >= before.Now.Engine.Likely {
		t.Errorf("%+v after %+v", after.Now, before.Now)
	}
}

func TestLogsThatNobodyBurnt(t *testing.T) {
	heavy := 500 * measure.Tonne
	good := drive.Log{Fuel: 100 * measure.Litre, Distance: 400_000, Speed: 25}
	thirsty, thrifty, massive := good, good, good
	thirsty.Fuel, thrifty.Fuel, massive.Mass = 1000*measure.Litre, 10*measure.Litre, &heavy
	for name, tc := range map[string]struct {
		log drive.Log
		bad bool
	}{"good": {good, false}, "thirsty": {thirsty, true}, "thrifty": {thrifty, true}, "massive": {massive, true}} {
		if err := checkLogs([]drive.Log{tc.log}); (err != nil) != tc.bad {
			t.Errorf("%s: %v", name, err)
		}
	}
}
