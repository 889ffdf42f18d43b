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

// Build contracts a core, whose arcs have these weights (Infinite: not part of
// it), in an order of its own. progress hears how many nodes of how many are
// contracted; nil hears nothing. The error is that of the context.
//
//  1. Give every node a rank that grows with its level, with the arcs that its
//     contraction adds over those it removes, and with the roads that these
//     stand for (J. Dibbelt, B. Strasser, D. Wagner, "Customizable Contraction
//     Hierarchies", ACM Journal of Experimental Algorithmics 21, 2016).
//  2. Take the least, look at it again, and contract it unless it has become
//     dearer than the next.
//  3. Look at its neighbours again.
func Build(ctx context.Context, c *Core, weight []uint32, progress func(done, total int)) (*Order, *Hierarchy, error) {
	b := newContractor(c, weight)
	b.level, b.rating = make([]uint32, c.Nodes()), make([]uint32, c.Nodes())
	for v := range uint32(c.Nodes()) {
		b.rate(v)
	}
	for len(b.next) > 0 {
		if err := b.beat(ctx, progress); err != nil {
			return nil, nil, err
		}
		rating, v := b.next.pop()
		if b.gone(v) || rating != b.rating[v] {
			continue
		}
		if b.rate(v); len(b.next) > 0 && b.rating[v] > b.next.least() {
			continue // rate has put it in again
		}
		b.contract(v)
	}
	return b.finish()
}

// Rebuild contracts a core with other weights in an order that is known.
func Rebuild(ctx context.Context, c *Core, weight []uint32, order *Order,
	progress func(done, total int)) (*Hierarchy, error) {
	b := newContractor(c, weight)
	for _, v := range order.Node {
		if err := b.beat(ctx, progress); err != nil {
			return nil, err
		}
		b.contract(v)
	}
	_, h, err := b.finish()
	return h, err
}

// link is an arc between nodes that are not contracted yet.
type link struct {
	node   uint32 // its other end
	weight uint32
	via    uint32 // see Hierarchy; a node instead of a rank while contracting
	roads  uint32 // core arcs that it stands for
}

// contractor makes one hierarchy.
type contractor struct {
	out, in [][]link
	order   []uint32
	rank    []uint32 // None while not contracted
	h       *Hierarchy
	beats   int

	level, rating []uint32
	next          queue

	witness witness
	added   []shortcut
	touched []uint32
}

// shortcut is an arc to add: out of node from, link to.
type shortcut struct {
	from uint32
	link
}

func newContractor(c *Core, weight []uint32) *contractor {
	n := c.Nodes()
	b := &contractor{
		out: make([][]link, n), in: make([][]link, n), rank: filled(n), order: make([]uint32, 0, n),
		h: &Hierarchy{UpFirst: []uint32{0}, DownFirst: []uint32{0}},
	}
	b.witness.seen = make([]reach, n)
	b.lay(c, weight)
	return b
}

// lay makes a link of every arc but loops, of parallel ones the cheapest. All
// lists start in two arrays and move out of them only when they grow.
func (b *contractor) lay(c *Core, weight []uint32) {
	outs, ins := make([]link, c.Arcs()), make([]link, c.Arcs())
	for v := range b.out {
		from, until := c.First[v], c.First[v+1]
		b.out[v] = outs[from:from:until]
		from, until = c.InFirst[v], c.InFirst[v+1]
		b.in[v] = ins[from:from:until]
	}
	for v := range b.out {
		for a := c.First[v]; a < c.First[v+1]; a++ {
			if weight[a] != Infinite && c.Head[a] != uint32(v) {
				b.join(uint32(v), link{node: c.Head[a], weight: weight[a], via: viaArc | a, roads: 1})
			}
		}
	}
}

// join adds an arc, or makes the one that is there cheaper.
func (b *contractor) join(from uint32, l link) {
	put := func(list []link, l link) []link {
		for i := range list {
			if list[i].node == l.node {
				if l.weight < list[i].weight {
					list[i] = l
				}
				return list
			}
		}
		return append(list, l)
	}
	b.out[from] = put(b.out[from], l)
	to := l.node
	l.node = from
	b.in[to] = put(b.in[to], l)
}

func (b *contractor) gone(v uint32) bool { return b.rank[v] != None }

// beat reports progress and asks the context now and then.
func (b *contractor) beat(ctx context.Context, progress func(done, total int)) error {
	b.beats++
	if b.beats%4096 != 0 {
		return nil
	}
	if progress != nil {
		progress(len(b.order), len(b.out))
	}
	return ctx.Err()
}

// rate works out when a node should be contracted, and puts it into the queue.
func (b *contractor) rate(v uint32) {
	b.shortcuts(v, lookingPops)
	removed, roads, added, more := 1, 1, 0, 0
	for _, list := range [2][]link{b.out[v], b.in[v]} {
		for _, l := range list {
			removed++
			roads += int(l.roads)
		}
	}
	for _, s := range b.added {
		added++
		more += int(s.roads)
	}
	b.rating[v] = b.level[v]*1000 + uint32(1000*added/removed) + uint32(1000*more/roads)
	b.next.push(b.rating[v], v)
}

// shortcuts lists the arcs that must be added so that no way through a node is
// lost when it goes.
func (b *contractor) shortcuts(v uint32, pops int) {
	b.added = b.added[:0]
	if len(b.out[v]) == 0 {
		return
	}
	for _, u := range b.in[v] {
		b.witness.search(b.out, u.node, v, u.weight, b.out[v], pops)
		for _, x := range b.out[v] {
			if w := u.weight + x.weight; x.node != u.node && b.witness.distance(x.node) > w {
				b.added = append(b.added, shortcut{u.node, link{x.node, w, v, u.roads + x.roads}})
			}
		}
	}
}

// contract takes a node out: it keeps its arcs for the hierarchy, adds shortcuts
// and lets its neighbours forget it.
func (b *contractor) contract(v uint32) {
	b.shortcuts(v, contractingPops)
	b.rank[v] = uint32(len(b.order))
	b.order = append(b.order, v)
	b.h.Up, b.h.UpVia = settle(b.h.Up, b.h.UpVia, b.out[v])
	b.h.Down, b.h.DownVia = settle(b.h.Down, b.h.DownVia, b.in[v])
	b.h.UpFirst, b.h.DownFirst = append(b.h.UpFirst, uint32(len(b.h.Up))), append(b.h.DownFirst, uint32(len(b.h.Down)))
	b.touched = b.touched[:0]
	for _, l := range b.out[v] {
		b.in[l.node] = without(b.in[l.node], v)
		b.touch(l.node)
	}
	for _, l := range b.in[v] {
		b.out[l.node] = without(b.out[l.node], v)
		b.touch(l.node)
	}
	for _, s := range b.added {
		b.join(s.from, s.link)
	}
	if b.level != nil {
		for _, w := range b.touched {
			b.level[w] = max(b.level[w], b.level[v]+1)
			b.rate(w)
		}
	}
	b.out[v], b.in[v] = nil, nil
}

func (b *contractor) touch(v uint32) {
	if !slices.Contains(b.touched, v) {
		b.touched = append(b.touched, v)
	}
}

// settle appends links to the columns of a hierarchy, nodes still by number.
func settle(hops []Hop, via []uint32, links []link) ([]Hop, []uint32) {
	for _, l := range links {
		hops, via = append(hops, Hop{l.node, l.weight}), append(via, l.via)
	}
	return hops, via
}

// without removes the link to a node.
func without(list []link, node uint32) []link {
	for i := range list {
		if list[i].node == node {
			list[i] = list[len(list)-1]
			return list[:len(list)-1]
		}
	}
	return list
}

// finish turns numbers of nodes into ranks.
func (b *contractor) finish() (*Order, *Hierarchy, error) {
	for _, hops := range [2][]Hop{b.h.Up, b.h.Down} {
		for i := range hops {
			hops[i].To = b.rank[hops[i].To]
		}
	}
	for _, via := range [2][]uint32{b.h.UpVia, b.h.DownVia} {
		for i, v := range via {
			if v&viaArc == 0 {
				via[i] = b.rank[v]
			}
		}
	}
	b.h.sort()
	return &Order{Rank: b.rank, Node: b.order}, b.h, nil
}

// witness searches for ways around a node.
type witness struct {
	seen  []reach
	round uint32
	queue queue
}

// reach is how far a node is in one round.
type reach struct{ distance, round uint32 }

// distance returns how far a node was found to be, Infinite where it was not.
func (w *witness) distance(v uint32) uint32 {
	if r := w.seen[v]; r.round == w.round {
		return r.distance
	}
	return Infinite
}

// search looks for ways from a node to the ends of links, around a node to which
// it is so far, until none can be as short as the way through that node, or it
// has settled enough.
func (w *witness) search(out [][]link, from, around, through uint32, ends []link, pops int) {
	tick(&w.round, w.seen)
	w.queue = w.queue[:0]
	farthest := uint32(0)
	for _, e := range ends {
		farthest = max(farthest, through+e.weight)
	}
	w.seen[from] = reach{0, w.round}
	w.queue.push(0, from)
	for ; len(w.queue) > 0 && pops > 0; pops-- {
		d, v := w.queue.pop()
		if d > farthest {
			return
		}
		if d > w.seen[v].distance {
			continue
		}
		for _, l := range out[v] {
			if nd := d + l.weight; l.node != around && nd <= farthest && nd < w.distance(l.node) {
				w.seen[l.node] = reach{nd, w.round}
				w.queue.push(nd, l.node)
			}
		}
	}
}
