package rig

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
)

// bent is a gooseneck of boxes over a pickup 2 m wide: cab 1.4 m ahead of the coupling
// and 2 m high, bed 1.5 m high, its end 1.3 m behind the coupling.
func bent(boxes ...Box) Rig {
	var r Rig
	r.Unit.Coupling, r.Unit.Outline = Gooseneck, boxes
	r.Tow = Tow{Height: known(2), Length: known(6.5), FrontToCoupling: known(5.2), Width: measure.Exactly(at(2))}
	r.Tow.Truck.CabToCoupling, r.Tow.Truck.Bed = known(1.4), known(1.5)
	return r
}

func known(metres float64) *measure.Length {
	l := at(metres)
	return &l
}

// Worked by hand. A corner 0.3 m ahead and 1.4 m aside of the coupling runs on a
// circle of 1.4318 m and comes to the cab, 1.4 m ahead, where the cosine of its
// bearing is 1.4 / 1.4318: at 12.09 degrees; it began at 77.91, so the rig has bent
// by 65.82. A corner on a circle below 1.4 m never comes there.
func TestTouchesTheCab(t *testing.T) {
	b, _ := bent(*boxOf(-0.3, 2, 1.4, 1.6, 3.8)).Bending().Value()
	want := (math.Atan2(1.4, 0.3) - math.Acos(1.4/math.Hypot(0.3, 1.4))) * 180 / math.Pi
	if b.First == nil || b.First.Against != Cab || math.Abs(b.First.Angle-want) > 0.01 || math.Abs(want-65.82) > 0.01 {
		t.Errorf("%+v, want %.2f", b.First, want)
	}
	b, _ = bent(*boxOf(-0.3, 2, 1.35, 1.6, 3.8)).Bending().Value()
	if b.First != nil || b.Over == nil || *b.Over != at(0.1) {
		t.Errorf("%+v", b)
	}
	// as high as the cab it reaches over it
	b, _ = bent(*boxOf(-0.3, 2, 1.4, 2.0, 3.8)).Bending().Value()
	if b.First != nil || b.Over == nil || *b.Over != 0 {
		t.Errorf("%+v", b)
	}
}

// The flat front of a low house 1.5 m behind the coupling meets the corner of the bed,
// 1.3 m behind and 1 m aside, on a circle of 1.640 m, when the corner's bearing from
// straight back has come to where its cosine is 1.5 / 1.640: at 23.85 degrees, from
// 37.57. 1.65 m behind it never does.
func TestTouchesTheBed(t *testing.T) {
	want := (math.Atan2(1, 1.3) - math.Acos(1.5/math.Hypot(1, 1.3))) * 180 / math.Pi
	b, _ := bent(*boxOf(1.5, 8, 1.3, 0.6, 4)).Bending().Value()
	if b.First == nil || b.First.Against != Bed || math.Abs(b.First.Angle-want) > 0.01 {
		t.Errorf("%+v, want %.2f", b.First, want)
	}
	if b, _ = bent(*boxOf(1.65, 8, 1.3, 0.6, 4)).Bending().Value(); b.First != nil {
		t.Errorf("%+v", b.First)
	}
}

// What each case comes to: only what is described and touches nothing is clear.
func TestBends(t *testing.T) {
	clear, low := bent(*boxOf(-0.3, 2, 1.35, 1.7, 3.8)), bent(*boxOf(-0.3, 2, 1.35, 1.6, 3.8))
	touching := bent(*boxOf(-0.3, 2, 1.4, 1.6, 3.8))
	ball := touching
	ball.Unit.Coupling = Ball
	noBed, noCab, noHeight, noOutline := low, clear, clear, clear
	noBed.Tow.Truck.Bed, noCab.Tow.Truck.CabToCoupling, noHeight.Tow.Height, noOutline.Unit.Outline = nil, nil, nil, nil
	// on a circle of 1.383 m it passes the cab, at 1.4 m, by 17 mm
	near := clear
	for _, r := range []*Rig{&clear, &low, &noBed, &noHeight} {
		r.Tow.Truck.CabToCoupling = known(1.5)
	}
	// a bed that may be low is touched at some angle, the cab at a greater one for sure
	both := bent(*boxOf(-0.3, 2, 1.4, 1.6, 3.8), *boxOf(1.5, 8, 1.3, 0.6, 4))
	both.Tow.Truck.Bed = nil
	for name, tc := range map[string]struct {
		rig  Rig
		want finding.Outcome
		of   string
	}{
		"near the cab": {near, finding.Review, ""}, "perhaps the bed, surely the cab": {both, finding.Forbidden, "rig"},
		"clear": {clear, finding.Clear, ""}, "little above the bed": {low, finding.Review, "rig"},
		"touching": {touching, finding.Forbidden, "rig"}, "behind a ball": {ball, finding.Review, ""},
		"no height of the bed": {noBed, finding.Unknown, "tow.bed_height"}, "no cab": {noCab, finding.Unknown, "tow.cab_to_coupling"},
		"no height of the cab": {noHeight, finding.Unknown, "tow.height"}, "no outline": {noOutline, finding.Unknown, "unit.outline"},
	} {
		f := tc.rig.bends()[0]
		if f.Outcome != tc.want || f.Outcome != finding.Clear && (len(f.Settles) == 0 || f.Settles[0][0].Of != tc.of) {
			t.Errorf("%s: %s, %v, %v", name, f.Outcome, f.Says, f.Settles)
		}
	}
}

// The mirror image touches at the same angle to the other side, a box cut in two
// touches where the whole does, and a wider box never later.
func TestBendingOfRandomRigs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 {
			return math.Round(100*rapid.Float64Range(lo, hi).Draw(t, name)) / 100
		}
		b := Box{From: at(draw("from", -1.3, 3)), Left: at(draw("left", 0.5, 1.8)), Right: at(draw("right", 0.5, 1.8)), Bottom: at(draw("bottom", 0.4, 2.4)), Top: at(4)}
		b.To = b.From + at(draw("long", 0.2, 6))
		first := func(boxes ...Box) float64 {
			known, _ := bent(boxes...).Bending().Value()
			if known.First == nil {
				return Square + 1
			}
			return known.First.Angle
		}
		angle := first(b)
		mirrored := b
		mirrored.Left, mirrored.Right = b.Right, b.Left
		same := func(what string, got float64) {
			if math.Abs(got-angle) > 1e-4 {
				t.Fatalf("%s: %v, not %v", what, got, angle)
			}
		}
		same("mirrored", first(mirrored))
		front, rear := b, b
		front.To = b.From + (b.To-b.From)/3
		rear.From = front.To
		same("cut in two", first(front, rear))
		wider := b
		wider.Left += at(0.2)
		if got := first(wider); got > angle+1e-4 {
			t.Fatalf("wider it touches at %v, not %v", got, angle)
		}
	})
}
