package standing

import (
	"cmp"
	"maps"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// A driven road is a road by one of its keys, in one jurisdiction.
type drivenRoad struct{ code, key string }

// Lost answers for structures whose road is driven and whose place is not known,
// or is not on that road: each is somewhere, perhaps on the way, and as good as
// unmeasured. Of each road they are one finding.
//
//  1. List the roads that edges belong to, by jurisdiction.
//  2. Take the structures that name one of them and that no leg and no other
//     finding lists.
//  3. Leave out those that stand on their road elsewhere.
func (j *Judge) Lost(edges []network.EdgeID, along []orb.Bound, listed Listed) []finding.Finding {
	driven := j.drivenRoads(edges)
	found := map[drivenRoad][]Placed{}
	take := func(s *clearance.Structure, revision string) {
		for _, code := range j.codesOf(s) {
			for _, key := range network.Keys(s.Road) {
				road := drivenRoad{code, key}
				one := Placed{Structure: *s, Revision: revision}
				if !driven[road] || listed[one.Key()] || !j.misplaced(s, code, along) {
					continue
				}
				listed[one.Key()] = true
				if one = j.structures.judge(*s, revision); !one.Asleep {
					found[road] = append(found[road], one)
				}
			}
		}
	}
	for i := range j.Structures {
		take(&j.Structures[i], j.Revision)
	}
	codes := map[string]bool{}
	for road := range driven {
		codes[road.code] = true
	}
	for _, code := range append(slices.Collect(maps.Keys(codes)), "") { // some name no jurisdiction
		for text, list := range j.Tables.Clearances().Roads(code) {
			if !anyDriven(driven, codes, text) {
				continue
			}
			for _, s := range list {
				take(s, j.Tables.Revision)
			}
		}
	}
	return j.tellLost(found)
}

// drivenRoads lists what the roads of edges are called.
func (j *Judge) drivenRoads(edges []network.EdgeID) map[drivenRoad]bool {
	out := map[drivenRoad]bool{}
	for _, e := range edges {
		for _, key := range network.CalledKeys(j.Network.Ref(e), j.Network.Name(e)) {
			for _, code := range j.Network.Jurisdictions(e) {
				out[drivenRoad{code, key}] = true
			}
		}
	}
	return out
}

// anyDriven reports whether a road of a name is driven in any jurisdiction.
func anyDriven(driven map[drivenRoad]bool, codes map[string]bool, text string) bool {
	for _, key := range network.Keys(text) {
		for code := range codes {
			if driven[drivenRoad{code, key}] {
				return true
			}
		}
	}
	return false
}

// codesOf are the jurisdictions that a structure may stand in.
func (j *Judge) codesOf(s *clearance.Structure) []string {
	if s.Jurisdiction != "" {
		return []string{s.Jurisdiction}
	}
	return j.Areas.At(s.Point)
}

// lostReach is how far from the way, in degrees, a structure in open country may
// stand and still be taken for one of a road of the way; farther off the network
// may lack its road.
const lostReach = 0.05

// misplaced reports whether a structure surely does not stand on its road: it has
// no place, one in another jurisdiction, one by other roads, or one by no road and
// near the way.
func (j *Judge) misplaced(s *clearance.Structure, code string, along []orb.Bound) bool {
	if s.Unplaced || !slices.Contains(j.Areas.At(s.Point), code) {
		return true
	}
	near := j.Index.Near(s.Point, Reach)
	if len(near) > 0 {
		return !slices.ContainsFunc(near, func(n network.Snapped) bool { return j.Network.Bears(n.Edge, s.Road) })
	}
	return slices.ContainsFunc(along, func(b orb.Bound) bool { return b.Pad(lostReach).Contains(s.Point) })
}

// lostShown is how many lost structures of a road a finding names.
const lostShown = 20

// tellLost adds a finding for each road.
func (j *Judge) tellLost(found map[drivenRoad][]Placed) (out []finding.Finding) {
	var roads []drivenRoad
	for road, list := range found {
		roads = append(roads, road)
		slices.SortFunc(list, func(a, b Placed) int { return cmp.Compare(a.Key(), b.Key()) })
	}
	slices.SortFunc(roads, func(a, b drivenRoad) int {
		return cmp.Or(cmp.Compare(a.code, b.code), cmp.Compare(a.key, b.key))
	})
	for _, road := range roads {
		out = append(out, j.lostOn(road, found[road]))
	}
	return out
}

func (j *Judge) lostOn(road drivenRoad, list []Placed) finding.Finding {
	name := list[0].Structure.Road
	f := finding.Finding{
		Topic: finding.Structure, Rule: "structure", Jurisdiction: road.code, Place: say.Text(name), Outcome: finding.Unknown,
		Reason: finding.Perhaps, Settles: j.Office(road.code),
	}
	var names []say.Remark
	for i, s := range list {
		f.Invented = f.Invented || s.Structure.Invented()
		if i < lostShown {
			p := j.Passing(s, 0, road.code)
			p.Citation.Decides = false
			f.Citations, names = append(f.Citations, p.Citation), append(names, s.Called)
		}
	}
	if more := len(list) - len(names); more > 0 {
		names = append(names, say.That("structure.more", "count", more))
	}
	f.Says = []say.Remark{say.That("structure.lost",
		"count", len(list), "road", name, "jurisdiction", say.Jurisdiction(road.code), "reach", Reach, "names", names)}
	return f
}
