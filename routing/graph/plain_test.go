package graph

import "math/bits"

// Graph is a directed graph. The arcs that leave node v are First[v] up to and
// without First[v+1].
type Graph struct {
	First  []uint32 // one more than there are nodes
	Head   []uint32 // of an arc
	Weight []uint32 // of an arc, below Infinite
}

// Nodes returns the number of nodes.
func (g *Graph) Nodes() int { return len(g.First) - 1 }

// Arcs returns the number of arcs.
func (g *Graph) Arcs() int { return len(g.Head) }

// plain is Dijkstra's search over the arcs of a graph, with nothing worked out
// beforehand: what the faster searches are compared with.
type plain struct {
	g     *Graph
	back  *Graph   // the same arcs by head
	of    []uint32 // arc of g that an arc of back is
	sides [2]plainSide

	settled int
}

type plainSide struct {
	states []place
	round  uint32
	queue  queue
}

func newPlain(g *Graph) *plain {
	p := &plain{g: g, back: &Graph{First: make([]uint32, len(g.First)), Head: make([]uint32, g.Arcs()), Weight: make([]uint32, g.Arcs())}, of: make([]uint32, g.Arcs())}
	for _, v := range g.Head {
		p.back.First[v+1]++
	}
	accumulate(p.back.First)
	next := append([]uint32{}, p.back.First...)
	for v := range g.Nodes() {
		for a := g.First[v]; a < g.First[v+1]; a++ {
			at := next[g.Head[a]]
			next[g.Head[a]]++
			p.back.Head[at], p.back.Weight[at], p.of[at] = uint32(v), g.Weight[a], a
		}
	}
	for i := range p.sides {
		p.sides[i].states = make([]place, g.Nodes())
	}
	return p
}

func (s *plainSide) start(v uint32) {
	tick(&s.round, s.states)
	s.queue = s.queue[:0]
	s.reach(v, 0)
}

func (s *plainSide) reach(v, d uint32) {
	if p := &s.states[v]; p.round != s.round || d < p.distance {
		*p = place{distance: d, round: s.round}
		s.queue.push(d, v)
	}
}

func (s *plainSide) distance(v uint32) uint32 {
	if p := &s.states[v]; p.round == s.round {
		return p.distance
	}
	return Infinite
}

// dijkstra returns the cost from one node to another, Infinite where no way is.
func (p *plain) dijkstra(from, to uint32, pay func(arc uint32) uint32) uint32 {
	s := &p.sides[0]
	s.start(from)
	p.settled = 0
	for len(s.queue) > 0 {
		d, v := s.queue.pop()
		if d > s.states[v].distance {
			continue
		}
		p.settled++
		if v == to {
			return d
		}
		for a := p.g.First[v]; a < p.g.First[v+1]; a++ {
			if more := pay(a); more != Infinite {
				s.reach(p.g.Head[a], d+p.g.Weight[a]+more)
			}
		}
	}
	return Infinite
}

// bidirectional is the same from both ends.
func (p *plain) bidirectional(from, to uint32, pay func(arc uint32) uint32) uint32 {
	p.sides[0].start(from)
	p.sides[1].start(to)
	p.settled = 0
	best := Infinite
	if from == to {
		best = 0
	}
	for len(p.sides[0].queue) > 0 && len(p.sides[1].queue) > 0 {
		if uint64(p.sides[0].queue.least())+uint64(p.sides[1].queue.least()) >= uint64(best) {
			break
		}
		i := 0
		if p.sides[1].queue.least() < p.sides[0].queue.least() {
			i = 1
		}
		best = p.advance(i, best, pay)
	}
	return best
}

// advance settles one node of a side; it returns the best way known.
func (p *plain) advance(i int, best uint32, pay func(arc uint32) uint32) uint32 {
	s, other, g := &p.sides[i], &p.sides[1-i], p.g
	if i == 1 {
		g = p.back
	}
	d, v := s.queue.pop()
	if d > s.states[v].distance {
		return best
	}
	p.settled++
	for a := g.First[v]; a < g.First[v+1]; a++ {
		arc := a
		if i == 1 {
			arc = p.of[a]
		}
		more := pay(arc)
		if more == Infinite {
			continue
		}
		nd := d + g.Weight[a] + more
		s.reach(g.Head[a], nd)
		if od := other.distance(g.Head[a]); od != Infinite {
			best = min(best, nd+od)
		}
	}
	return best
}

// edgesOf pairs the arcs of a graph into edges. plain arc 2e is arcs[2e] of the
// graph, None where the edge is one-way.
func edgesOf(g *Graph) (e *Edges, arcs []uint32) {
	e = &Edges{Nodes: g.Nodes()}
	paired := make([]uint64, g.Arcs()/64+1)
	has := func(a uint32) bool { return paired[a/64]>>(a%64)&1 == 1 }
	set := func(a uint32) { paired[a/64] |= bits.RotateLeft64(1, int(a%64)) }
	for v := range uint32(g.Nodes()) {
		for a := g.First[v]; a < g.First[v+1]; a++ {
			if has(a) {
				continue
			}
			set(a)
			u, back := g.Head[a], None
			for b := g.First[u]; b < g.First[u+1]; b++ {
				if g.Head[b] == v && !has(b) {
					back = b
					set(b)
					break
				}
			}
			e.From, e.To, arcs = append(e.From, v), append(e.To, u), append(arcs, a, back)
		}
	}
	e.Open = func(arc uint32) bool { return arcs[arc] != None }
	return e, arcs
}
