package trip

import (
	"math"
	"slices"
	"testing"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
)

// A mini-roundabout is one corner, however little the way turns on it, driven over its
// middle along the roads, and compared with its diameter where that is tagged.
func TestMiniRoundabout(t *testing.T) {
	for _, tc := range []struct {
		degrees  float64
		diameter measure.Length
		tooWide  bool
	}{{0, 0, false}, {30, 0, false}, {90, 0, false}, {90, 4 * measure.Metre, true}, {0, 4 * measure.Metre, false}, {-90, 20 * measure.Metre, false}} {
		roads := junction(tc.degrees, network.Road{}, network.Road{})
		for i := range roads {
			roads[i].spots = []spot{{kind: network.MiniRoundabout, part: measure.Distance(1 - i), node: true, osm: 77, width: tc.diameter}}
		}
		p := plan(t, world(t, roads, nil), described(round(tc.degrees)))
		if len(p.Road.Corners) != 1 || len(p.Road.Curves) > 0 || p.Road.Coarse.Bends > 0 {
			t.Errorf("%v degrees: %+v", tc.degrees, p.Road.Bends)
			continue
		}
		c := p.Road.Corners[0]
		nearly(t, "turn", c.Turn, tc.degrees, 0.3)
		nearly(t, "after, m", float64(c.At), 1000, 2)
		if !c.Mini || c.Ring || !c.Unknown.None() || c.TooWide() != tc.tooWide || c.RoadWidth != tc.diameter || c.Place().Code != say.Code("place.over_mini") {
			t.Errorf("%v degrees, %v: %+v", tc.degrees, tc.diameter, c)
		}
		if straight := tc.degrees == 0; straight != (math.Abs(float64(c.Swept)-2.6) < 0.001) || straight != (c.OffTracking < 0.001) {
			t.Errorf("%v degrees: takes %v, cuts in by %v", tc.degrees, float64(c.Swept), float64(c.OffTracking))
		}
	}
}

// ring is a road eastward over a roundabout of a radius, anticlockwise by its southern
// half in pieces of 15 degrees.
func ring(radius measure.Distance) []road {
	at := func(degrees float64) [2]float64 {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return off(radius*measure.Distance(cos), radius*measure.Distance(sin))
	}
	roads := []road{{name: "in", from: off(-500, 0), to: at(180)}}
	for a := 180.0; a < 360; a += 15 {
		roads = append(roads, road{name: "ring", from: at(a), to: at(a + 15), road: network.Road{Flags: network.Roundabout | network.OnewayAlong}})
	}
	return append(roads, road{name: "out", from: at(360), to: off(500, 0)})
}

// A roundabout is driven along its own line: in, round and out again. On rings that the
// rig gets round it takes more road than it is wide, and no more than at full lock.
func TestTightRoundabout(t *testing.T) {
	circles := described().Rig.Turning().Circles
	lock := circles[slices.IndexFunc(circles, func(c rig.Circle) bool { return c.Lock })]
	for _, radius := range []measure.Distance{10, 14, 20, 28} {
		p := plan(t, world(t, ring(radius), nil), described(from(off(-500, 0), off(500, 0))))
		turns := map[bool]int{}
		for _, c := range p.Road.Corners {
			if !c.Ring || c.Mini || !c.Unknown.None() || c.Place().Code != say.Code("place.on_ring") {
				t.Errorf("%v: %+v", radius, c)
			}
			if c.Swept < 3 || c.Swept > lock.Width {
				t.Errorf("%v: takes %v, at full lock %v", radius, float64(c.Swept), float64(lock.Width))
			}
			turns[c.Turn > 0]++
		}
		if turns[true] != 2 || turns[false] != 1 {
			t.Errorf("%v: %d to the right, %d to the left", radius, turns[true], turns[false])
		}
	}
}

// A rig that does not turn so tightly does not get round, and the answer says so.
func TestRoundaboutTooTight(t *testing.T) {
	p := plan(t, world(t, ring(6), nil), described(from(off(-500, 0), off(500, 0)), func(r *Request) { r.Rig.Tow.TurningRadius = length(12_000) }))
	if n := len(p.Road.Corners); n != 3 {
		t.Fatalf("%+v", p.Road.Corners)
	}
	for _, c := range p.Road.Corners {
		if !c.Tighter {
			t.Errorf("%+v", c)
		}
	}
}
