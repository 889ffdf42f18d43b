package drive

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

func gap(metres measure.Distance) *measure.Distance { return &metres }

// Worked by hand from the coefficients, 10 m2 of outline.
func TestDragArea(t *testing.T) {
	for name, tc := range map[string]struct {
		shape     Shape
		low, high float64
	}{
		"flat":         {Shape{Outline: 10, Nose: Flat, Gap: gap(0.5)}, 6.5, 9},
		"rounded":      {Shape{Outline: 10, Nose: Rounded, Gap: gap(0.75)}, 2.99, 9},
		"raked":        {Shape{Outline: 10, Nose: Raked, Gap: gap(0)}, 4.55, 9},
		"unknown nose": {Shape{Outline: 10, Gap: gap(0)}, 2.99, 9},
		"unknown gap":  {Shape{Outline: 10, Nose: Flat}, 6.5, 10.44},
		"gap 1.00 m":   {Shape{Outline: 10, Nose: Flat, Gap: gap(1)}, 6.5, 9.36},
		"gap 1.25 m":   {Shape{Outline: 10, Nose: Flat, Gap: gap(1.25)}, 6.5, 9.72},
		"gap 1.75 m":   {Shape{Outline: 10, Nose: Flat, Gap: gap(1.75)}, 6.5, 10.44},
		"gap 9 m":      {Shape{Outline: 10, Nose: Flat, Gap: gap(9)}, 6.5, 10.44},
		"roof box":     {Shape{Outline: 10, Nose: Flat, Gap: gap(0), RoofBox: 0.5}, 6.95, 9.55},
	} {
		got := tc.shape.DragArea()
		near(t, name+", low", float64(got.Low), tc.low, 1e-9)
		near(t, name+", high", float64(got.High), tc.high, 1e-9)
	}
}

// What is not known is at least as wide as each thing that it may be.
func TestUnknownShapeIsWidest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		area := measure.Area(rapid.Float64Range(1, 20).Draw(t, "area"))
		nose := rapid.SampledFrom(Noses()).Draw(t, "nose")
		length := measure.Distance(rapid.Float64Range(0, 5).Draw(t, "gap"))
		got, wide := Shape{Outline: area, Nose: nose, Gap: &length}.DragArea(), Shape{Outline: area}.DragArea()
		if got.Low < wide.Low || got.High > wide.High || got.Low > got.High || got.Low <= 0 {
			t.Fatalf("%v, outside %v", got, wide)
		}
	})
}

// A better nose may save nothing, and never costs; the roof box stays as it is.
func TestWithNose(t *testing.T) {
	s := Shape{Outline: 10, Gap: gap(0), RoofBox: 1}
	for nose, high := range map[Nose]float64{Flat: 9 + 1.1, Rounded: 9*0.46 + 1.1, Raked: 9*0.7 + 1.1} {
		got := s.WithNose(nose)
		near(t, string(nose)+", low", float64(got.Low), 6.5+0.9, 1e-9)
		near(t, string(nose)+", high", float64(got.High), high, 1e-9)
	}
}

func TestDragSource(t *testing.T) {
	for want, s := range map[string]Shape{
		"drag.flat_front":                       {Nose: Flat},
		"drag.rounded":                          {Nose: Rounded},
		"drag.raked":                            {Nose: Raked},
		"drag.any_nose":                         {},
		"drag.no_gap":                           {Nose: Flat},
		"drag.flat_front(low: 0.65, high: 0.9)": {Nose: Flat, Gap: gap(1)},
	} {
		if got := strings.Join(say.Strings(s.Source()), "; "); !strings.Contains(got, want) {
			t.Errorf("%+v: %q does not say %q", s, got, want)
		}
	}
	if got := (Shape{Nose: Flat, Gap: gap(1)}).Source(); len(got) != 1 {
		t.Errorf("a known gap: %q", got)
	}
}
