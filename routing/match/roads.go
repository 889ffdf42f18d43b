// Package match is map matching of a prescribed route: it finds road numbers in
// order, or a line, in the network. It never replaces what was prescribed; what matches
// nothing comes back as such.
package match

import (
	"container/heap"
	"context"
	"errors"
	"slices"

	"wayhouse/routing/network"
)

// ErrApart says that the roads do not follow each other in the network.
var ErrApart = errors.New("the roads do not lead from one to the next in this network")

// ErrUnknown says that the network has none of the roads.
var ErrUnknown = errors.New("this network has none of the roads")

// Roads is a route of road numbers, found in the network.
type Roads struct {
	Pieces    []network.Piece
	Unnamed   []network.Piece // those of Pieces that lie on no road that was named
	Unmatched []string        // numbers that the network does not have
}

// doubtMetres is how many metres of named road a unit of doubt is worth: to
// drive against a one-way road is worse than 2 km of roads that were not named.
const doubtMetres = 4000

// unnamedFactor makes the way along roads that were not named so dear that
// they only join those that were.
const unnamedFactor = 20

// ByRoads finds the shortest way between two positions along the roads, in
// their order, each used in turn and never by ferry. It turns round, runs against
// a one-way road or takes a forbidden turn only where hardly anything else leads
// there. Joining stretches are in Unnamed. The error is [ErrApart], [ErrUnknown]
// or that of the context.
func ByRoads(ctx context.Context, n *network.Network, from, to network.Position, roads []string,
	rules Rules) (Roads, error) {
	var out Roads
	var known []string
	for _, r := range roads {
		if ctx.Err() != nil {
			return out, ctx.Err()
		}
		if hasRoad(n, r) {
			known = append(known, r)
		} else {
			out.Unmatched = append(out.Unmatched, r)
		}
	}
	if len(known) == 0 {
		return out, ErrUnknown
	}
	w := walk{
		reacher: reacher{net: n, rules: rules}, roads: known, best: map[state]float64{}, by: map[state]step{},
		bears: make([]map[string]bool, len(known)),
	}
	end, err := w.run(ctx, from, to)
	if err != nil {
		return out, err
	}
	out.Pieces, out.Unnamed = w.pieces(end)
	return out, nil
}

func hasRoad(n *network.Network, number string) bool {
	for e := range n.From {
		if n.IsRoad(network.EdgeID(e), number) {
			return true
		}
	}
	return false
}

// state is an arc driven while on the road of a number, and whether that road
// was used yet. done is the target.
type state struct {
	arc  network.Arc
	turn network.TurnState
	road int
	used bool
	done bool
}

// step is how a state was reached.
type step struct {
	from  state
	first bool // from the start position
	move  bool // to the next road, without travel
	piece network.Piece
}

// walk is one search over arcs and roads.
type walk struct {
	reacher
	roads []string
	bears []map[string]bool // of each road, by what the source calls a piece
	best  map[state]float64
	by    map[state]step
	open  stateQueue
}

func (w *walk) run(ctx context.Context, from, to network.Position) (state, error) {
	for _, a := range []network.Arc{network.MakeArc(from.Edge, false), network.MakeArc(from.Edge, true)} {
		start := w.net.Along(from, a)
		w.travel(state{arc: noArc}, 0, network.Piece{Arc: a, Start: start, End: w.net.Length[from.Edge]}, false)
		if end := w.net.Along(to, a); from.Edge == to.Edge && start <= end {
			w.travel(state{arc: noArc}, 0, network.Piece{Arc: a, Start: start, End: end}, true)
		}
	}
	for settled := 0; len(w.open) > 0; settled++ {
		if settled%1024 == 0 && ctx.Err() != nil {
			return state{}, ctx.Err()
		}
		item := heap.Pop(&w.open).(stateEntry)
		if item.cost > w.best[item.state] {
			continue
		}
		if item.state.done {
			return item.state, nil
		}
		w.leave(item, to)
	}
	return state{}, ErrApart
}

// leave relaxes what follows a state: the next road, the target, the arcs out.
func (w *walk) leave(item stateEntry, to network.Position) {
	s := item.state
	if s.used && s.road+1 < len(w.roads) {
		w.reach(state{arc: s.arc, turn: s.turn, road: s.road + 1}, item.cost, step{from: s, move: true})
	}
	for _, a := range w.net.Out(w.net.Head(s.arc)) {
		w.travel(s, item.cost, w.net.Whole(a), false)
		if a.Edge() == to.Edge {
			w.travel(s, item.cost, network.Piece{Arc: a, End: w.net.Along(to, a)}, true)
		}
	}
}

// travel relaxes the end of a piece that is driven from a state.
func (w *walk) travel(s state, cost float64, piece network.Piece, done bool) {
	if w.net.Class[piece.Arc.Edge()].Water() {
		return
	}
	next := state{arc: piece.Arc, road: s.road, used: s.used, done: done}
	factor := float64(unnamedFactor)
	if w.named(piece, s.road) {
		factor, next.used = 1, true
	}
	if done && (next.road+1 < len(w.roads) || !next.used) {
		return
	}
	turn, doubt := w.enter(s.arc, piece.Arc, s.turn)
	next.turn = turn
	doubt += w.against(piece.Arc, piece.Length())
	w.reach(next, cost+factor*float64(piece.Length())+doubtMetres*doubt,
		step{from: s, first: s.arc == noArc, piece: piece})
}

func (w *walk) named(p network.Piece, road int) bool {
	ref := w.net.Ref(p.Arc.Edge())
	if w.bears[road] == nil {
		w.bears[road] = map[string]bool{}
	}
	yes, known := w.bears[road][ref]
	if !known {
		yes = w.net.IsRoad(p.Arc.Edge(), w.roads[road])
		w.bears[road][ref] = yes
	}
	return yes
}

func (w *walk) reach(s state, cost float64, by step) {
	if known, ok := w.best[s]; ok && known <= cost {
		return
	}
	w.best[s], w.by[s] = cost, by
	heap.Push(&w.open, stateEntry{s, cost})
}

// pieces walks back from the target.
func (w *walk) pieces(end state) (all, unnamed []network.Piece) {
	for at := end; ; {
		by := w.by[at]
		if !by.move && by.piece.Length() > 0 {
			all = append(all, by.piece)
			if !w.named(by.piece, at.road) {
				unnamed = append(unnamed, by.piece)
			}
		}
		if by.first {
			break
		}
		at = by.from
	}
	slices.Reverse(all)
	slices.Reverse(unnamed)
	return all, unnamed
}

type stateEntry struct {
	state state
	cost  float64
}

type stateQueue []stateEntry

func (q stateQueue) Len() int           { return len(q) }
func (q stateQueue) Less(i, j int) bool { return q[i].cost < q[j].cost }
func (q stateQueue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *stateQueue) Push(x any)        { *q = append(*q, x.(stateEntry)) }
func (q *stateQueue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}
