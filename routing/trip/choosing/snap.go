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
		at, off, ok := c.onStreet(s)
		if !ok {
			var err error
			if at, off, err = c.onNearest(fmt.Sprintf("stops[%d]", i), s); err != nil {
				return nil, err
			}
			c.Off = append(c.Off, c.offStreet(s, at)...)
		}
		c.OffRoads = append(c.OffRoads, off)
		c.Off = append(c.Off, StandsOff(at.Distance, say.That("off.open_road", "stop", s.Label, "distance", at.Distance))...)
		c.Off = append(c.Off, c.atEnd(s, at)...)
		if i > 0 && at.Position == out[i-1].Position {
			return nil, fail(fmt.Sprintf("stops[%d]", i), s.Label, say.That("error.lies_at_the_same"),
				say.That("fix.take_one_of_them"))
		}
		out = append(out, at)
	}
	c.snapped = out
	return out, nil
}

// ownStreet is how far a stop with an address is brought to the street of its address,
// past nearer roads: deep lots and the middle of large buildings lie so far off.
const ownStreet measure.Distance = 200

// onStreet brings a stop with an address onto its own street; ok is false where it has no
// address, or no such street that is open to the rig is near. off is how far it lies from it.
func (c *Chooser) onStreet(s Stop) (at network.Snapped, off say.Remark, ok bool) {
	for _, at := range c.ofStreet(s) {
		if c.stands.Drivable(at.Edge) {
			return at, say.That("off.own_street", "street", s.Street, "distance", at.Distance), true
		}
	}
	return at, off, false
}

// ofStreet lists where the street of a stop's address comes near to it, nearest first.
func (c *Chooser) ofStreet(s Stop) []network.Snapped {
	if s.Street == "" {
		return nil
	}
	return slices.DeleteFunc(c.Index.Near(s.Point, ownStreet), func(at network.Snapped) bool {
		return !c.Network.Bears(at.Edge, s.Street)
	})
}

// offStreet says that a stop with an address was put onto another road than that of its
// address; nothing where it has none.
func (c *Chooser) offStreet(s Stop, at network.Snapped) []say.Remark {
	if s.Street == "" {
		return nil
	}
	road := c.Network.RoadName(at.Edge)
	if own := c.ofStreet(s); len(own) > 0 {
		return []say.Remark{say.That("off.own_closed", "stop", s.Label, "street", s.Street, "road", road,
			"closed", c.stands.ClosedRoad(own[0].Edge))}
	}
	return []say.Remark{
		say.That("off.other_street", "stop", s.Label, "street", s.Street, "road", road, "within", ownStreet),
	}
}

// onNearest brings a stop onto the nearest road that is open to the rig, and says how far it
// lies from it. field names the stop in an error.
func (c *Chooser) onNearest(field string, s Stop) (at network.Snapped, off say.Remark, err error) {
	at, err = c.Index.Snap(s.Point, Reach, c.stands.Drivable)
	near, nearErr := c.Index.Snap(s.Point, Reach, nil)
	switch {
	case err != nil && nearErr == nil:
		return at, off, fail(field, s.Label, say.That("error.stop_closed", "why", c.stands.ClosedRoad(near.Edge)),
			say.That("fix.stop_closed"))
	case err != nil:
		return at, off, fail(field, s.Label, say.That("error.stop_off", "why", c.offNetwork(err)), say.That("fix.stop_off"))
	case nearErr == nil && near.Edge != at.Edge && at.Distance > near.Distance+closer:
		return at, say.That("off.closed_nearer", "distance", at.Distance, "closed", c.stands.ClosedRoad(near.Edge)), nil
	default:
		return at, say.That("off.road", "distance", at.Distance), nil
	}
}

// offNetwork is why no road was found for a stop.
func (c *Chooser) offNetwork(err error) say.Remark {
	var far *network.TooFarError
	if !errors.As(err, &far) {
		return say.That("off.no_road")
	}
	return say.That("off.too_far", "reach", measure.Distance(far.Reach), "lat", far.Point.Lat(), "lon", far.Point.Lon(),
		"road", far.Road, "away", measure.Distance(far.Nearest.Distance),
		"beyond", !c.Network.Spans(far.Point))
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
