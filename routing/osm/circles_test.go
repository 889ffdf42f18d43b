package osm_test

import (
	"testing"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
)

// A turning circle is at the end of its road, with its diameter where that is a figure (OpenStreetMap wiki,
// Tag:highway=turning_circle, Tag:highway=turning_loop, Key:diameter).
func TestTurningCircles(t *testing.T) {
	for _, c := range []struct {
		tags     []string
		diameter measure.Length
	}{
		{[]string{"highway=turning_circle", "diameter=24"}, 24 * measure.Metre},
		{[]string{"highway=turning_circle", "diameter=wide"}, 0},
		{[]string{"highway=turning_loop"}, 0},
	} {
		s := roadWith("highway=residential")
		s.node(3, onRoad(middle), c.tags...)
		s.version = 2
		s.way(1, []int64{1, 3}, "highway=residential")
		n, r := made(t, osm.Options{}, s)
		spots := n.Spots(0)
		if n.Edges() != 1 || len(spots) != 1 || spots[0].Kind != network.TurningCircle || spots[0].OSM != 3 {
			t.Fatalf("%v: %d edges, %+v", c.tags, n.Edges(), spots)
		}
		if got := n.Record(spots[0].Road).Width; got != c.diameter || r.Barriers["turning circle"] != 1 {
			t.Errorf("%v: %v across, counted %v", c.tags, got, r.Barriers)
		}
	}
}
