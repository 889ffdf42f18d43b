package network

import "sync"

// Ban is a sequence of arcs that must not be driven one after the other: a
// forbidden turn, or a forbidden way through several roads.
type Ban struct {
	OSM        int64 // the relation
	Start, End uint32
	When       StringID // under what condition; "" always
	Except     uint16   // bit set of the modes that it does not bind
	For        Mode     // whom it binds
	_          uint8
}

// Bans returns the number of banned sequences.
func (n *Network) Bans() int { return len(n.bans) }

// Ban returns a banned sequence.
func (n *Network) Ban(i int) (Ban, []Arc) {
	b := n.bans[i]
	return b, n.banArcs[b.Start:b.End]
}

// Binds reports whether a ban binds a rig that may be any of the modes: it does
// unless every one of them is exempt, or it is for others.
func (b Ban) Binds(may []Mode) bool {
	for _, m := range may {
		bound, exempt := false, false
		for _, of := range m.Chain() {
			bound = bound || of == b.For
			exempt = exempt || b.Except&(1<<of) != 0
		}
		if bound && !exempt {
			return true
		}
	}
	return false
}

// TurnState is where a way stands among the sequences: which of them its last
// arcs are the beginning of. The zero value is none.
type TurnState int32

// Turns follows ways through all sequences at once: the automaton of
// A. V. Aho and M. J. Corasick, "Efficient string matching: an aid to
// bibliographic search", Communications of the ACM 18 (1975), over arcs.
type Turns struct {
	next map[turnStep]TurnState
	fail []TurnState
	last []Arc     // that leads to a state
	ends [][]int32 // sequences whose last arc leads to a state
}

type turnStep struct {
	from TurnState
	arc  Arc
}

type lazyTurns struct {
	once  sync.Once
	turns *Turns
}

// Turns returns the automaton of the network's sequences, made at the first call.
func (n *Network) Turns() *Turns {
	n.turns.once.Do(func() { n.turns.turns = n.makeTurns() })
	return n.turns.turns
}

func (n *Network) makeTurns() *Turns {
	t := &Turns{next: map[turnStep]TurnState{}, fail: []TurnState{0}, last: []Arc{-1}, ends: [][]int32{nil}}
	order := []turnStep{} // every state but the first, by how it is reached
	for i := range n.Sequences() {
		arcs := n.Sequence(i)
		var at TurnState
		for _, a := range arcs {
			step := turnStep{at, a}
			to, ok := t.next[step]
			if !ok {
				to = TurnState(len(t.fail))
				t.next[step], t.fail, t.last, t.ends = to, append(t.fail, 0), append(t.last, a), append(t.ends, nil)
				order = append(order, step)
			}
			at = to
		}
		t.ends[at] = append(t.ends[at], int32(i))
	}
	t.link(order)
	return t
}

// Sequences returns the number of sequences of arcs that cost something: all bans, and after them all U-turns.
func (n *Network) Sequences() int { return n.Bans() + n.UTurns() }

// Sequence returns the arcs of one.
func (n *Network) Sequence(i int) (arcs []Arc) {
	if i < n.Bans() {
		_, arcs = n.Ban(i)
	} else {
		_, arcs = n.UTurn(i - n.Bans())
	}
	return arcs
}

// link sets where each state falls back to: the longest other beginning that
// its arcs end in. Shorter beginnings first.
func (t *Turns) link(order []turnStep) {
	depth := make([]int, len(t.fail))
	var byDepth [][]turnStep
	for _, s := range order { // a state comes after the one it is reached from
		d := depth[s.from] + 1
		depth[t.next[s]] = d
		for len(byDepth) < d {
			byDepth = append(byDepth, nil)
		}
		byDepth[d-1] = append(byDepth[d-1], s)
	}
	for d, steps := range byDepth {
		for _, s := range steps {
			to := t.next[s]
			if d > 0 {
				t.fail[to] = t.Step(t.fail[s.from], s.arc)
			}
			t.ends[to] = append(t.ends[to], t.ends[t.fail[to]]...)
		}
	}
}

// Step returns the state after one more arc.
func (t *Turns) Step(at TurnState, a Arc) TurnState {
	for {
		if to, ok := t.next[turnStep{at, a}]; ok {
			return to
		}
		if at == 0 {
			return 0
		}
		at = t.fail[at]
	}
}

// Ends lists the sequences that are driven to their end on arrival in a state.
func (t *Turns) Ends(at TurnState) []int32 { return t.ends[at] }

// States returns the number of states.
func (t *Turns) States() int { return len(t.fail) }

// Last returns the arc that leads to a state, -1 for the first, which any may.
func (t *Turns) Last(at TurnState) Arc { return t.last[at] }
