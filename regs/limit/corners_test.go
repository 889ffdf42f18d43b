package limit

import (
	"testing"
)

// A width that is not known may be under a figure as it may be over it.
func TestUnknownWidthIsPerhapsUnderAFigure(t *testing.T) {
	for _, text := range []string{"< 445 mm wide", "<= 445 mm wide", "not steering, 2 tires, < 445 mm wide"} {
		a, err := parseAxleTest(text)
		if got := a.of(AxleLoad{Tires: 2}, true); err != nil || got != Perhaps {
			t.Errorf("%q of an axle of unknown width: %d, %v; want %d", text, got, err, Perhaps)
		}
	}
}

// What an axle test does not understand it refuses.
func TestAxleTestRefusesWhatItDoesNotUnderstand(t *testing.T) {
	for _, text := range []string{"2+ tires", "2 or 4 tires", "2x tires", "2 tires, 4 tires", "steering, not steering", "< 300 mm wide, < 445 mm wide"} {
		if a, err := parseAxleTest(text); err == nil {
			t.Errorf("%q is read as %+v", text, a)
		}
	}
}

// A load is for one of a unit of width; "500 lb/1/2 in" is none.
func TestPerWidthIsOfOneUnit(t *testing.T) {
	for _, text := range []string{"500 lb/1/2 in", "10 kg/000 mm", "10 kg/.5 mm", "10 kg/,5 mm"} {
		if p, err := parsePerWidth(text); err == nil {
			t.Errorf("%q is read as %+v", text, p)
		}
	}
}

// A range says each end once and is not empty: a row whose range holds nothing
// would never bind.
func TestRangeSaysEachEndOnce(t *testing.T) {
	for _, text := range []string{"< 3 m and < 4 m", "< 4 m and <= 3 m", "> 2 m and > 1 m", "> 3 m and < 3 m", "> 3 m and <= 3 m", ">= 3 m and < 3 m"} {
		if r, err := ParseRange(text); err == nil {
			t.Errorf("%q is read as %+v", text, r)
		}
	}
}
