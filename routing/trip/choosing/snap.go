package choosing

import (
	"errors"
	"fmt"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
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
			return nil, &measure.FieldError{
				Field: fmt.Sprintf(
					"stops[%d]",
					i,
				), Value: s.Label, Problem: say.That("error.stop_closed", "why", c.stands.ClosedRoad(nearest.Edge)),
				Fix: say.That("fix.stop_closed"),
			}
		}
		if err != nil {
			return nil, &measure.FieldError{
				Field: fmt.Sprintf("stops[%d]", i), Value: s.Label, Problem: say.That("error.stop_off", "why", offNetwork(err)),
				Fix: say.That("fix.stop_off"),
			}
		}
		off := say.That("off.road", "distance", at.Distance)
		if nearErr == nil && nearest.Edge != at.Edge && at.Distance > nearest.Distance+closer {
			off = say.That("off.closed_nearer", "distance", at.Distance, "closed", c.stands.ClosedRoad(nearest.Edge))
		}
		c.OffRoads = append(c.OffRoads, off)
		c.Off = append(c.Off, StandsOff(at.Distance, say.That("off.open_road", "stop", s.Label, "distance", at.Distance))...)
		if i > 0 && at.Position == out[i-1].Position {
			return nil, fail(fmt.Sprintf("stops[%d]", i), s.Label, say.That("error.lies_at_the_same"),
				say.That("fix.take_one_of_them"))
		}
		out = append(out, at)
	}
	c.snapped = out
	return out, nil
}

// offNetwork is why no road was found for a stop.
func offNetwork(err error) say.Remark {
	var far *network.TooFarError
	if !errors.As(err, &far) {
		return say.That("off.no_road")
	}
	return say.That("off.too_far", "reach", measure.Distance(far.Reach), "lat", far.Point.Lat(), "lon", far.Point.Lon(),
		"road", far.Road, "away", measure.Distance(far.Nearest.Distance))
}

// farOff is how far a stop may lie from the network without a word at the head of
// the answer: what leads there was not looked at.
const farOff measure.Distance = 300

// StandsOff says that a stop lies far off; nothing where it does not.
func StandsOff(d measure.Distance, says say.Remark) []say.Remark {
	if d <= farOff {
		return nil
	}
	return []say.Remark{says}
}

// closer is how much nearer a closed road has to be for a stop to be said to lie
// on it.
const closer measure.Distance = 15

// Travelled leaves pieces of no length out of a path, unless a structure stands on one.
func (c *Chooser) Travelled(path search.Path) search.Path {
	out := slices.DeleteFunc(slices.Clone(path.Pieces), func(p network.Piece) bool {
		return p.Length() == 0 && len(c.stands.On(p)) == 0
	})
	if len(out) == 0 {
		out = path.Pieces[:1]
	}
	return search.Path{Pieces: out, Cost: path.Cost}
}
