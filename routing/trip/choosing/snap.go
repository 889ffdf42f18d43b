package choosing

import (
	"fmt"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
)

// Snap brings every stop onto a road, once.
func (c *Chooser) Snap() ([]network.Snapped, error) {
	if c.snapped != nil {
		return c.snapped, nil
	}
	var out []network.Snapped
	for i, s := range c.Stops {
		at, err := c.Index.Snap(s.Point, Reach, c.stands.Drivable)
		nearest, nearErr := c.Index.Snap(s.Point, Reach, nil)
		if err != nil && nearErr == nil {
			return nil, fail(fmt.Sprintf("stops[%d]", i), s.Label, "lies at roads that are closed to such a rig: "+c.stands.ClosedRoad(nearest.Edge), "choose a place on another road, or ask who may open it")
		}
		if err != nil {
			return nil, fail(fmt.Sprintf("stops[%d]", i), s.Label, "is off this network: "+err.Error(), "choose a place near one of its roads")
		}
		words := offRoad(at)
		if nearErr == nil && nearest.Edge != at.Edge && at.Distance > nearest.Distance+closer {
			words = fmt.Sprintf("; the stop lies %s from the nearest road that is open to such a rig. A nearer one is not: %s", at.Distance, c.stands.ClosedRoad(nearest.Edge))
		}
		c.OffRoads = append(c.OffRoads, words)
		c.Off = append(c.Off, StandsOff(s.Label, at.Distance, "nearest road of the network that is open to such a rig")...)
		if i > 0 && at.Position == out[i-1].Position {
			return nil, fail(fmt.Sprintf("stops[%d]", i), s.Label, "lies at the same point of the road as the stop before", "take one of them out")
		}
		out = append(out, at)
	}
	c.snapped = out
	return out, nil
}

// farOff is how far a stop may lie from the network without a word at the head of
// the answer: what leads there was not looked at.
const farOff measure.Distance = 300

// StandsOff says in words that a stop lies far off; none where it does not.
func StandsOff(stop string, d measure.Distance, from string) []string {
	if d <= farOff {
		return nil
	}
	return []string{fmt.Sprintf("%s lies %s from the %s: the way between was NOT CHECKED", stop, d, from)}
}

// closer is how much nearer a closed road has to be for a stop to be said to lie
// on it.
const closer measure.Distance = 15

// Travelled leaves pieces of no length out of a path, unless a structure stands on one.
func (c *Chooser) Travelled(path search.Path) search.Path {
	out := slices.DeleteFunc(slices.Clone(path.Pieces), func(p network.Piece) bool { return p.Length() == 0 && len(c.stands.On(p)) == 0 })
	if len(out) == 0 {
		out = path.Pieces[:1]
	}
	return search.Path{Pieces: out, Cost: path.Cost}
}

func offRoad(s network.Snapped) string {
	return fmt.Sprintf("; the stop lies %s from the nearest road of the network", s.Distance)
}
