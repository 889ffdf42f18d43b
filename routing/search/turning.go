package search

import (
	"wayhouse/routing/graph"
	"wayhouse/routing/network"
)

// turning knows which core arcs begin or end with an arc that sequences name,
// and the states that tell ways to one arc apart.
type turning struct {
	named []uint8  // of a core arc: firstNamed, lastNamed
	deep  []uint32 // of a state of the turns: the core arc that was driven last, None where none drives it whole
}

const (
	firstNamed uint8 = 1 << iota
	lastNamed
)

func (e *Engine) newTurning() turning {
	core := &e.prepared.Core
	if e.net.Sequences() == 0 {
		return turning{}
	}
	turns := e.net.Turns()
	t := turning{named: make([]uint8, core.Arcs())}
	ends := map[network.Arc]uint32{} // core arcs by what they drive last
	for i := range e.net.Sequences() {
		for _, named := range e.net.Sequence(i) {
			a := e.driving(named)
			if a == graph.None {
				continue
			}
			first, last := e.firstLast(a)
			if first == named {
				t.named[a] |= firstNamed
			}
			if last == named {
				t.named[a] |= lastNamed
				ends[last] = a
			}
		}
	}
	t.deep = make([]uint32, turns.States())
	for state := range t.deep {
		t.deep[state] = graph.None
		if a, ok := ends[turns.Last(network.TurnState(state))]; ok && state > 0 {
			t.deep[state] = a
		}
	}
	return t
}

// driving returns the core arc that drives an arc of the network, None where none does. It
// takes no longer for a larger network, as it would to look at every core arc.
func (e *Engine) driving(road network.Arc) uint32 {
	core := &e.prepared.Core
	link := core.Place[road.Edge()]
	if link == graph.None {
		return graph.None
	}
	chain := core.ChainOf(link)
	from, drives := e.net.Tail(network.Arc(core.Links[core.ChainFirst[chain]])), 2*chain
	if core.Links[link] != uint32(road) { // it is driven backward
		from, drives = e.net.Head(network.Arc(core.Links[core.ChainFirst[chain+1]-1])), 2*chain+1
	}
	node, _, _ := core.Where(uint32(from))
	for a := core.First[node]; a < core.First[node+1]; a++ {
		if core.Chain[a] == drives {
			return a
		}
	}
	return graph.None
}

// firstLast returns the first and the last arc of the network that a core arc
// drives.
func (e *Engine) firstLast(a uint32) (first, last network.Arc) {
	core := &e.prepared.Core
	chain := core.Chain[a]
	links := core.Links[core.ChainFirst[chain>>1]:core.ChainFirst[chain>>1+1]]
	if chain&1 == 0 {
		return network.Arc(links[0]), network.Arc(links[len(links)-1])
	}
	return network.Arc(links[len(links)-1] ^ 1), network.Arc(links[0] ^ 1)
}

// state numbers a way that has driven a core arc and stands so among the
// sequences: the arc itself where that is all that the arc says, else one of its own.
func (s *seeker) state(arc uint32, turn network.TurnState) uint32 {
	if turn == s.after(arc) {
		return arc
	}
	return uint32(s.prepared.Core.Arcs()) + uint32(turn)
}

// after is how a way stands among the sequences that came onto a core arc by
// none of them.
func (s *seeker) after(arc uint32) network.TurnState {
	if s.rules.Turns == nil || s.turning.named[arc]&lastNamed == 0 {
		return 0
	}
	_, last := s.firstLast(arc)
	return s.rules.Turns.Step(0, last)
}

// turnOf is how a state stands among the sequences.
func (s *seeker) turnOf(state uint32) network.TurnState {
	if n := uint32(s.prepared.Core.Arcs()); state >= n {
		return network.TurnState(state - n)
	}
	return s.after(state)
}

// course returns the course of a state.
func (s *seeker) course(state uint32, layer int, at uint32) course {
	_, last := s.firstLast(s.Arc(state))
	return course{arc: last, turn: s.turnOf(state), layer: layer, at: Millis(at)}
}

// States, Arc and Next are the turns of the core, for graph.Rules.
func (s *seeker) States() int { return s.prepared.Core.Arcs() + len(s.turning.deep) }

// Arc returns the core arc that was driven last in a state.
func (s *seeker) Arc(state uint32) uint32 {
	if n := uint32(s.prepared.Core.Arcs()); state >= n {
		return s.turning.deep[state-n]
	}
	return state
}

// Next drives a core arc from a state.
func (s *seeker) Next(state, arc uint32) (next, price uint32) {
	from := s.Arc(state)
	core := &s.prepared.Core
	if core.Chain[from] == core.Chain[arc]^1 {
		return 0, graph.Infinite
	}
	next = arc
	if s.rules.Turns != nil {
		turn, charge := s.turn(s.turnOf(state), arc)
		if charge >= Infinite {
			return 0, graph.Infinite
		}
		next, price = s.state(arc, turn), uint32(charge)
	}
	if s.rules.Turn != nil {
		_, in := s.firstLast(from)
		on, _ := s.firstLast(arc)
		price += uint32(s.rules.Turn(in, on))
	}
	return next, price
}

// turn follows a core arc through the sequences, and says what those cost that end
// there. None ends inside a chain: nodes of sequences are core nodes.
func (s *seeker) turn(at network.TurnState, arc uint32) (turn network.TurnState, charge Millis) {
	t, flags := s.rules.Turns, s.turning.named[arc]
	first, last := s.firstLast(arc)
	if flags&firstNamed != 0 {
		turn = t.Step(at, first)
		charge = s.rules.charge(turn)
	}
	if first != last {
		turn = s.after(arc)
	}
	return turn, charge
}
