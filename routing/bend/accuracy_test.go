package bend

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Known circles drawn at several distances between points: as long as a circle is drawn
// within 1 m of itself its radius comes out, that of a curve shorter than the 30 m that
// are looked at no greater than they allow; drawn longer it may be a corner, or called
// too coarse.
func TestKnownCircles(t *testing.T) {
	for _, radius := range []float64{15, 25, 40, 61, 100, 150, 300, 500, 800} {
		for _, step := range []float64{2, 5, 10, 20, 40, 60, 80, 100} {
			for _, degrees := range []float64{30, 60, 90, 150} {
				angle := degrees * math.Pi / 180
				if radius*angle < 2*step { // not two pieces on the curve
					continue
				}
				name := fmt.Sprintf("R %v, %v degrees, drawn each %v m", radius, degrees, step)
				least, turn, coarse := math.Inf(1), 0.0, false
				for _, b := range new(Tracer).Along(onMap(homes[0], arc(radius, degrees, step)), nil) {
					least, turn = min(least, float64(b.Radius)), turn+b.Turn
					coarse = coarse || b.Coarse || b.Corner() && radius > 40
				}
				exact := step*step/8/radius < 1 // its pieces run so far from the circle at the most
				if most := max(1.15*radius, 30/angle); exact && (coarse || least < radius/2 || least > most) || !coarse && least > 1.3*most {
					t.Errorf("%s: radius %.0f m, coarse %v", name, least, coarse)
				}
				if math.Abs(turn-angle) > 2*faint {
					t.Errorf("%s: turns by %.1f degrees", name, turn*180/math.Pi)
				}
			}
		}
	}
}

// A motorway that is drawn each 100 m shows no radius of 61 m where it turns by 45
// degrees from one piece to the next: it shows that it turns.
func TestDrawnTooCoarsely(t *testing.T) {
	for _, degrees := range []float64{15, 30, 44, 52} {
		a := degrees * math.Pi / 180
		flat := [][2]float64{{0, -300}, {0, -200}, {0, -100}, {0, 0}}
		for d := 100.0; d <= 300; d += 100 {
			flat = append(flat, [2]float64{d * math.Sin(a), d * math.Cos(a)})
		}
		var tracer Tracer
		b := tracer.Along(onMap(homes[0], flat), nil)
		coarse := degrees > 23 // at less 100 m on either side lie within Drawn of a curve
		if len(b) != 1 || b[0].Corner() || b[0].Coarse != coarse {
			t.Errorf("%v degrees: %+v", degrees, b)
			continue
		}
		if from, to := float64(b[0].From), float64(b[0].To); math.Abs(from-200) > 0.1 || math.Abs(to-400) > 0.1 {
			t.Errorf("%v degrees: pieces from %v to %v", degrees, from, to)
		}
	}
}

// shaken moves each point of a line by up to 2 m across it.
func shaken(t *rapid.T, flat [][2]float64) [][2]float64 {
	for i := range flat {
		flat[i][0] += rapid.Float64Range(-2, 2).Draw(t, fmt.Sprint("off", i))
	}
	return flat
}

// A straight line that is drawn each 20 to 100 m with points up to 2 m beside it has no
// bend that slows anybody, and none that is called drawn too coarsely.
func TestShakenStraight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var flat [][2]float64
		y := 0.0
		for range rapid.IntRange(3, 60).Draw(t, "points") {
			flat = append(flat, [2]float64{0, y})
			y += rapid.Float64Range(20, 100).Draw(t, "piece")
		}
		var tracer Tracer
		for _, b := range tracer.Along(onMap(homes[0], shaken(t, flat)), nil) {
			if b.Radius <= widest {
				t.Fatalf("%+v", b)
			}
		}
	})
}

// A lane that leaves a straight road at a kink to run beside it, as slip lanes and
// crossings of a median are drawn, has no corner and no curve of a radius: it runs within
// Drawn of a straight line.
func TestSlipLane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		off := rapid.Float64Range(1, 9).Draw(t, "beside")
		long := rapid.Float64Range(1.5, 20).Draw(t, "as long") * off
		flat := [][2]float64{{0, -300}, {0, -150}, {0, 0}, {off, long}, {off, long + 150}, {off, long + 300}}
		var tracer Tracer
		for _, b := range tracer.Along(onMap(homes[0], flat), nil) {
			if b.Corner() || !b.Coarse && b.Radius <= widest {
				t.Fatalf("%+v", b)
			}
		}
	})
}

// A curve whose points are shaken stays one: it is listed, as drawn too coarsely or at
// no more than some twice its radius, and never reads as straight.
func TestShakenCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radius, degrees := rapid.Float64Range(30, 300).Draw(t, "radius"), rapid.Float64Range(40, 120).Draw(t, "degrees")
		flat := shaken(t, arc(radius, degrees, rapid.Float64Range(20, 40).Draw(t, "piece")))
		most := 2.6 * max(radius, 30/(degrees*math.Pi/180)) // each end of a curve of one piece turns by half
		var tracer Tracer
		found := false
		for _, b := range tracer.Along(onMap(homes[0], flat), nil) {
			found = found || b.Coarse || float64(b.Radius) < most
		}
		if !found {
			t.Fatalf("no curve of %v m", radius)
		}
	})
}
