package choosing

import (
	"errors"
	"math"

	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/driving"
)

// How much a turn at a junction costs where traffic keeps right: a long rig takes turns slowly, waits for a gap to
// turn left, and rather goes on. This project's choice, no source. Where traffic keeps left nothing of this is met.
const (
	rightTurn    search.Millis = 6_000 // from network.SharpTurn degrees
	leftTurn     search.Millis = 9_000
	hairpin      search.Millis = 40_000
	hairpinAngle               = 120.0 // degrees
	turnBack     search.Millis = 600_000
	lastResort   search.Millis = 7_200_000
	rejoin       search.Millis = 600_000 // from service roads in mid-trip
)

// aside reports whether a piece is of a service road: it leads to a place, and is driven in mid-trip only where that
// saves much.
func (c *Chooser) aside(p network.Piece) bool {
	return c.Network.Class[p.Arc.Edge()] == network.Service
}

// turn is what driving from one arc into another costs: the turn itself, and the
// permits of what is entered.
func (c *Chooser) turn(in, on network.Arc) search.Millis {
	cost := search.Millis(0)
	switch right := c.Network.Deflection(in, on); {
	case math.Abs(right) > hairpinAngle:
		cost = hairpin
	case right > network.SharpTurn:
		cost = rightTurn
	case right < -network.SharpTurn:
		cost = leftTurn
	}
	if cost > 0 {
		cost = search.Millis(float64(cost) * c.turns.Share)
	}
	return cost + c.barriers.entry(in.Edge(), on.Edge())
}

// charge is what a sequence costs that was driven to its end: a forbidden turn must not be, nor a U-turn that the
// rig cannot drive or does not wish for.
func (c *Chooser) charge(sequence int32) search.Millis {
	turn := int(sequence) - c.Network.Bans()
	switch {
	case turn < 0 && c.stands.Banned(sequence):
		return search.Infinite
	case turn < 0:
		return 0
	case c.Wishes.NoUTurns:
		return search.Infinite
	}
	switch fits := c.turns.Fits(turn); {
	case fits == driving.Cannot && c.tight:
		return lastResort
	case fits == driving.Cannot:
		return search.Infinite
	default:
		return search.Millis(float64(turnBack) * max(c.turns.Share, 1))
	}
}

// orTight searches once more with U-turns open that the rig cannot drive, where there is no way without: they stay
// open for the rest of the trip, as the last resort, and the plan names each.
func (c *Chooser) orTight(seek func() (search.Path, error)) (search.Path, error) {
	path, err := seek()
	if !errors.Is(err, search.ErrNoRoute) || c.tight || c.Wishes.NoUTurns || !c.turns.Tight() {
		return path, err
	}
	c.tight = true
	path, err = seek()
	c.tight = err == nil
	return path, err
}
