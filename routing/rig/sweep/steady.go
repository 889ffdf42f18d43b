package sweep

import (
	"math"

	"wayhouse/regs/measure"
)

// Circle is where a rig runs once it has settled on a circle. All radii are
// measured from the centre of the circle.
type Circle struct {
	OffTracking measure.Distance // how far the trailer's axle middle runs inside the front axle's
	TrailerAxle measure.Distance // radius of the trailer's axle middle
	Inner       measure.Distance // radius of the innermost side, negative where a body covers the centre
	FrontCorner measure.Distance // radius of the tow vehicle's outer front corner
	UnitFront   measure.Distance // radius of the unit's outer front corner
	Tail        measure.Distance // radius of the unit's outer rear corner
	Width       measure.Distance // outermost corner to innermost side
}

// Steady returns the circle of a rig whose front axle middle runs on a circle
// of the given radius for ever. A turn that ends cuts in less, but for a coupling
// far behind the rear axle: that swings in as the tow vehicle straightens, by
// some centimetres more (TestHitchSwingsIn).
//
// With R the radius, L1 the wheelbase, o the hitch offset and L2 the distance
// from coupling to axles, the trailer axle runs at the square root of
// R^2 - (L1^2 - o^2 + L2^2). Source: the sum of squares of the Western Highway
// Institute, Offtracking Characteristics of Trucks and Truck Combinations
// (1970), from memory; the squared offset is confirmed by a municipal turning
// chart (TestMunicipalChart). Radii of corners: plane geometry of rigid bodies.
//
// It is false where the rig cannot hold that circle, and where the rig does
// not pass Check or the radius is no finite number.
func Steady(r Combination, radius measure.Distance) (Circle, bool) {
	if r.Check() != nil {
		return Circle{}, false
	}
	tow, axle, ok := r.axleRadii(radius)
	if !ok {
		return Circle{}, false
	}
	c := Circle{
		OffTracking: radius - axle,
		TrailerAxle: axle,
		Inner:       min(axle-r.UnitWidth/2, tow-r.TowWidth/2),
		FrontCorner: hypot(tow+r.TowWidth/2, r.Wheelbase+r.FrontOverhang),
		UnitFront:   hypot(axle+r.UnitWidth/2, r.CouplingToAxles+r.UnitFront),
		Tail:        hypot(axle+r.UnitWidth/2, r.UnitRear),
	}
	c.Width = max(c.FrontCorner, c.UnitFront, c.Tail) - c.Inner
	return c, true
}

// axleRadii returns the radii of the middles of the tow's rear axle and of the
// trailer's axle. The outer end of the tow's rear (tow plus half its width)
// stays inside the front corner, so nothing else bounds the outer side.
func (r Combination) axleRadii(radius measure.Distance) (tow, trailer measure.Distance, ok bool) {
	towSquare := radius*radius - r.Wheelbase*r.Wheelbase
	square := towSquare + r.HitchBehindRear*r.HitchBehindRear - r.CouplingToAxles*r.CouplingToAxles
	if !(radius > 0 && towSquare > 0 && square > 0) || math.IsInf(float64(square), 0) {
		return 0, 0, false
	}
	return root(towSquare), root(square), true
}

func root(square measure.Distance) measure.Distance {
	return measure.Distance(math.Sqrt(float64(square)))
}

func hypot(a, b measure.Distance) measure.Distance {
	return measure.Distance(math.Hypot(float64(a), float64(b)))
}
