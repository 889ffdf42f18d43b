package graph

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// crew looks for shortcuts on all processors.
type crew struct {
	workers []*worker
	found   []found
}

// worker is what one goroutine works with.
type worker struct {
	*contractor
	number  int
	witness witness
	added   []shortcut
}

// found are the shortcuts of one node, among those that a worker added.
type found struct{ worker, from, until int }

func newCrew(b *contractor) crew {
	c := crew{workers: make([]*worker, runtime.GOMAXPROCS(0))}
	for i := range c.workers {
		c.workers[i] = &worker{contractor: b, number: i, witness: witness{slots: make([]slot, 256)}}
	}
	return c
}

// each calls do for every number below n, some of them at the same time.
func (c *crew) each(n int, do func(w *worker, i int)) {
	const together = 64
	part := max(1, min(together, n/(4*len(c.workers))))
	var next atomic.Int64
	work := func(w *worker) {
		for {
			until := int(next.Add(int64(part)))
			for i := until - part; i < min(until, n); i++ {
				do(w, i)
			}
			if until >= n {
				return
			}
		}
	}
	var others sync.WaitGroup
	for _, w := range c.workers[1:min(len(c.workers), max(n, 1))] {
		others.Go(func() { work(w) })
	}
	work(c.workers[0])
	others.Wait()
}

// shortcuts returns for each of some nodes the arcs that must be added when it goes. They
// stay until the next call.
func (c *crew) shortcuts(nodes []uint32) func(i int) []shortcut {
	for _, w := range c.workers {
		w.added = w.added[:0]
	}
	c.found = append(c.found[:0], make([]found, len(nodes))...)
	c.each(len(nodes), func(w *worker, i int) {
		from := len(w.added)
		w.shortcuts(nodes[i], contractingPops)
		c.found[i] = found{w.number, from, len(w.added)}
	})
	return func(i int) []shortcut {
		f := c.found[i]
		return c.workers[f.worker].added[f.from:f.until]
	}
}

// shortcuts lists the arcs that must be added so that no way through a node is
// lost when it goes.
func (w *worker) shortcuts(v uint32, pops int) {
	out := w.out[v]
	if len(out) == 0 {
		return
	}
	for _, u := range w.in[v] {
		w.witness.begin()
		farthest := uint32(0)
		for _, x := range out {
			if x.node != u.node {
				farthest = max(farthest, u.weight+x.weight)
				w.witness.want(x.node, u.weight+x.weight)
			}
		}
		w.search(u.node, v, farthest, pops)
		for _, x := range out {
			if x.node != u.node && w.witness.wanted(x.node) {
				w.added = append(w.added, shortcut{u.node, link{x.node, u.weight + x.weight, v, u.roads + x.roads}})
			}
		}
	}
}

// search looks for ways from a node to what is wanted that are as short as through another
// and pass neither that nor what goes before it, until all are found, none can be so short,
// or it has settled enough.
func (w *worker) search(from, around, farthest uint32, pops int) {
	turn := w.turn[around]
	k := &w.witness
	k.reach(from, 0)
	for ; len(k.queue) > 0 && k.open > 0 && pops > 0; pops-- {
		d, v := k.queue.pop()
		if d > farthest {
			return
		}
		if d > k.at(v).distance {
			continue
		}
		for _, l := range w.out[v] {
			if nd := d + l.weight; nd <= farthest && l.node != around && w.turn[l.node] >= turn {
				k.reach(l.node, nd)
			}
		}
	}
}

// witness is what a search for ways around a node knows: a table of the nodes that it has
// met, which are few.
type witness struct {
	slots []slot // a power of two, at most half of them taken
	taken int
	open  int // nodes that are wanted and not found
	round uint32
	queue queue
}

// slot is a node, how far it is, and below what it is wanted, 0 for not at all or found.
type slot struct{ node, distance, below, round uint32 }

func (k *witness) begin() {
	tick(&k.round, k.slots)
	k.taken, k.open, k.queue = 0, 0, k.queue[:0]
}

// at returns the slot of a node, a new one with no distance where it was not met.
func (k *witness) at(v uint32) *slot {
	const spread = 0x9e3779b97f4a7c15 // 2^64 by the golden ratio (D. Knuth, TAOCP 3, 6.4)
	mask := uint32(len(k.slots) - 1)
	for i := uint32(uint64(v) * spread >> 32); ; i++ {
		s := &k.slots[i&mask]
		if s.round != k.round {
			if 2*k.taken >= len(k.slots) {
				k.grow()
				return k.at(v)
			}
			k.taken++
			*s = slot{v, Infinite, 0, k.round}
			return s
		}
		if s.node == v {
			return s
		}
	}
}

func (k *witness) grow() {
	old := k.slots
	k.slots, k.taken = make([]slot, 2*len(old)), 0
	for _, s := range old {
		if s.round == k.round {
			*k.at(s.node) = s
		}
	}
}

// want asks for a way to a node that is at most so long.
func (k *witness) want(v, within uint32) {
	k.at(v).below = within + 1
	k.open++
}

// wanted reports whether none was found.
func (k *witness) wanted(v uint32) bool { return k.at(v).below > 0 }

// reach notes how far a node is, unless it is known to be nearer.
func (k *witness) reach(v, d uint32) {
	s := k.at(v)
	if d >= s.distance {
		return
	}
	s.distance = d
	if d < s.below {
		s.below = 0
		k.open--
	}
	k.queue.push(d, v)
}
