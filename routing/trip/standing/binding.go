package standing

import (
	"cmp"
	"math"
	"slices"

	"wayhouse/regs/clearance"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// RoadsUnder returns the roads that a structure may stand over: those that
// bear its number, of any edge that is about as near as the nearest, because a
// structure at a junction stands over every edge that meets there. Where no
// number is given, or none near bears it, all roads about as near are taken,
// in doubt.
func (a *Atlas) RoadsUnder(s clearance.Structure) (roads []network.Snapped, doubt say.Remark) {
	near := a.Index.Near(s.Point, Reach)
	slices.SortStableFunc(near, func(a, b network.Snapped) int { return cmp.Compare(a.Distance, b.Distance) })
	if s.Way != 0 {
		if own := a.those(near, func(e network.EdgeID) bool { return a.Network.Origin(e) == s.Way }); len(own) > 0 {
			return aboutAsNear(own), say.Remark{}
		}
	}
	graded := a.those(near, func(e network.EdgeID) bool { return a.atGrade(e, s.Grade) })
	told := len(graded) > 0
	if !told {
		graded = near // the network does not tell which road is on a bridge
	}
	named := a.those(graded, func(e network.EdgeID) bool { return a.Network.Bears(e, s.Road) })
	switch {
	case len(named) > 0 && s.Grade != clearance.AnyGrade:
		return within(named, carriageways), say.Remark{} // one bridge is over both carriageways
	case len(named) > 0:
		return aboutAsNear(named), say.Remark{}
	case s.Road == "" && !told:
		return aboutAsNear(graded), say.That("structure.no_grade", "grade", s.Grade)
	case s.Road == "":
		roads = aboutAsNear(graded)
		if len(roads) > 1 {
			doubt = say.That("structure.several_near")
		}
		return roads, doubt
	}
	return near, say.That("structure.no_such_road", "road", s.Road)
}

// alike lists the roads that bear the number of a structure's road with other
// letters before it, and that lie no farther than the road that bears it as it is
// written, or little.
func (a *Atlas) alike(s clearance.Structure, far measure.Distance) []network.Snapped {
	if s.Road == "" || s.Way != 0 {
		return nil
	}
	return a.those(a.Index.Near(s.Point, far+structureDoubt), func(e network.EdgeID) bool {
		return a.atGrade(e, s.Grade) && a.Network.MayBear(e, s.Road)
	})
}

func (a *Atlas) those(near []network.Snapped, keep func(network.EdgeID) bool) []network.Snapped {
	var out []network.Snapped
	for _, n := range near {
		if keep(n.Edge) {
			out = append(out, n)
		}
	}
	return out
}

// atGrade reports whether an edge may be the road that a structure binds: what it
// carries is on a bridge, what passes under it is not.
func (a *Atlas) atGrade(e network.EdgeID, g clearance.Grade) bool {
	onBridge := a.Network.Record(a.Network.RoadID(e)).Flags.Has(network.OnBridge)
	switch g {
	case clearance.On:
		return onBridge
	case clearance.Under:
		return !onBridge
	default:
		return true
	}
}

// aboutAsNear keeps what lies little farther than the nearest.
func aboutAsNear(near []network.Snapped) []network.Snapped { return within(near, structureDoubt) }

// carriageways is how much farther than the nearer one the other carriageway of
// a divided road may lie.
const carriageways measure.Distance = 150

// within keeps what lies at most so much farther than the nearest.
func within(near []network.Snapped, more measure.Distance) []network.Snapped {
	for i, n := range near {
		if n.Distance > near[0].Distance+more {
			return near[:i]
		}
	}
	return near
}

// binds tells which ways of travel on an edge a structure's direction means.
func (a *Atlas) binds(s clearance.Structure, at network.Position) (forward, backward bool) {
	i := slices.Index(clearance.Compass, s.Direction)
	if i < 0 {
		return true, true
	}
	const step measure.Distance = 20
	piece := network.Piece{
		Arc: network.MakeArc(at.Edge, false), Start: max(at.Offset-step, 0),
		End: min(at.Offset+step, a.Network.Length[at.Edge]),
	}
	line := a.Network.Line(piece)
	heading := geodesic.Bearing(line[0], line[len(line)-1])
	off := math.Abs(math.Remainder(heading-45*float64(i), 360))
	// A road that is signed east runs north here and there. Only where it runs
	// within 45 degrees of the other way is a way of travel left out.
	return off <= 135, off >= 45
}
