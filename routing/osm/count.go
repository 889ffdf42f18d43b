package osm

import (
	"cmp"
	"path/filepath"
	"slices"
	"strings"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// count completes the report.
func (b *build) count(paths []string) {
	r := b.report
	for _, p := range paths {
		r.Sources = append(r.Sources, filepath.Base(p))
	}
	slices.Sort(r.Sources)
	r.DataDate = dateOf(b.header, b.newest)
	r.Nodes, r.Edges = len(b.graph.Node), b.graph.Edges()
	b.countSigns()
	b.countIslands()
	slices.SortFunc(r.Malformed, func(a, b Malformed) int {
		return cmp.Or(cmp.Compare(a.Type, b.Type), cmp.Compare(a.ID, b.ID), cmp.Compare(a.Key, b.Key))
	})
	r.Malformed = slices.Compact(r.Malformed)
	r.Carries, r.Lacks = b.facts()
	r.Assumptions = b.assumptions()
}

// countSigns counts signs on edges by what they limit.
func (b *build) countSigns() {
	counts := make([]int, b.builder.Records())
	for e := range network.EdgeID(b.graph.Edges()) {
		counts[b.graph.RoadID(e)]++
	}
	for id, n := range counts {
		for _, s := range b.graph.Record(network.RoadID(id)).Signs {
			b.report.Signs[s.Subject.String()] += n
		}
	}
}

// countIslands finds the parts that no road joins to the largest.
func (b *build) countIslands() {
	parent := make([]int32, len(b.graph.Node))
	for i := range parent {
		parent[i] = int32(i)
	}
	find := func(i int32) int32 {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for e := range b.graph.From {
		if a, c := find(int32(b.graph.From[e])), find(int32(b.graph.To[e])); a != c {
			parent[max(a, c)] = min(a, c)
		}
	}
	edges, metres := map[int32]int{}, map[int32]float64{}
	for e := range b.graph.From {
		root := find(int32(b.graph.From[e]))
		edges[root]++
		metres[root] += float64(b.graph.Length[e])
	}
	largest := int32(-1)
	for root, n := range edges {
		if largest < 0 || n > edges[largest] || n == edges[largest] && root < largest {
			largest = root
		}
	}
	roots := slices.Sorted(func(yield func(int32) bool) {
		for root := range edges {
			if root != largest && !yield(root) {
				return
			}
		}
	})
	for _, root := range roots {
		b.report.Islands++
		b.report.IslandEdges += edges[root]
		b.report.IslandKm += metres[root] / 1000
	}
}

func (b *build) facts() (carries, lacks []network.Fact) {
	for _, f := range network.AllFacts() {
		// An extract without a relation was cut: it cannot know of turn rules.
		noTurns := f == network.TurnRules && b.report.Elements["relations"] == 0
		if f == network.Addresses && b.report.Addresses == 0 || f == network.Notices ||
			f == network.TruckRoads && b.report.KilometresForTrucks == 0 || f == network.Stopping && b.report.Stopping == 0 ||
			f == network.Grades && b.options.Terrain == nil || noTurns {
			lacks = append(lacks, f)
		} else {
			carries = append(carries, f)
		}
	}
	return carries, lacks
}

func (b *build) assumptions() []string {
	return []string{
		"towing speeds by road class are this project's assumption: freeway 90 km/h, trunk 85, primary 80, " +
			"secondary 70, tertiary 60, minor 50, residential 30, " +
			"service 15, ramps 50; in built-up areas trunk 60, primary and secondary 50, tertiary 45, minor 40, nine " +
			"tenths of the free-flow speeds of the Highway Capacity Manual (2000); a posted speed that is lower counts instead",
		"a place is built-up where 25 junctions of streets or more stand in the square kilometre around it: this " +
			"project's assumption",
		"signals cost 20 s on the road of the highest class there and 32 s on the others, 40 and 60 s on a slow trip; a " +
			"stop sign 15 and 33 s, giving way 11 and 23 s: control delays of the Highway Capacity Manual (2010), levels of " +
			"service B to D, and 3 to 5 s for a rig that starts slowly, which is this project's estimate",
		"a border control costs 10 and 20 min (service standard of the Canada Border Services Agency, 2023); a toll " +
			"booth 20 and 90 s, a level crossing 5 and 30 s, a junction without control in a built-up area 0.5 to 4 s and " +
			"1 to 8 s, a crossing on foot 1 to 5 s and 3 to 15 s, a bump 3 and 5 s: this project's estimates",
		"a road that says nothing of direction is open both ways, but freeways and roundabouts are one-way",
		"restrictions that hold at certain hours or under conditions are asked for each trip; turns that are " +
			"forbidden at certain hours are never taken",
		"OpenStreetMap is edited by volunteers: a sign that nobody entered is not there, so what a road carries " +
			"no tag for is not known to be free",
	}
}

func (b *build) about(paths []string) network.About {
	name := b.options.Name
	if name == "" {
		name = "OpenStreetMap extracts " + strings.Join(b.report.Sources, ", ")
	}
	speeds := map[network.Class]measure.Speed{}
	for c, v := range towing {
		speeds[c] = v
	}
	return network.About{
		Name: name, Vintage: b.report.DataDate,
		Caution:     "made by volunteers, of " + b.report.DataDate + "; no sign in it is official",
		Attribution: Attribution, Licence: Licence, Carries: b.report.Carries, Lacks: b.report.Lacks,
		Speeds: speeds, Assumptions: b.report.Assumptions,
	}
}
