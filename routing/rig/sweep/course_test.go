package sweep

import (
	"errors"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"wayhouse/regs/measure"
)

// corner90 is a left turn on an arc of a radius, with straights of 20 m and 40 m.
func corner90(t *testing.T, radius measure.Distance) orb.LineString {
	t.Helper()
	r := float64(radius)
	rounded, err := Round(orb.LineString{{-20 - r, 0}, {0, 0}, {0, r + 40}}, radius)
	if err != nil {
		t.Fatal(err)
	}
	return rounded.Path
}

// What a course passes is what Drive measures: the innermost place of the unit's axles,
// and the greatest angle at the coupling.
func TestCourseIsWhatDriveMeasures(t *testing.T) {
	r := Combination{
		Wheelbase: 4.4, HitchBehindRear: 1.2, CouplingToAxles: 7, FrontOverhang: 1, TowWidth: 2, UnitWidth: 2.6,
		UnitFront: 0.5, UnitRear: 3,
	}
	path := corner90(t, 12.5)
	course, err := r.Course(path, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	var d Driver
	swept, err := d.Drive(r, path)
	if err != nil {
		t.Fatal(err)
	}
	var most Angle
	inner := 0.0
	for _, s := range course.Stances {
		most = max(most, s.Articulation)
		if s.UnitAxle[0] > course.Path[0][0] { // abreast of the path
			inner = max(inner, planar.DistanceFrom(course.Path, s.UnitAxle))
		}
	}
	if math.Abs(float64(most-swept.Articulation)) > 1e-3 {
		t.Errorf("articulation %.4f, Drive has %.4f", most, swept.Articulation)
	}
	if math.Abs(inner-float64(swept.OffTracking)) > 0.01 {
		t.Errorf("off-tracking %.3f m, Drive has %.3f m", inner, swept.OffTracking)
	}
}

// Both bodies keep their size and hold together at the coupling, wherever they stand.
func TestStanceHoldsTogether(t *testing.T) {
	r := Combination{
		Wheelbase: 4, HitchBehindRear: -0.3, CouplingToAxles: 8, FrontOverhang: 1, TowWidth: 2.1, UnitWidth: 3,
		UnitFront: 1.5, UnitRear: 2,
	}
	course, err := r.Course(corner90(t, 10), 1)
	if err != nil {
		t.Fatal(err)
	}
	is := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9 {
			t.Fatalf("%s: %g m, want %g m", what, got, want)
		}
	}
	for i, s := range course.Stances {
		is("wheelbase", planar.Distance(s.Front, s.TowAxle), 4)
		is("coupling to axles", planar.Distance(s.Coupling, s.UnitAxle), 8)
		is("unit across", planar.Distance(s.Unit[0], s.Unit[1]), 3)
		is("unit along", planar.Distance(s.Unit[1], s.Unit[2]), 11.5)
		is("tow along", planar.Distance(s.Tow[0], s.Tow[3]), 5)
		if i > 0 {
			if step := planar.Distance(s.Front, course.Stances[i-1].Front); step > 1+1e-9 {
				t.Fatalf("stances are %g m apart", step)
			}
		}
	}
	if last := course.Stances[len(course.Stances)-1]; last.Front != course.Path[len(course.Path)-1] {
		t.Errorf("the rig stops at %v", last.Front)
	}
}

func TestCourseRefuses(t *testing.T) {
	if _, err := (Combination{}).Course(orb.LineString{{0, 0}, {1, 0}}, 1); err == nil {
		t.Error("a rig without a size is driven")
	}
	ok := Combination{Wheelbase: 4, CouplingToAxles: 8, TowWidth: 2, UnitWidth: 3}
	if _, err := ok.Course(orb.LineString{{0, 0}, {0, 0}}, 1); !errors.Is(err, ErrPath) {
		t.Errorf("a point is driven: %v", err)
	}
}
