// Package search finds the cheapest way through a network under the
// restrictions of one rig. [Engine] is exact for any rig without having worked
// anything out for it: it searches the compressed network and asks contraction
// hierarchies, lower bounds for many rigs, how much is left. [Plain] is
// Dijkstra's search with nothing worked out beforehand, the reference that the
// engine is tested against.
package search

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"wayhouse/routing/graph"
	"wayhouse/routing/network"
)

// ErrNotFinished says that a search used up its budget before it knew.
var ErrNotFinished = graph.ErrNotFinished

// Engine answers searches on one network. It is safe for use by many
// goroutines.
type Engine struct {
	net      *network.Network
	prepared *network.Prepared
	turning  turning
	idle     sync.Pool // of *seeker
}

// New returns an engine for a network. One that was not prepared is prepared
// first, which for a large one takes minutes.
func New(ctx context.Context, n *network.Network) (*Engine, error) {
	if n.Prepared() == nil {
		if err := n.Prepare(ctx, nil); err != nil {
			return nil, fmt.Errorf("prepare the network for searches: %w", err)
		}
	}
	e := &Engine{net: n, prepared: n.Prepared()}
	e.turning = e.newTurning()
	return e, nil
}

// Answer is a path and how it was found.
type Answer struct {
	Path
	Settled int  // states that the search settled; 0: a hierarchy's own way was open
	Probed  bool // that nothing leads there was found by looking back from the target
}

// Route returns the cheapest path between two positions, whose roads are as a sound file
// says (see [network.Network.Sound]). A rig may leave the
// first position and reach the second in either direction; it does not turn
// round on the way. Errors are [ErrNoRoute], [ErrNotFinished] and that of the
// context.
//
//  1. Walk from the start and back from the target to where the core begins:
//     out of dead-end trees and to the ends of chains.
//  2. Where two of these walks meet, they are a way.
//  3. Search the core between their ends.
func (e *Engine) Route(ctx context.Context, from, to network.Position, rules Rules) (Answer, error) {
	out, err := e.route(ctx, from, to, rules)
	if err == nil {
		err = e.net.Sound(out.Pieces)
	}
	return out, err
}

func (e *Engine) route(ctx context.Context, from, to network.Position, rules Rules) (Answer, error) {
	if len(rules.Uses) > MaxUses {
		return Answer{}, fmt.Errorf("%d roads to use, more than %d", len(rules.Uses), MaxUses)
	}
	if err := ctx.Err(); err != nil {
		return Answer{}, err
	}
	s := e.seeker()
	defer e.rest(s)
	s.begin(rules, to)
	s.out, s.in = e.walks(from), e.walks(to)
	s.meet(from, to)
	if s.near != nil && s.best == 0 {
		return Answer{Path: Path{Pieces: s.near}}, nil
	}
	found, err := s.search(ctx)
	switch {
	case errors.Is(err, graph.ErrNoWay) && s.near != nil:
		return Answer{Path: Path{Pieces: s.near, Cost: s.best}, Settled: found.Settled}, nil
	case errors.Is(err, graph.ErrNoWay):
		return Answer{Settled: found.Settled, Probed: found.Probed}, ErrNoRoute
	case err != nil:
		return Answer{Settled: found.Settled}, err
	}
	return Answer{Path: s.path(found), Settled: found.Settled}, nil
}

// bucket returns the tightest bucket that holds the rig.
func (e *Engine) bucket(r *Rules) (best int) {
	others := max(r.Others, network.Alike)
	if e.net.Lacks(network.TruckRoads) { // all roads are alike there, in every bucket
		others = network.Preferred
	}
	for i, b := range network.Buckets() {
		if b.Holds(r.Top, r.Height, r.Ferries, others) {
			best = i
		}
	}
	return best
}

// seeker is what one search works with.
type seeker struct {
	*Engine
	inner  *graph.Search
	rules  Rules
	weight []uint32
	bucket int

	round uint32
	known []judged // of a core arc

	to      network.Position
	out, in []walk // from the start, from the target
	seeds   []graph.Seed
	starts  []opening // what each seed begins with
	goals   []graph.Goal
	goalOf  []int // walk of each goal

	near []network.Piece // the best way that does not need the core
	best Millis
}

// judged is what the rules say of a core arc, as long as they hang on no hour.
type judged struct {
	round uint32
	pay   uint32
	next  [phases]int8  // phase after it, -1 where it must not be driven
	tolls [phases]uint8 // how often it comes back to roads that are for all ways
	used  uint8
}

// opening is how a way begins: a walk and the core arc after it.
type opening struct {
	walk int
	arc  uint32
}

// rest keeps a seeker for the next search, but not one that grew by roads to use.
func (e *Engine) rest(s *seeker) {
	if len(s.rules.Uses) > 0 {
		return
	}
	s.rules = Rules{} // and whatever its functions hold
	e.idle.Put(s)
}

func (e *Engine) seeker() *seeker {
	if s, ok := e.idle.Get().(*seeker); ok {
		return s
	}
	return &seeker{
		Engine: e, inner: graph.NewSearch(&e.prepared.Core, &e.prepared.Order),
		known: make([]judged, e.prepared.Core.Arcs()),
	}
}

func (s *seeker) begin(rules Rules, to network.Position) {
	s.rules, s.to = rules, to
	if s.net.Sequences() == 0 {
		s.rules.Turns = nil
	}
	s.bucket = s.Engine.bucket(&rules)
	s.weight = s.prepared.Weight[network.WeightOf(network.Buckets()[s.bucket])]
	if s.round++; s.round == 0 {
		clear(s.known)
		s.round = 1
	}
	s.seeds, s.starts, s.goals, s.goalOf = s.seeds[:0], s.starts[:0], s.goals[:0], s.goalOf[:0]
	s.near, s.best = nil, Millis(graph.Infinite)
}

// meet looks for ways that need no core: along one edge, and where a walk from
// the start meets one from the target.
func (s *seeker) meet(from, to network.Position) {
	if from.Edge == to.Edge {
		for _, piece := range onOneEdge(s.net, from, to) {
			s.offer([]network.Piece{piece})
		}
	}
	for _, o := range s.out {
		for _, i := range s.in {
			if k, l, ok := s.crossing(o, i); ok {
				s.offer(slices.Concat(o.pieces[:k+1], s.backward(i.pieces[:l+1], to)))
			}
			if o.end == i.end && o.end != graph.None { // farther than where they met, but it may use what must be used
				s.offer(slices.Concat(o.pieces, s.backward(i.pieces, to)))
			}
		}
	}
}

// offer takes a whole way if it is the best so far.
func (s *seeker) offer(pieces []network.Piece) {
	if c, ok := s.rules.follow(start(), pieces); ok && s.rules.done(c.layer) && c.at < s.best {
		s.near, s.best = pieces, c.at
	}
}

// crossing finds where a walk from the start first comes to a node of one from
// the target. ok is false where there is none, or one would turn round there.
func (s *seeker) crossing(out, in walk) (k, l int, ok bool) {
	nodes := make(map[network.NodeID]int, len(in.pieces))
	for i, p := range in.pieces {
		if v := s.net.Head(p.Arc); !has(nodes, v) {
			nodes[v] = i
		}
	}
	for k, p := range out.pieces {
		if l, met := nodes[s.net.Head(p.Arc)]; met {
			return k, l, p.Arc != in.pieces[l].Arc
		}
	}
	return 0, 0, false
}

func has(m map[network.NodeID]int, v network.NodeID) bool {
	_, ok := m[v]
	return ok
}

// search searches the core between the ends of the walks.
func (s *seeker) search(ctx context.Context) (graph.Way, error) {
	for i, w := range s.in {
		if w.end != graph.None {
			s.goal(i, w)
		}
	}
	for i, w := range s.out {
		if w.end != graph.None {
			s.seed(i, w)
		}
	}
	if len(s.seeds) == 0 || len(s.goals) == 0 {
		return graph.Way{}, graph.ErrNoWay
	}
	rules := graph.Rules{
		Pay: s.pay, Turns: s, Layers: s.rules.layers(), Step: s.step, Budget: s.rules.Budget, Limit: uint32(s.best),
	}
	return s.inner.Find(ctx, &s.prepared.Hierarchies[s.bucket], s.weight, rules, s.seeds, s.goals)
}

// seed drives a walk from the start, and every core arc that leaves its end.
func (s *seeker) seed(i int, w walk) {
	c := start()
	for _, p := range w.pieces {
		next, ok := s.rules.drive(c, p)
		if !ok {
			return
		}
		c = next
	}
	core := &s.prepared.Core
	for a := core.First[w.end]; a < core.First[w.end+1]; a++ {
		after, ok := c, true
		core.Drive(a, func(road uint32) bool {
			after, ok = s.rules.drive(after, s.net.Whole(network.Arc(road)))
			return ok
		})
		if ok {
			s.seeds = append(s.seeds, graph.Seed{State: s.state(a, after.turn), Layer: after.layer, Price: uint32(after.at)})
			s.starts = append(s.starts, opening{i, a})
		}
	}
}

// goal notes a walk to the target, to be driven from any state at its start.
func (s *seeker) goal(i int, w walk) {
	pieces := s.backward(w.pieces, s.to)
	least := s.least(pieces)
	if least >= Infinite {
		return
	}
	s.goals = append(s.goals, graph.Goal{Node: w.end, Least: uint32(least),
		Finish: func(state uint32, layer int, at uint32) uint32 {
			c, ok := s.rules.follow(s.course(state, layer, at), pieces)
			if !ok || !s.rules.done(c.layer) {
				return graph.Infinite
			}
			return uint32(c.at) - at
		}})
	s.goalOf = append(s.goalOf, i)
}

// path puts a way through the core and the walks at its ends together.
func (s *seeker) path(w graph.Way) Path {
	begin := s.starts[w.Seed]
	out := Path{Cost: Millis(w.Price)}
	out.Pieces = append(out.Pieces, s.out[begin.walk].pieces...)
	for _, a := range append([]uint32{begin.arc}, w.Arcs...) {
		s.prepared.Core.Drive(a, func(road uint32) bool {
			out.Pieces = append(out.Pieces, s.net.Whole(network.Arc(road)))
			return true
		})
	}
	out.Pieces = append(out.Pieces, s.backward(s.in[s.goalOf[w.Goal]].pieces, s.to)...)
	return out
}

// judge works out what the rules say of a core arc, or remembers it.
func (s *seeker) judge(arc uint32) *judged {
	j := &s.known[arc]
	if j.round == s.round {
		return j
	}
	*j = judged{round: s.round, next: [phases]int8{0, 1, 2, 3}}
	sum := Millis(0)
	s.prepared.Core.Drive(arc, func(road uint32) bool {
		p := s.net.Whole(network.Arc(road))
		cost, open := s.rules.Cost(p, sum)
		if sum += cost; !open || sum >= Millis(graph.Infinite) {
			sum = Millis(graph.Infinite)
			return false
		}
		s.pass(j, p)
		return true
	})
	j.pay = graph.Infinite
	if sum < Millis(graph.Infinite) {
		j.pay = uint32(max(sum-Millis(s.weight[arc]), 0))
	}
	return j
}

// pass notes what a piece does to the phase and the roads to use.
func (s *seeker) pass(j *judged, p network.Piece) {
	n := s.rules.phases()
	for i, at := range j.next[:n] {
		if at < 0 {
			continue
		}
		layer, cost := s.rules.step(int(at), p)
		if cost > 0 && j.tolls[i] < math.MaxUint8 {
			j.tolls[i]++
		}
		if layer < 0 {
			j.next[i] = -1
			continue
		}
		j.next[i] = int8(layer % n)
		j.used |= uint8(layer / n)
	}
}

// pay and step are the rules of the core, for graph.Rules.
func (s *seeker) pay(layer int, arc, at uint32) uint32 {
	j := s.judge(arc)
	if j.pay == graph.Infinite || at == 0 || s.rules.Timed == nil || !s.timed(arc) {
		tolls := Millis(j.tolls[layer%s.rules.phases()]) * s.rules.Rejoin
		return uint32(min(Millis(j.pay)+tolls, Infinite))
	}
	sum, open := Millis(at), true
	s.prepared.Core.Drive(arc, func(road uint32) bool {
		p := s.net.Whole(network.Arc(road))
		var toll, cost Millis
		if layer, toll = s.rules.step(layer, p); layer < 0 {
			open = false
			return false
		}
		sum += toll
		cost, open = s.rules.Cost(p, sum)
		sum += cost
		open = open && sum < Millis(graph.Infinite)
		return open
	})
	if !open {
		return graph.Infinite
	}
	return uint32(max(sum-Millis(at)-Millis(s.weight[arc]), 0))
}

func (s *seeker) timed(arc uint32) bool {
	timed := false
	s.prepared.Core.Drive(arc, func(road uint32) bool {
		timed = s.rules.Timed(network.Arc(road))
		return !timed
	})
	return timed
}

func (s *seeker) step(layer int, arc uint32) int {
	j := s.judge(arc)
	n := s.rules.phases()
	at := j.next[layer%n]
	if at < 0 {
		return -1
	}
	return (layer/n|int(j.used))*n + int(at)
}
