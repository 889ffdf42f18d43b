package sweep

import (
	"errors"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

// ray returns the point at a distance and an angle from another.
func ray(from orb.Point, distance measure.Distance, angle Angle) orb.Point {
	sin, cos := math.Sincos(float64(angle))
	return orb.Point{from[0] + float64(distance)*cos, from[1] + float64(distance)*sin}
}

// kink is a line with one turn to the left between legs of a length.
func kink(turn Angle, leg measure.Distance) orb.LineString {
	return orb.LineString{ray(orb.Point{}, leg, math.Pi), {}, ray(orb.Point{}, leg, turn)}
}

// Worked by hand: with half legs of h and a turn of a the arc has at most the
// radius h / tan(a/2).
func TestRoundLeast(t *testing.T) {
	for _, tc := range []struct {
		name         string
		line         orb.LineString
		radius, want measure.Distance
	}{
		{"straight", orb.LineString{{0, 0}, {50, 0}, {90, 0}}, 12.5, 12.5},
		{"room enough", kink(90*Degree, 50), 12.5, 12.5},
		{"legs too short", kink(90*Degree, 10), 12.5, 5},
		{"60 degrees", kink(60*Degree, 10), 12.5, measure.Distance(5 / math.Tan(math.Pi/6))},
		{"to the right", orb.LineString{{0, 0}, {10, 0}, {10, -30}}, 12.5, 5},
		{"the tightest counts", orb.LineString{{0, 0}, {100, 0}, {100, 8}, {200, 8}}, 12.5, 4},
		{"repeated points", orb.LineString{{0, 0}, {0, 0}, {10, 0}, {10, 0}, {10, 10}}, 12.5, 5},
		{"U-turn", orb.LineString{{0, 0}, {100, 0}, {0, 1}}, 12.5, 0},
		{"straight back", orb.LineString{{0, 0}, {100, 0}, {0, 0}}, 12.5, 0},
	} {
		got, err := Round(tc.line, tc.radius)
		if err != nil {
			t.Errorf("%s: %v", tc.name, err)
		}
		near(t, tc.name, got.Least, tc.want, 1e-9)
	}
}

func TestRoundBad(t *testing.T) {
	good := kink(90*Degree, 50)
	for name, tc := range map[string]struct {
		line   orb.LineString
		radius measure.Distance
	}{
		"empty":         {nil, 10},
		"one point":     {orb.LineString{{1, 1}}, 10},
		"one place":     {orb.LineString{{1, 1}, {1, 1}}, 10},
		"no number":     {orb.LineString{{0, 0}, {math.NaN(), 1}}, 10},
		"infinite":      {orb.LineString{{0, 0}, {1, math.Inf(-1)}}, 10},
		"far":           {orb.LineString{{0, 0}, {1e300, 0}}, 10},
		"no radius":     {good, 0},
		"negative":      {good, -1},
		"radius NaN":    {good, measure.Distance(math.NaN())},
		"radius beyond": {good, measure.Distance(math.Inf(1))},
	} {
		if got, err := Round(tc.line, tc.radius); !errors.Is(err, ErrPath) || got.Path != nil {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
}

// Every arc of a single turn lies on its circle, is dense, keeps the ends, and
// has the turn's tangents.
func TestRoundArc(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := Angle(rapid.Float64Range(1, 174).Draw(t, "turn")) * Degree
		radius := measure.Distance(rapid.Float64Range(1, 40).Draw(t, "radius"))
		line := kink(turn, measure.Distance(rapid.Float64Range(5, 200).Draw(t, "leg")))
		got, err := Round(line, radius)
		if err != nil || !(0 < got.Least && got.Least <= radius) {
			t.Fatalf("%v, %v", got.Least, err)
		}
		n := len(got.Path)
		if got.Path[0] != line[0] || got.Path[n-1] != line[2] {
			t.Fatal("the ends moved")
		}
		begin := got.Path[1]
		centre := vec{begin[0], begin[1] + float64(got.Least)} // the line comes along the x axis and turns left
		for i := 1; i < n-1; i++ {
			p := vec{got.Path[i][0], got.Path[i][1]}
			if r := p.sub(centre).length(); math.Abs(r-float64(got.Least)) > 1e-9 {
				t.Fatalf("radius %v at %d, want %v", r, i, got.Least)
			}
			if i > 1 {
				if step := p.sub(vec{got.Path[i-1][0], got.Path[i-1][1]}).length(); step > arcStep {
					t.Fatalf("step %v", step)
				}
			}
		}
		last, end := got.Path[n-2], line[2]
		if off := (vec{last[0], last[1]}).cross(vec{end[0], end[1]}); math.Abs(off) > 1e-6 {
			t.Fatalf("the arc ends beside the second leg: %v", off)
		}
	})
}

// A line mirrored gives the path mirrored, so right turns are as good as left.
func TestRoundMirror(t *testing.T) {
	line := orb.LineString{{0, 0}, {40, 0}, {60, 30}, {90, 20}, {95, 60}}
	var mirrored orb.LineString
	for _, p := range line {
		mirrored = append(mirrored, orb.Point{p[0], -p[1]})
	}
	a, err := Round(line, 12.5)
	b, err2 := Round(mirrored, 12.5)
	if err != nil || err2 != nil || a.Least != b.Least || len(a.Path) != len(b.Path) {
		t.Fatal(err, err2, a.Least, b.Least)
	}
	for i := range a.Path {
		if a.Path[i][0] != b.Path[i][0] || a.Path[i][1] != -b.Path[i][1] {
			t.Fatalf("%v against %v", a.Path[i], b.Path[i])
		}
	}
}

// Whatever line comes, the answer is an error or finite.
func TestRoundFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := make(orb.LineString, rapid.IntRange(0, 12).Draw(t, "points"))
		for i := range line {
			line[i] = orb.Point{rapid.Float64Range(-20, 20).Draw(t, "x"), math.Round(rapid.Float64Range(-3, 3).Draw(t, "y"))}
		}
		got, err := Round(line, 12.5)
		if err != nil {
			return
		}
		for _, p := range got.Path {
			if math.IsNaN(p[0]+p[1]) || math.IsInf(p[0]+p[1], 0) {
				t.Fatalf("%v", p)
			}
		}
		if s, err := Drive(pickup(), got.Path); err != nil || !(s.Width >= 2.6) || math.IsInf(float64(s.Width+s.OffTracking), 0) {
			t.Fatalf("%+v, %v", s, err)
		}
	})
}
