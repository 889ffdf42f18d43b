package graph

import (
	"fmt"
	"slices"
)

// Check wants a core that was read from somewhere to be one of the road graph:
// starts in order, numbers that point to something, chains that hang together.
func (c *Core) Check(e *Edges) error {
	nodes, arcs := c.Nodes(), c.Arcs()
	switch {
	case len(c.Tail) != arcs || len(c.Chain) != arcs || len(c.In) != arcs || len(c.InFirst) != nodes+1 ||
		len(c.At) != e.Nodes || len(c.Place) != len(e.From):
		return fmt.Errorf("the columns of the core are not as long as each other")
	case !starts(c.First, arcs) || !starts(c.InFirst, arcs) || !starts(c.ChainFirst, len(c.Links)):
		return fmt.Errorf("the starts of the core are out of order")
	}
	for i := range c.Chains() {
		if c.ChainFirst[i] == c.ChainFirst[i+1] {
			return fmt.Errorf("chain %d is empty", i)
		}
	}
	if err := c.checkLinks(e); err != nil {
		return err
	}
	if err := c.checkPlaces(e); err != nil {
		return err
	}
	return c.checkArcs(e)
}

// starts reports whether starts run from 0 to the end and never fall.
func starts(first []uint32, end int) bool {
	if len(first) == 0 || first[0] != 0 || int(first[len(first)-1]) != end {
		return false
	}
	for i := 1; i < len(first); i++ {
		if first[i] < first[i-1] {
			return false
		}
	}
	return true
}

// checkLinks wants every link to be an arc that goes on from the one before at
// a node that knows it, and chains to run from core node to core node.
func (c *Core) checkLinks(e *Edges) error {
	for i := range uint32(c.Chains()) {
		first, end := c.ChainFirst[i], c.ChainFirst[i+1]
		for k := first; k < end; k++ {
			l := c.Links[k]
			if int(l>>1) >= len(e.From) || c.Place[l>>1] != k {
				return fmt.Errorf("link %d is no part of chain %d", k, i)
			}
			if v := e.Tail(l); k > first && (e.Head(c.Links[k-1]) != v || c.At[v] != tagInner<<tagBits|k) {
				return fmt.Errorf("link %d does not go on in chain %d", k, i)
			}
		}
		if !c.isCore(e.Tail(c.Links[first])) || !c.isCore(e.Head(c.Links[end-1])) {
			return fmt.Errorf("chain %d does not run between core nodes", i)
		}
	}
	return nil
}

func (c *Core) isCore(node uint32) bool { return c.At[node]>>tagBits == tagCore }

// checkPlaces wants every node and every edge to be where it is said to be, no
// two nodes to be one core node, and trees to end.
func (c *Core) checkPlaces(e *Edges) error {
	for i, at := range c.Place {
		if at != None && (int(at) >= len(c.Links) || c.Links[at]>>1 != uint32(i)) {
			return fmt.Errorf("edge %d is not where the core says", i)
		}
	}
	taken := make([]bool, c.Nodes())
	for v := range uint32(e.Nodes) {
		core, link, out := c.Where(v)
		bad := core != None && (int(core) >= len(taken) || taken[core]) ||
			link != None && (int(link) >= len(c.Links) || e.Tail(c.Links[link]) != v)
		if bad || out != None && (int(out>>1) >= len(e.From) || e.Tail(out) != v || c.Place[out>>1] != None) ||
			c.At[v]>>tagBits > tagTree {
			return fmt.Errorf("node %d is not where the core says", v)
		}
		if core != None {
			taken[core] = true
		}
	}
	if i := slices.Index(taken, false); i >= 0 {
		return fmt.Errorf("core node %d is no node", i)
	}
	return c.checkTrees(e)
}

// checkTrees follows every tree to its end; what was followed before is known.
func (c *Core) checkTrees(e *Edges) error {
	ends := make([]bool, e.Nodes)
	for v := range uint32(e.Nodes) {
		steps := 0
		for at := v; !ends[at]; steps++ {
			_, _, out := c.Where(at)
			if out == None {
				break
			}
			if steps > e.Nodes {
				return fmt.Errorf("the tree of node %d does not end", v)
			}
			at = e.Head(out)
		}
		for at := v; !ends[at]; {
			ends[at] = true
			if _, _, out := c.Where(at); out != None {
				at = e.Head(out)
			}
		}
	}
	return nil
}

// checkArcs wants every arc to lead from end to end of its chain, no two to
// drive it the same way, and each to be listed once at either end.
func (c *Core) checkArcs(e *Edges) error {
	listed, driven := make([]bool, c.Arcs()), make([]bool, 2*c.Chains())
	for v := range uint32(c.Nodes()) {
		for a := c.First[v]; a < c.First[v+1]; a++ {
			if chain := c.Chain[a] >> 1; c.Tail[a] != v || int(c.Head[a]) >= c.Nodes() || int(chain) >= c.Chains() {
				return fmt.Errorf("arc %d does not leave node %d, or points nowhere", a, v)
			}
			if tail, head := c.ends(e, a); tail != v || head != c.Head[a] || driven[c.Chain[a]] {
				return fmt.Errorf("arc %d does not drive its chain, or another does", a)
			}
			driven[c.Chain[a]] = true
		}
		for _, a := range c.In[c.InFirst[v]:c.InFirst[v+1]] {
			if int(a) >= c.Arcs() || c.Head[a] != v || listed[a] {
				return fmt.Errorf("arc %d does not reach node %d, or twice", a, v)
			}
			listed[a] = true
		}
	}
	return nil
}

// ends returns the core nodes at which the chain of an arc begins and ends in
// its direction, None where one is no core node.
func (c *Core) ends(e *Edges, a uint32) (tail, head uint32) {
	chain := c.Chain[a] >> 1
	tail, _, _ = c.Where(e.Tail(c.Links[c.ChainFirst[chain]]))
	head, _, _ = c.Where(e.Head(c.Links[c.ChainFirst[chain+1]-1]))
	if c.Chain[a]&1 == 1 {
		tail, head = head, tail
	}
	return tail, head
}

// Same reports whether two cores are the same to the last number.
func (c *Core) Same(o *Core) bool {
	mine, others := c.columns(), o.columns()
	for i := range mine {
		if !slices.Equal(mine[i], others[i]) {
			return false
		}
	}
	return true
}

func (c *Core) columns() [][]uint32 {
	return [][]uint32{c.First, c.Head, c.Tail, c.Chain, c.InFirst, c.In, c.ChainFirst, c.Links, c.At, c.Place}
}

// Check wants ranks and nodes to name each other.
func (o *Order) Check(nodes int) error {
	if len(o.Rank) != nodes || len(o.Node) != nodes {
		return fmt.Errorf("%d ranks and %d ranked nodes of %d", len(o.Rank), len(o.Node), nodes)
	}
	for v, r := range o.Rank {
		if int(r) >= nodes || o.Node[r] != uint32(v) {
			return fmt.Errorf("node %d has the rank of another", v)
		}
	}
	return nil
}

// maxClimb is how many hops may follow one another up a hierarchy; a search calls
// itself as often. Those of whole continents need some hundreds (Geisberger et
// al., see Hierarchy), the rest is room.
const maxClimb = 1 << 16

// Check wants a hierarchy to climb, not by more than maxClimb hops, and every hop
// to weigh what it stands for: a core arc between the two nodes, or two hops by
// way of a lower rank; not more core arcs than there are.
func (h *Hierarchy) Check(c *Core, o *Order, weight []uint32) error {
	n := c.Nodes()
	if len(h.UpFirst) != n+1 || len(h.DownFirst) != n+1 || len(h.UpVia) != len(h.Up) || len(h.DownVia) != len(h.Down) ||
		!starts(h.UpFirst, len(h.Up)) || !starts(h.DownFirst, len(h.Down)) {
		return fmt.Errorf("its columns do not fit the core")
	}
	k := climber{core: c, order: o, weight: weight, below: make([]uint32, n)}
	k.up = side{h.UpFirst, h.Up, h.UpVia, make([]uint32, len(h.Up))}
	k.down = side{h.DownFirst, h.Down, h.DownVia, make([]uint32, len(h.Down))}
	for r := range uint32(n) {
		if to, bad := k.wrong(r, &k.up, false); bad {
			return fmt.Errorf("a hop from rank %d up to %d does not stand for any road, or climbs too far", r, to)
		}
		if to, bad := k.wrong(r, &k.down, true); bad {
			return fmt.Errorf("a hop from rank %d down to %d does not stand for any road, or climbs too far", to, r)
		}
	}
	if a := h.lacks(c, o, weight); a != None {
		return fmt.Errorf("core arc %d is open and missing", a)
	}
	return nil
}

// lacks returns the first arc that is open and has no hop that is as short; None
// where every one has.
func (h *Hierarchy) lacks(c *Core, o *Order, weight []uint32) uint32 {
	for a := range uint32(c.Arcs()) {
		from, to := o.Rank[c.Tail[a]], o.Rank[c.Head[a]]
		if weight[a] == Infinite || from == to {
			continue
		}
		first, hops, low, high := h.UpFirst, h.Up, from, to
		if from > to {
			first, hops, low, high = h.DownFirst, h.Down, to, from
		}
		if !slices.ContainsFunc(hops[first[low]:first[low+1]], func(hop Hop) bool {
			return hop.To == high && hop.Weight <= weight[a]
		}) {
			return a
		}
	}
	return None
}

// climber checks one hierarchy from the lowest rank up.
type climber struct {
	core     *Core
	order    *Order
	weight   []uint32
	up, down side
	below    []uint32 // of a rank: the most hops that follow one another up to it
}

// side is one half of a hierarchy.
type side struct {
	first []uint32
	hops  []Hop
	via   []uint32
	arcs  []uint32 // how many a hop stands for, once it was checked
}

// wrong returns what the first wrong hop of a rank leads to; bad is false where
// all are right. They lead to higher ranks, one to each, in their order.
func (k *climber) wrong(r uint32, s *side, down bool) (to uint32, bad bool) {
	last := r
	for i := s.first[r]; i < s.first[r+1]; i++ {
		hop, from, to := s.hops[i], r, s.hops[i].To
		if down {
			from, to = to, from
		}
		if hop.To <= last || int(hop.To) >= k.core.Nodes() {
			return hop.To, true
		}
		s.arcs[i] = k.arcs(from, to, hop.Weight, s.via[i])
		k.below[hop.To] = max(k.below[hop.To], k.below[r]+1)
		if s.arcs[i] == 0 || k.below[hop.To] > maxClimb {
			return hop.To, true
		}
		last = hop.To
	}
	return None, false
}

// arcs returns how many core arcs a hop stands for, 0 where it does not weigh
// what they do or they are too many.
func (k *climber) arcs(from, to, w, via uint32) uint32 {
	if via&viaArc != 0 {
		a := via &^ viaArc
		if int(a) < k.core.Arcs() && k.order.Rank[k.core.Tail[a]] == from && k.order.Rank[k.core.Head[a]] == to &&
			k.weight[a] == w {
			return 1
		}
		return 0
	}
	if via >= min(from, to) || w >= Infinite {
		return 0
	}
	first, arcs := k.down.to(via, from)
	second, more := k.up.to(via, to)
	sum := uint64(arcs) + uint64(more)
	if arcs == 0 || more == 0 || uint64(first)+uint64(second) != uint64(w) || sum > uint64(k.core.Arcs()) {
		return 0
	}
	return uint32(sum)
}

// to returns what the hop of a rank to another weighs and for how many arcs it
// stands, 0 arcs where there is none.
func (s *side) to(r, to uint32) (weight, arcs uint32) {
	for i := s.first[r]; i < s.first[r+1]; i++ {
		if s.hops[i].To == to {
			return s.hops[i].Weight, s.arcs[i]
		}
	}
	return 0, 0
}
