package match

import (
	"container/heap"
	"math"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// Rules say where a rig may go. A line is matched to what they forbid only where
// nothing else fits.
type Rules struct {
	Closed func(network.Arc) bool // reports whether a direction is closed, as by a one-way sign; nil: none is
	Banned func(ban int32) bool   // reports whether a forbidden turn binds; nil: none does
}

// What speaks against a way, in units of doubt: the negative logarithm of a
// likelihood. All are this project's choice. A road up to some 55 m from a line
// with an error of 10 m is taken before one that is driven the wrong way, and
// any road up to some 90 m before none.
const (
	againstEntry = 10.0 // to enter a road against its direction
	againstMetre = 0.35
	bannedTurn   = 20.0
	turnRound    = 25.0
	offEntry     = 12.0 // to leave the roads, and to come back
	offMetre     = 0.6
)

// How far a way from one sample to the next may be sought.
const (
	detour      = 2 // times the distance of the samples
	detourSlack = measure.Distance(100)
	mostPenalty = 60.0 // a way that costs more is not looked at
)

// way is how one arc is reached from a place on another.
type way struct {
	length  measure.Distance // negative where it runs back on the same arc
	penalty float64
	turn    network.TurnState
	label   int32 // the last before the arc, one of the next three where there is none
}

const (
	straightOn int32 = -1 - iota
	backHere         // turns round on the road
	unreached
)

// label is an arc that was driven whole, but for the first.
type label struct {
	arc     network.Arc
	turn    network.TurnState
	length  measure.Distance
	penalty float64
	key     float64
	prev    int32
}

type labelState struct {
	arc  network.Arc
	turn network.TurnState
}

// reacher finds ways from a place on an arc to places on others nearby, by
// Dijkstra's search over directed arcs and their banned turns.
type reacher struct {
	net    *network.Network
	rules  Rules
	beta   float64          // metres of a unit of doubt, between the length of a way and that of the line
	line   measure.Distance // of the line, as the crow flies
	labels []label
	open   []int32
	known  map[labelState]float64
}

func (r *reacher) closed(a network.Arc) bool { return r.rules.Closed != nil && r.rules.Closed(a) }

// against is what driving a part of an arc the wrong way costs.
func (r *reacher) against(a network.Arc, length measure.Distance) float64 {
	if !r.closed(a) {
		return 0
	}
	return againstMetre * float64(length)
}

// enter is what a turn costs. From noArc a way begins.
func (r *reacher) enter(from, to network.Arc, at network.TurnState) (turn network.TurnState, penalty float64) {
	if from != noArc && from.Back() == to {
		penalty += turnRound
	}
	if r.closed(to) && (from == noArc || !r.closed(from)) {
		penalty += againstEntry
	}
	if r.rules.Banned == nil || r.net.Sequences() == 0 {
		return 0, penalty
	}
	turns := r.net.Turns()
	turn = turns.Step(at, to)
	if slices.ContainsFunc(turns.Ends(turn), r.rules.Banned) {
		penalty += bannedTurn
	}
	return turn, penalty
}

// ways finds the ways from a cell to each of others that lie so far from it
// along the line.
func (r *reacher) ways(from cell, to []cell, line measure.Distance) []way {
	r.line = line
	limit := detour*line + detourSlack + 2*from.off
	out := make([]way, len(to))
	targets := make(map[network.Arc][]int, len(to))
	for i, c := range to {
		out[i] = way{label: unreached}
		if c.arc != noArc {
			targets[c.arc] = append(targets[c.arc], i)
			out[i] = r.direct(from, c)
		}
	}
	r.start(from)
	for len(r.open) > 0 {
		at := heap.Pop(r).(int32)
		l := r.labels[at]
		if l.key > r.known[labelState{l.arc, l.turn}] {
			continue
		}
		for _, a := range r.net.Out(r.net.Head(l.arc)) {
			r.leave(at, a, targets, to, out, limit)
		}
	}
	return out
}

// direct is the way that leaves the edge nowhere.
func (r *reacher) direct(from, to cell) way {
	w := way{label: unreached, turn: from.turn}
	switch total := r.net.Length[from.arc.Edge()]; {
	case to.arc == from.arc && to.at >= from.at:
		w.length, w.label = to.at-from.at, straightOn
		w.penalty = r.against(to.arc, w.length)
	case to.arc == from.arc && from.at-to.at <= mostBack: // an error along the road, not a turn
		w.length, w.label = to.at-from.at, straightOn
	case to.arc == from.arc.Back():
		w.label, w.length = backHere, measure.Distance(math.Abs(float64(total-to.at-from.at)))
		w.turn, w.penalty = r.enter(from.arc, to.arc, from.turn)
		w.penalty += r.against(to.arc, w.length)
	}
	return w
}

// mostBack is how far a sample may lie behind the one before it on the same
// road.
const mostBack measure.Distance = 60

// start begins a search with what is left of the arc of a cell.
func (r *reacher) start(from cell) {
	r.labels, r.open = r.labels[:0], r.open[:0]
	if r.known == nil {
		r.known = map[labelState]float64{}
	}
	clear(r.known)
	left := r.net.Length[from.arc.Edge()] - from.at
	r.push(label{arc: from.arc, turn: from.turn, length: left, penalty: r.against(from.arc, left), prev: -1})
}

func (r *reacher) push(l label) {
	l.key = float64(l.length)/r.beta + l.penalty
	state := labelState{l.arc, l.turn}
	if known, ok := r.known[state]; ok && known <= l.key {
		return
	}
	r.known[state] = l.key
	r.labels = append(r.labels, l)
	heap.Push(r, int32(len(r.labels)-1))
}

// leave drives from a label onto an arc, up to a target on it and to its end.
func (r *reacher) leave(at int32, a network.Arc, targets map[network.Arc][]int, to []cell, out []way,
	limit measure.Distance) {
	l := r.labels[at]
	turn, penalty := r.enter(l.arc, a, l.turn)
	penalty += l.penalty
	if penalty > mostPenalty {
		return
	}
	for _, i := range targets[a] {
		w := way{length: l.length + to[i].at, penalty: penalty + r.against(a, to[i].at), turn: turn, label: at}
		if w.length <= limit && r.cost(w) < r.cost(out[i]) {
			out[i] = w
		}
	}
	if whole := r.net.Length[a.Edge()]; l.length+whole <= limit {
		r.push(label{arc: a, turn: turn, length: l.length + whole, penalty: penalty + r.against(a, whole), prev: at})
	}
}

// cost is the doubt of a way.
func (r *reacher) cost(w way) float64 {
	if w.label == unreached {
		return math.Inf(1)
	}
	return math.Abs(float64(w.length-r.line))/r.beta + w.penalty
}

// drives lists what a way drives that the last call of ways found.
func (r *reacher) drives(from, to cell, w way) []network.Piece {
	switch w.label {
	case straightOn:
		return []network.Piece{{Arc: to.arc, Start: min(from.at, to.at), End: to.at}}
	case backHere:
		turned := max(from.at, r.net.Length[to.arc.Edge()]-to.at)
		return []network.Piece{{Arc: from.arc, Start: from.at, End: turned}, {
			Arc: to.arc, Start: r.net.Length[to.arc.Edge()] - turned, End: to.at,
		}}
	case unreached:
		return nil
	}
	out := []network.Piece{{Arc: to.arc, End: to.at}}
	for at := w.label; at >= 0; at = r.labels[at].prev {
		p := r.net.Whole(r.labels[at].arc)
		if r.labels[at].prev < 0 {
			p.Start = from.at
		}
		out = append(out, p)
	}
	slices.Reverse(out)
	return out
}

// Len, Less, Swap, Push and Pop are the heap of labels, cheapest first.
func (r *reacher) Len() int           { return len(r.open) }
func (r *reacher) Less(i, j int) bool { return r.labels[r.open[i]].key < r.labels[r.open[j]].key }
func (r *reacher) Swap(i, j int)      { r.open[i], r.open[j] = r.open[j], r.open[i] }
func (r *reacher) Push(x any)         { r.open = append(r.open, x.(int32)) }
func (r *reacher) Pop() any {
	last := r.open[len(r.open)-1]
	r.open = r.open[:len(r.open)-1]
	return last
}
