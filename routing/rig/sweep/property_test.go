package sweep

import (
	"errors"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

// Left and right turns need the same, and so does the same corner elsewhere
// on the plane, turned and with another origin, but for rounding, which decides
// what is nearer where the rig cuts across the centre of a tight bend.
func TestMirrorAndMove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRig(t)
		radius, tolerance := measure.Distance(rapid.Float64Range(8, 40).Draw(t, "radius")), 0.001
		if radius < 16 {
			tolerance = 0.1
		}
		path := arc(Angle(rapid.Float64Range(10, 180).Draw(t, "turn"))*Degree, radius, 30)
		sin, cos := math.Sincos(rapid.Float64Range(-3, 3).Draw(t, "rotation"))
		var mirrored, moved orb.LineString
		for _, p := range path {
			mirrored = append(mirrored, orb.Point{p[0], -p[1]})
			moved = append(moved, orb.Point{p[0]*cos - p[1]*sin + 500, p[0]*sin + p[1]*cos - 2000})
		}
		want, err := Drive(r, path)
		left, err2 := Drive(r, mirrored)
		there, err3 := Drive(r, moved)
		if errors.Join(err, err2, err3) != nil || !same(left, want, 1e-9) || !same(there, want, tolerance) {
			t.Fatalf("%+v, mirrored %+v, moved %+v", want, left, there)
		}
	})
}

// A change of the unit of length changes nothing: all lengths 25 percent
// greater give results 25 percent greater, and the same angles.
func TestScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRig(t)
		radius := measure.Distance(rapid.Float64Range(10, 30).Draw(t, "radius"))
		const k = 1.25
		big := Combination{
			r.Wheelbase * k, r.HitchBehindRear * k, r.CouplingToAxles * k, r.FrontOverhang * k,
			r.TowWidth * k, r.UnitWidth * k, r.UnitFront * k, r.UnitRear * k,
		}
		small, err := Drive(r, arc(90*Degree, radius, 40))
		large, err2 := Drive(big, arc(90*Degree, radius*k, 40*k))
		back := large
		back.OffTracking, back.Width, back.TailSwing = large.OffTracking/k, large.Width/k, large.TailSwing/k
		if errors.Join(err, err2) != nil || !same(small, back, 0.005) {
			t.Fatalf("%+v, scaled %+v", small, back)
		}
	})
}

// A longer or a wider trailer never sweeps less.
func TestBiggerTrailer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRig(t)
		path := arc(Angle(rapid.Float64Range(20, 180).Draw(t, "turn"))*Degree, measure.Distance(rapid.Float64Range(12, 40).Draw(t, "radius")), 40)
		longer, wider := r, r
		longer.CouplingToAxles += measure.Distance(rapid.Float64Range(0, 3).Draw(t, "longer"))
		wider.UnitWidth += measure.Distance(rapid.Float64Range(0, 1).Draw(t, "wider"))
		base, err := Drive(r, path)
		long, err2 := Drive(longer, path)
		wide, err3 := Drive(wider, path)
		if errors.Join(err, err2, err3) != nil || long.Width < base.Width-0.001 || wide.Width < base.Width-0.001 || long.OffTracking < base.OffTracking-0.001 {
			t.Fatalf("%+v, longer %+v, wider %+v", base, long, wide)
		}
	})
}

// The further the turn, the more off-tracking, and never the steady state's
// but for half a millimetre of the chords. For a coupling above the rear axle:
// TestHitchSwingsIn has what one behind it does.
func TestMoreTurnMoreOffTracking(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRig(t)
		r.HitchBehindRear = 0
		radius := measure.Distance(rapid.Float64Range(13, 40).Draw(t, "radius"))
		c, ok := Steady(r, radius)
		quarter, err := Drive(r, arc(90*Degree, radius, 40))
		half, err2 := Drive(r, arc(180*Degree, radius, 40))
		if errors.Join(err, err2) != nil || !ok {
			t.Fatal(err, err2, ok)
		}
		settled := c.OffTracking-quarter.OffTracking < 0.001
		if !(settled || quarter.OffTracking < half.OffTracking) || half.OffTracking > c.OffTracking+0.0005 {
			t.Fatalf("90 degrees %v, 180 degrees %v, steady %v", quarter.OffTracking, half.OffTracking, c.OffTracking)
		}
	})
}
