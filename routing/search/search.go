// Package search finds the fastest way through a network under the
// restrictions of one rig. It is a plain Dijkstra search: exact, with nothing
// worked out beforehand, and the reference that faster searches are to be
// tested against.
package search

import (
	"container/heap"
	"context"
	"errors"
	"math"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// ErrNoRoute says that nothing open leads from one position to the other.
var ErrNoRoute = errors.New("no open road leads there")

// Cost returns the seconds that a piece of road takes and whether it is open
// at all. It must grow with the piece: a part never costs more than the whole
// and is open where the whole is.
type Cost func(network.Piece) (seconds float64, open bool)

// Rules are what a search keeps to.
type Rules struct {
	Cost Cost
	// EndsOnly tells whether a piece may be driven only from the start on and up
	// to the target, never in between; nil: none.
	EndsOnly func(network.Piece) bool
	// Turns are the banned sequences of arcs, of which those count that Banned
	// names; nil: none. With them a rig does not turn round on the way either,
	// which without them no shortest way does.
	Turns  *network.Turns
	Banned func(ban int32) bool
}

// Path is a way through the network, piece by piece.
type Path struct {
	Pieces  []network.Piece
	Seconds float64
}

// Length returns the length of the path.
func (p Path) Length() measure.Distance {
	var sum measure.Distance
	for _, piece := range p.Pieces {
		sum += piece.Length()
	}
	return sum
}

// Route returns the cheapest path between two positions. A rig may leave the
// first position and reach the second in either direction; it does not turn
// round on the way. The error is [ErrNoRoute] or that of the context.
func Route(ctx context.Context, n *network.Network, from, to network.Position, rules Rules) (Path, error) {
	return Within(ctx, n, from, to, rules, math.Inf(1))
}

// Within is [Route] that gives up beyond a cost; it then returns [ErrNoRoute].
func Within(ctx context.Context, n *network.Network, from, to network.Position, rules Rules, limit float64) (Path, error) {
	q := newQuery(n, rules)
	q.limit = limit
	q.start(from)
	q.target(to)
	if from.Edge == to.Edge {
		q.direct(from, to)
	}
	if err := q.run(ctx); err != nil {
		return Path{}, err
	}
	if math.IsInf(q.best, 1) {
		return Path{}, ErrNoRoute
	}
	return q.path(), nil
}

// state is where a search stands: at a node, and with it what decides how it
// may go on.
type state struct {
	node  network.NodeID
	arc   network.Arc // that led there; noArc where that does not matter
	turn  network.TurnState
	phase phase
}

const noArc = network.Arc(-1)

// phase is how far a way has come through roads that may only be driven at its
// ends.
type phase uint8

const (
	leaving  phase = iota // on such roads since the start
	between               // on others
	arriving              // on such roads until the target
)

// none is the state before the first piece.
var none = state{node: -1, arc: noArc}

// query is the state of one search.
type query struct {
	net   *network.Network
	rules Rules

	reached map[state]arrival // so that a short search costs little on a large network
	open    queue

	last  map[network.NodeID][]network.Piece // pieces that lead from a node to the target
	limit float64
	best  float64
	final network.Piece // that ends the best path
	at    state         // that final leaves, none where it starts at the start
}

// arrival is the cheapest way to a state found so far.
type arrival struct {
	seconds float64
	by      network.Piece
	from    state // that by leaves, none where it starts at the start
}

func newQuery(n *network.Network, rules Rules) *query {
	return &query{
		net: n, rules: rules, best: math.Inf(1), at: none,
		reached: map[state]arrival{}, last: map[network.NodeID][]network.Piece{},
	}
}

// start reaches both ends of the edge of the start.
func (q *query) start(p network.Position) {
	for _, a := range arcs(p.Edge) {
		q.reach(none, 0, network.Piece{Arc: a, Start: q.net.Along(p, a), End: q.net.Length[p.Edge]})
	}
}

// target notes the pieces that lead from either end of its edge to the target.
func (q *query) target(p network.Position) {
	for _, a := range arcs(p.Edge) {
		tail := q.net.Tail(a)
		q.last[tail] = append(q.last[tail], network.Piece{Arc: a, End: q.net.Along(p, a)})
	}
}

// direct offers the stretch between two positions of one edge.
func (q *query) direct(from, to network.Position) {
	for _, a := range arcs(from.Edge) {
		start, end := q.net.Along(from, a), q.net.Along(to, a)
		if start <= end {
			q.offer(none, 0, network.Piece{Arc: a, Start: start, End: end})
		}
	}
}

func arcs(e network.EdgeID) [2]network.Arc {
	return [2]network.Arc{network.MakeArc(e, false), network.MakeArc(e, true)}
}

// run settles states until none left can improve the best path.
func (q *query) run(ctx context.Context) error {
	for settled := 0; len(q.open) > 0; settled++ {
		if settled%1024 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		item := heap.Pop(&q.open).(entry)
		if item.seconds > q.reached[item.state].seconds {
			continue // an older, dearer entry
		}
		if item.seconds >= q.best || item.seconds > q.limit {
			return nil
		}
		for _, piece := range q.last[item.node] {
			q.offer(item.state, item.seconds, piece)
		}
		for _, a := range q.net.Out(item.node) {
			q.reach(item.state, item.seconds, q.net.Whole(a))
		}
	}
	return nil
}

// drive returns the state at the end of a piece and what the piece costs; ok is
// false where it may not be driven from the state.
func (q *query) drive(from state, piece network.Piece) (to state, step float64, ok bool) {
	to = state{node: q.net.Head(piece.Arc), arc: noArc}
	if t := q.rules.Turns; t != nil {
		if from.arc == piece.Arc.Back() {
			return to, 0, false
		}
		to.arc, to.turn = piece.Arc, t.Step(from.turn, piece.Arc)
		if slices.ContainsFunc(t.Ends(to.turn), q.rules.Banned) {
			return to, 0, false
		}
	}
	if to.phase, ok = q.phase(from.phase, piece); !ok {
		return to, 0, false
	}
	step, ok = q.rules.Cost(piece)
	return to, step, ok
}

// phase returns how far a way has come after a piece; ok is false where it
// would leave roads that it was to arrive by.
func (q *query) phase(from phase, piece network.Piece) (to phase, ok bool) {
	if q.rules.EndsOnly == nil {
		return leaving, true
	}
	switch ends := q.rules.EndsOnly(piece); {
	case ends && from == leaving:
		return leaving, true
	case ends:
		return arriving, true
	default:
		return between, from != arriving
	}
}

// reach relaxes the state at the end of a piece.
func (q *query) reach(from state, seconds float64, piece network.Piece) {
	to, step, ok := q.drive(from, piece)
	if !ok {
		return
	}
	d := seconds + step
	if known, ok := q.reached[to]; ok && known.seconds <= d {
		return
	}
	q.reached[to] = arrival{seconds: d, by: piece, from: from}
	heap.Push(&q.open, entry{state: to, seconds: d})
}

// offer takes a piece that ends at the target if it makes the best path so far.
func (q *query) offer(from state, seconds float64, piece network.Piece) {
	_, step, ok := q.drive(from, piece)
	if piece.Length() == 0 && from != none { // the target lies at the node: nothing is turned into
		step, ok = q.rules.Cost(piece)
	}
	if !ok || seconds+step >= q.best || seconds+step > q.limit {
		return
	}
	q.best, q.final, q.at = seconds+step, piece, from
}

// path walks back from the target. Where a position lies on a node the path
// may hold a piece of no length: what stands there is passed all the same.
func (q *query) path() Path {
	pieces := []network.Piece{q.final}
	for at := q.at; at != none; at = q.reached[at].from {
		pieces = append(pieces, q.reached[at].by)
	}
	slices.Reverse(pieces)
	return Path{Pieces: pieces, Seconds: q.best}
}

// entry and queue are the heap of states to settle.
type entry struct {
	state
	seconds float64
}

type queue []entry

func (q queue) Len() int           { return len(q) }
func (q queue) Less(i, j int) bool { return q[i].seconds < q[j].seconds }
func (q queue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)        { *q = append(*q, x.(entry)) }
func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}
