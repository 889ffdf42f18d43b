package osm

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// How far apart signals of one crossing are mapped, and how far before the
// junction that they stand at: our estimates of how mappers draw them, by the
// width of large junctions; no source.
const (
	sameCrossing   = 35 // m, from one signal or junction to the next
	beforeJunction = 60 // m, of signals and signs
	beforeCrossing = 20 // m, of lights of people on foot that are also those of a junction
)

// unranked is the rank of what is no street.
const unranked = network.Service

// crossingNode is what meets at a node.
type crossingNode struct {
	arms       int           // roads, but ferries
	streets    int           // of those, streets: no service ways, tracks or ramps
	best       network.Class // the highest class of those; unranked where there is none
	roundabout bool
}

// group is a crossing with signals: all of its signals and what they stand at.
type group struct {
	junction bool          // and not only people on foot that cross
	best     network.Class // the highest class that meets there
}

// crossings knows where traffic is controlled, once the graph is there.
type crossings struct {
	*build
	flag    []network.Flags // of edges
	nodes   []crossingNode
	towns   *towns
	at      map[network.NodeID]control
	on      map[network.EdgeID][]placedControl
	cluster map[network.NodeID]int32 // crossings with signals, by their nodes
	groups  []group
}

func newCrossings(b *build) *crossings {
	c := &crossings{
		build: b, nodes: make([]crossingNode, len(b.graph.Node)), towns: newTowns(), at: map[network.NodeID]control{},
		on: map[network.EdgeID][]placedControl{}, cluster: map[network.NodeID]int32{},
	}
	for i := range c.nodes {
		c.nodes[i].best = unranked
	}
	said := make([]network.Flags, b.graph.Roads())
	for id := range said {
		said[id] = b.graph.Record(network.RoadID(id)).Flags
	}
	for e := range network.EdgeID(b.graph.Edges()) {
		c.flag = append(c.flag, said[b.graph.RoadID(e)])
		c.count(b.graph.From[e], e)
		c.count(b.graph.To[e], e)
	}
	for i, n := range c.nodes {
		if n.streets >= 3 {
			c.towns.junction(b.graph.Node[i])
		}
	}
	return c
}

func (c *crossings) flags(e network.EdgeID) network.Flags {
	return c.flag[e]
}

// rank is the class by which roads give way to each other; ramps give way to all.
func (c *crossings) rank(e network.EdgeID) network.Class {
	switch class := c.graph.Class[e]; {
	case class == network.Unclassed:
		return network.Residential
	case class >= network.Service, c.flags(e).Has(network.Link):
		return unranked
	default:
		return class
	}
}

func (c *crossings) count(id network.NodeID, e network.EdgeID) {
	if c.graph.Class[e].Water() {
		return
	}
	n := &c.nodes[id]
	n.arms++
	if r := c.rank(e); r < unranked {
		n.streets, n.best = n.streets+1, min(n.best, r)
	}
	n.roundabout = n.roundabout || c.flags(e).Has(network.Roundabout)
}

// middle is the place of an edge.
func (c *crossings) middle(e network.EdgeID) orb.Point {
	line := c.graph.Shape(e)
	return line[len(line)/2]
}

// inside is the crossing with signals that a node belongs to, -1 where none.
func (c *crossings) inside(id network.NodeID) int32 {
	if k, ok := c.cluster[id]; ok {
		return k
	}
	return -1
}

// along lists the controls within an arc in its order.
func (c *crossings) along(a network.Arc) []placedControl {
	list := c.on[a.Edge()]
	if a.Reverse() && len(list) > 1 {
		list = slices.Clone(list)
		slices.Reverse(list)
	}
	return list
}

// place brings the controls to nodes and directions, and joins the signals of
// each crossing.
func (c *crossings) place() {
	join := newJoiner()
	ids := make([]int64, 0, len(c.controls))
	for id := range c.controls {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		found := c.controls[id]
		c.report.Controls[controlNames[found.kind]]++
		node, ok := c.nodeOfRef(id)
		if !ok {
			continue // within an edge
		}
		c.at[node] = found
		if found.kind <= crossingSignals {
			k := join.add(c.graph.Node[node], found.kind == signals || c.nodes[node].streets >= 3)
			join.nodes[node] = k
		}
	}
	for i := range c.placed {
		p := &c.placed[i]
		c.direct(p)
		if p.kind <= crossingSignals {
			p.cluster = c.guard(join, p)
		}
	}
	c.settle(join)
}

// settle numbers the crossings.
func (c *crossings) settle(join *joiner) {
	root := join.join()
	for id, k := range join.nodes {
		c.cluster[id] = root[k]
	}
	for i, p := range c.placed {
		if p.kind <= crossingSignals {
			c.placed[i].cluster = root[p.cluster]
		}
		c.on[p.edge] = append(c.on[p.edge], c.placed[i])
	}
	for _, list := range c.on {
		slices.SortStableFunc(list, func(a, b placedControl) int { return cmp.Compare(a.offset, b.offset) })
	}
	c.groups = make([]group, len(join.points))
	for i := range c.groups {
		c.groups[i].best = unranked
	}
	seen := map[int32]bool{}
	for k, r := range root {
		g := &c.groups[r]
		g.junction = g.junction || join.junction[k]
		seen[r] = true
	}
	for id, k := range c.cluster {
		c.groups[k].best = min(c.groups[k].best, c.nodes[id].best)
	}
	c.report.Controls["signalled crossings"] = len(seen)
}

// direct works out which direction a control within an edge binds: as tagged, as
// the road is one-way, towards the junction that it stands before, or both.
func (c *crossings) direct(p *placedControl) {
	f := c.flags(p.edge)
	switch {
	case f.Has(network.OnewayAlong):
		p.bound = network.Along
	case f.Has(network.OnewayAgainst):
		p.bound = network.Against
	case p.told || p.kind > giveWay:
	default:
		ahead, _ := c.ahead(p, false)
		behind, _ := c.ahead(p, true)
		switch {
		case ahead < behind:
			p.bound = network.Along
		case behind < ahead:
			p.bound = network.Against
		}
	}
}

// ahead finds the junction before which a control within an edge stands in a
// direction: how far off it is, infinitely where there is none near, and the nodes
// up to it.
func (c *crossings) ahead(p *placedControl, reverse bool) (measure.Distance, []network.NodeID) {
	off := c.graph.Length[p.edge] - p.offset
	if reverse {
		off = p.offset
	}
	return c.walk(network.MakeArc(p.edge, reverse), off)
}

// walk goes on from an arc to the next junction of streets, so far from its end.
func (c *crossings) walk(a network.Arc, off measure.Distance) (measure.Distance, []network.NodeID) {
	var passed []network.NodeID
	for off <= beforeJunction {
		head := c.graph.Head(a)
		passed = append(passed, head)
		if c.nodes[head].streets >= 3 {
			return off, passed
		}
		out := c.graph.Out(head)
		if len(out) != 2 {
			break
		}
		on := out[0]
		if on == a.Back() {
			on = out[1]
		}
		a, off = on, off+c.graph.Length[on.Edge()]
	}
	return measure.Distance(math.Inf(1)), nil
}

// guard adds signals within an edge, and the junction that they stand before.
func (c *crossings) guard(join *joiner, p *placedControl) int32 {
	at := c.graph.Point(network.Position{Edge: p.edge, Offset: p.offset})
	k := join.add(at, p.kind == signals)
	for _, reverse := range []bool{false, true} {
		if !p.bound.Binds(reverse) {
			continue
		}
		off, nodes := c.ahead(p, reverse)
		if math.IsInf(float64(off), 1) || p.kind == crossingSignals && off > beforeCrossing {
			continue
		}
		for _, id := range nodes {
			other, known := join.nodes[id]
			if !known {
				other = join.add(c.graph.Node[id], c.nodes[id].streets >= 3)
				join.nodes[id] = other
			}
			join.same(k, other)
		}
	}
	return k
}

// obeys reports whether an arc that ends at a sign on a node must obey it: at a
// junction those that meet a higher class, or all; between two ways those that
// come to a junction soon.
func (c *crossings) obeys(a network.Arc, sign control) bool {
	n := c.nodes[c.graph.Head(a)]
	if n.arms >= 3 {
		equal := true
		for _, o := range c.graph.Out(c.graph.Head(a)) {
			equal = equal && c.rank(o.Edge()) == n.best
		}
		return sign.all || equal || c.rank(a.Edge()) > n.best
	}
	if sign.told {
		return sign.bound.Binds(a.Reverse())
	}
	ahead, _ := c.walk(a, 0)
	behind, _ := c.walk(a.Back(), c.graph.Length[a.Edge()])
	return ahead <= behind
}

// joiner joins what stands close to each other.
type joiner struct {
	points   []orb.Point
	junction []bool
	parent   []int32
	nodes    map[network.NodeID]int32
}

func newJoiner() *joiner { return &joiner{nodes: map[network.NodeID]int32{}} }

func (j *joiner) add(p orb.Point, junction bool) int32 {
	k := int32(len(j.points))
	j.points, j.junction, j.parent = append(j.points, p), append(j.junction, junction), append(j.parent, k)
	return k
}

func (j *joiner) find(k int32) int32 {
	for j.parent[k] != k {
		j.parent[k] = j.parent[j.parent[k]]
		k = j.parent[k]
	}
	return k
}

func (j *joiner) same(a, b int32) {
	a, b = j.find(a), j.find(b)
	j.parent[max(a, b)] = min(a, b)
}

// join joins all that stand within reach of each other, and returns the first of
// each one's group.
func (j *joiner) join() []int32 {
	const level = 17 // cells of about 70 m: neighbours hold all within reach
	cells := map[s2.CellID][]int32{}
	cell := func(p orb.Point) s2.CellID {
		return s2.CellIDFromLatLng(s2.LatLngFromDegrees(p.Lat(), p.Lon())).Parent(level)
	}
	for k, p := range j.points {
		id := cell(p)
		for _, near := range append(id.AllNeighbors(level), id) {
			for _, o := range cells[near] {
				if geodesic.Between(p, j.points[o]) <= sameCrossing {
					j.same(int32(k), o)
				}
			}
		}
		cells[id] = append(cells[id], int32(k))
	}
	root := make([]int32, len(j.points))
	for k := range root {
		root[k] = j.find(int32(k))
	}
	return root
}
