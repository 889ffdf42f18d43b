package graph

import (
	"context"
	"slices"
)

// Limits of the searches for witnesses, ways that make a shortcut unnecessary,
// in nodes settled: while the order is sought, and when a node is contracted.
// A search that gives up costs an arc, never a wrong answer.
const (
	lookingPops     = 20
	contractingPops = 200
)

// atOnceMost is how many nodes are contracted between two looks at what is left.
const atOnceMost = 2048

// Build contracts a core, whose arcs have these weights (Infinite: not part of
// it), in an order of its own. progress hears how many nodes of how many are
// contracted; nil hears nothing. The error is that of the context.
//
//  1. Give every node a rank that grows with its level, with the arcs that its
//     contraction adds over those it removes, and with the roads that these
//     stand for (J. Dibbelt, B. Strasser, D. Wagner, "Customizable Contraction
//     Hierarchies", ACM Journal of Experimental Algorithmics 21, 2016).
//  2. Take all nodes that come before each of their neighbours, look again at
//     those whose surroundings have changed, and contract those that still do
//     (C. Vetter, "Parallel Time-Dependent Contraction Hierarchies", 2009, from memory). No
//     two are neighbours, so that they can be worked on at the same time; a
//     witness of one passes no other that goes before it.
//  3. Go on with what is left around them.
//
// What comes out does not hang on how many processors there are.
func Build(ctx context.Context, c *Core, weight []uint32, progress func(done, total int)) (*Order, *Hierarchy, error) {
	b := newContractor(c, weight)
	b.level, b.stale = make([]uint32, c.Nodes()), make([]bool, c.Nodes())
	for part := range slices.Chunk(numbers(c.Nodes()), 64*atOnceMost) {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		b.rate(part)
	}
	if err := b.run(ctx, progress); err != nil {
		return nil, nil, err
	}
	order := &Order{Rank: make([]uint32, c.Nodes()), Node: b.order}
	for r, v := range order.Node {
		order.Rank[v] = uint32(r)
	}
	return order, b.finish(order), nil
}

// Rebuild contracts a core with other weights in an order that is known.
func Rebuild(ctx context.Context, c *Core, weight []uint32, order *Order,
	progress func(done, total int)) (*Hierarchy, error) {
	b := newContractor(c, weight)
	copy(b.key, order.Rank)
	if err := b.run(ctx, progress); err != nil {
		return nil, err
	}
	return b.finish(order), nil
}

// numbers lists the numbers below n.
func numbers(n int) []uint32 {
	out := make([]uint32, n)
	for i := range out {
		out[i] = uint32(i)
	}
	return out
}

// contractor makes one hierarchy.
type contractor struct {
	out, in [][]link // of a node that is gone, those that it had then
	key     []uint32 // a node is contracted when no neighbour has a lower one
	level   []uint32 // nil where the order is known
	stale   []bool   // the surroundings have changed since the key was worked out
	turn    []uint32 // when it goes: notYet, its place among those that go now, or 0 once it is gone
	met     []uint32 // round in which a node was listed
	round   uint32

	crew  crew
	order []uint32 // as nodes were contracted

	look    []uint32 // nodes to look at in this round
	first   []uint32 // those that come before their neighbours
	is      []bool   // whether they do, by their place in a list
	changed []uint32 // nodes whose key or neighbours have changed
	news    []uint32 // keys, as they are worked out
}

func newContractor(c *Core, weight []uint32) *contractor {
	n := c.Nodes()
	b := &contractor{
		out: make([][]link, n), in: make([][]link, n), key: make([]uint32, n), turn: filled(n),
		met: make([]uint32, n), order: make([]uint32, 0, n),
	}
	b.crew = newCrew(b)
	b.lay(c, weight)
	return b
}

// run contracts all nodes.
func (b *contractor) run(ctx context.Context, progress func(done, total int)) error {
	for b.look = numbers(len(b.out)); len(b.look) > 0; b.around() {
		if progress != nil {
			progress(len(b.order), len(b.out))
		}
		b.changed = b.changed[:0]
		b.firsts(b.look)
		if b.level != nil {
			b.refresh()
			b.firsts(b.first)
		}
		for part := range slices.Chunk(b.first, atOnceMost) {
			if err := ctx.Err(); err != nil {
				return err
			}
			b.contract(part)
		}
	}
	return nil
}

// firsts finds those of some nodes that come before each of their neighbours.
func (b *contractor) firsts(of []uint32) {
	b.is = slices.Grow(b.is[:0], len(of))[:len(of)]
	b.crew.each(len(of), func(_ *worker, i int) { b.is[i] = b.comesFirst(of[i]) })
	b.first = b.first[:0] // may be the same list, of which no more is written than was read
	for i, v := range of {
		if b.is[i] {
			b.first = append(b.first, v)
		}
	}
}

func (b *contractor) comesFirst(v uint32) bool {
	for _, list := range [2][]link{b.out[v], b.in[v]} {
		for _, l := range list {
			if b.before(l.node, v) {
				return false
			}
		}
	}
	return true
}

// before reports whether one node comes before another. Of equal keys any comes first,
// but not by number: neighbours have numbers that follow each other, and would wait for
// each other in a row.
func (b *contractor) before(v, w uint32) bool {
	if b.key[v] != b.key[w] {
		return b.key[v] < b.key[w]
	}
	const spread = 0x9e3779b1 // odd, so that no two are the same
	return v*spread < w*spread
}

// refresh works out the keys of those nodes in front that are stale.
func (b *contractor) refresh() {
	for _, v := range b.first {
		if b.stale[v] {
			b.changed = append(b.changed, v)
		}
	}
	b.rate(b.changed)
}

// rate works out when nodes should be contracted.
func (b *contractor) rate(nodes []uint32) {
	b.news = slices.Grow(b.news[:0], len(nodes))[:len(nodes)]
	b.crew.each(len(nodes), func(w *worker, i int) { b.news[i] = b.rating(w, nodes[i]) })
	for i, v := range nodes {
		b.key[v], b.stale[v] = b.news[i], false
	}
}

func (b *contractor) rating(w *worker, v uint32) uint32 {
	w.added = w.added[:0]
	w.shortcuts(v, lookingPops)
	removed, roads, more := 1, 1, 0
	for _, list := range [2][]link{b.out[v], b.in[v]} {
		for _, l := range list {
			removed++
			roads += int(l.roads)
		}
	}
	for _, s := range w.added {
		more += int(s.roads)
	}
	return b.level[v]*levelWorth + uint32(1000*len(w.added)/removed) + uint32(1000*more/roads)
}

// levelWorth is what a level counts against the thousandths of a rating.
const levelWorth = 500

// contract takes nodes out of which no two are neighbours: it adds shortcuts and lets
// their neighbours forget them.
func (b *contractor) contract(nodes []uint32) {
	for i, v := range nodes {
		b.turn[v] = uint32(i + 1)
	}
	found := b.crew.shortcuts(nodes)
	b.round++
	for i, v := range nodes {
		b.turn[v] = 0
		b.order = append(b.order, v)
		for _, l := range b.out[v] {
			b.in[l.node] = without(b.in[l.node], v)
			b.touch(l.node, v)
		}
		for _, l := range b.in[v] {
			b.out[l.node] = without(b.out[l.node], v)
			b.touch(l.node, v)
		}
		for _, s := range found(i) {
			b.join(s.from, s.link)
		}
	}
}

// touch notes that a neighbour of a node is left without it.
func (b *contractor) touch(v, without uint32) {
	if b.level != nil {
		b.level[v], b.stale[v] = max(b.level[v], b.level[without]+1), true
	}
	b.changed = b.list(v, b.changed)
}

// list appends a node that was not listed in this round.
func (b *contractor) list(v uint32, to []uint32) []uint32 {
	if b.met[v] == b.round {
		return to
	}
	b.met[v] = b.round
	return append(to, v)
}

// around looks next at nodes whose keys or neighbours have changed, and their neighbours.
func (b *contractor) around() {
	b.round++
	b.look = b.look[:0]
	for _, v := range b.changed {
		if b.turn[v] == 0 {
			continue
		}
		b.look = b.list(v, b.look)
		for _, list := range [2][]link{b.out[v], b.in[v]} {
			for _, l := range list {
				b.look = b.list(l.node, b.look)
			}
		}
	}
}
