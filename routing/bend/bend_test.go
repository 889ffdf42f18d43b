package bend

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/routing/geodesic"
)

// home is where the lines of the tests lie; the second lies far north.
var homes = []orb.Point{{-75.7, 45.4}, {-135, 60.7}}

// onMap turns metres east and north of a place into coordinates, by the geodesic
// package, apart from the code under test.
func onMap(home orb.Point, flat [][2]float64) orb.LineString {
	var out orb.LineString
	for _, p := range flat {
		bearing := math.Atan2(p[0], p[1]) * 180 / math.Pi
		if bearing < 0 {
			bearing += 360
		}
		distance := math.Hypot(p[0], p[1])
		if distance == 0 {
			out = append(out, home)
			continue
		}
		out = append(out, toward(home, bearing, distance))
	}
	return out
}

// toward goes a distance along a bearing by halving on the geodesic's own
// distance and bearing: slow, and apart from offset.
func toward(home orb.Point, bearing, distance float64) orb.Point {
	p := orb.Point{home.Lon() + distance*math.Sin(bearing*math.Pi/180)/70_000, home.Lat() + distance*math.Cos(bearing*math.Pi/180)/111_000}
	for range 40 {
		d, b := float64(geodesic.Between(home, p)), geodesic.Bearing(home, p)*math.Pi/180
		want := bearing * math.Pi / 180
		p[0] += (distance*math.Sin(want) - d*math.Sin(b)) / (111_320 * math.Cos(home.Lat()*math.Pi/180))
		p[1] += (distance*math.Cos(want) - d*math.Cos(b)) / 111_200
	}
	return p
}

// arc is a straight, a curve of a radius through an angle to the right, and a
// straight, drawn with points so far apart.
func arc(radius, degrees, step float64) [][2]float64 {
	var out [][2]float64
	for y := -400.0; y < 0; y += 100 {
		out = append(out, [2]float64{0, y})
	}
	n := max(int(math.Round(radius*degrees*math.Pi/180/step)), 1)
	for i := range n + 1 {
		a := degrees * math.Pi / 180 * float64(i) / float64(n)
		out = append(out, [2]float64{radius * (1 - math.Cos(a)), radius * math.Sin(a)})
	}
	last, a := out[len(out)-1], degrees*math.Pi/180
	for d := 100.0; d <= 400; d += 100 {
		out = append(out, [2]float64{last[0] + d*math.Sin(a), last[1] + d*math.Cos(a)})
	}
	return out
}

// A curve that is drawn well has the radius that it was drawn with, to a tenth or
// so, whichever way it goes and wherever it lies.
func TestRadiusOfACurve(t *testing.T) {
	for _, home := range homes {
		for _, tc := range []struct{ radius, degrees, step float64 }{{15, 90, 3}, {50, 120, 5}, {100, 60, 10}, {300, 60, 30}, {600, 40, 60}} {
			line := onMap(home, arc(tc.radius, tc.degrees, tc.step))
			for _, way := range []string{"out", "back"} {
				var tracer Tracer
				bends := tracer.Along(line, nil)
				if len(bends) != 1 {
					t.Fatalf("R %v: %d bends, want 1", tc.radius, len(bends))
				}
				b := bends[0]
				if off := float64(b.Radius)/tc.radius - 1; off < -0.5 || off > 0.15 {
					t.Errorf("R %v %s: %.1f m", tc.radius, way, float64(b.Radius))
				}
				want := tc.degrees * math.Pi / 180
				if way == "back" {
					want = -want
				}
				if math.Abs(b.Turn-want) > 0.03 {
					t.Errorf("R %v %s: turns by %.3f, want %.3f", tc.radius, way, b.Turn, want)
				}
				line = line.Clone()
				line.Reverse()
			}
		}
	}
}

// Where two straights meet in a corner the curve is at most as wide as stays
// within the drawing: worked by hand, 5 m over sec(45 degrees) - 1 is 12.07 m.
func TestRadiusOfACorner(t *testing.T) {
	for degrees, want := range map[float64]float64{90: 12.07, 60: 32.32, 120: 5, 30: 141.7} {
		a := degrees * math.Pi / 180
		line := onMap(homes[0], [][2]float64{{0, -300}, {0, 0}, {300 * math.Sin(a), 300 * math.Cos(a)}})
		var tracer Tracer
		b := tracer.Along(line, nil)[0]
		if math.Abs(float64(b.Radius)/want-1) > 0.01 {
			t.Errorf("%v degrees: %.2f m, want %.2f", degrees, float64(b.Radius), want)
		}
		if corner := degrees >= 45; b.Corner() != corner {
			t.Errorf("%v degrees: corner %v", degrees, b.Corner())
		}
		if math.Abs(float64(b.At)-300) > 0.01 {
			t.Errorf("at %v, want 300 m", b.At)
		}
	}
}

// An s is two bends; what is straight has none, and so has what turns round on
// the spot nothing but a radius of 0.
func TestBendsApart(t *testing.T) {
	var tracer Tracer
	if got := tracer.Along(onMap(homes[0], [][2]float64{{0, 0}, {0, 100}, {1, 200}, {0, 300}}), nil); len(got) != 0 {
		t.Errorf("a straight has %d bends", len(got))
	}
	s := tracer.Along(onMap(homes[0], [][2]float64{{0, 0}, {0, 100}, {50, 150}, {50, 250}}), nil)
	if len(s) != 2 || s[0].Turn < 0 || s[1].Turn > 0 {
		t.Errorf("an s: %+v", s)
	}
	far := tracer.Along(onMap(homes[0], [][2]float64{{0, 0}, {0, 100}, {80, 180}, {180, 180}}), nil)
	if len(far) != 2 {
		t.Errorf("two corners 113 m apart are %d bends", len(far))
	}
	round := tracer.Along(orb.LineString{{-75, 45}, {-75, 45.001}, {-75, 45}}, nil)
	if len(round) != 1 || round[0].Radius != 0 {
		t.Errorf("turning round: %+v", round)
	}
	for _, line := range []orb.LineString{nil, {{1, 1}}, {{1, 1}, {1, 1}, {1, 1}, {1, 1}}} {
		if got := tracer.Along(line, nil); len(got) != 0 {
			t.Errorf("%v has %d bends", line, len(got))
		}
	}
}

// around are two curves to the right, each of so many degrees, with a straight between them, drawn each 5 m.
func around(radius, degrees, straight, second float64) [][2]float64 {
	at, heading := [2]float64{}, 0.0
	out := [][2]float64{at}
	step := func(length float64) {
		at = [2]float64{at[0] + length*math.Sin(heading), at[1] + length*math.Cos(heading)}
		out = append(out, at)
	}
	curve := func(degrees float64) {
		angle := degrees * math.Pi / 180
		n := math.Ceil(radius * angle / 5)
		for range int(n) { // chords of the circle
			heading += angle / n / 2
			step(2 * radius * math.Sin(angle/n/2))
			heading += angle / n / 2
		}
	}
	step(200)
	curve(degrees)
	step(straight)
	curve(second)
	step(200)
	return out
}

// Two tight curves with a straight between them that is no piece of either are two bends, whichever way they are
// driven and wherever the line ends: 52 m on a radius of 18 m would bow by 19 m. One curve with a piece of 10 m, that
// bows by 0.7 m, stays one, as do two halves of a wide one, and a ramp whose first turn alone is no corner.
func TestStraightBetweenCorners(t *testing.T) {
	for _, tc := range []struct {
		name                              string
		radius, degrees, straight, second float64
		want                              []float64
	}{
		{"corners of a block", 18, 94, 52, 84, []float64{94, 84}},
		{"the second less sharp", 18, 94, 52, 50, []float64{94, 50}},
		{"hairpin", 18, 90, 10, 90, []float64{180}},
		{"ramp", 35, 29, 30, 61, []float64{90}},
		{"wide", 80, 90, 40, 90, []float64{180}},
	} {
		line := onMap(homes[0], around(tc.radius, tc.degrees, tc.straight, tc.second))
		for _, back := range []bool{false, true} {
			var got []float64
			for _, b := range new(Tracer).Along(line, nil) {
				got = append(got, math.Round(math.Abs(b.Turn*180/math.Pi)))
			}
			want := slices.Clone(tc.want)
			if back {
				slices.Reverse(want)
			}
			if !slices.Equal(got, want) {
				t.Errorf("%s, back %v: turns by %v degrees, want %v", tc.name, back, got, want)
			}
			line = line.Clone()
			line.Reverse()
		}
	}
}

// A route that ends 0.1 m beyond a point of its second curve has no bend there that turns by what the first does.
func TestEndInSecondCorner(t *testing.T) {
	flat := around(18, 94, 52, 84)
	flat = flat[:len(flat)-4] // the rest of the curve
	a, b := flat[len(flat)-2], flat[len(flat)-1]
	long := math.Hypot(b[0]-a[0], b[1]-a[1])
	flat[len(flat)-1] = [2]float64{a[0] + (b[0]-a[0])*0.1/long, a[1] + (b[1]-a[1])*0.1/long}
	bends := new(Tracer).Along(onMap(homes[0], flat), nil)
	if len(bends) != 2 || math.Abs(bends[0].Turn*180/math.Pi-94) > 0.5 || bends[1].Turn*180/math.Pi > 84 {
		t.Errorf("bends %+v, want one of 94 degrees and one of less than 84", bends)
	}
}

// Offsets agree with the geodesic.
func TestOffset(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := orb.Point{rapid.Float64Range(-170, 170).Draw(t, "lon"), rapid.Float64Range(-70, 70).Draw(t, "lat")}
		b := orb.Point{a.Lon() + rapid.Float64Range(-0.003, 0.003).Draw(t, "east"), a.Lat() + rapid.Float64Range(-0.003, 0.003).Draw(t, "north")}
		x, y := offset(a, b)
		if want := float64(geodesic.Between(a, b)); math.Abs(math.Hypot(x, y)-want) > 1e-3 {
			t.Fatalf("%v, want %v", math.Hypot(x, y), want)
		}
	})
}

// No line has a bend without a radius or a turn, and a tracer gives the same
// again.
func TestAnyLine(t *testing.T) {
	var again Tracer
	rapid.Check(t, func(t *rapid.T) {
		line := orb.LineString{{-75, 45}}
		for i := range rapid.IntRange(0, 30).Draw(t, "points") {
			last := line[len(line)-1]
			line = append(line, orb.Point{last[0] + rapid.Float64Range(-0.002, 0.002).Draw(t, fmt.Sprint("x", i)), last[1] + rapid.Float64Range(-0.002, 0.002).Draw(t, fmt.Sprint("y", i))})
		}
		var fresh Tracer
		bends, same := fresh.Along(line, nil), again.Along(line, nil)
		if fmt.Sprint(bends) != fmt.Sprint(same) {
			t.Fatalf("%v, then %v", bends, same)
		}
		for _, b := range bends {
			if !(b.Radius >= 0) || math.IsInf(float64(b.Radius), 0) || !(math.Abs(b.Turn) > 0) {
				t.Fatalf("%+v of %v", b, line)
			}
		}
	})
}

// A window is the part of the line about a place, in metres.
func TestWindow(t *testing.T) {
	line := onMap(homes[0], [][2]float64{{0, 0}, {0, 100}, {100, 100}, {100, 300}})
	got := Window(line, 200, 50)
	want := [][2]float64{{50, 100}, {100, 100}, {100, 150}}
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for i := range want {
		if math.Hypot(got[i][0]-want[i][0], got[i][1]-want[i][1]) > 0.01 {
			t.Errorf("point %d: %v, want %v", i, got[i], want[i])
		}
	}
	if whole := Window(line, 200, 1e6); len(whole) != len(line) {
		t.Errorf("all of it: %v", whole)
	}
	if none := Window(line, 5000, 10); len(none) != 0 {
		t.Errorf("beyond its end: %v", none)
	}
}

// 1,000 km of road, a point each 60 m.
func BenchmarkAlong(b *testing.B) {
	var line orb.LineString
	for i := range 1_000_000 / 60 {
		line = append(line, orb.Point{-75 + 0.00055*float64(i) + 0.0003*math.Sin(float64(i)/7), 45 + 0.0009*math.Sin(float64(i)/11)})
	}
	var t Tracer
	var bends []Bend
	b.ReportAllocs()
	for b.Loop() {
		bends = t.Along(line, bends[:0])
	}
	b.ReportMetric(float64(len(bends)), "bends")
}

func Example() {
	// Two straight roads that meet at a right angle.
	var t Tracer
	line := orb.LineString{{-75.70, 45.40}, {-75.70, 45.41}, {-75.68, 45.41}}
	for _, b := range t.Along(line, nil) {
		fmt.Printf("after %.0f m a turn of %.0f degrees, radius at most %.0f m, a corner: %v\n", float64(b.At), b.Turn*180/math.Pi, float64(b.Radius), b.Corner())
	}
	// Output: after 1111 m a turn of 90 degrees, radius at most 12 m, a corner: true
}
