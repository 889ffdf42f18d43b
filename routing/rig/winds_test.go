package rig

import (
	"testing"

	"wayhouse/regs/measure"
)

// What was reckoned is told with what it was reckoned with, at the figures that were given.
func TestWindTellsItsCase(t *testing.T) {
	r := windy(4000)
	r.WindRoad, r.WindKelvins, r.WindwardShare = 70*measure.KilometrePerHour, 303.15, 0.35
	s := r.Statics()
	f := r.wind(s)
	said := f.Says[len(f.Says)-1]
	for name, want := range map[string]any{
		"road": r.WindRoad, "celsius": 30.0, "percent": 35.0, "gust": of(r.Winds(s).Computed),
	} {
		if got := said.Get(name); got != want {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
}

// A gust that asks for driving slower, and reads as the one to stop at, is not told apart.
func TestSlowsWellBelowTheStop(t *testing.T) {
	slows := 0
	for kilograms := int64(2000); kilograms < 9000; kilograms += 10 {
		r := windy(kilograms)
		w := r.Winds(r.Statics())
		if w.Slow > 0 {
			slows++
		}
		if w.Slow > 0 && w.Gust-w.Slow < toldApart {
			t.Errorf("%d kg: slower above %v, stop above %v", kilograms, w.Slow, w.Gust)
		}
	}
	if slows == 0 {
		t.Error("none is to drive slower")
	}
}
