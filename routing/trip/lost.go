package trip

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/standing"
)

// A driven road is a road by one of its keys, in one jurisdiction.
type drivenRoad struct{ code, key string }

// lost answers for structures whose road is driven and whose place is not known,
// or is not on that road: each is somewhere, perhaps on the way, and as good as
// unmeasured. Of each road they are one finding.
//
//  1. List the roads that the plan drives, by jurisdiction.
//  2. Take the structures that name one of them and that no leg and no other
//     finding lists.
//  3. Leave out those that stand on their road elsewhere.
func (b *builder) lost() {
	driven := b.drivenRoads()
	found := map[drivenRoad][]standing.Placed{}
	take := func(s *clearance.Structure, revision string) {
		for _, code := range b.codesOf(s) {
			for _, key := range network.Keys(s.Road) {
				road := drivenRoad{code, key}
				one := standing.Placed{Structure: *s, Revision: revision}
				if !driven[road] || b.listed[one.Key()] || !b.misplaced(s, code) {
					continue
				}
				b.listed[one.Key()] = true
				if one = b.stands.Judge(*s, revision); !one.Asleep {
					found[road] = append(found[road], one)
				}
			}
		}
	}
	for i := range b.request.Structures {
		take(&b.request.Structures[i], b.request.StructuresRevision)
	}
	for text, list := range b.namedStructures(driven) {
		if !b.anyDriven(driven, text) {
			continue
		}
		for _, s := range list {
			take(s, b.Tables.Revision)
		}
	}
	b.tellLost(found)
}

// drivenRoads lists what the roads of the plan are called.
func (b *builder) drivenRoads() map[drivenRoad]bool {
	out := map[drivenRoad]bool{}
	for _, e := range b.plan.edges {
		for _, key := range network.CalledKeys(b.Network.Ref(e), b.Network.Name(e)) {
			for _, code := range b.Network.Jurisdictions(e) {
				out[drivenRoad{code, key}] = true
			}
		}
	}
	return out
}

// anyDriven reports whether a road of a name is driven in any jurisdiction.
func (b *builder) anyDriven(driven map[drivenRoad]bool, text string) bool {
	for _, l := range b.plan.Legs {
		for _, code := range l.Jurisdictions {
			for _, key := range network.Keys(text) {
				if driven[drivenRoad{code, key}] {
					return true
				}
			}
		}
	}
	return false
}

// namedStructures are the structures of the tables by the road that they name:
// those of the jurisdictions on the way, and those that name none.
func (b *builder) namedStructures(driven map[drivenRoad]bool) map[string][]*clearance.Structure {
	codes := map[string]bool{"": true}
	for road := range driven {
		codes[road.code] = true
	}
	out := map[string][]*clearance.Structure{}
	for code := range codes {
		for text, list := range b.Tables.Clearances().Roads(code) {
			out[text] = append(out[text], list...)
		}
	}
	return out
}

// codesOf are the jurisdictions that a structure may stand in.
func (b *builder) codesOf(s *clearance.Structure) []string {
	if s.Jurisdiction != "" {
		return []string{s.Jurisdiction}
	}
	return b.Areas.At(s.Point)
}

// lostReach is how far from the way, in degrees, a structure in open country may
// stand and still be taken for one of a road of the way; farther off the network
// may lack its road.
const lostReach = 0.05

// misplaced reports whether a structure surely does not stand on its road: it has
// no place, one in another jurisdiction, one by other roads, or one by no road and
// near the way.
func (b *builder) misplaced(s *clearance.Structure, code string) bool {
	if s.Unplaced || !slices.Contains(b.Areas.At(s.Point), code) {
		return true
	}
	near := b.Index.Near(s.Point, standing.Reach)
	if len(near) > 0 {
		return !slices.ContainsFunc(near, func(n network.Snapped) bool { return b.Network.Bears(n.Edge, s.Road) })
	}
	return slices.ContainsFunc(b.plan.Legs, func(l Leg) bool { return l.Line.Bound().Pad(lostReach).Contains(orb.Point(s.Point)) })
}

// lostShown is how many lost structures of a road a finding names.
const lostShown = 20

// tellLost adds a finding for each road.
func (b *builder) tellLost(found map[drivenRoad][]standing.Placed) {
	var roads []drivenRoad
	for road, list := range found {
		roads = append(roads, road)
		slices.SortFunc(list, func(a, b standing.Placed) int { return cmp.Compare(a.Key(), b.Key()) })
	}
	slices.SortFunc(roads, func(a, b drivenRoad) int { return cmp.Or(cmp.Compare(a.code, b.code), cmp.Compare(a.key, b.key)) })
	for _, road := range roads {
		b.plan.Findings = append(b.plan.Findings, b.lostOn(road, found[road]))
	}
}

func (b *builder) lostOn(road drivenRoad, list []standing.Placed) finding.Finding {
	name := list[0].Structure.Road
	f := finding.Finding{
		Topic: finding.Structure, Rule: "structure", Jurisdiction: road.code, Place: say.Text(name), Outcome: finding.Unknown,
		Reason: finding.Perhaps, Settles: b.stands.Office(road.code),
	}
	var names []say.Remark
	for i, s := range list {
		f.Invented = f.Invented || s.Structure.Invented()
		if i < lostShown {
			p := b.stands.Passing(s, 0, road.code)
			p.Row.Decides = false
			f.Citations, names = append(f.Citations, p.Row), append(names, say.Text(s.Structure.Name))
		}
	}
	if more := len(list) - len(names); more > 0 {
		names = append(names, say.That("structure.more", "count", more))
	}
	f.Says = []say.Remark{say.That("structure.lost",
		"count", len(list), "road", name, "jurisdiction", say.Jurisdiction(road.code), "reach", standing.Reach, "names", names)}
	return f
}
