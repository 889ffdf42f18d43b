package driving

import (
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/sweep"
)

// Can is whether a rig can drive something.
type Can uint8

// The answers. Perhaps is the zero value: it is not known.
const (
	Perhaps Can = iota
	Cannot
	CanDrive
)

// Turner knows how a rig turns at junctions.
type Turner struct {
	// Share is how much room the rig takes in a corner, of a lane and a half. Where it is not known how it tracks, its
	// length says as much, of 15 m.
	Share float64

	net    *network.Network
	radius measure.Distance // of the middle of the first axle at full lock; 0: not given
	needs  measure.Distance // between kerbs, to turn back; 0: not known
}

// Tight reports whether there are U-turns that the rig cannot drive.
func (t *Turner) Tight() bool { return t.net.UTurns() > 0 && t.radius > 0 }

// A lane is mostly 12 ft wide and at the least 10 ft (American Association of State Highway and Transportation
// Officials, A Policy on Geometric Design of Highways and Streets, 2018, section 4.3, from memory). A rig of usualRig
// takes a lane and a half where a street is left for another (this project's choice).
const (
	usualLane measure.Distance = 3.66
	leastLane measure.Distance = 3.05
	usualRig                   = 15.0 // m
)

// NewTurner returns how a rig turns.
func NewTurner(n *network.Network, r rig.Rig) *Turner {
	t := &Turner{net: n, Share: 1}
	if long, ok := r.Length.Value(); ok {
		t.Share = long.Metres() / usualRig
	}
	turning := r.Turning()
	driven := assumedLock
	if turning.Radius != nil {
		t.radius = measure.Distance(turning.Radius.Metres())
		driven = t.radius
	}
	plan, ok := turning.Rig.Value()
	if !ok {
		return t
	}
	if circle, held := sweep.Steady(plan, driven); held {
		t.Share = float64(circle.Width / (1.5 * usualLane))
		if t.radius > 0 {
			t.needs = plan.TowWidth/2 + t.radius + max(circle.FrontCorner, circle.UnitFront, circle.Tail)
		}
	}
	return t
}

// Fits reports whether the rig can drive a U-turn: between the outer edges of both roads, where their width or lanes
// are known, else on the circle of its lock between the lines of both. That of a rig whose lock is not given is not
// known.
func (t *Turner) Fits(uturn int) Can {
	room, needs := t.Room(uturn)
	switch {
	case needs == 0:
		return Perhaps
	case needs > room:
		return Cannot
	default:
		return CanDrive
	}
}

// Room is what a U-turn offers from side to side and what the rig needs, metres; 0 where that is not known.
func (t *Turner) Room(uturn int) (room, needs measure.Distance) {
	u, arcs := t.net.UTurn(uturn)
	in, out := t.width(arcs[0].Edge()), t.width(arcs[len(arcs)-1].Edge())
	if in == 0 || out == 0 || t.needs == 0 {
		return measure.Distance(u.Across), 2 * t.radius
	}
	return measure.Distance(u.Across) + (in+out)/2, t.needs
}

// width is how wide a road is at the least, 0 where nothing says so.
func (t *Turner) width(e network.EdgeID) measure.Distance {
	r := t.net.Record(t.net.RoadID(e))
	if r.Width > 0 {
		return measure.Distance(r.Width.Metres())
	}
	return measure.Distance(r.Lanes) * leastLane
}
