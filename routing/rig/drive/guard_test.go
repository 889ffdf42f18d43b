package drive

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

// A word that is not listed is not known: it never reads as no drag.
func TestUnlisted(t *testing.T) {
	if got, want := (Shape{Outline: 10, Nose: "sloped"}).DragArea(), (Shape{Outline: 10}).DragArea(); got != want {
		t.Errorf("%v, want %v", got, want)
	}
	if got := (Section{Surface: 200}).surface(); got != SurfaceUnknown {
		t.Errorf("%v", got)
	}
}

// Without a fuel nothing is burnt and all is unknown.
func TestFuelUnknown(t *testing.T) {
	v := exactly(7, 10_000, nil)
	v.Fuel = FuelUnknown
	if got := v.Over([]Section{{Length: 1000, Speed: 20}}, AnyWeather(0), 0); got != (Run{Unknown: 1000}) {
		t.Errorf("%+v", got)
	}
	got := FuelStops(100, 0, []Section{{Length: 10}, {Length: 10}}, []measure.Volume{1, measure.Volume(math.Inf(1))})
	if len(got) != 1 || got[0] != 10 {
		t.Errorf("stops %v", got)
	}
}

// More drag never burns less, on a descent neither.
func TestDragDownhill(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, way := drawVehicle(t), drawWay(t, -0.06, 0.06)
		blunt := v
		blunt.DragArea = Band[measure.Area]{v.DragArea.Likely + 1, v.DragArea.Low + 1, v.DragArea.High + 1}
		base, got := v.Over(way, AnyWeather(0), 0).Fuel, blunt.Over(way, AnyWeather(0), 0).Fuel
		if got.Likely < base.Likely || got.Most() < base.Most() {
			t.Fatalf("%v, less than %v", got, base)
		}
	})
}

// A descent that is just long enough is one, in however many sections.
func TestDescentInParts(t *testing.T) {
	for i, h := range hills {
		for n := 1; n < 200; n++ {
			way := make([]Section, n)
			for j := range way {
				way[j] = down(h.grade, h.length/measure.Distance(n))
			}
			if got := Descents(way); len(got) != 1 {
				t.Errorf("%d: %v in %d sections: %v", i, h, n, got)
			}
		}
	}
}

// A way that goes on down never loses a caution.
func TestGoingOnDown(t *testing.T) {
	if got := Descents([]Section{down(0.09, 200), down(0.03, 400)}); len(got) != 1 || got[0].Length != 600 {
		t.Errorf("%v", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		way := drawWay(t, -0.12, 0.02)
		cut := rapid.IntRange(0, len(way)).Draw(t, "cut")
		part, whole := Descents(way[:cut]), Descents(way)
		for _, d := range part {
			covered := false
			for _, e := range whole {
				covered = covered || e.At <= d.At+1e-6 && d.At+d.Length <= e.At+e.Length+1e-6
			}
			// Only what was long by its mean or its drop alone may thin out.
			if _, steep := steepest(way, d); steep && !covered {
				t.Fatalf("%+v is in none of %v", d, whole)
			}
		}
	})
}

// Steep parts with a gentle one between them are not one, and a long descent does
// not make the next one long.
func TestSteepPartsApart(t *testing.T) {
	if got := Descents([]Section{down(0.09, 100), down(0.03, 100), down(0.09, 100)}); len(got) != 0 {
		t.Errorf("parts of 100 m: %v", got)
	}
	if got := Descents([]Section{down(0.09, 200), {Length: 100}, down(0.09, 100)}); len(got) != 1 {
		t.Errorf("a short one after a long one: %v", got)
	}
}

// Long by the mean alone: 7.05 % over 317 m, of which no part is long; 6.98 % is
// not.
func TestLongByTheMean(t *testing.T) {
	for last, want := range map[measure.Distance]int{17: 1, 5: 0} {
		way := []Section{down(0.08, 150), down(0.06, 150), down(0.08, last)}
		if last == 5 {
			way = append(way, down(0.05, 12))
		}
		if got := Descents(way); len(got) != want {
			t.Errorf("%v: %v", last, got)
		}
	}
}

// steepest tells whether a part of a descent is long by itself.
func steepest(way []Section, d Descent) (at measure.Distance, long bool) {
	var r runs
	for _, s := range way {
		if r.add(s) && at >= d.At-1e-6 && at < d.At+d.Length-1e-6 {
			return at, true
		}
		at += s.Length
	}
	return 0, false
}
