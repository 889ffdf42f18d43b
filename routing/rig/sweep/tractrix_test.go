package sweep

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

// Worked by hand from the formula: a body that starts at right angles to a
// straight pull lies at an angle whose sine is 1 / cosh(s / length).
func TestFollowRightAngle(t *testing.T) {
	for _, s := range []float64{0.1, 1, 5, 20} {
		got := follow(vec{0, 1}, vec{s, 0}, 7)
		near(t, "sine", got.y, 1/math.Cosh(s/7), 1e-12)
		near(t, "cosine", got.x, math.Tanh(s/7), 1e-12)
	}
}

func TestFollowStill(t *testing.T) {
	for _, pull := range []vec{{}, {-3, 0}} {
		if got := follow(vec{1, 0}, pull, 7); got != (vec{1, 0}) {
			t.Errorf("pulled by %v: heading %v", pull, got)
		}
	}
}

// One long straight pull is the same as many short ones, and the heading stays
// a unit vector.
func TestFollowInPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sin, cos := math.Sincos(rapid.Float64Range(-3, 3).Draw(t, "heading"))
		pull := vec{rapid.Float64Range(0.5, 20).Draw(t, "pull"), 0}
		want := follow(vec{cos, sin}, pull, 6)
		got := vec{cos, sin}
		for range 50 {
			got = follow(got, pull.times(1.0/50), 6)
		}
		if d := got.sub(want).length(); d > 1e-9 {
			t.Fatalf("differs by %v", d)
		}
		if l := got.length(); math.Abs(l-1) > 1e-12 {
			t.Fatalf("length %v", l)
		}
	})
}

// The outline of a rig that stands straight on the x axis, worked by hand.
func TestOutline(t *testing.T) {
	r := pickup()
	p := pose{front: vec{0, 0}, tow: vec{1, 0}, unit: vec{1, 0}}
	low, high := vec{math.Inf(1), math.Inf(1)}, vec{math.Inf(-1), math.Inf(-1)}
	for _, q := range p.outline(r) {
		low, high = vec{min(low.x, q.x), min(low.y, q.y)}, vec{max(high.x, q.x), max(high.y, q.y)}
	}
	near(t, "rear", low.x, -(4.4 - 0.1 + 7 + 3), 1e-12)
	near(t, "front", high.x, 1, 1e-12)
	near(t, "right", low.y, -1.3, 1e-12)
	near(t, "left", high.y, 1.3, 1e-12)
	near(t, "trailer axle", p.outline(r)[trailerAxle].x, -11.3, 1e-12)
	if q := p.outline(r)[rearLeft]; q.y < 0 || q.x != low.x {
		t.Errorf("rear left corner at %v", q)
	}
}

// No point of the rig lies further from its front axle than its length says.
func TestLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRig(t)
		r.HitchBehindRear = measure.Distance(rapid.Float64Range(-2, 10).Draw(t, "far hitch"))
		sin, cos := math.Sincos(rapid.Float64Range(-3, 3).Draw(t, "fold"))
		for i, q := range (pose{tow: vec{1, 0}, unit: vec{cos, sin}}).outline(r) {
			if q.x < -r.length() || q.length() > r.length() {
				t.Fatalf("point %d at %v, length %v", i, q, r.length())
			}
		}
	})
}
