package trip

import (
	"fmt"
	"strings"
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/choosing"
)

// A turning circle of the map near a stop where the rig must turn round is named, with its diameter and what the rig
// needs, and clears nothing. One hundredth of a degree is 788 m here.
func TestTurningCircleAtAStop(t *testing.T) {
	stops := []choosing.Stop{
		{Label: "a", Point: point([2]float64{1, 0})}, {Label: "b", Point: point([2]float64{14.8, 0})},
		{Label: "c", Point: point([2]float64{2, 0})},
	}
	for _, tc := range []struct {
		part  measure.Distance
		width measure.Length
		want  string
	}{
		{1, 24 * measure.Metre, "way.turning_circle(away: 158 m"}, {1, 0, "way.turning_circle(away: 158 m"}, {0.5, 0, ""},
	} {
		circle := spot{kind: network.TurningCircle, part: tc.part, node: true, osm: 9, width: tc.width}
		p := plan(t, world(t, one(road{spots: []spot{circle}}), nil), house(func(r *Request) { r.Stops = stops }))
		got := byRule(p, "turning round")
		if len(got) != 1 || got[0].Outcome != finding.Unknown || len(got[0].Says) > 1 != (tc.want != "") {
			t.Errorf("%v: %+v", tc, got)
			continue
		}
		last := got[0].Says[len(got[0].Says)-1].String()
		across := strings.Contains(last, fmt.Sprint("circle: ", tc.width))
		if tc.want != "" && (!strings.HasPrefix(last, tc.want) || !across) {
			t.Errorf("%v: %s", tc, last)
		}
	}
}
