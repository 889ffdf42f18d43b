package standing

import (
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/regs/clearance"
	"wayhouse/routing/network"
)

// way is a straight road.
type way struct {
	ref      string
	from, to orb.Point
	flags    network.Flags
}

// atlasOf is an atlas of invented roads, without tables.
func atlasOf(t *testing.T, ways ...way) *Atlas {
	t.Helper()
	b := network.NewBuilder()
	for _, w := range ways {
		if _, err := b.Edge(network.Edge{
			From: b.Node(w.from), To: b.Node(w.to), Line: []orb.Point{w.from, w.to}, Class: network.Primary, Speed: 20, Ref: w.ref,
			Road: b.Record(network.Record{Road: network.Road{Flags: w.flags}}),
		}); err != nil {
			t.Fatal(err)
		}
	}
	n, err := b.Finish(network.About{Name: "roads for tests", Caution: "for tests only", Revision: "1", Vintage: "2026-11-25", Carries: network.AllFacts()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return &Atlas{Network: n, Index: network.NewIndex(n)}
}

// What passes under is never taken for the road on the bridge, not even where
// no name is given and no other road is near.
func TestUnderIsNotTheBridge(t *testing.T) {
	a := atlasOf(t, way{"US 9", orb.Point{-76, 45}, orb.Point{-75.9, 45}, network.OnBridge})
	s := clearance.Structure{ID: "s", Point: orb.Point{-75.95, 45}, Direction: "both", Grade: clearance.Under}
	if roads, doubt := a.RoadsUnder(s); len(roads) > 0 && doubt.None() {
		t.Errorf("bound to the road on the bridge, for certain")
	}
	s.Grade = clearance.On
	if roads, doubt := a.RoadsUnder(s); len(roads) != 1 || !doubt.None() {
		t.Errorf("what the bridge carries is bound to %d roads, doubt %v", len(roads), doubt)
	}
}

// A bridge over both carriageways of a road, 80 m apart, is over both.
func TestBothCarriageways(t *testing.T) {
	a := atlasOf(t,
		way{"I 87", orb.Point{-75.95, 44.94}, orb.Point{-75.95, 45.06}, network.OnewayAlong},
		way{"I 87", orb.Point{-75.949, 45.06}, orb.Point{-75.949, 44.94}, network.OnewayAlong})
	s := clearance.Structure{ID: "s", Point: orb.Point{-75.9501, 45}, Road: "I 87", Direction: "both", Grade: clearance.Under}
	if roads, doubt := a.RoadsUnder(s); len(roads) < 2 || !doubt.None() {
		t.Errorf("bound to %d carriageways, doubt %v", len(roads), doubt)
	}
}
