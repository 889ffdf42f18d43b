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
func Route(ctx context.Context, n *network.Network, from, to network.Position, cost Cost) (Path, error) {
	return Within(ctx, n, from, to, cost, math.Inf(1))
}

// Within is [Route] that gives up beyond a cost; it then returns [ErrNoRoute].
func Within(ctx context.Context, n *network.Network, from, to network.Position, cost Cost, limit float64) (Path, error) {
	q := newQuery(n, cost)
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

// query is the state of one search.
type query struct {
	net  *network.Network
	cost Cost

	reached map[network.NodeID]arrival // so that a short search costs little on a large network
	open    queue

	last  map[network.NodeID][]network.Piece // pieces that lead from a node to the target
	limit float64
	best  float64
	final network.Piece  // that ends the best path
	node  network.NodeID // that final leaves, none where it starts at the start
}

const none = network.NodeID(-1)

// arrival is the cheapest way to a node found so far.
type arrival struct {
	seconds float64
	by      network.Piece
	from    network.NodeID // that by leaves, none where it starts at the start
}

func newQuery(n *network.Network, cost Cost) *query {
	return &query{
		net: n, cost: cost, best: math.Inf(1), node: none,
		reached: map[network.NodeID]arrival{}, last: map[network.NodeID][]network.Piece{},
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

// run settles nodes until none left can improve the best path.
func (q *query) run(ctx context.Context) error {
	for settled := 0; len(q.open) > 0; settled++ {
		if settled%1024 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		item := heap.Pop(&q.open).(entry)
		if item.seconds > q.reached[item.node].seconds {
			continue // an older, dearer entry
		}
		if item.seconds >= q.best || item.seconds > q.limit {
			return nil
		}
		for _, piece := range q.last[item.node] {
			q.offer(item.node, item.seconds, piece)
		}
		for _, a := range q.net.Out(item.node) {
			q.reach(item.node, item.seconds, q.net.Whole(a))
		}
	}
	return nil
}

// reach relaxes the node at the end of a piece.
func (q *query) reach(from network.NodeID, seconds float64, piece network.Piece) {
	step, open := q.cost(piece)
	if !open {
		return
	}
	head := q.net.Head(piece.Arc)
	d := seconds + step
	if known, ok := q.reached[head]; ok && known.seconds <= d {
		return
	}
	q.reached[head] = arrival{seconds: d, by: piece, from: from}
	heap.Push(&q.open, entry{node: head, seconds: d})
}

// offer takes a piece that ends at the target if it makes the best path so far.
func (q *query) offer(from network.NodeID, seconds float64, piece network.Piece) {
	step, open := q.cost(piece)
	if !open || seconds+step >= q.best || seconds+step > q.limit {
		return
	}
	q.best, q.final, q.node = seconds+step, piece, from
}

// path walks back from the target. Where a position lies on a node the path
// may hold a piece of no length: what stands there is passed all the same.
func (q *query) path() Path {
	pieces := []network.Piece{q.final}
	for at := q.node; at != none; at = q.reached[at].from {
		pieces = append(pieces, q.reached[at].by)
	}
	slices.Reverse(pieces)
	return Path{Pieces: pieces, Seconds: q.best}
}

// entry and queue are the heap of nodes to settle.
type entry struct {
	node    network.NodeID
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
