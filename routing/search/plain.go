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

// Path is a way through the network, piece by piece.
type Path struct {
	Pieces []network.Piece
	Cost   Millis
}

// Length returns the length of the path.
func (p Path) Length() measure.Distance {
	var sum measure.Distance
	for _, piece := range p.Pieces {
		sum += piece.Length()
	}
	return sum
}

// Plain returns the cheapest path between two positions by Dijkstra's search,
// with nothing worked out beforehand: the reference of all faster searches. A
// rig may leave the first position and reach the second in either direction; it
// does not turn round on the way. The error is [ErrNoRoute] or that of the
// context.
func Plain(ctx context.Context, n *network.Network, from, to network.Position, rules Rules) (Path, error) {
	return Within(ctx, n, from, to, rules, math.MaxInt64)
}

// Within is [Plain] that gives up beyond a cost; it then returns [ErrNoRoute].
func Within(ctx context.Context, n *network.Network, from, to network.Position, rules Rules,
	limit Millis) (Path, error) {
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
	if q.best == math.MaxInt64 {
		return Path{}, ErrNoRoute
	}
	return q.path(), nil
}

// PlainMany returns what the cheapest paths from one position to many cost, in
// their order; [Infinite] stands where there is none. It searches once, by
// Dijkstra's search, and is the reference of [Engine.Route] on large networks.
func PlainMany(ctx context.Context, n *network.Network, from network.Position, to []network.Position,
	rules Rules) ([]Millis, error) {
	q := newQuery(n, rules)
	q.limit = Infinite
	q.start(from)
	if err := q.run(ctx); err != nil {
		return nil, err
	}
	at := map[network.NodeID][]state{}
	for s := range q.reached {
		at[n.Head(s.arc)] = append(at[n.Head(s.arc)], s)
	}
	out := make([]Millis, len(to))
	for i, p := range to {
		q.best = Infinite
		if from.Edge == p.Edge {
			q.direct(from, p)
		}
		clear(q.last)
		q.target(p)
		for v, pieces := range q.last {
			for _, s := range at[v] {
				for _, piece := range pieces {
					q.offer(s, q.reached[s].at, piece)
				}
			}
		}
		out[i] = q.best
	}
	return out, nil
}

// state is where a search stands: what was driven last, and what decides beside
// it how it may go on.
type state struct {
	arc   network.Arc // noArc at the start
	turn  network.TurnState
	layer int
}

// none is the state before the first piece.
var none = state{arc: noArc}

// query is the state of one search.
type query struct {
	net   *network.Network
	rules Rules

	reached map[state]arrival // so that a short search costs little on a large network
	open    queue

	last  map[network.NodeID][]network.Piece // pieces that lead from a node to the target
	limit Millis
	best  Millis
	final network.Piece // that ends the best path
	at    state         // that final leaves, none where it starts at the start
}

// arrival is the cheapest way to a state found so far.
type arrival struct {
	at   Millis
	by   network.Piece
	from state // that by leaves, none where it starts at the start
}

func newQuery(n *network.Network, rules Rules) *query {
	return &query{
		net: n, rules: rules, best: math.MaxInt64, at: none,
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
	for _, piece := range onOneEdge(q.net, from, to) {
		q.offer(none, 0, piece)
	}
}

// onOneEdge lists the pieces that lead from one position of an edge to another.
func onOneEdge(n *network.Network, from, to network.Position) []network.Piece {
	var out []network.Piece
	for _, a := range arcs(from.Edge) {
		if start, end := n.Along(from, a), n.Along(to, a); start <= end {
			out = append(out, network.Piece{Arc: a, Start: start, End: end})
		}
	}
	return out
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
		if item.at > q.reached[item.state].at {
			continue // an older, dearer entry
		}
		if item.at >= q.best || item.at > q.limit {
			return nil
		}
		head := q.net.Head(item.arc)
		for _, piece := range q.last[head] {
			q.offer(item.state, item.at, piece)
		}
		for _, a := range q.net.Out(head) {
			q.reach(item.state, item.at, q.net.Whole(a))
		}
	}
	return nil
}

func (s state) course(at Millis) course { return course{s.arc, s.turn, s.layer, at} }

// reach relaxes the state at the end of a piece.
func (q *query) reach(from state, at Millis, piece network.Piece) {
	c, ok := q.rules.drive(from.course(at), piece)
	if !ok {
		return
	}
	to := state{c.arc, c.turn, c.layer}
	if known, ok := q.reached[to]; ok && known.at <= c.at {
		return
	}
	q.reached[to] = arrival{at: c.at, by: piece, from: from}
	heap.Push(&q.open, entry{state: to, at: c.at})
}

// offer takes a piece that ends at the target if it makes the best path so far.
func (q *query) offer(from state, at Millis, piece network.Piece) {
	c, ok := q.rules.arrive(from.course(at), piece)
	if !ok || !q.rules.done(c.layer) || c.at >= q.best || c.at > q.limit {
		return
	}
	q.best, q.final, q.at = c.at, piece, from
}

// path walks back from the target. Where a position lies on a node the path
// may hold a piece of no length: what stands there is passed all the same.
func (q *query) path() Path {
	pieces := []network.Piece{q.final}
	for at := q.at; at != none; at = q.reached[at].from {
		pieces = append(pieces, q.reached[at].by)
	}
	slices.Reverse(pieces)
	return Path{Pieces: pieces, Cost: q.best}
}

// entry and queue are the heap of states to settle.
type entry struct {
	state
	at Millis
}

type queue []entry

func (q queue) Len() int           { return len(q) }
func (q queue) Less(i, j int) bool { return q[i].at < q[j].at }
func (q queue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)        { *q = append(*q, x.(entry)) }
func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}
