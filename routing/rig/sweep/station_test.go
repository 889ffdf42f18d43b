package sweep

import (
	"errors"
	"math"
	"testing"

	"github.com/paulmach/orb"
)

func TestLay(t *testing.T) {
	d := Driver{reach: 15}
	start, err := d.lay(orb.LineString{{0, 0}, {0, 0}, {10, 0}, {10, 7}})
	if err != nil {
		t.Fatal(err)
	}
	s := d.stations
	near(t, "first", s[0].s, -15, 1e-9)
	near(t, "first x", s[0].at.x, -15, 1e-9)
	near(t, "start", s[start].s, 0, 1e-9)
	near(t, "last", s[len(s)-1].s, 17+15, 1e-9)
	near(t, "last y", s[len(s)-1].at.y, 7+15, 1e-9)
	kinks := 0
	for i := range s {
		near(t, "unit", s[i].along.length(), 1, 1e-12)
		if i > 0 && !(0 < s[i].s-s[i-1].s && s[i].s-s[i-1].s < stationStep+1e-9) {
			t.Errorf("station %d is %v after the one before", i, s[i].s-s[i-1].s)
		}
		if s[i].along != (vec{1, 0}) && s[i].along != (vec{0, 1}) {
			kinks++
			near(t, "bisector", s[i].along.cross(vec{1, 1}), 0, 1e-12)
			near(t, "kink", s[i].s, 10, 1e-9)
		}
	}
	if kinks != 1 {
		t.Errorf("%d kinks", kinks)
	}
}

func TestPathBad(t *testing.T) {
	for name, path := range map[string]orb.LineString{
		"empty":     nil,
		"one place": {{2, 2}, {2, 2}},
		"no number": {{0, 0}, {math.NaN(), 0}},
		"infinite":  {{0, 0}, {math.Inf(1), 0}},
		"too long":  {{0, 0}, {5001, 0}},
	} {
		if got, err := Drive(pickup(), path); !errors.Is(err, ErrPath) || got != (Swept{}) {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	if _, err := Drive(pickup(), orb.LineString{{0, 0}, {4999, 0}}); err != nil {
		t.Error(err)
	}
}

// A bad drive leaves nothing behind that changes the next.
func TestDriverReused(t *testing.T) {
	corner := arc(90*Degree, 12.5, 60)
	want, err := Drive(pickup(), corner)
	if err != nil {
		t.Fatal(err)
	}
	var d Driver
	for _, path := range []orb.LineString{{{0, 0}, {900, 4}, {3, 5}}, nil, {{0, 0}, {math.NaN(), 0}}, {{0, 0}, {1, 1}}} {
		_, _ = d.Drive(pickup(), path) // some of them fail, which is the point
		if got, err := d.Drive(pickup(), corner); got != want || err != nil {
			t.Errorf("after %v: %+v, %v, want %+v", path, got, err, want)
		}
	}
}

// Worked by hand: an arc cut into chords has about its own radius, a kink
// between long legs the radius of a chord over its turn.
func TestTightest(t *testing.T) {
	d := Driver{reach: 15}
	for _, tc := range []struct {
		name string
		path orb.LineString
		want float64
	}{
		{"arc", arc(90*Degree, 12.5, 60), 12.5},
		{"kink", kink(90*Degree, 60), 0.1 / (math.Pi / 2)},
		{"straight", orb.LineString{{0, 0}, {3, 1}, {6, 2}}, math.Inf(1)},
	} {
		if _, err := d.lay(tc.path); err != nil {
			t.Fatal(err)
		}
		if got := d.tightest; got != tc.want && !(math.Abs(got-tc.want) < 0.01*tc.want) {
			t.Errorf("%s: %v, want %v", tc.name, got, tc.want)
		}
	}
}
