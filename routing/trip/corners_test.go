package trip

import (
	"testing"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/routing/network"
)

// A structure of the tables that is called as one of the request, at the same
// place, is not hidden by it: the stricter answer counts.
func TestSameIDInTablesAndRequest(t *testing.T) {
	for name, tc := range map[string]struct {
		tables clearance.Structure
		want   finding.Outcome
	}{
		"a margin to review": {over("s", 4400), finding.Review}, "no figure": {over("s", 0), finding.Unknown},
	} {
		r := house(func(r *Request) { r.Allowances.Review = *length(200) })
		r.Structures = []clearance.Structure{over("s", 5000)}
		p := plan(t, withStructures(world(t, fork(road{}), nil), tc.tables), r)
		found := false
		for _, f := range byRule(p, "structure") {
			found = found || f.Outcome == tc.want
		}
		if !found {
			t.Errorf("%s in the tables, clear in the request: %s alone", name, byRule(p, "structure")[0].Summary)
		}
	}
}

// What passes under is never taken for the road on the bridge, not even where
// no name is given and no other road is near.
func TestUnderIsNotTheBridge(t *testing.T) {
	p := world(t, []road{{name: "US 9", from: [2]float64{0, 0}, to: [2]float64{10, 0}, road: network.Road{Flags: network.OnBridge}}}, nil)
	s := over("s", 3000, func(s *clearance.Structure) { s.Road, s.Grade = "", clearance.Under })
	if roads, doubt := p.roadsUnder(s); len(roads) > 0 && doubt == "" {
		t.Errorf("bound to the road on the bridge, for certain")
	}
}

// A bridge over both carriageways of a road, 80 m apart, is over both.
func TestBothCarriageways(t *testing.T) {
	p := world(t, []road{
		{name: "I 87", from: [2]float64{5, -6}, to: [2]float64{5, 6}, road: network.Road{Flags: network.OnewayAlong}},
		{name: "I 87", from: [2]float64{5.1, 6}, to: [2]float64{5.1, -6}, road: network.Road{Flags: network.OnewayAlong}},
	}, nil)
	s := over("s", 3000, func(s *clearance.Structure) {
		s.Road, s.Grade, s.Point = "I 87", clearance.Under, point([2]float64{4.99, 0})
	})
	if roads, doubt := p.roadsUnder(s); len(roads) < 2 && doubt == "" {
		t.Errorf("bound to one of two carriageways, for certain")
	}
}
