package choosing

import (
	"context"
	"errors"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
)

// Bounds of alternatives: how many there are, by how much longer each may take,
// and how much of it no way before has.
const (
	MaxAlternatives = 3
	mostLonger      = 0.25
	leastNew        = 0.20
	// A road that a way before has costs this share more for each that has it.
	usedPenalty     = 0.4
	penaltySearches = 40 // for alternatives, of all legs together; of many legs two turns all the same
)

// under finds the way between all stops under terms.
func (c *Chooser) under(ctx context.Context, t Terms) ([]search.Path, error) {
	var out []search.Path
	c.after = 0
	for i := 1; i < len(c.snapped); i++ {
		path, err := c.First(ctx, c.snapped[i-1].Position, c.snapped[i].Position, t)
		if err != nil {
			return nil, err
		}
		out = append(out, c.Travelled(path))
		c.after += c.takes(path)
	}
	return out, nil
}

// Share returns how much of ways, by length, none of others has.
func Share(ways []search.Path, others [][]search.Path) float64 {
	used := map[network.EdgeID]bool{}
	for _, other := range others {
		for _, w := range other {
			for _, p := range w.Pieces {
				used[p.Arc.Edge()] = true
			}
		}
	}
	var fresh, all measure.Distance
	for _, w := range ways {
		for _, p := range w.Pieces {
			all += p.Length()
			if !used[p.Arc.Edge()] {
				fresh += p.Length()
			}
		}
	}
	if all == 0 {
		return 0
	}
	return float64(fresh / all)
}

// Alternatives finds ways that differ: roads that ways before have become dearer,
// and what is then cheapest is one if it takes not much longer and is new enough
// (the penalty method; Y. Chen, M. Bell, K. Bogenberger, "Reliable Pretrip
// Multipath Planning and Dynamic Adaptation for a Centralized Road Navigation
// System", IEEE Transactions on Intelligent Transportation Systems 8, 2007).
func (c *Chooser) Alternatives(ctx context.Context, best []search.Path, most int) ([][]search.Path, error) {
	used, taken := map[network.EdgeID]int{}, [][]search.Path{best}
	count(used, best)
	dearer := func(p network.Piece, cost search.Millis) search.Millis {
		return cost + search.Millis(usedPenalty*float64(cost)*float64(used[p.Arc.Edge()]))
	}
	for turn := 0; turn < max(penaltySearches/len(best), 2) && len(taken) <= most; turn++ {
		ways, err := c.under(ctx, Terms{Dearer: dearer})
		if errors.Is(err, search.ErrNoRoute) {
			break
		}
		if err != nil {
			return nil, err
		}
		count(used, ways)
		longer := float64(c.drivingOf(ways)) / float64(max(c.drivingOf(best), 1))
		if longer <= 1+mostLonger && Share(ways, taken) >= leastNew {
			taken = append(taken, ways)
		}
	}
	return taken[1:], nil
}

// count counts the edges of ways; one that several legs drive counts once.
func count(used map[network.EdgeID]int, ways []search.Path) {
	seen := map[network.EdgeID]bool{}
	for _, w := range ways {
		for _, p := range w.Pieces {
			if e := p.Arc.Edge(); !seen[e] {
				seen[e] = true
				used[e]++
			}
		}
	}
}

// drivingOf is the driving time of ways, unknown speeds as the search takes them.
func (c *Chooser) drivingOf(ways []search.Path) (sum search.Millis) {
	for _, w := range ways {
		for _, p := range w.Pieces {
			sum += search.Millis(c.Network.Millis(p, c.Wishes.Top))
		}
	}
	return sum
}

// Free finds the way of a rig that no structure and no sign shuts out; none where
// there is none, or it is the best.
func (c *Chooser) Free(ctx context.Context, best []search.Path) ([]search.Path, error) {
	ways, err := c.under(ctx, Terms{Lifted: isOfRoad})
	if errors.Is(err, search.ErrNoRoute) || err == nil && same(ways, best) {
		return nil, nil
	}
	return ways, err
}

func same(a, b []search.Path) bool {
	return slices.EqualFunc(a, b, func(a, b search.Path) bool { return slices.Equal(a.Pieces, b.Pieces) })
}

// Unpermitted finds the best way on which the tables ask for no permit by quantity and
// road; [search.ErrNoRoute] where there is none.
func (c *Chooser) Unpermitted(ctx context.Context) ([]search.Path, error) {
	return c.under(ctx, Terms{Unpermitted: true})
}
