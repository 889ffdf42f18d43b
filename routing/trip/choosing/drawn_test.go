package choosing

import (
	"testing"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"
)

// A line touches an area that it ends in, starts in or only crosses, whichever way
// round the area was drawn, and none that it runs beside. The square is 45 to 46
// degrees north; its northern side is straight in degrees (RFC 7946), and on the
// sphere a great circle between its corners runs 0.002 degrees north of it.
func TestTouches(t *testing.T) {
	ring := orb.Ring{{-75, 45}, {-74, 45}, {-74, 46}, {-75, 46}, {-75, 45}}
	back := ring.Clone()
	back.Reverse()
	for _, tc := range []struct {
		name     string
		from, to orb.Point
		want     bool
	}{
		{"from outside to inside", orb.Point{-76, 45.5}, orb.Point{-74.5, 45.5}, true},
		{"from inside to outside", orb.Point{-74.5, 45.5}, orb.Point{-73, 45.5}, true},
		{"inside all along", orb.Point{-74.9, 45.5}, orb.Point{-74.1, 45.5}, true},
		{"across, with no point inside", orb.Point{-75.1, 45.2}, orb.Point{-73.9, 45.8}, true},
		{"over a corner", orb.Point{-75.1, 45.85}, orb.Point{-74.9, 46.05}, true},
		{"beside a corner", orb.Point{-75.1, 45.99}, orb.Point{-74.99, 46.1}, false},
		{"elsewhere", orb.Point{-80, 45.5}, orb.Point{-79, 45.5}, false},
		{"just south of the northern side", orb.Point{-74.51, 45.9995}, orb.Point{-74.49, 45.9995}, true},
		{"just north of the northern side", orb.Point{-74.51, 46.0005}, orb.Point{-74.49, 46.0005}, false},
	} {
		line := s2.Polyline{onSphere(tc.from), onSphere(tc.to)}
		for _, drawn := range []orb.Ring{ring, back} {
			if got := touches(loopOf(orb.Polygon{drawn}), line); got != tc.want {
				t.Errorf("%s: touches %t, want %t", tc.name, got, tc.want)
			}
		}
	}
}
