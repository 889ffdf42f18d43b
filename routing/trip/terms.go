package trip

import (
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/standing"
)

// terms are what a search is asked under.
type terms struct {
	ferries bool
	// lifted tells which barriers do not count; nil: all count.
	lifted func(*standing.Barrier) bool
	// dearer adds to what a piece costs; nil: nothing.
	dearer func(p network.Piece, cost search.Millis) search.Millis
	// above closes what leaves no more than this of a quantity; nil: nothing.
	above *floor
	// share divides what going round something unmeasured is worth; 0: whole.
	share search.Millis
	// unpermitted closes the jurisdictions in which the rig needs a permit.
	unpermitted bool
}

// rules are what a search keeps to under terms. Past what is closed to everyone
// of its kind, the wrong way through a one-way road or by a forbidden turn it
// never goes, whatever is lifted.
func (b *builder) rules(t terms) search.Rules {
	w := &b.request.Wishes
	r := search.Rules{Cost: b.cost(t), Timed: b.barriers.timed, EndsOnly: b.stands.EndsOnly, Ferries: t.ferries, Top: w.Top, Turn: b.turn, Budget: budget}
	if b.Network.Bans() > 0 {
		r.Turns, r.Banned = b.Network.Turns(), b.stands.Banned
	}
	for _, road := range w.By {
		r.Uses = append(r.Uses, func(e network.EdgeID) bool { return b.barriers.bears(e, road) })
	}
	if h, ok := b.request.Rig.Clear(); ok && t.lifted == nil {
		r.Height = h.Length
	}
	if t.above != nil && t.above.quantity == rig.Height {
		r.Height = max(r.Height, measure.Length(t.above.value))
	}
	return r
}

// budget is how many states one search may settle before it says that it was not
// finished: some ten seconds.
const budget = 10_000_000

// detour is how many milliseconds a route goes round something unmeasured for, where
// that is asked for.
const detour search.Millis = 3_600_000

// cost is what a piece costs, and whether it is open.
func (b *builder) cost(t terms) func(network.Piece, search.Millis) (search.Millis, bool) {
	return func(p network.Piece, at search.Millis) (search.Millis, bool) {
		e := p.Arc.Edge()
		if b.Network.Class[e].Water() && !t.ferries || b.stands.Closed(p) || b.shut(p, t) {
			return 0, false
		}
		cost := search.Millis(b.Network.Millis(p, b.request.Wishes.Top))
		if t.dearer != nil {
			cost = t.dearer(p, cost)
		}
		wait, opens := b.wait(p, at, t)
		if !opens {
			return 0, false
		}
		cost += wait
		if b.request.AvoidUnmeasured {
			cost += detour / max(t.share, 1) * search.Millis(b.stands.Blind(p))
		}
		return cost, true
	}
}

// shut tells whether anything that counts under the terms shuts a piece.
func (b *builder) shut(p network.Piece, t terms) bool {
	for _, barrier := range b.barriers.on(p) {
		if barrier.When == "" && (t.lifted == nil || !t.lifted(barrier)) {
			return true
		}
	}
	return t.above != nil && !b.passes(p, t.above) || t.unpermitted && b.barriers.asks(p.Arc.Edge()) || b.barriers.in(p.Arc.Edge(), b.shutAreas)
}

// How much a turn at a junction costs: a long rig takes them slowly, and rather
// goes on. This project's choice, no source.
const (
	sharpTurn    search.Millis = 10_000 // from network.SharpTurn degrees
	hairpin      search.Millis = 40_000
	hairpinAngle               = 120.0 // degrees
)

// turn is what driving from one arc into another costs: the turn itself, and the
// permits of what is entered.
func (b *builder) turn(in, on network.Arc) search.Millis {
	cost := b.barriers.entry(in.Edge(), on.Edge())
	switch angle := b.Network.Deflection(in, on); {
	case angle > hairpinAngle:
		cost += hairpin
	case angle > network.SharpTurn:
		cost += sharpTurn
	}
	return cost
}
