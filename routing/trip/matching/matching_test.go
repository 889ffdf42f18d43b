package matching

import (
	"errors"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/trip/choosing"
)

// Stops lie along a given line in its order, and one that lies some way off it is
// noted: 0.001 degrees of latitude are 111 m.
func TestStopsOnALine(t *testing.T) {
	line := orb.LineString{{-76, 45}, {-75.9, 45}, {-75.8, 45}}
	for _, tc := range []struct {
		name  string
		stops []orb.Point
		field string // that is refused; "" for none
		off   int
	}{
		{"none", nil, "", 0},
		{"in order", []orb.Point{{-76, 45}, {-75.87, 45.001}, {-75.8, 45}}, "", 0},
		{"one half a kilometre off", []orb.Point{{-76, 45}, {-75.87, 45.005}, {-75.8, 45}}, "", 1},
		{"both ends off", []orb.Point{{-76.005, 45}, {-75.795, 45}}, "", 2},
		{"out of order", []orb.Point{{-76, 45}, {-75.8, 45}, {-75.9, 45}}, "stops[2]", 0},
		{"far from it", []orb.Point{{-76, 45}, {-75.9, 45.1}}, "stops[1]", 0},
	} {
		var m Matcher
		for _, at := range tc.stops {
			m.Stops = append(m.Stops, choosing.Stop{Label: "a stop", Point: at})
		}
		off, err := m.stopsOnLine(line)
		var refused *measure.FieldError
		if errors.As(err, &refused) != (tc.field != "") || refused != nil && refused.Field != tc.field {
			t.Errorf("%s: %v, want %q refused", tc.name, err, tc.field)
		}
		if err == nil && len(off) != tc.off {
			t.Errorf("%s: %d stops lie off it, want %d", tc.name, len(off), tc.off)
		}
	}
}
