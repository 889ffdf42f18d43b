package change

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// segment is a piece of a line between two of its points, in 1e-7 degrees, whichever way it
// is drawn.
type segment [4]int32

func segmentOf(a, b orb.Point) segment {
	const unit = 1e7
	round := func(v float64) int32 { return int32(math.Round(v * unit)) }
	x, y := [2]int32{round(a.Lon()), round(a.Lat())}, [2]int32{round(b.Lon()), round(b.Lat())}
	if slices.Compare(x[:], y[:]) > 0 {
		x, y = y, x
	}
	return segment{x[0], x[1], y[0], y[1]}
}

// pair finds the ways of each side that lie where a way of the other side lies under
// another id: mappers cut ways and join them, and the road stays.
func (d *differ) pair() {
	older, newer := d.sides[0], d.sides[1]
	newer.of = overlaid(newer, older)
	stands := map[int64]bool{}
	for _, id := range newer.of {
		stands[id] = true
	}
	for id, other := range overlaid(older, newer) {
		if !stands[id] { // or it is the one by which the new way is known
			older.of[id] = newer.way(other)
		}
	}
	for _, s := range d.sides {
		for id, other := range s.of {
			s.edges[other] = append(s.edges[other], s.edges[id]...)
			delete(s.edges, id)
		}
	}
	ids := map[int64]bool{}
	for _, s := range d.sides {
		for id := range s.edges {
			ids[id] = true
		}
	}
	d.ids = slices.Sorted(maps.Keys(ids))
}

// overlaid finds for the ways that only one side has the way of the other side on which most
// of each lies.
func overlaid(one, other *side) map[int64]int64 {
	alone := map[segment]int64{}
	length := map[int64]measure.Distance{}
	for id, edges := range one.edges {
		if _, both := other.edges[id]; both {
			continue
		}
		for _, e := range edges {
			length[id] += one.net.Length[e]
			each(one.net.Shape(e), func(s segment, _ measure.Distance) { alone[s] = id })
		}
	}
	shared := map[[2]int64]measure.Distance{}
	for id, edges := range other.edges {
		for _, e := range edges {
			each(other.net.Shape(e), func(s segment, l measure.Distance) {
				if mine, ok := alone[s]; ok {
					shared[[2]int64{mine, id}] += l
				}
			})
		}
	}
	out := map[int64]int64{}
	pairs := slices.SortedFunc(maps.Keys(shared), func(a, b [2]int64) int {
		return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(shared[b], shared[a]), cmp.Compare(a[1], b[1]))
	})
	for _, p := range pairs {
		if _, known := out[p[0]]; !known && shared[p] > length[p[0]]/2 {
			out[p[0]] = p[1]
		}
	}
	return out
}

// each calls visit with the segments of a line and their lengths.
func each(line []orb.Point, visit func(segment, measure.Distance)) {
	for i := 1; i < len(line); i++ {
		visit(segmentOf(line[i-1], line[i]), geodesic.Between(line[i-1], line[i]))
	}
}

// longest is the longest of some edges, which stands for their road.
func longest(n *network.Network, edges []network.EdgeID) network.EdgeID {
	return slices.MaxFunc(edges, func(a, b network.EdgeID) int {
		return cmp.Or(cmp.Compare(n.Length[a], n.Length[b]), cmp.Compare(b, a))
	})
}
