package rig

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

func metres(n float64) measure.Length { return measure.Length(math.Round(n * float64(measure.Metre))) }

// A house of 6 x 2.5 x 3 m, by hand.
func TestSurfaceOfABox(t *testing.T) {
	b := Box{From: metres(2), To: metres(8), Left: metres(1.25), Right: metres(1.25), Bottom: metres(1), Top: metres(4)}
	for face, want := range map[Face]struct {
		area   measure.Area
		middle Corner
	}{
		FrontFace:  {7.5, Corner{metres(2), 0, metres(2.5)}},
		RearFace:   {7.5, Corner{metres(8), 0, metres(2.5)}},
		LeftFace:   {18, Corner{metres(5), metres(-1.25), metres(2.5)}},
		RightFace:  {18, Corner{metres(5), metres(1.25), metres(2.5)}},
		BottomFace: {15, Corner{metres(5), 0, metres(1)}},
		TopFace:    {15, Corner{metres(5), 0, metres(4)}},
	} {
		if got := b.Surface(face); math.Abs(float64(got.Area-want.area)) > 1e-9 || got.Middle != want.middle {
			t.Errorf("%s: %+v, want %+v", face, got, want)
		}
	}
}

// A roof of 6 m that rises 0.9 m over 1.2 m: 1.5 m along its slope. Lengthwise it
// rises 0.8 m over 6 m. Corners on one line span nothing.
func TestSpanned(t *testing.T) {
	eave, ridge := Corner{metres(2), metres(-1.2), metres(3)}, Corner{metres(8), 0, metres(3.9)}
	if got := Spanned(eave, ridge, false); math.Abs(float64(got.Area)-9) > 1e-9 || got.Middle != (Corner{metres(5), metres(-0.6), metres(3.45)}) {
		t.Errorf("%+v", got)
	}
	low, high := Corner{metres(2), metres(-1.2), metres(3)}, Corner{metres(8), metres(1.2), metres(3.8)}
	if got, want := Spanned(low, high, true).Area, 2.4*math.Sqrt(6*6+0.8*0.8); math.Abs(float64(got)-want) > 1e-9 {
		t.Errorf("%v, want %v", got, want)
	}
	if got := Spanned(Corner{metres(1), metres(1), 0}, Corner{metres(1), metres(1), metres(3)}, false); got.Area != 0 {
		t.Errorf("a line spans %v", got)
	}
}

// Which corner is named first changes nothing; the mirror image is as large.
func TestSpannedEitherWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		corner := func(name string) Corner {
			of := func(axis string) measure.Length { return metres(rapid.Float64Range(-10, 10).Draw(t, name+axis)) }
			return Corner{of(" along"), of(" across"), of(" up")}
		}
		a, b, lengthwise := corner("a"), corner("b"), rapid.Bool().Draw(t, "lengthwise")
		one, other := Spanned(a, b, lengthwise), Spanned(b, a, lengthwise)
		a.Across, b.Across = -a.Across, -b.Across
		mirror := Spanned(a, b, lengthwise)
		if one.Area != other.Area || one.Area != mirror.Area || one.Area < 0 {
			t.Fatalf("%+v, %+v, mirrored %+v", one, other, mirror)
		}
		if d := one.Middle.Across + mirror.Middle.Across; d < -1 || d > 1 {
			t.Fatalf("middles %+v and %+v", one.Middle, mirror.Middle)
		}
	})
}
