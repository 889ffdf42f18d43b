package sweep

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

// arc is a turn to the left of a radius between straight legs, on chords of at
// most 0.1 m. It is made here, not by Round.
func arc(turn Angle, radius, leg measure.Distance) orb.LineString {
	r := float64(radius)
	path := orb.LineString{{-float64(leg), -r}}
	n := math.Ceil(r * float64(turn) / 0.1)
	for k := 0.0; k <= n; k++ {
		path = append(path, ray(orb.Point{}, radius, turn*Angle(k/n)-90*Degree))
	}
	return append(path, ray(path[len(path)-1], leg, turn))
}

func drive(t testing.TB, r Rig, path orb.LineString) Swept {
	t.Helper()
	s, err := Drive(r, path)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// same tells whether two drives agree within a tolerance.
func same(a, b Swept, tolerance float64) bool {
	for _, d := range []float64{
		float64(a.OffTracking - b.OffTracking), float64(a.Width - b.Width), float64(a.TailSwing - b.TailSwing),
		float64(a.Articulation - b.Articulation), float64(a.Steer - b.Steer),
	} {
		if !(math.Abs(d) <= tolerance) {
			return false
		}
	}
	return a.Jackknifed == b.Jackknifed
}

func TestDriveRefusesRig(t *testing.T) {
	r := pickup()
	r.Wheelbase = 0
	var field *measure.FieldError
	if _, err := Drive(r, kink(90*Degree, 50)); !errors.As(err, &field) {
		t.Errorf("%v", err)
	}
}

// A straight path sweeps exactly the greater width, and nothing else moves.
func TestStraight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRig(t)
		angle := Angle(rapid.Float64Range(-3.1, 3.1).Draw(t, "angle"))
		s, err := Drive(r, orb.LineString{{5, 5}, ray(orb.Point{5, 5}, 7, angle), ray(orb.Point{5, 5}, 40, angle)})
		want := Swept{Width: max(r.TowWidth, r.UnitWidth)}
		if err != nil || !same(s, want, 1e-7) {
			t.Fatalf("%+v, %v, want %+v", s, err, want)
		}
	})
}

// Steps of 1 mm between the same stations change no figure by 1 mm on bends
// whose centre nothing cuts across, and none by 0.1 m on tighter ones.
func TestStep(t *testing.T) {
	for radius, tolerance := range map[measure.Distance]float64{3: 0.1, 5: 0.1, 6: 0.1, 8: 0.001, 12.5: 0.001, 25: 0.001} {
		for _, turn := range []Angle{30 * Degree, 90 * Degree, 180 * Degree} {
			r := pickup()
			r.HitchBehindRear = 1.2
			path := arc(turn, radius, 40)
			fine := Driver{steps: 100}
			want, err := fine.Drive(r, path)
			if got := drive(t, r, path); err != nil || !same(got, want, tolerance) {
				t.Errorf("radius %v, %v degrees: %+v, %v, with 1 mm %+v", radius, turn/Degree, got, err, want)
			}
		}
	}
}

// A path of the same arc on ten times finer chords changes no figure by more
// than 5 mm, which is what the doc comment of Drive says, and the steering
// angle by no more than half a degree.
func TestChords(t *testing.T) {
	for _, radius := range []measure.Distance{6, 8, 12.5, 25} {
		fine := orb.LineString{{-60, -float64(radius)}}
		const n = 4000
		for k := Angle(0); k <= n; k++ {
			fine = append(fine, ray(orb.Point{}, radius, (k/n-1)*90*Degree))
		}
		fine = append(fine, orb.Point{float64(radius), 60})
		got, want := drive(t, pickup(), arc(90*Degree, radius, 60)), drive(t, pickup(), fine)
		near(t, "steer", got.Steer, want.Steer, 0.5*Degree)
		got.Steer = want.Steer
		if !same(got, want, 0.005) {
			t.Errorf("radius %v: %+v, want %+v", radius, got, want)
		}
	}
}

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
		big := Rig{
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

// A rig that is folded beyond a right angle says so.
func TestJackknifed(t *testing.T) {
	long := pickup()
	long.CouplingToAxles = 11
	for _, tc := range []struct {
		radius measure.Distance
		turn   Angle
		want   bool
	}{{15, 180 * Degree, false}, {9, 180 * Degree, false}, {5.5, 330 * Degree, true}} {
		s := drive(t, long, arc(tc.turn, tc.radius, 40))
		if s.Jackknifed != tc.want || s.Jackknifed != (s.Articulation > 90*Degree) {
			t.Errorf("radius %v, %v degrees: %v, %v degrees", tc.radius, tc.turn/Degree, s.Jackknifed, s.Articulation/Degree)
		}
	}
}

// On a long circle the wheels stand at asin(wheelbase / radius), and the
// trailer at the sum of the angles that the two radii make at the coupling.
// Worked from plane geometry.
func TestAnglesOnCircle(t *testing.T) {
	r := pickup()
	s := drive(t, r, arc(1440*Degree, 12.5, 40))
	tow, axle, _ := r.axleRadii(12.5)
	want := math.Atan2(float64(r.HitchBehindRear), float64(tow)) + math.Atan2(7, float64(axle))
	near(t, "articulation", s.Articulation, Angle(want), 1e-3)
	near(t, "steer", s.Steer, Angle(math.Asin(4.4/12.5)), 5e-3)
}

// Every point of the rig passes every station, however tight the bend and
// wherever the path ends.
func TestAllPass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := Angle(rapid.Float64Range(10, 170).Draw(t, "turn")) * Degree
		path := arc(turn, measure.Distance(rapid.Float64Range(3, 20).Draw(t, "radius")), measure.Distance(rapid.Float64Range(0.1, 30).Draw(t, "leg")))
		var d Driver
		if _, err := d.Drive(drawRig(t), path); err != nil {
			t.Fatal(err)
		}
		for i, tr := range d.tracers {
			if tr.next != len(d.stations) {
				t.Fatalf("point %d passed %d of %d stations", i, tr.next, len(d.stations))
			}
		}
	})
}

// A rig that cuts across the corner of a line without an arc is measured by
// its distance from the line. Followed here point by point: the trailer's axle
// gets 4.07 m away from both legs.
func TestAcrossTheCorner(t *testing.T) {
	r := pickup()
	r.HitchBehindRear = 1.2
	p := pose{front: vec{-60, 0}, tow: vec{1, 0}, unit: vec{1, 0}}
	far := 0.0
	for s := -60.0; s < 60; s += 0.01 {
		p = p.moved(r, vec{min(s, 0), max(s, 0)})
		axle := p.outline(r)[trailerAxle]
		if axle.x < 0 && axle.y > 0 {
			far = max(far, min(-axle.x, axle.y))
		}
	}
	s := drive(t, r, kink(90*Degree, 60))
	near(t, "by hand", far, 4.07, 0.01)
	near(t, "off-tracking", s.OffTracking, measure.Distance(far), 0.1)
	if s.Width < s.OffTracking+2.3 || s.Width > 8 {
		t.Errorf("width %v", float64(s.Width))
	}
	near(t, "steer", s.Steer, 90*Degree, 1e-9)
}

// The search that skips stations finds what looking at all of them finds.
func TestNearest(t *testing.T) {
	d := Driver{reach: 20}
	if _, err := d.lay(orb.LineString{{0, 0}, {30, 0}, {30, 12}, {22, 30}, {40, 31}}); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		d.front = rapid.IntRange(0, len(d.stations)-1).Draw(t, "front")
		at := vec{rapid.Float64Range(-10, 50).Draw(t, "x"), rapid.Float64Range(-10, 50).Draw(t, "y")}
		want := rapid.Float64Range(1, 60).Draw(t, "bound")
		got, index := d.nearest(at, want)
		if index >= 0 && got != d.stations[index].at.sub(at).length() {
			t.Fatalf("station %d is not at %v", index, got)
		}
		for i := range d.stations {
			if math.Abs(d.stations[i].s-d.stations[d.front].s) <= 40 {
				want = min(want, d.stations[i].at.sub(at).length())
			}
		}
		if math.Abs(got-want) > 1e-12 {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}

// On the straight before a bend the tail swing is how far the rear corner goes
// beyond the line of the unit's outer side. Followed here corner by corner.
func TestTailSwing(t *testing.T) {
	for _, radius := range []measure.Distance{8, 12.5, 20} {
		r := pickup()
		r.UnitRear = 4
		path := arc(90*Degree, radius, 40)
		p := pose{front: vec{path[0][0], path[0][1]}, tow: vec{1, 0}, unit: vec{1, 0}}
		side, out := p.outline(r)[rearRight].y, 0.0
		for _, q := range path[1:] {
			p = p.moved(r, vec{q[0], q[1]})
			out = max(out, side-p.outline(r)[rearRight].y)
		}
		s := drive(t, r, path)
		near(t, "tail swing", s.TailSwing, measure.Distance(out), 0.001)
		if s.TailSwing < 0.05 {
			t.Errorf("radius %v: tail swing %v", radius, s.TailSwing)
		}
	}
}

// The width is needed where the trailer cuts in, and a path that ends in the
// bend, or starts in it, is driven on straight.
func TestWhere(t *testing.T) {
	s := drive(t, pickup(), arc(90*Degree, 12.5, 60))
	if s.At < 60 || s.At > 60+12.5*math.Pi/2 {
		t.Errorf("the width is needed at %v, outside the bend", s.At)
	}
	bare := drive(t, pickup(), arc(90*Degree, 12.5, 0.001))
	if !same(bare, s, 0.001) || math.Abs(float64(bare.At+60-s.At)) > 0.2 {
		t.Errorf("without legs %+v, with legs %+v", bare, s)
	}
}

func ExampleDrive() {
	rig := Rig{
		Wheelbase: 4.4, HitchBehindRear: -0.1, CouplingToAxles: 7, FrontOverhang: 1,
		TowWidth: 2, UnitWidth: 2.6, UnitFront: 0.5, UnitRear: 3,
	}
	street := orb.LineString{{-75, 0}, {0, 0}, {0, 75}}
	corner, err := Round(street, 12.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := Drive(rig, corner.Path)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("least radius %.1f m\n", corner.Least)
	fmt.Printf("the trailer cuts in by %.2f m\n", s.OffTracking)
	fmt.Printf("swept width %.2f m at %.0f m\n", s.Width, s.At)
	fmt.Printf("folded %.0f degrees, tail swings out %.2f m\n", s.Articulation/Degree, s.TailSwing)
	// Output:
	// least radius 12.5 m
	// the trailer cuts in by 2.54 m
	// swept width 5.13 m at 76 m
	// folded 29 degrees, tail swings out 0.08 m
}

// corners returns n corners of 150 m of different turns and radii.
func corners(b *testing.B, n int) []orb.LineString {
	out := make([]orb.LineString, n)
	for i := range out {
		c, err := Round(kink(Angle(30+i%120)*Degree, 75), measure.Distance(8+i%10))
		if err != nil {
			b.Fatal(err)
		}
		out[i] = c.Path
	}
	return out
}

func benchmark(b *testing.B, n int) {
	paths, r := corners(b, n), pickup()
	var d Driver
	b.ReportAllocs()
	for b.Loop() {
		for _, path := range paths {
			if _, err := d.Drive(r, path); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkCorner(b *testing.B)          { benchmark(b, 1) }
func BenchmarkThousandCorners(b *testing.B) { benchmark(b, 1000) }

func BenchmarkRound(b *testing.B) {
	line := kink(90*Degree, 75)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Round(line, 12.5); err != nil {
			b.Fatal(err)
		}
	}
}

// A line that was not rounded makes every offset look for a nearer place.
func BenchmarkKink(b *testing.B) {
	line, r := kink(90*Degree, 75), pickup()
	var d Driver
	b.ReportAllocs()
	for b.Loop() {
		if _, err := d.Drive(r, line); err != nil {
			b.Fatal(err)
		}
	}
}
