package graph

import (
	"context"
	"errors"
	"slices"
)

// ErrNoWay says that nothing open leads to a goal.
var ErrNoWay = errors.New("no way leads there")

// ErrNotFinished says that a search used up what it was given before it knew.
var ErrNotFinished = errors.New("the search was stopped before it was finished: there may be a way, and " +
	"there may be none")

// Rules are what a search keeps to beside the weights of its hierarchy. They may
// only add to these, so that the hierarchy stays a lower bound.
type Rules struct {
	// Pay returns what a core arc costs beyond its weight when its tail is left
	// so long after the start, Infinite where it is closed. Who leaves later must
	// not arrive earlier; an arc that is closed at 0 is so for good, whatever the layer.
	Pay func(layer int, arc, at uint32) uint32
	// Turns are rules of turning; nil: none, and a way is sought by node.
	Turns Turns
	// Layers is how many ways of having come there are that matter; 0 and 1: none.
	// Step returns the layer after an arc, below 0 where it may not be driven.
	Layers int
	Step   func(layer int, arc uint32) int
	// Limit is what a way must cost less than; 0: no limit.
	Limit uint32
	// Budget is how many states may be settled; 0: no end.
	Budget int
}

// Turns are rules about driving one core arc after another. A state is an arc
// that was just driven, or one of more that tell ways to it apart.
type Turns interface {
	// States returns how many states there are; the first are the core arcs.
	States() int
	// Arc returns the core arc that was driven last in a state.
	Arc(state uint32) uint32
	// Next returns the state after one more arc and what the turn costs,
	// Infinite where it must not be made.
	Next(state, arc uint32) (next, price uint32)
}

// Seed is where a way may begin: a state (with turns an arc, else a node) that
// is reached at a price.
type Seed struct {
	State uint32
	Layer int
	Price uint32
}

// Goal is where a way may end: a core node, the least that the rest costs, and
// what it costs on arrival in a state and a layer so long after the start,
// Infinite where it cannot be driven.
type Goal struct {
	Node   uint32
	Least  uint32
	Finish func(state uint32, layer int, at uint32) uint32
}

// Way is an answer: the core arcs driven after the seed and before the goal.
type Way struct {
	Price      uint32
	Seed, Goal int
	Arcs       []uint32
	Settled    int  // states that the search settled; 0: the hierarchy's own way was open
	Probed     bool // nothing leads there, as a look from the goal found
}

// Search finds ways through a core. It is used again and again and then
// allocates nothing. It is for one goroutine.
type Search struct {
	core      *Core
	weight    []uint32
	rules     Rules
	layers    uint32
	seeds     []Seed
	goals     []Goal
	potential *Potential
	targets   []Target

	round   uint32
	states  []place
	queue   queue
	level   []uint32 // states whose key is the key of the one just settled
	key     uint32
	probe   probe
	settled int

	best     uint32
	bestGoal int    // -1: none yet
	bestAt   uint32 // the last state of the best way
	arcs     []uint32
}

// place is how a state was reached in one round.
type place struct {
	distance uint32 // with settledBit once no better way can come
	round    uint32
	from     uint32 // the state before, None at a seed
	arc      uint32 // that led here; at a seed its number
}

const settledBit = uint32(1) << 31

// NewSearch returns a search through a core whose hierarchies share an order.
func NewSearch(c *Core, order *Order) *Search {
	return &Search{core: c, potential: NewPotential(order), probe: probe{seen: make([]uint32, c.Nodes())}}
}

// Find finds the cheapest way from the seeds to the goals: weight and what the
// rules add. h must be of weights that are nowhere higher, and closed only
// where the rules are.
//
//  1. Look back from the goals a little: are they walled off?
//  2. Ask the hierarchy for the way without the rules. If it costs nothing
//     more with them, it is the answer.
//  3. Search forward, what the hierarchy says is left added to what was paid,
//     and look farther back now and then.
//
// The answer's arcs are valid until the next search. Errors are ErrNoWay,
// ErrNotFinished and that of the context.
func (s *Search) Find(ctx context.Context, h *Hierarchy, weight []uint32, rules Rules, seeds []Seed,
	goals []Goal) (Way, error) {
	s.start(weight, rules, seeds, goals)
	s.probe.start(goals)
	if s.walled(firstProbe) {
		return Way{Probed: true}, ErrNoWay
	}
	s.potential.Aim(h, s.targets...)
	if seed, ok := s.straight(); ok {
		return Way{Price: s.best, Seed: seed, Goal: s.bestGoal, Arcs: s.arcs}, nil
	}
	s.best, s.bestGoal = s.limit(), -1
	switch walled, err := s.run(ctx); {
	case walled:
		return Way{Settled: s.settled, Probed: true}, ErrNoWay
	case err != nil:
		return Way{Settled: s.settled}, err
	case s.bestGoal < 0:
		return Way{Settled: s.settled}, ErrNoWay
	}
	seed := s.unwind()
	return Way{Price: s.best, Seed: seed, Goal: s.bestGoal, Arcs: s.arcs, Settled: s.settled}, nil
}

func (s *Search) start(weight []uint32, rules Rules, seeds []Seed, goals []Goal) {
	s.weight, s.rules, s.seeds, s.goals, s.settled = weight, rules, seeds, goals, 0
	s.layers = uint32(max(rules.Layers, 1))
	n := s.core.Nodes()
	if rules.Turns != nil {
		n = rules.Turns.States()
	}
	if need := n * int(s.layers); len(s.states) < need {
		s.states, s.round = make([]place, need), 0
	}
	tick(&s.round, s.states)
	s.queue, s.level, s.targets = s.queue[:0], s.level[:0], s.targets[:0]
	for _, g := range goals {
		s.targets = append(s.targets, Target{g.Node, g.Least})
	}
}

// limit is what a way must cost less than.
func (s *Search) limit() uint32 {
	if s.rules.Limit == 0 {
		return Infinite
	}
	return s.rules.Limit
}

// node returns the core node that a state stands at.
func (s *Search) node(state uint32) uint32 {
	if s.rules.Turns == nil {
		return state
	}
	return s.core.Head[s.rules.Turns.Arc(state)]
}

// straight tries the way of the hierarchy; ok reports whether it is the answer.
func (s *Search) straight() (seed int, ok bool) {
	least, best := s.limit(), -1
	for i, seed := range s.seeds {
		if d := s.potential.Least(s.node(seed.State)); d < Infinite && seed.Price+d < least {
			least, best = seed.Price+d, i
		}
	}
	if best < 0 {
		return 0, false
	}
	var last uint32
	s.arcs, last = s.potential.Way(s.node(s.seeds[best].State), s.arcs[:0])
	s.best = least
	return best, s.drive(s.seeds[best], last, least)
}

// drive follows arcs from a seed to a goal's node; it reports whether the whole way
// costs no more than it must.
func (s *Search) drive(seed Seed, last, least uint32) bool {
	state, layer, at := seed.State, seed.Layer, seed.Price
	for _, a := range s.arcs {
		next, l, step := s.step(state, layer, a, at)
		if step == Infinite {
			return false
		}
		if state, layer, at = next, l, at+step; at > least {
			return false
		}
	}
	for i, g := range s.goals {
		if g.Node == last {
			if rest := g.Finish(state, layer, at); rest < Infinite && at+rest == least {
				s.bestGoal = i
				return true
			}
		}
	}
	return false
}

// step drives one arc from a state: the state and the layer after it and its
// price, Infinite where it may not be driven.
func (s *Search) step(state uint32, layer int, arc, at uint32) (next uint32, l int, price uint32) {
	next, price = s.core.Head[arc], 0
	if s.rules.Turns != nil {
		if next, price = s.rules.Turns.Next(state, arc); price == Infinite {
			return 0, 0, Infinite
		}
	}
	l = layer
	if s.layers > 1 {
		if l = s.rules.Step(layer, arc); l < 0 {
			return 0, 0, Infinite
		}
	}
	more := s.rules.Pay(layer, arc, at+price)
	if more == Infinite {
		return 0, 0, Infinite
	}
	return next, l, price + s.weight[arc] + more
}

// run settles states until none left can improve the best way, or until a look
// from the goals shows that they are walled off.
func (s *Search) run(ctx context.Context) (walled bool, err error) {
	s.key = Infinite
	for i, seed := range s.seeds {
		s.reach(seed.State, s.node(seed.State), seed.Layer, seed.Price, None, uint32(i))
	}
	for probeAt := firstProbe; ; s.settled++ {
		id, ok := s.take()
		if !ok || s.key >= s.best {
			return false, nil
		}
		if s.settled%1024 == 0 && ctx.Err() != nil {
			return false, ctx.Err()
		}
		if s.rules.Budget > 0 && s.settled >= s.rules.Budget {
			return false, ErrNotFinished
		}
		if s.settled == probeAt {
			if probeAt *= 2; s.walled(probeAt / probeShare) {
				return true, nil
			}
		}
		s.settle(id)
	}
}

// take takes the state with the least key. States that have the key of the one
// before wait on a stack instead of in the heap: along a shortest way all have.
func (s *Search) take() (id uint32, ok bool) {
	if n := len(s.level); n > 0 {
		id = s.level[n-1]
		s.level = s.level[:n-1]
		return id, true
	}
	for len(s.queue) > 0 {
		key, id := s.queue.pop()
		if s.states[id].distance&settledBit == 0 {
			s.key = key
			return id, true
		}
	}
	return 0, false
}

// settle drives on from a state, and ends there where a goal is.
func (s *Search) settle(id uint32) {
	at := s.states[id].distance
	s.states[id].distance |= settledBit
	state, layer := id/s.layers, int(id%s.layers)
	v := s.node(state)
	for i, g := range s.goals {
		if g.Node == v {
			if rest := g.Finish(state, layer, at); rest < Infinite && at+rest < s.best {
				s.best, s.bestGoal, s.bestAt = at+rest, i, id
			}
		}
	}
	for a := s.core.First[v]; a < s.core.First[v+1]; a++ {
		if next, l, price := s.step(state, layer, a, at); price < Infinite {
			s.reach(next, s.core.Head[a], l, at+price, id, a)
		}
	}
}

// reach notes a way to a state that stands at a node, if it is the cheapest so
// far and may still lead to a goal.
func (s *Search) reach(state, node uint32, layer int, at, from, arc uint32) {
	id := state*s.layers + uint32(layer)
	p := &s.states[id]
	if at >= s.best || p.round == s.round && p.distance&^settledBit <= at {
		return
	}
	left := s.potential.Least(node)
	if left == Infinite || at+left >= s.best {
		return
	}
	*p = place{at, s.round, from, arc}
	if at+left == s.key {
		s.level = append(s.level, id)
		return
	}
	s.queue.push(at+left, id)
}

// unwind walks back from the best goal; it returns the number of the seed.
func (s *Search) unwind() int {
	s.arcs = s.arcs[:0]
	at := s.bestAt
	for s.states[at].from != None {
		s.arcs = append(s.arcs, s.states[at].arc)
		at = s.states[at].from
	}
	slices.Reverse(s.arcs)
	return int(s.states[at].arc)
}
