package sweep

import (
	"fmt"
	"math"
	"testing"

	"wayhouse/regs/measure"
)

// Worked by hand from span^2 / (8 radius).
func TestCrestRadius(t *testing.T) {
	for _, tc := range []struct{ span, radius, clearance measure.Distance }{
		{8, 50, 0.160}, {8, 100, 0.080}, {10, 100, 0.125},
	} {
		radius, ok := Underside{AxleSpan: tc.span, Clearance: tc.clearance}.CrestRadius()
		if !ok {
			t.Fatal("no answer")
		}
		near(t, "radius", radius, tc.radius, 1e-9)
	}
}

// On a circle the sag is r - sqrt(r^2 - span^2/4), so the least radius is
// greater by half the clearance, as the comment says.
func TestCrestOfCircle(t *testing.T) {
	for _, clearance := range []measure.Distance{0.05, 0.16, 0.4} {
		radius, _ := Underside{AxleSpan: 8, Clearance: clearance}.CrestRadius()
		exact := float64(radius + clearance/2)
		near(t, "sag", exact-math.Sqrt(exact*exact-16), float64(clearance), 1e-9)
	}
}

func TestDepartureGrade(t *testing.T) {
	got, ok := Underside{RearOverhang: 3, TailClearance: 0.45}.DepartureGrade()
	if !ok {
		t.Fatal("no answer")
	}
	near(t, "grade", got, 0.15, 1e-12)
	near(t, "angle", math.Atan(float64(got)), 8.5308*math.Pi/180, 1e-6) // by hand
}

// The steepest crossing within the published surface: level for 2 ft, 3 in
// lower at 30 ft (Texas Department of Transportation, Roadway Design Manual,
// 13.11.2; read): 0.89 percent, worked by hand.
func TestRailCrossing(t *testing.T) {
	h := RailCrossing()
	near(t, "grade", h.Grade, 0.0089, 0.00005)
	p := h.Profile()
	near(t, "length", p[3].Distance-p[0].Distance, 2*9.144+1.435, 1e-9)
	near(t, "drop", p[1].Height-p[0].Height, 0.0762, 1e-12)
	near(t, "flat", p[2].Distance-p[1].Distance, 1.435+2*0.6096, 1e-12)
}

// What is not known gives no answer, never a clear one.
func TestGroundUnknown(t *testing.T) {
	nan, inf := measure.Distance(math.NaN()), measure.Distance(math.Inf(1))
	for _, bad := range []measure.Distance{0, -1, nan, inf} {
		span := Underside{AxleSpan: bad, Clearance: 0.2, RearOverhang: bad, TailClearance: 0.4}
		clearance := Underside{AxleSpan: 8, Clearance: bad, RearOverhang: 3, TailClearance: bad}
		for _, u := range []Underside{span, clearance} {
			if r, ok := u.CrestRadius(); ok || r != 0 {
				t.Errorf("%+v: radius %v", u, r)
			}
			if g, ok := u.DepartureGrade(); ok || g != 0 {
				t.Errorf("%+v: grade %v", u, g)
			}
		}
	}
}

func ExampleProfile_Need() {
	house := Underside{AxleSpan: 8, Clearance: 0.20}
	crossing := RailCrossing()
	touch, ok := crossing.Profile().Need(house.AxleSpan)
	fmt.Printf("steepest standard crossing: %.0f mm left, %v\n", (house.Clearance-touch.Need)*1000, ok)
	crossing.Grade = 0.08
	touch, ok = crossing.Profile().Need(house.AxleSpan)
	fmt.Printf("8 percent approaches: %.0f mm left, %v\n", (house.Clearance-touch.Need)*1000, ok)
	// Output:
	// steepest standard crossing: 175 mm left, true
	// 8 percent approaches: -23 mm left, true
}

// A unit whose supports stand wider apart than a hump is long needs as much as it is high,
// and one that stands on it less: by hand for a span of 12 ft, both ends at its feet, 4 in.
// At 8 m the steepest level crossing within the standard needs 24.85 mm, a quarter.
func TestSpeedHump(t *testing.T) {
	for _, tc := range []struct{ span, want measure.Distance }{{8, 0.1016}, {5, 0.1016}, {3.6576, 0.1016}} {
		got, ok := SpeedHump().Need(tc.span)
		if !ok {
			t.Fatalf("span %v: no answer", tc.span)
		}
		near(t, "need", got.Need, tc.want, 1e-9)
	}
	// 6 ft apart about its middle: 4 in at the top, a quarter of that less at both supports.
	if got, _ := SpeedHump().Need(1.8288); got.Need >= 0.1016 || got.Need < 0.0254-1e-9 {
		t.Errorf("within the hump %v", got.Need)
	}
	rail, _ := RailCrossing().Profile().Need(8)
	near(t, "level crossing", rail.Need, 0.02485, 5e-6)
}
