package rig

import (
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

// drawLeaning draws a unit of parts all over its trailer, in an outline of boxes.
func drawLeaning(t *rapid.T) Rig {
	u := unitOf(Equalized, []float64{5.2, 6.1})
	u.Coupling = rapid.SampledFrom(Couplings()).Draw(t, "coupling")
	for i := range u.Frame.Axles {
		track, rating := at(2.0), 3200*measure.Kilogram
		u.Frame.Axles[i].Track, u.Frame.Axles[i].Rating = &track, &rating
		u.Frame.Axles[i].Each, u.Frame.Axles[i].Tires = &rating, 2
	}
	metres := func(name string, low, high float64) measure.Length {
		return at(rapid.Float64Range(low, high).Draw(t, name))
	}
	for range rapid.IntRange(1, 12).Draw(t, "parts") {
		low := measure.Mass(rapid.Int64Range(10, 900).Draw(t, "kg")) * measure.Kilogram
		more := measure.Mass(rapid.Int64Range(0, 300).Draw(t, "more")) * measure.Kilogram
		along, across, up := metres("along", 2, 7), metres("across", -1.2, 1.2), metres("up", 0.5, 3.5)
		u.Parts = append(u.Parts, Part{
			Name: "part", Mass: Estimate{low, low + more/2, low + more}, Place: Coordinates{&along, &across, &up},
		})
	}
	for range rapid.IntRange(1, 5).Draw(t, "boxes") {
		from, bottom := metres("from", 0, 5), metres("bottom", 0.4, 2)
		u.Outline = append(u.Outline, Box{
			From: from, To: from + metres("long", 0.5, 4), Bottom: bottom, Top: bottom + metres("high", 0.3, 2),
			Left: metres("left", 0.2, 1.3), Right: metres("right", 0.2, 1.3),
		})
	}
	return Rig{Unit: u}
}

// mirrored is the image of a unit in its middle line.
func mirrored(r Rig) Rig {
	r.Unit.Parts = append([]Part(nil), r.Unit.Parts...)
	for i := range r.Unit.Parts {
		across := -*r.Unit.Parts[i].Place.Across
		r.Unit.Parts[i].Place.Across = &across
	}
	r.Unit.Outline = append([]Box(nil), r.Unit.Outline...)
	for i, b := range r.Unit.Outline {
		r.Unit.Outline[i].Left, r.Unit.Outline[i].Right = b.Right, b.Left
	}
	return r
}

// The mirror image of a rig gives the same answer, with left and right exchanged: what
// each side carries, at which pull it tips, which wind stops it.
func TestMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawLeaning(t)
		m := mirrored(r)
		a, b := r.Statics(), m.Statics()
		if of(a.Left) != of(b.Right) || of(a.Right) != of(b.Left) {
			t.Fatalf("left %v, right %v; in the mirror left %v, right %v", a.Left, a.Right, b.Left, b.Right)
		}
		tip, image := r.Tip(a), m.Tip(b)
		if of(tip).Rigid != of(image).Rigid || of(tip).Low != of(image).Low {
			t.Fatalf("tips at %+v, in the mirror %+v", of(tip), of(image))
		}
		w, v := r.Winds(a), m.Winds(b)
		if w.Gust != v.Gust || w.Steady != v.Steady || of(w.Computed) != of(v.Computed) {
			t.Fatalf("winds %+v, in the mirror %+v", w, v)
		}
		f, g := r.sideBySide(a), m.sideBySide(b)
		if f.Outcome != g.Outcome || f.Value != g.Value || f.Margin != g.Margin {
			t.Fatalf("%+v, in the mirror %+v", f, g)
		}
	})
}

// No end of a side is one that the parts cannot have together: both sides together carry
// what all tires do, and each lies within them.
func TestSidesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawLeaning(t).Statics()
		left, right, group := of(s.Left), of(s.Right), of(s.Group)
		near := func(a, b measure.Mass) bool { return max(a-b, b-a) <= 10 } // units of 10 micrograms
		if !near(left.Likely+right.Likely, group.Likely) {
			t.Fatalf("%v and %v of %v", left, right, group)
		}
		if left.Low+right.High > group.High+10 && left.Low+right.High < group.Low-10 || left.Low > left.Likely || right.High < right.Likely {
			t.Fatalf("%v and %v of %v", left, right, group)
		}
	})
}

// An outline that is drawn in parts, which may overlap, meets the same wind: boxes that
// are cut in two, and boxes that are drawn twice.
func TestSplitOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawLeaning(t)
		split := r
		split.Unit.Outline = nil
		for _, b := range r.Unit.Outline {
			low, high, front, rear := b, b, b, b
			cut := b.Bottom + measure.Length(rapid.Float64Range(0.1, 0.9).Draw(t, "cut")*float64(b.Top-b.Bottom))
			low.Top, high.Bottom = cut, cut
			middle := b.From + (b.To-b.From)/2
			front.To, rear.From = middle, middle
			half := b
			half.Left = -half.Right + measure.Millimetre // the right half of the house
			split.Unit.Outline = append(split.Unit.Outline, [][]Box{
				{b}, {low, high}, {front, rear}, {b, b}, {b, half}, {low, b, rear},
			}[rapid.IntRange(0, 5).Draw(t, "how")]...)
		}
		whole, _ := r.Unit.sideOf()
		parts, _ := split.Unit.sideOf()
		if a := float64(parts.area/whole.area) - 1; a > 1e-9 || a < -1e-9 {
			t.Fatalf("%v, whole %v", parts, whole)
		}
		if h := float64(parts.height-whole.height) / float64(whole.height); h > 1e-9 || h < -1e-9 {
			t.Fatalf("%v, whole %v", parts, whole)
		}
	})
}

// Worked by hand: 6 t, a quarter of it on a ball in the bed, 0.9 m up, a track of 2 m, a
// centre of gravity 1.8 m up and 0.1 m aside. About the tires of one side: 6 t g (0.75 x 1
// m - 0.1 m) hold, 6 t a (1.8 m - 0.25 x 0.9 m) tip; a = 0.65 / 1.575 g.
func TestCouplingResistsNoRoll(t *testing.T) {
	near(t, "by hand", tips(1, 0.1, 1.8, 0.25, 0.9), 0.65/1.575, 1e-12)
	near(t, "nothing on the coupling", tips(1, 0, 2, 0, 0.9), 0.5, 1e-12)
	u := unitOf(Equalized, []float64{6}, part("all", 6*measure.Tonne, 4.5))
	up, across, track := at(1.8), at(0.1), at(2)
	u.Parts[0].Place.Up, u.Parts[0].Place.Across, u.Frame.Axles[0].Track, u.Coupling = &up, &across, &track, Gooseneck
	r := Rig{Unit: u}
	near(t, "of a rig", of(r.Tip(r.Statics())).Rigid, 0.65/1.575, 1e-9)
}
