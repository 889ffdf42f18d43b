package graph

import "slices"

// Potential answers how far core nodes are from a set of targets under the
// weights of one hierarchy, working out no more than is asked for: B. Strasser
// and T. Zeitz, "A Fast and Tight Heuristic for A* in Road Networks", SEA 2021,
// LIPIcs 190. It is used again and again and then allocates nothing. It is for
// one goroutine.
type Potential struct {
	order *Order
	h     *Hierarchy

	round   uint32
	far     []distances // of a rank
	queue   queue
	targets []Target
}

// distances are what is known of a rank in one round.
type distances struct {
	down, downRound uint32 // to the targets, descending only
	down1           uint32 // the next rank on that way, its own where a target is
	full, fullRound uint32 // to the targets, climbing first
	up              uint32 // the next rank on that way, None where it descends
}

// NewPotential returns a potential without targets.
func NewPotential(order *Order) *Potential {
	return &Potential{order: order, far: make([]distances, len(order.Rank))}
}

// Target is a core node at which a way may end, and the least that the rest of
// the way costs from there.
type Target struct {
	Node uint32
	Rest uint32
}

// Aim sets hierarchy and targets. Where they are those of the last time, what is
// known stays.
func (p *Potential) Aim(h *Hierarchy, targets ...Target) {
	if p.h == h && slices.Equal(p.targets, targets) {
		return
	}
	p.h, p.targets = h, append(p.targets[:0], targets...)
	tick(&p.round, p.far)
	p.queue = p.queue[:0]
	for _, t := range targets {
		if r := p.order.Rank[t.Node]; t.Rest < p.down(r) {
			p.far[r].down, p.far[r].downRound, p.far[r].down1 = t.Rest, p.round, r
			p.queue.push(t.Rest, r)
		}
	}
	for len(p.queue) > 0 {
		d, r := p.queue.pop()
		if d > p.far[r].down || p.stalled(r, d) {
			continue
		}
		for _, hop := range h.Down[h.DownFirst[r]:h.DownFirst[r+1]] {
			if nd := d + hop.Weight; nd < p.down(hop.To) {
				f := &p.far[hop.To]
				f.down, f.downRound, f.down1 = nd, p.round, r
				p.queue.push(nd, hop.To)
			}
		}
	}
}

// stalled reports whether a rank is reached more cheaply from above, so that no
// shortest way descends to it like this.
func (p *Potential) stalled(r, d uint32) bool {
	h := p.h
	for _, hop := range h.Up[h.UpFirst[r]:h.UpFirst[r+1]] {
		if p.down(hop.To)+hop.Weight < d {
			return true
		}
	}
	return false
}

func (p *Potential) down(r uint32) uint32 {
	if f := &p.far[r]; f.downRound == p.round {
		return f.down
	}
	return Infinite
}

// Least returns the least cost from a core node to the targets.
func (p *Potential) Least(node uint32) uint32 { return p.least(p.order.Rank[node]) }

func (p *Potential) least(r uint32) uint32 {
	f := &p.far[r]
	if f.fullRound == p.round {
		return f.full
	}
	best, up := p.down(r), None
	for _, hop := range p.h.Up[p.h.UpFirst[r]:p.h.UpFirst[r+1]] {
		if hop.Weight >= best {
			continue
		}
		if d := hop.Weight + p.least(hop.To); d < best {
			best, up = d, hop.To
		}
	}
	f.full, f.fullRound, f.up = best, p.round, up
	return best
}

// Way appends the core arcs of a cheapest way from a core node to a target, and
// returns that target's node.
func (p *Potential) Way(node uint32, arcs []uint32) ([]uint32, uint32) {
	r := p.order.Rank[node]
	p.least(r)
	for p.far[r].up != None {
		to := p.far[r].up
		arcs = p.h.unpack(r, to, arcs)
		r = to
		p.least(r)
	}
	for p.far[r].down1 != r {
		to := p.far[r].down1
		arcs = p.h.unpack(r, to, arcs)
		r = to
	}
	return arcs, p.order.Node[r]
}
