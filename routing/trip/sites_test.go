package trip

import (
	"testing"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// A corner and a structure that is not clear are places to look at before, in the order
// of the way, each with the roads around it and no others.
func TestSites(t *testing.T) {
	r := house(round(90))
	unmeasured := over("s", 0)
	unmeasured.Point, unmeasured.Road = point(off(-700, 0)), "main"
	r.Structures = []clearance.Structure{unmeasured}
	p := plan(t, world(t, junction(90, network.Road{}, network.Road{}), nil), r)
	if len(p.Sites) != 2 || p.Sites[0].At >= p.Sites[1].At {
		t.Fatalf("%v", p.Sites)
	}
	for i, want := range []int{1, 2} { // the main road alone, and both where they meet
		s := p.Sites[i]
		if len(s.Roads) != want {
			t.Errorf("%v: %d roads around, want %d", s.What, len(s.Roads), want)
		}
		for _, road := range s.Roads {
			if geodesic.Length(road.Line) < 900 {
				t.Errorf("%v is cut off", road)
			}
		}
	}
	high := over("s", 6000)
	high.Point, high.Road = point(off(-700, 0)), "main"
	r.Structures = []clearance.Structure{high}
	p = plan(t, world(t, junction(90, network.Road{}, network.Road{}), nil), r)
	if o := p.Legs[0].Structures[0].Outcome; o != finding.Clear {
		t.Fatalf("a structure of 6 m is %s", o)
	}
	if len(p.Sites) != 1 {
		t.Errorf("%d places, want the corner alone", len(p.Sites))
	}
}
