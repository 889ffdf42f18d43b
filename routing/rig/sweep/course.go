package sweep

import (
	"math"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
)

// Stance is where a rig stands at one moment, seen from above in planar metres.
type Stance struct {
	Front, TowAxle, Coupling, UnitAxle orb.Point // the middles
	// Tow and Unit are the corners of both bodies: front left, front right, rear right,
	// rear left.
	Tow, Unit [4]orb.Point
	// Articulation is the angle between the middle lines of both, positive in a bend to
	// the left: there the unit lies to the right of where the tow vehicle points.
	Articulation Angle
}

// Course is a rig that is driven along a line, for those who draw it or look what it
// touches.
type Course struct {
	Path    orb.LineString // of the middle of the front axle, as it is driven
	Stances []Stance       // in the order of the way, first and last included
}

// Course drives the middle of the rig's front axle along a line, in steps of at most
// 0.1 m, and keeps where the rig stands at least so often that the axle goes no
// further than every between two of them. The rig starts straight on the first segment
// and stops where its front axle reaches the end: unlike [Driver.Drive] it adds no
// straights of its own. The error is that of Check, or wraps ErrPath.
func (r Combination) Course(path orb.LineString, every measure.Distance) (Course, error) {
	if err := r.Check(); err != nil {
		return Course{}, err
	}
	nodes, err := pathNodes(make([]vec, 1, len(path)+1), path)
	if err != nil {
		return Course{}, err
	}
	nodes = nodes[1:]
	way := nodes[1].sub(nodes[0])
	way = way.times(1 / way.length())
	out := Course{Path: line(nodes)}
	at, gone := pose{nodes[0], way, way}, 0.0
	out.Stances = append(out.Stances, at.stance(r))
	for i, to := range nodes[1:] {
		from := at.front
		n := math.Ceil(to.sub(from).length() / stationStep)
		step := to.sub(from).length() / n
		for k := 1.0; k <= n; k++ {
			at = at.moved(r, to.sub(to.sub(from).times(1-k/n)))
			gone += step
			if last := i == len(nodes)-2 && k == n; last || gone+step > float64(every) {
				out.Stances, gone = append(out.Stances, at.stance(r)), 0
			}
		}
	}
	return out, nil
}

// stance is a pose with all that is drawn of it.
func (p pose) stance(r Combination) Stance {
	coupling := p.coupling(r)
	axle := coupling.sub(p.unit.times(float64(r.CouplingToAxles)))
	towAxle := p.front.sub(p.tow.times(float64(r.Wheelbase)))
	return Stance{
		Front: p.front.point(), TowAxle: towAxle.point(), Coupling: coupling.point(), UnitAxle: axle.point(),
		Tow: body(p.front, p.tow, float64(r.FrontOverhang), float64(r.Wheelbase+max(r.HitchBehindRear, 0)),
			float64(r.TowWidth)),
		Unit: body(coupling, p.unit, float64(r.UnitFront), float64(r.CouplingToAxles+r.UnitRear),
			float64(r.UnitWidth)),
		Articulation: Angle(math.Atan2(p.unit.cross(p.tow), p.unit.dot(p.tow))),
	}
}

// body is the outline of a body that reaches so far ahead of a point and behind it.
func body(at, along vec, ahead, behind, width float64) [4]orb.Point {
	half := along.left().times(width / 2)
	nose, tail := at.add(along.times(ahead)), at.sub(along.times(behind))
	return [4]orb.Point{
		nose.add(half).point(), nose.sub(half).point(), tail.sub(half).point(), tail.add(half).point(),
	}
}

func (a vec) point() orb.Point { return orb.Point{a.x, a.y} }

func line(nodes []vec) orb.LineString {
	out := make(orb.LineString, len(nodes))
	for i, n := range nodes {
		out[i] = n.point()
	}
	return out
}
