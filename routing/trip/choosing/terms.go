package choosing

import (
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/standing"
)

// Terms are what a search is asked under.
type Terms struct {
	Ferries bool
	// Lifted tells which barriers do not count; nil: all count.
	Lifted func(*standing.Barrier) bool
	// Dearer adds to what a piece costs; nil: nothing.
	Dearer func(p network.Piece, cost search.Millis) search.Millis
	// Above closes what leaves no more than this of a quantity; nil: nothing.
	Above *floor
	// Share divides what going round something unmeasured is worth; 0: whole.
	Share search.Millis
	// Unpermitted closes the jurisdictions in which the rig needs a permit.
	Unpermitted bool
	// Alike makes no road dearer for being no truck road.
	Alike bool
	Hours signHours
}

// Rules are what a search keeps to under terms. Past what is closed to everyone
// of its kind, the wrong way through a one-way road or by a forbidden turn it
// never goes, whatever is lifted.
func (c *Chooser) Rules(t Terms) search.Rules {
	w := &c.Wishes
	r := search.Rules{
		Cost: c.cost(t), Timed: c.barriers.timed, EndsOnly: c.stands.EndsOnly, Ferries: t.Ferries, Top: w.Top,
		Turn: c.turn, Budget: budget, Others: c.others(t), Aside: c.aside, Rejoin: rejoin,
	}
	if c.Network.Sequences() > 0 {
		r.Turns, r.Charge = c.Network.Turns(), c.charge
	}
	for _, road := range w.By {
		r.Uses = append(r.Uses, func(e network.EdgeID) bool { return c.barriers.bears(e, road) })
	}
	if t.Lifted == nil {
		r.Height, _ = c.Rig.Height.Least()
	}
	if t.Above != nil && t.Above.quantity == rig.Height {
		r.Height = max(r.Height, measure.Length(t.Above.value))
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
func (c *Chooser) cost(t Terms) func(network.Piece, search.Millis) (search.Millis, bool) {
	return func(p network.Piece, at search.Millis) (search.Millis, bool) {
		e := p.Arc.Edge()
		if c.Network.Class[e].Water() && !t.Ferries || c.stands.Closed(p) || c.shut(p, t) {
			return 0, false
		}
		cost := c.price(p, t)
		if t.Dearer != nil {
			cost = t.Dearer(p, cost)
		}
		wait, opens := c.wait(p, at, t)
		if !opens {
			return 0, false
		}
		cost += wait
		if c.AvoidUnmeasured {
			cost += detour / max(t.Share, 1) * search.Millis(c.stands.Blind(p))
		}
		return cost, true
	}
}

// shut reports whether anything that counts under the terms shuts a piece.
func (c *Chooser) shut(p network.Piece, t Terms) bool {
	for _, barrier := range c.barriers.on(p) {
		if barrier.When == "" && (t.Lifted == nil || !t.Lifted(barrier)) {
			return true
		}
	}
	return t.Above != nil && !c.passes(p, t.Above) || t.Unpermitted && c.barriers.asks(p.Arc.Edge()) ||
		c.barriers.in(p.Arc.Edge(), c.shutAreas)
}
