// Package change says in what two networks of OpenStreetMap differ for a rig: by element and
// value, whatever the numbers of edges are in each.
package change

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// Kind is what changed.
type Kind string

// The kinds, in the order of risk.
const (
	Structure Kind = "structure" // what stands over a road, and a height of its own
	Limit     Kind = "limit"     // a posted height, width, length or mass
	Closure   Kind = "closure"   // whom a road or a gate lets through
	Turn      Kind = "turn_rule"
	Direction Kind = "direction" // one-way, or not
	Road      Kind = "road"      // there or not
)

// Kinds lists the kinds, in the order of risk.
func Kinds() []Kind { return []Kind{Structure, Limit, Closure, Turn, Direction, Road} }

// Term names the kind.
func (k Kind) Term() say.Code { return say.Word("change_kind", string(k)) }

// How is what became of it.
type How string

// What becomes of things.
const (
	Gone    How = "gone"
	Altered How = "changed"
	Added   How = "added"
)

// Term names what became of it.
func (h How) Term() say.Code { return say.Word("change_how", string(h)) }

// Count is how many things of a kind came, went and changed.
type Count struct {
	Kind                 Kind
	Gone, Altered, Added int
}

// Counts counts changes by kind, in the order of risk; kinds without one are left out.
func Counts(changes []Change) (out []Count) {
	for _, k := range Kinds() {
		c := Count{Kind: k}
		for _, one := range changes {
			switch {
			case one.Kind != k:
			case one.How == Gone:
				c.Gone++
			case one.How == Altered:
				c.Altered++
			default:
				c.Added++
			}
		}
		if c.Gone+c.Altered+c.Added > 0 {
			out = append(out, c)
		}
	}
	return out
}

// Change is one difference.
type Change struct {
	Kind          Kind
	How           How
	What          say.Remark // of what: "gross mass for heavy goods vehicles"; of a structure what it is
	Element       Element
	Before, After []say.Remark // what was and is said of it; none: nothing
	Road          say.Remark
	Jurisdictions []string
	Point         orb.Point
	Trips         []string // names of those near it, where trips were asked for
}

// Element is an element of OpenStreetMap.
type Element struct {
	Type string // node, way or relation
	ID   int64
}

// Between lists what differs between an older and a newer network, by risk, then by place
// from north to south. A road that is drawn as other ways at its old place is the same
// road. What a source says that binds no rig, such as names and surfaces, is no change.
//
//  1. Pair the ways of both by id, and those left over by the place of their lines.
//  2. Compare what is said of each pair: limits, access, direction.
//  3. Compare what stands over and on the paired roads, by element and road.
//  4. Compare the turn rules.
func Between(before, after *network.Network) []Change {
	d := &differ{sides: [2]*side{newSide(before), newSide(after)}}
	d.pair()
	d.roads()
	d.things()
	d.turns()
	risk := map[Kind]int{}
	for i, k := range Kinds() {
		risk[k] = i
	}
	slices.SortStableFunc(d.out, func(a, b Change) int {
		return cmp.Or(cmp.Compare(risk[a.Kind], risk[b.Kind]), cmp.Compare(b.Point.Lat(), a.Point.Lat()),
			cmp.Compare(a.Point.Lon(), b.Point.Lon()), cmp.Compare(a.Element.ID, b.Element.ID),
			cmp.Compare(a.How, b.How), cmp.Compare(a.What.String(), b.What.String()))
	})
	return d.out
}

// Comparable reports whether a network says of which elements its roads are. One that does
// not has no change that could be found.
func Comparable(n *network.Network) bool {
	for e := range network.EdgeID(n.Edges()) {
		if n.Origin(e) != 0 {
			return true
		}
	}
	return n.Edges() == 0
}

// differ compares two networks.
type differ struct {
	sides [2]*side // older, newer
	ids   []int64  // of the roads of both
	out   []Change
}

// side is one of the networks: its edges by the way that they are of.
type side struct {
	net   *network.Network
	edges map[int64][]network.EdgeID
	of    map[int64]int64 // a way that is another's at its place
	says  map[network.RoadID][]fact
}

func newSide(n *network.Network) *side {
	s := &side{net: n, edges: map[int64][]network.EdgeID{}, of: map[int64]int64{}, says: map[network.RoadID][]fact{}}
	for e := range network.EdgeID(n.Edges()) {
		if id := n.Origin(e); id != 0 {
			s.edges[id] = append(s.edges[id], e)
		}
	}
	return s
}

// way is the id under which a way is compared.
func (s *side) way(id int64) int64 {
	if other, ok := s.of[id]; ok {
		return other
	}
	return id
}

// where fills in where a change is: on an edge of one side.
func (s *side) where(c Change, e network.EdgeID) Change {
	c.Road, c.Jurisdictions = s.net.RoadName(e), s.net.Jurisdictions(e)
	if c.Point == (orb.Point{}) {
		c.Point = s.net.Point(network.Position{Edge: e, Offset: s.net.Length[e] / 2})
	}
	return c
}
