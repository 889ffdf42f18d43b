package graph

import (
	"fmt"
	"slices"
)

// Edges is a road graph as it comes: edge e leads from From[e] to To[e], arc 2e
// drives it so and arc 2e+1 back.
type Edges struct {
	Nodes    int
	From, To []uint32
	Open     func(arc uint32) bool  // whether anybody may drive all of it
	Part     func(edge uint32) bool // whether anybody may drive a part of it where not all; nil: nobody
	Keep     func(node uint32) bool // nodes that must stay nodes; nil: none
	// Joint tells of two arcs, each driven after the other's end, whether the
	// node between must stay one where nothing else is left there; nil: never.
	Joint func(in, on uint32) bool
}

// Tail and Head return the nodes that an arc leaves and reaches.
func (e *Edges) Tail(arc uint32) uint32 {
	if arc&1 == 1 {
		return e.To[arc>>1]
	}
	return e.From[arc>>1]
}

// Head returns the node that an arc reaches.
func (e *Edges) Head(arc uint32) uint32 { return e.Tail(arc ^ 1) }

// Core is what is left of a road graph to be searched: dead-end trees are
// stripped, and chains of edges between junctions are merged into one arc a
// direction. It remembers where every node and edge went. Its columns may be a
// mapped file and are read-only.
type Core struct {
	First []uint32 // core node v has the arcs First[v] up to First[v+1]
	Head  []uint32 // of an arc
	Tail  []uint32 // of an arc
	Chain []uint32 // of an arc: twice its chain, plus one when driven backward

	InFirst []uint32 // core node v is reached by In[InFirst[v]:InFirst[v+1]]
	In      []uint32 // arcs

	ChainFirst []uint32 // chain c is Links[ChainFirst[c]:ChainFirst[c+1]]
	Links      []uint32 // arcs of the road graph, in the forward direction of the chain

	At    []uint32 // of a node of the road graph: a tag and a number, see Where
	Place []uint32 // of an edge of the road graph: its index in Links, None where it is in a tree or closed
}

// Tags of Core.At.
const (
	tagBits         = 30
	tagCore  uint32 = 0 // a core node
	tagInner uint32 = 1 // inside a chain, where the link of this index starts
	tagTree  uint32 = 2 // in a dead-end tree, this arc leads out of it
	tagMask         = uint32(1)<<tagBits - 1
)

// Nodes returns the number of core nodes.
func (c *Core) Nodes() int { return len(c.First) - 1 }

// Arcs returns the number of core arcs.
func (c *Core) Arcs() int { return len(c.Head) }

// Chains returns the number of chains.
func (c *Core) Chains() int { return len(c.ChainFirst) - 1 }

// Links of a core arc are listed by [Core.Drive]; Where says what became of a
// node of the road graph. Exactly one of the three is not None: the core node
// that it is, the index of the link that starts at it, the arc of the road
// graph that leads from it out of its dead-end tree.
func (c *Core) Where(node uint32) (core, link, out uint32) {
	core, link, out = None, None, None
	switch v := c.At[node] & tagMask; c.At[node] >> tagBits {
	case tagCore:
		core = v
	case tagInner:
		link = v
	default:
		out = v
	}
	return core, link, out
}

// ChainOf returns the chain that holds a link.
func (c *Core) ChainOf(link uint32) uint32 {
	i, found := slices.BinarySearch(c.ChainFirst, link)
	if !found {
		i--
	}
	for c.ChainFirst[i+1] == link { // chains are never empty; a checked file has none that is
		i++
	}
	return uint32(i)
}

// Drive calls visit with the arcs of the road graph that a core arc drives, in
// order, until it returns false.
func (c *Core) Drive(arc uint32, visit func(road uint32) bool) {
	chain := c.Chain[arc]
	links := c.Links[c.ChainFirst[chain>>1]:c.ChainFirst[chain>>1+1]]
	if chain&1 == 0 {
		for _, l := range links {
			if !visit(l) {
				return
			}
		}
		return
	}
	for i := len(links) - 1; i >= 0; i-- {
		if !visit(links[i] ^ 1) {
			return
		}
	}
}

// Sum adds up weights of the road graph along every core arc. The error says
// that a sum is too large.
func (c *Core) Sum(weight func(road uint32) uint32) ([]uint32, error) {
	out := make([]uint32, c.Arcs())
	for a := range out {
		sum := uint64(0)
		c.Drive(uint32(a), func(road uint32) bool {
			sum += uint64(weight(road))
			return true
		})
		if sum >= uint64(Infinite) {
			return nil, fmt.Errorf("a road takes %d ms, longer than the search can count", sum)
		}
		out[a] = uint32(sum)
	}
	return out, nil
}

// Compress makes the core of a road graph:
//
//  1. Leave out edges of which nobody may drive any part.
//  2. Strip nodes with one edge left, again and again.
//  3. Take for core nodes what has not exactly two edges left or must be kept,
//     and one node of every ring that has no other.
//  4. Walk the chains between core nodes.
//  5. Make an arc of each direction in which all of a chain may be driven.
func Compress(e *Edges) (*Core, error) {
	if uint64(len(e.From)) >= 1<<(tagBits-1) || uint64(e.Nodes) >= 1<<tagBits {
		return nil, fmt.Errorf("the network has %d nodes and %d edges, more than %d", e.Nodes, len(e.From), 1<<(tagBits-1))
	}
	z := &compressor{Edges: e, core: &Core{At: filled(e.Nodes), Place: filled(len(e.From)), ChainFirst: []uint32{0}}}
	z.adjacency()
	z.strip()
	z.choose()
	z.walk()
	z.core.arcs(e)
	return z.core, nil
}

func filled(n int) []uint32 {
	out := make([]uint32, n)
	for i := range out {
		out[i] = None
	}
	return out
}

// compressor makes one core.
type compressor struct {
	*Edges
	core  *Core
	first []uint32 // node v is left by out[first[v]:first[v+1]], both directions of an edge
	out   []uint32
	left  []uint32 // edges of a node that are not stripped; a loop counts twice
	ends  []uint32 // plain nodes of core nodes
}

func (z *compressor) adjacency() {
	z.first, z.left = make([]uint32, z.Nodes+1), make([]uint32, z.Nodes)
	for i := range z.From {
		if z.usable(uint32(i)) {
			z.left[z.From[i]]++
			z.left[z.To[i]]++
		}
	}
	for v, n := range z.left {
		z.first[v+1] = z.first[v] + n
	}
	z.out = make([]uint32, z.first[z.Nodes])
	next := slices.Clone(z.first[:z.Nodes])
	for arc := range uint32(2 * len(z.From)) {
		if v := z.Tail(arc); z.usable(arc >> 1) {
			z.out[next[v]] = arc
			next[v]++
		}
	}
}

// usable reports whether an edge is of any use.
func (z *compressor) usable(edge uint32) bool {
	return z.Open(2*edge) || z.Open(2*edge+1) || z.Part != nil && z.Part(edge)
}

func (z *compressor) leaving(v uint32) []uint32 { return z.out[z.first[v]:z.first[v+1]] }

func (z *compressor) keep(v uint32) bool { return z.Keep != nil && z.Keep(v) }

func (z *compressor) stripped(v uint32) bool { return z.core.At[v] != None }

// strip takes dead ends off.
func (z *compressor) strip() {
	var ends []uint32
	for v := range uint32(z.Nodes) {
		ends = append(ends[:0], v)
		for len(ends) > 0 {
			v := ends[len(ends)-1]
			ends = ends[:len(ends)-1]
			if z.left[v] != 1 || z.stripped(v) || z.keep(v) {
				continue
			}
			out := z.wayOut(v)
			z.core.At[v] = tagTree<<tagBits | out
			z.left[v]--
			z.left[z.Head(out)]--
			ends = append(ends, z.Head(out))
		}
	}
}

// wayOut returns the one arc of a dead end that leads to what is not stripped.
func (z *compressor) wayOut(v uint32) uint32 {
	for _, arc := range z.leaving(v) {
		if !z.stripped(z.Head(arc)) {
			return arc
		}
	}
	return None // cannot be: one edge is left
}

// choose makes core nodes of all nodes but those inside chains.
func (z *compressor) choose() {
	for v := range uint32(z.Nodes) {
		if !z.stripped(v) && (z.left[v] != 2 || z.keep(v) || z.joint(v)) {
			z.node(v)
		}
	}
}

// joint reports whether a node with two edges left must stay one.
func (z *compressor) joint(v uint32) bool {
	if z.Joint == nil {
		return false
	}
	in := None
	for _, on := range z.leaving(v) {
		switch {
		case z.inTree(on):
		case in == None:
			in = on ^ 1
		default:
			return z.Joint(in, on) || z.Joint(on^1, in^1)
		}
	}
	return false
}

func (z *compressor) node(v uint32) {
	z.core.At[v] = tagCore<<tagBits | uint32(len(z.ends))
	z.ends = append(z.ends, v)
}

func (z *compressor) walk() {
	for i := 0; i < len(z.ends); i++ {
		z.chains(z.ends[i])
	}
	for v := range uint32(z.Nodes) { // rings that no core node lies on
		if z.core.At[v] == None {
			z.node(v)
			z.chains(v)
		}
	}
	z.core.First = make([]uint32, len(z.ends)+1)
}

// chains walks the chains that start at a core node, each once.
func (z *compressor) chains(v uint32) {
	c := z.core
	for _, arc := range z.leaving(v) {
		if c.Place[arc>>1] != None || z.inTree(arc) {
			continue
		}
		for arc != None {
			c.Place[arc>>1] = uint32(len(c.Links))
			c.Links = append(c.Links, arc)
			arc = z.next(arc)
		}
		c.ChainFirst = append(c.ChainFirst, uint32(len(c.Links)))
	}
}

// next returns the arc that follows in a chain, None at a core node.
func (z *compressor) next(arc uint32) uint32 {
	v := z.Head(arc)
	if z.core.At[v] != None {
		return None
	}
	z.core.At[v] = tagInner<<tagBits | uint32(len(z.core.Links))
	for _, on := range z.leaving(v) {
		if on != arc^1 && !z.inTree(on) {
			return on
		}
	}
	return None // cannot be: two edges are left
}

// inTree reports whether an arc was stripped: it, or its other direction, leads
// out of a tree.
func (z *compressor) inTree(arc uint32) bool {
	const tree = tagTree << tagBits
	return z.core.At[z.Tail(arc)] == tree|arc || z.core.At[z.Head(arc)] == tree|arc^1
}

// arcs makes the arcs of chains that may be driven from end to end, sorted by
// the node they leave and by chain.
func (c *Core) arcs(e *Edges) {
	type arc struct{ chain, tail, head uint32 }
	var all []arc
	end := func(node uint32) uint32 { return c.At[node] & tagMask }
	for i := range uint32(c.Chains()) {
		links := c.Links[c.ChainFirst[i]:c.ChainFirst[i+1]]
		tail, head := end(e.Tail(links[0])), end(e.Head(links[len(links)-1]))
		if !slices.ContainsFunc(links, func(l uint32) bool { return !e.Open(l) }) {
			all = append(all, arc{2 * i, tail, head})
		}
		if !slices.ContainsFunc(links, func(l uint32) bool { return !e.Open(l ^ 1) }) {
			all = append(all, arc{2*i + 1, head, tail})
		}
	}
	c.Head, c.Tail, c.Chain = make([]uint32, len(all)), make([]uint32, len(all)), make([]uint32, len(all))
	for _, a := range all {
		c.First[a.tail+1]++
	}
	accumulate(c.First)
	next := slices.Clone(c.First)
	for _, a := range all {
		id := next[a.tail]
		next[a.tail]++
		c.Head[id], c.Tail[id], c.Chain[id] = a.head, a.tail, a.chain
	}
	c.reverse()
}

// accumulate turns counts at i+1 into starts.
func accumulate(counts []uint32) {
	for i := 1; i < len(counts); i++ {
		counts[i] += counts[i-1]
	}
}

// reverse lists the arcs by the node they reach.
func (c *Core) reverse() {
	c.InFirst, c.In = make([]uint32, len(c.First)), make([]uint32, len(c.Head))
	for _, v := range c.Head {
		c.InFirst[v+1]++
	}
	accumulate(c.InFirst)
	next := slices.Clone(c.InFirst)
	for a, v := range c.Head {
		c.In[next[v]] = uint32(a)
		next[v]++
	}
}
