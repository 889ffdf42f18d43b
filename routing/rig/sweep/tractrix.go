package sweep

import "math"

// A vec is a point or a direction of the plane in metres. It is a struct, not
// an array, because the compiler keeps structs in registers.
type vec struct{ x, y float64 }

func (a vec) add(b vec) vec             { return vec{a.x + b.x, a.y + b.y} }
func (a vec) sub(b vec) vec             { return vec{a.x - b.x, a.y - b.y} }
func (a vec) times(k float64) vec       { return vec{a.x * k, a.y * k} }
func (a vec) dot(b vec) float64         { return a.x*b.x + a.y*b.y }
func (a vec) cross(b vec) float64       { return a.x*b.y - a.y*b.x }
func (a vec) left() vec                 { return vec{-a.y, a.x} }
func (a vec) length() float64           { return math.Sqrt(a.dot(a)) }
func (a vec) turned(sin, c float64) vec { return vec{a.x*c - a.y*sin, a.x*sin + a.y*c} }

// angle returns the unsigned angle between two directions, 0 to pi.
func (a vec) angle(b vec) Angle { return Angle(math.Atan2(math.Abs(a.cross(b)), a.dot(b))) }

// follow returns the heading of a body after the point that pulls it moved
// straight by d. The body's axle lies a length behind that point.
//
// On a straight pull the angle f between pull and heading obeys df/ds =
// -sin(f)/length, whose exact solution is tan(f/2) = tan(f0/2) exp(-s/length).
// So a step has no error of its own; a curved pull is cut into chords, which
// leaves an error of second order in the step.
func follow(heading, d vec, length float64) vec {
	s := d.length()
	if s == 0 {
		return heading
	}
	pull := d.times(1 / s)
	c := 1 + heading.dot(pull)
	if c < 1e-12 { // pushed straight back, in balance: it runs backwards and does not turn
		return heading
	}
	t := heading.cross(pull) / c * math.Exp(-s/length)
	w := 1 / (1 + t*t)
	return pull.turned(-2*t*w, (1-t*t)*w)
}

// A pose is where the rig is: its front axle, and the headings of both bodies
// as unit vectors.
type pose struct{ front, tow, unit vec }

// moved returns the pose after the front axle moved straight to a point.
func (p pose) moved(r Combination, to vec) pose {
	before := p.coupling(r)
	p.tow = follow(p.tow, to.sub(p.front), float64(r.Wheelbase))
	p.front = to
	p.unit = follow(p.unit, p.coupling(r).sub(before), float64(r.CouplingToAxles))
	return p
}

func (p pose) coupling(r Combination) vec {
	return p.front.sub(p.tow.times(float64(r.Wheelbase + r.HitchBehindRear)))
}

// The points of the rig that bound what it sweeps. A rigid body whose axle
// does not slip turns about a point on the line of its axle, so the envelope
// of its straight side is drawn by the end of that line, abreast of the axle.
// With the corners these are all points that can be outermost or innermost.
const (
	rearLeft = iota
	rearRight
	trailerAxle // the middle, for the off-tracking
	axleLeft
	axleRight
	otherOutline
	points = otherOutline + 8
)

func (p pose) outline(r Combination) [points]vec {
	coupling := p.coupling(r)
	axle := coupling.sub(p.unit.times(float64(r.CouplingToAxles)))
	half := p.unit.left().times(float64(r.UnitWidth) / 2)
	towHalf := p.tow.left().times(float64(r.TowWidth) / 2)
	tail := axle.sub(p.unit.times(float64(r.UnitRear)))
	nose := coupling.add(p.unit.times(float64(r.UnitFront)))
	bumper := p.front.add(p.tow.times(float64(r.FrontOverhang)))
	towAxle := p.front.sub(p.tow.times(float64(r.Wheelbase)))
	towEnd := towAxle.sub(p.tow.times(float64(max(r.HitchBehindRear, 0))))
	return [points]vec{
		tail.add(half), tail.sub(half), axle,
		axle.add(half), axle.sub(half), nose.add(half), nose.sub(half),
		bumper.add(towHalf), bumper.sub(towHalf), towAxle.add(towHalf), towAxle.sub(towHalf),
		towEnd.add(towHalf), towEnd.sub(towHalf),
	}
}
