package cities

import (
	"cmp"
	"math"
	"slices"
)

// net is a network as it was made: in no order, and with parts cut off.
type net struct {
	side  float32 // metres
	spots []spot
	arcs  []arc
}

// roads keeps the largest part in which every node reaches every other, numbers
// its nodes along a curve and sorts its arcs.
func (n *net) roads() *Roads {
	order := n.order(n.strong())
	n.renumber(order)
	slices.SortFunc(n.arcs, func(a, b arc) int {
		return cmp.Or(cmp.Compare(a.tail, b.tail), cmp.Compare(a.head, b.head))
	})
	r := &Roads{}
	n.setNodes(r, order)
	n.setArcs(r)
	return r
}

// links are the arcs of a net in one direction: those of v lead to
// to[first[v]:first[v+1]].
type links struct{ first, to []uint32 }

func (n *net) links(backward bool) links {
	l := links{make([]uint32, len(n.spots)+2), make([]uint32, len(n.arcs))}
	ends := func(a arc) (from, to uint32) {
		if backward {
			return a.head, a.tail
		}
		return a.tail, a.head
	}
	for _, a := range n.arcs {
		from, _ := ends(a)
		l.first[from+2]++
	}
	for v := 2; v < len(l.first); v++ {
		l.first[v] += l.first[v-1]
	}
	for _, a := range n.arcs {
		from, to := ends(a)
		l.to[l.first[from+1]] = to
		l.first[from+1]++
	}
	return l
}

// reach returns which nodes can be reached from a node.
func (l links) reach(from uint32) []bool {
	seen := make([]bool, len(l.first)-2)
	seen[from] = true
	for stack := []uint32{from}; len(stack) > 0; {
		v := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, w := range l.to[l.first[v]:l.first[v+1]] {
			if !seen[w] {
				seen[w] = true
				stack = append(stack, w)
			}
		}
	}
	return seen
}

// strong returns which nodes the largest strongly connected part has. It tries
// node after node until what is left cannot hold a larger one; since nearly all
// nodes are in the one part, that is soon.
func (n *net) strong() []bool {
	out, in := n.links(false), n.links(true)
	var best []bool
	tried, most, left := make([]bool, len(n.spots)), 0, len(n.spots)
	for v := 0; most < left; v++ {
		if tried[v] {
			continue
		}
		part, back, size := out.reach(uint32(v)), in.reach(uint32(v)), 0
		for u := range part {
			if part[u] = part[u] && back[u]; part[u] {
				tried[u] = true
				size++
			}
		}
		if left -= size; size > most {
			best, most = part, size
		}
	}
	return best
}

// order returns the nodes that are kept, by their place on a Hilbert curve: what
// is near on the land is then mostly near in memory, as in real extracts.
func (n *net) order(keep []bool) []uint32 {
	var keys []uint64
	for v, s := range n.spots {
		if keep[v] {
			keys = append(keys, uint64(hilbert(n.cell(s.x), n.cell(s.y)))<<32|uint64(v))
		}
	}
	slices.Sort(keys)
	order := make([]uint32, len(keys))
	for i, k := range keys {
		order[i] = uint32(k)
	}
	return order
}

// cell returns a coordinate in 65,536ths of the side.
func (n *net) cell(metres float32) uint32 {
	return uint32(min(max(metres/n.side, 0)*(1<<16), 1<<16-1))
}

// hilbert returns the place of a cell on a Hilbert curve through 2^16 by 2^16.
func hilbert(x, y uint32) (at uint32) {
	for bit := uint32(1) << 15; bit > 0; bit >>= 1 {
		right, above := x&bit != 0, y&bit != 0
		switch {
		case right && above:
			at += 2 * bit * bit
		case right:
			at += 3 * bit * bit
		case above:
			at += bit * bit
		}
		if !above {
			if right {
				x, y = ^x, ^y
			}
			x, y = y, x
		}
	}
	return at
}

// renumber numbers the ends of the arcs as in order, and drops the arcs that
// have none there.
func (n *net) renumber(order []uint32) {
	number := make([]uint32, len(n.spots))
	for v := range number {
		number[v] = none
	}
	for i, v := range order {
		number[v] = uint32(i)
	}
	for i := range n.arcs {
		a := &n.arcs[i]
		a.tail, a.head = number[a.tail], number[a.head]
	}
	n.arcs = slices.DeleteFunc(n.arcs, func(a arc) bool {
		return a.tail == none || a.head == none
	})
}

// The middle of the land, and how long a degree of latitude is on a sphere of
// 6,371 km. The plan is flat: away from the middle degrees of longitude are a
// little off.
const (
	middleLat       = 45.0
	middleLon       = -35.0
	metresPerDegree = math.Pi / 180 * 6_371_000
)

func (n *net) setNodes(r *Roads, order []uint32) {
	r.Lat, r.Lon = make([]float32, len(order)), make([]float32, len(order))
	shrink := math.Cos(middleLat * math.Pi / 180)
	for i, v := range order {
		s := n.spots[v]
		r.Lat[i] = float32(middleLat + float64(s.y-n.side/2)/metresPerDegree)
		r.Lon[i] = float32(middleLon + float64(s.x-n.side/2)/metresPerDegree/shrink)
	}
}

func (n *net) setArcs(r *Roads) {
	r.First = make([]uint32, len(r.Lat)+1)
	r.Head, r.Weight = make([]uint32, len(n.arcs)), make([]uint32, len(n.arcs))
	r.Class, r.Metres = make([]Class, len(n.arcs)), make([]float32, len(n.arcs))
	for i, a := range n.arcs {
		r.First[a.tail+1]++
		r.Head[i], r.Weight[i], r.Class[i], r.Metres[i] = a.head, a.weight, a.class, a.metres
	}
	for v := range r.Lat {
		r.First[v+1] += r.First[v]
	}
}
