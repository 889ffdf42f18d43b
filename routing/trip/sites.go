package trip

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/driving"
)

// Site is a place of the way that a driver looks at before, with the roads near it.
type Site struct {
	driving.Spot
	What  say.Remark
	Roads []NearRoad
}

// NearRoad is a road near a place.
type NearRoad struct {
	Line   orb.LineString
	Called say.Remark // none: it has no name
	Major  bool
}

// SiteReach is how far around a place its roads are told.
const SiteReach = 300 * measure.Distance(1)

// Of how many corners and of how many structures a plan has the roads around.
const (
	cornerSites    = 6
	structureSites = 6
)

// sites are the corners that come first, and the structures that are not clear.
func (p *Planner) sites(of *Plan) (out []Site) {
	if of.Road != nil {
		for _, c := range of.Road.Corners[:min(cornerSites, len(of.Road.Corners))] {
			out = append(out, Site{Spot: c.Spot, What: c.Place()})
		}
	}
	var from measure.Distance
	left := structureSites
	for _, l := range of.Legs {
		for _, s := range l.Structures {
			if s.Outcome == finding.Clear || s.Unplaced || left == 0 {
				continue
			}
			left--
			spot := driving.Spot{At: from + s.At, Point: s.Point, Road: s.Called}
			out = append(out, Site{Spot: spot, What: spot.Place()})
		}
		from += l.Length
	}
	slices.SortStableFunc(out, func(a, b Site) int { return cmp.Compare(a.At, b.At) })
	for i := range out {
		out[i].Roads = p.near(out[i].Point)
	}
	return out
}

// turns are all moves, for whoever draws them for the driver.
func (p *Planner) turns(of *Plan) (out []Site) {
	if of.Road == nil {
		return nil
	}
	for _, m := range of.Road.Moves {
		out = append(out, Site{Spot: m.Spot, What: m.Onto, Roads: p.near(m.Point)})
	}
	return out
}

// near are the roads around a place, the nearest first.
func (p *Planner) near(at orb.Point) (out []NearRoad) {
	const corners = 1.5 // of a square around the place lie farther than its sides
	for _, s := range p.Index.Near(at, SiteReach*corners) {
		road := NearRoad{Line: slices.Clone(p.Network.Shape(s.Edge))}
		if p.Network.Ref(s.Edge) != "" || p.Network.Name(s.Edge) != "" {
			road.Called = p.Network.RoadName(s.Edge)
		}
		c := p.Network.Class[s.Edge]
		road.Major = c >= network.Freeway && c <= network.Secondary
		out = append(out, road)
	}
	return out
}
