package choosing

import (
	"context"
	"errors"

	"wayhouse/routing/network"
	"wayhouse/routing/search"
)

// signHours is how what shuts a road at certain hours counts in a search.
type signHours int

const (
	byClock signHours = iota // at the hour of passing
	asOpen                   // not at all
	asShut                   // throughout, where the trip meets it
)

// others is what roads cost that are no truck roads.
func (c *Chooser) others(t Terms) network.Permille {
	switch {
	case t.Alike:
		return network.Alike
	case c.Wishes.Others == 0:
		return network.Preferred
	default:
		return c.Wishes.Others
	}
}

// Preference is by what factor roads are dearer that are no truck roads: 1 where nothing is,
// or the network does not know of them.
func (c *Chooser) Preference() float64 {
	if c.Network.Lacks(network.TruckRoads) {
		return 1
	}
	return float64(c.others(Terms{})) / float64(network.Alike)
}

// price is what a piece costs for its own sake: its driving time, and more where it is
// no truck road.
func (c *Chooser) price(p network.Piece, t Terms) search.Millis {
	return search.Millis(c.Network.Price(p, c.Wishes.Top, c.others(t)))
}

// preference is how much of what pieces cost is for roads that are no truck roads: no time.
func (c *Chooser) preference(pieces []network.Piece) (sum search.Millis) {
	for _, p := range pieces {
		sum += c.price(p, Terms{}) - search.Millis(c.Network.Millis(p, c.Wishes.Top))
	}
	return sum
}

// takes is what a way takes without what is only a preference of roads.
func (c *Chooser) takes(path search.Path) search.Millis { return path.Cost - c.preference(path.Pieces) }

// route finds the cheapest path between two positions. A price for roads that are no truck
// roads is no clock that signs with hours could be met by:
//
//  1. Search as if they were open at all hours. Where that way meets none shut, it is the answer.
//  2. Else search with the roads alike, by the clock, and with the preference, such signs shut
//     throughout; the cheaper way under the preference is the answer.
func (c *Chooser) route(ctx context.Context, from, to network.Position, t Terms) (search.Path, error) {
	if c.Network.Lacks(network.TruckRoads) || c.others(t) <= network.Alike || c.penalised(t) {
		return c.seek(ctx, from, to, t)
	}
	open := t
	open.Hours = asOpen
	path, err := c.seek(ctx, from, to, open)
	if err != nil || !c.held(path.Pieces, t) {
		return path, err
	}
	alike, shut := t, t
	alike.Alike, shut.Hours = true, asShut
	timed, errTimed := c.seek(ctx, from, to, alike)
	kept, errKept := c.seek(ctx, from, to, shut)
	timed.Cost += c.preference(timed.Pieces)
	switch {
	case errTimed != nil && !errors.Is(errTimed, search.ErrNoRoute):
		return timed, errTimed
	case errTimed == nil && (errKept != nil || timed.Cost <= kept.Cost):
		return timed, nil
	default:
		return kept, errKept
	}
}

// held reports whether a way comes to a road while a sign with hours shuts it.
func (c *Chooser) held(pieces []network.Piece, t Terms) bool {
	at := search.Millis(0)
	for i, p := range pieces {
		if i > 0 {
			at += c.turn(pieces[i-1].Arc, p.Arc)
		}
		if wait, opens := c.wait(p, at, t); wait > 0 || !opens {
			return true
		}
		at += search.Millis(c.Network.Millis(p, c.Wishes.Top))
	}
	return false
}
