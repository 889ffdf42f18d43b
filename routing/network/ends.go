package network

import (
	"cmp"
	"slices"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
)

// DataEnds lists, in order, the nodes at which roads leave the data: where a source was cut
// off, and where a road of a class that leads on ends without another one. A ferry may leave
// there, or the road may truly end: what lies beyond is not known either way.
func (n *Network) DataEnds() []NodeID { return n.ends }

// EndsNear lists the data's ends within reach of a point, nearest first.
func (n *Network) EndsNear(p orb.Point, reach measure.Distance) []NodeID {
	type near struct {
		node NodeID
		away measure.Distance
	}
	var found []near
	box := orb.Bound{Min: p, Max: p}.Pad(float64(reach) / 50_000) // a degree of longitude is longer up to 63 degrees north
	for _, id := range n.ends {
		if box.Contains(n.Node[id]) {
			if away := geodesic.Between(p, n.Node[id]); away <= reach {
				found = append(found, near{id, away})
			}
		}
	}
	slices.SortFunc(found, func(a, b near) int {
		return cmp.Or(cmp.Compare(a.away, b.away), cmp.Compare(a.node, b.node))
	})
	var out []NodeID
	for _, f := range found {
		out = append(out, f.node)
	}
	return out
}

// Spans reports whether a point lies in the box of all roads.
func (n *Network) Spans(p orb.Point) bool {
	if len(n.tree) == 0 {
		return false
	}
	return n.tree[len(n.tree)-1].rect().ContainsLatLng(s2.LatLngFromDegrees(p.Lat(), p.Lon()))
}

// DataEnd says that the source is cut off at a node.
func (b *Builder) DataEnd(id NodeID) { b.ends = append(b.ends, id) }

// leadsOn reports whether roads of a class lead from town to town.
func (c Class) leadsOn() bool { return c >= Freeway && c <= Secondary }

// endRoads lists the ends of the data.
func (b *Builder) endRoads() {
	n := b.net
	for id := range NodeID(len(n.Node)) {
		if arcs := n.Out(id); len(arcs) == 1 && n.Class[arcs[0].Edge()].leadsOn() {
			b.ends = append(b.ends, id)
		}
	}
	slices.Sort(b.ends)
	n.ends = slices.Compact(b.ends)
}

func (n *Network) checkEnds() error {
	for i, id := range n.ends {
		if id < 0 || int(id) >= len(n.Node) || i > 0 && n.ends[i-1] >= id || len(n.Out(id)) == 0 {
			return damaged("end %d of the data is out of order or on no road", i)
		}
	}
	return nil
}
