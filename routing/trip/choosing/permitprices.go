package choosing

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/roads"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/standing"
)

// asks reports whether a permit is asked for on a road, be it only perhaps; kinds of
// road that rules cannot tell apart are asked about once.
func (bs *barriers) asks(e network.EdgeID) bool {
	n := bs.stands.Network
	codes := n.Jurisdictions(e)
	one := standing.RoadOf(n, e)
	one.Name = ""
	key := fmt.Sprintf("%q %#v", codes, one)
	yes, known := bs.asking[key]
	if !known {
		found := bs.stands.Tables.Check(bs.of.Rig.Vehicle(bs.stands.Allowances), regs.Stay{
			Jurisdictions: codes, OwnerKnown: true, Roads: []roads.Road{one},
		}, bs.stands.Departure)
		yes = slices.ContainsFunc(found, func(f finding.Finding) bool { return len(f.Demands.Permits) > 0 })
		bs.asking[key] = yes
	}
	return yes
}

// choosePermits tries every set of the jurisdictions whose permits cost something
// once, and keeps to the one with which the whole trip costs least.
func (c *Chooser) choosePermits(ctx context.Context) error {
	w := &c.Wishes
	if !w.Once {
		return nil
	}
	codes := slices.Sorted(maps.Keys(w.PermitCosts))
	best, least := []string(nil), search.Infinite
	for set := range 1 << len(codes) {
		cost, shut := search.Millis(0), []string{}
		for i, code := range codes {
			if set>>i&1 == 1 {
				cost += search.Millis(w.PermitCosts[code].Milliseconds())
			} else {
				shut = append(shut, code)
			}
		}
		c.shutAreas, c.after = shut, 0
		for i := 1; i < len(c.snapped) && cost < least; i++ {
			path, err := c.First(ctx, c.snapped[i-1].Position, c.snapped[i].Position, Terms{})
			if errors.Is(err, search.ErrNoRoute) {
				path.Cost, err = search.Infinite, nil
			}
			if err != nil {
				return err
			}
			cost += path.Cost
			c.after += c.takes(path)
		}
		if cost < least {
			best, least = shut, cost
		}
	}
	c.shutAreas = best // none where no set opens a way: then it is said what shuts it
	return nil
}

// in reports whether an edge lies in one of the jurisdictions.
func (bs *barriers) in(e network.EdgeID, codes []string) bool {
	return len(codes) > 0 && slices.ContainsFunc(bs.stands.Network.Jurisdictions(e), func(c string) bool {
		return slices.Contains(codes, c)
	})
}

// entry is what entering the jurisdictions of an edge from another costs.
func (bs *barriers) entry(from, to network.EdgeID) (cost search.Millis) {
	w := &bs.of.Wishes
	if w.Once || w.PermitCost == 0 && len(w.PermitCosts) == 0 || bs.stands.Network.SameArea(from, to) {
		return 0
	}
	before := bs.stands.Network.Jurisdictions(from)
	for _, code := range bs.stands.Network.Jurisdictions(to) {
		if !slices.Contains(before, code) {
			cost += search.Millis(w.entering(code).Milliseconds())
		}
	}
	return cost
}
