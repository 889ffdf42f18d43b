package search

import (
	"wayhouse/regs/measure"
	"wayhouse/routing/graph"
	"wayhouse/routing/network"
)

// Millis is a time in whole milliseconds. All prices of a search are in it, so
// that sums agree exactly.
type Millis int64

// Rules are what a search keeps to.
type Rules struct {
	// Cost returns what a piece of road costs when it is entered so long after
	// the start, and whether it is open at all. It is never less than the price
	// that the network states for the piece (see [network.Network.Price]). A part never costs more than
	// the whole and is open where the whole is; who enters later never leaves
	// earlier, and a piece that is closed at 0 is so for good.
	Cost func(p network.Piece, at Millis) (cost Millis, open bool)
	// Timed reports whether the cost of an arc hangs on the hour; nil: of none.
	Timed func(a network.Arc) bool
	// EndsOnly reports whether a piece may be driven only from the start on and up
	// to the target, never in between; nil: none.
	EndsOnly func(p network.Piece) bool
	// Aside reports whether a piece is meant for the ends as well, and may be driven in
	// between all the same: to drive on from such pieces costs Rejoin there; nil: none.
	Aside  func(p network.Piece) bool
	Rejoin Millis
	// Uses are roads of each of which a part must be driven, in any order.
	Uses []func(e network.EdgeID) bool
	// Turns follow the sequences of the network, and Charge returns what one costs
	// when it is driven to its end, Infinite where it must not be; nil: nothing.
	Turns  *network.Turns
	Charge func(sequence int32) Millis
	// Turn returns what it costs to drive from one arc into another; nil: nothing.
	Turn func(in, on network.Arc) Millis

	// What the rig is like, so that the tightest bound can be chosen: Cost closes
	// all that the bucket of these closes (see network.Bucket).
	Top     measure.Speed
	Height  measure.Length
	Ferries bool
	Others  network.Permille // for roads that are no truck roads; 0: as for others

	Budget int // states that may be settled; 0: no end
}

// MaxUses is how many roads a way can be asked to use.
const MaxUses = 4

// phase is how far a way has come through roads that may only be driven at its
// ends.
type phase int

const (
	leaving  phase = iota // on such roads since the start
	between               // on others
	arriving              // on such roads until the target
	beside                // on such as may be left again, at a price
	phases
)

// phases returns how many phases there are: one where no road is for the ends.
func (r *Rules) phases() int {
	if r.EndsOnly == nil && r.Aside == nil {
		return 1
	}
	return int(phases)
}

// layers returns how many ways of having come there are that matter: the phase,
// and which of the roads to use were used.
func (r *Rules) layers() int { return r.phases() << len(r.Uses) }

// done reports whether a way may end in a layer.
func (r *Rules) done(layer int) bool { return layer/r.phases() == 1<<len(r.Uses)-1 }

// step returns the layer after a piece, -1 where it must not be driven, and what it costs
// to come there.
func (r *Rules) step(layer int, p network.Piece) (next int, cost Millis) {
	n := r.phases()
	at, used := phase(layer%n), layer/n
	for i, uses := range r.Uses {
		if uses(p.Arc.Edge()) {
			used |= 1 << i
		}
	}
	if n > 1 {
		if at, cost = r.on(at, p); at < 0 {
			return -1, 0
		}
	}
	return used*n + int(at), cost
}

// on returns the phase after a piece, below 0 where it must not be driven, and what it
// costs to come there.
func (r *Rules) on(at phase, p network.Piece) (phase, Millis) {
	ends := r.EndsOnly != nil && r.EndsOnly(p)
	aside := !ends && r.Aside != nil && r.Aside(p)
	switch {
	case (ends || aside) && at == leaving, aside && at == arriving:
		return at, 0
	case ends:
		return arriving, 0
	case aside:
		return beside, 0
	case at == arriving:
		return -1, 0
	case at == beside:
		return between, r.Rejoin
	default:
		return between, 0
	}
}

const noArc = network.Arc(-1)

// course is how a way stands after its last piece.
type course struct {
	arc   network.Arc // driven last; noArc at the start
	turn  network.TurnState
	layer int
	at    Millis
}

// start is the course before the first piece.
func start() course { return course{arc: noArc} }

// drive returns the course after one more piece; ok is false where it must not
// be driven. A way does not turn round.
func (r *Rules) drive(c course, p network.Piece) (course, bool) {
	if c.arc != noArc {
		if p.Arc == c.arc.Back() {
			return c, false
		}
		if r.Turn != nil {
			c.at += r.Turn(c.arc, p.Arc)
		}
	}
	if r.Turns != nil {
		c.turn = r.Turns.Step(c.turn, p.Arc)
		if c.at += r.charge(c.turn); c.at >= Infinite {
			return c, false
		}
	}
	next, cost := r.step(c.layer, p)
	if c.layer, c.at = next, c.at+cost; next < 0 {
		return c, false
	}
	c.arc = p.Arc
	return r.pay(c, p)
}

// charge is what the sequences cost that end in a state; Infinite where one must not be driven.
func (r *Rules) charge(at network.TurnState) (sum Millis) {
	for _, sequence := range r.Turns.Ends(at) {
		sum += r.Charge(sequence)
	}
	return min(sum, Infinite)
}

// pay adds what a piece costs.
func (r *Rules) pay(c course, p network.Piece) (course, bool) {
	cost, open := r.Cost(p, c.at)
	c.at += cost
	return c, open && c.at < Millis(graph.Infinite)
}

// arrive is drive for the last piece of a way. Where that has no length and
// others were driven, the target lies at a node and nothing is turned into.
func (r *Rules) arrive(c course, p network.Piece) (course, bool) {
	if p.Length() == 0 && c.arc != noArc {
		return r.pay(c, p)
	}
	return r.drive(c, p)
}

// follow drives pieces to the target; ok is false where one must not be driven.
func (r *Rules) follow(c course, pieces []network.Piece) (course, bool) {
	last := len(pieces) - 1
	for _, p := range pieces[:last] {
		var ok bool
		if c, ok = r.drive(c, p); !ok {
			return c, false
		}
	}
	return r.arrive(c, pieces[last])
}
