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

// Drive drives a rig along a path with a new Driver.
func Drive(r Combination, path orb.LineString) (Swept, error) { return new(Driver).Drive(r, path) }

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

func drive(t testing.TB, r Combination, path orb.LineString) Swept {
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

// In an S the tail swings out by somewhat more than before a bend alone. That the unit
// still cuts across the first bend while the second folds it the other way, metres from
// the path, is no swing.
func TestTailSwingInAnS(t *testing.T) {
	r := pickup()
	alone := drive(t, r, arc(100*Degree, 8, 40)).TailSwing
	for _, between := range []measure.Distance{2, 8, 15, 30} {
		path := arc(100*Degree, 8, between)
		end, before := path[len(path)-1], path[len(path)-2]
		length := math.Hypot(end[0]-before[0], end[1]-before[1])
		along := vec{(end[0] - before[0]) / length, (end[1] - before[1]) / length}
		left := along.left()
		for a := 1.0; a <= 100; a++ { // the same bend, the other way
			sin, cos := math.Sincos(a * math.Pi / 180)
			q := vec{end[0], end[1]}.add(along.times(8 * sin)).sub(left.times(8 * (1 - cos)))
			path = append(path, [2]float64{q.x, q.y})
		}
		s := drive(t, r, path)
		if s.TailSwing < alone-0.01 || s.TailSwing > s.OffTracking/5 || s.OffTracking < 2 {
			t.Errorf("%v between bends: swings out by %v, cuts in by %v; one bend %v", between, float64(s.TailSwing), float64(s.OffTracking), float64(alone))
		}
	}
}

// The rear end of a tow vehicle with a coupling far behind its axle swings out
// before the bend, beyond its own straight side.
func TestTowSwing(t *testing.T) {
	r := pickup()
	r.HitchBehindRear, r.UnitWidth, r.UnitRear = 1.5, 1, 0
	var d Driver
	if _, err := d.Drive(r, arc(90*Degree, 10, 40)); err != nil {
		t.Fatal(err)
	}
	swept := 0.0
	for _, s := range d.stations {
		if s.s < 40 {
			swept = min(swept, s.low)
		}
	}
	out, heading := 0.0, vec{1, 0}
	path := arc(90*Degree, 10, 40)
	for i, q := range path[1:] {
		heading = follow(heading, vec{q[0] - path[i][0], q[1] - path[i][1]}, 4.4)
		out = min(out, q[1]+10-(4.4+1.5)*heading.y-1*heading.x) // the right rear corner beside the first leg
	}
	near(t, "swing", swept, out, 0.001)
	if out > -1.02 {
		t.Errorf("outermost %v, want beyond the side at -1", out)
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
	rig := Combination{
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
