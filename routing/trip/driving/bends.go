package driving

import (
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig/sweep"
)

// Spot is a place on the way.
type Spot struct {
	At    measure.Distance // from the first stop
	Point orb.Point
	Road  say.Remark
}

// Corner is a corner that a long rig has to be steered through.
type Corner struct {
	Spot
	Onto   say.Remark       // the road after it
	Turn   float64          // degrees, to the right positive
	Radius measure.Distance // at most, as the road is drawn
	// Driven is the radius that the first axle was driven on.
	Driven measure.Distance
	// Swept is the strip of road that the rig takes: what its axles cut in by to one
	// side, its tail swings out by beyond its own half width to the other, and itself.
	Swept, OffTracking, TailSwing measure.Distance
	Cuts, Swings                  sweep.Side
	RoadWidth                     measure.Length // the narrower of the tagged widths of both roads; 0: not tagged
	Speed                         measure.Speed  // to take it at no more than half of what tips the unit; 0: not known
	Ring, Mini                    bool           // on a roundabout; over a mini-roundabout
	Tighter                       bool           // the road is drawn tighter than the lock of the tow vehicle
	Unknown                       say.Remark     // why it could not be driven; none: it was
}

// Curve is a bend that is no corner.
type Curve struct {
	Spot
	Radius  measure.Distance // at most, as the road is drawn
	Speed   measure.Speed    // to take no more than half of what tips it
	Assumed measure.Speed    // of the plan; 0: not known
	Slower  bool             // the rig should be slower than the plan assumes, or may have to be
}

// Coarse is what of the way is drawn in too long pieces, or too unsteadily, to show how
// tightly it bends. The spot is where it turns the most.
type Coarse struct {
	Spot
	Bends  int
	Turn   float64          // degrees, to the right positive: there
	Length measure.Distance // of the pieces before and after such bends
	until  measure.Distance // where the last of them ends
}

// Ground is a place where the underside may touch.
type Ground struct {
	Spot
	Kind network.Kind
	Of   string // the element of the map
}

// Bends are what the way does to a long rig.
type Bends struct {
	Corners  []Corner   // those that could not be driven first, then the widest
	Curves   []Curve    // the slowest first
	NoCurves say.Remark // why speeds in curves are not known
	Coarse   Coarse
	Grounds  []Ground
	UTurns   []UTurn // in the order of travel
}

// Slower lists the curves in which the rig should be slower than the plan assumes.
func (o Bends) Slower() []Curve {
	return slices.DeleteFunc(slices.Clone(o.Curves), func(c Curve) bool { return !c.Slower })
}

// Takes says what the rig takes of the road, and where.
func (c Corner) Takes() say.Remark {
	const told = 0.01 // m: less of a swing is none
	tail := c.TailSwing
	if tail < told {
		tail = 0
	}
	return say.That("corner.takes", "swept", c.Swept, "cuts", c.OffTracking, "in_left", c.Cuts == sweep.Left,
		"tail", tail, "out_left", c.Swings == sweep.Left)
}

// TooWide reports whether the rig takes more than the road is tagged to have.
func (c Corner) TooWide() bool { return c.RoadWidth > 0 && float64(c.Swept) > c.RoadWidth.Metres() }

// Place says where a corner is, for someone who looks it up.
func (c Corner) Place() say.Remark {
	switch {
	case c.Mini:
		return say.That("place.over_mini", "at", c.turned())
	case c.Ring:
		return say.That("place.on_ring", "at", c.turned())
	}
	return c.turned()
}

func (c Corner) turned() say.Remark {
	if c.Turn < 0 {
		return say.That("place.turn_left", "spot", c.Spot.Place(), "degrees", -c.Turn, "from", c.Road, "onto", c.Onto)
	}
	return say.That("place.turn_right", "spot", c.Spot.Place(), "degrees", c.Turn, "from", c.Road, "onto", c.Onto)
}

// Place gives coordinates, latitude first, and how far along the way.
func (s Spot) Place() say.Remark {
	return say.That("place.spot", "lat", s.Point.Lat(), "lon", s.Point.Lon(), "along", s.At, "road", s.Road)
}
