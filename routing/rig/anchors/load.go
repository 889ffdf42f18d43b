package anchors

import (
	"math"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Wind is the air that meets the body. An area or a density of 0 is not given:
// what needs it goes to [Result.LeftOut].
type Wind struct {
	Air          measure.Density
	Road, Across measure.Speed    // of the rig, and of the wind square to its side
	Side         measure.Area     // of the body, seen from the side
	SideUp       measure.Distance // of the middle of the side, above the anchors
	Roof         measure.Area     // seen from above
}

// Coefficients of the air, without a unit; the high ends count.
const (
	// Side of a box near the ground in a wind square to it: 1.0 to 1.3, from memory.
	sideCoefficient = 1.3
	// Lift of a roof along which the air runs: 0.5 to 1.0, this project's estimate,
	// no source.
	liftCoefficient = 1.0
)

// speed returns the speed of the air against the body in m/s.
func (w Wind) speed() float64 { return math.Hypot(float64(w.Road), float64(w.Across)) }

// push returns the force on the side in newtons. The coefficient falls with the
// sine of the angle between the air and the road, to first order (from memory), so
// that one of the two speeds is that of the side wind alone.
func (w Wind) push() float64 {
	return 0.5 * float64(w.Air) * sideCoefficient * float64(w.Side) * w.speed() * float64(w.Across)
}

// lift returns the force on the roof in newtons, upward.
func (w Wind) lift() float64 {
	return 0.5 * float64(w.Air) * liftCoefficient * float64(w.Roof) * w.speed() * w.speed()
}

// leftOut says what is not given.
func (w Wind) leftOut() []say.Remark {
	if w.Air == 0 {
		return []say.Remark{say.That("hold.no_air")}
	}
	var out []say.Remark
	if w.Side == 0 {
		out = append(out, say.That("hold.no_side"))
	}
	if w.Roof == 0 {
		out = append(out, say.That("hold.no_roof"))
	}
	return out
}

// triple is a force in newtons or a place in metres. The axes are x along toward
// the rear, y across to the right, z up, which is a right-handed set.
type triple struct{ x, y, z float64 }

// load is what acts on a body: the force, and its moment in newton metres about
// the axes through the middle of the fasteners.
type load struct {
	force, moment triple
	// rounding is the moment in newton metres that counts as none: a billionth of the
	// weight, at 1 m.
	rounding float64
}

// add lets a force act at a place, measured from the middle of the fasteners. The
// moment is r x F.
func (l *load) add(f, r triple) {
	l.force = triple{l.force.x + f.x, l.force.y + f.y, l.force.z + f.z}
	l.moment = triple{
		l.moment.x + r.y*f.z - r.z*f.y,
		l.moment.y + r.z*f.x - r.x*f.z,
		l.moment.z + r.x*f.y - r.y*f.x,
	}
}

// load adds up what a case and a wind do. The wind acts over the centre of mass:
// where the middles of the side and of the roof lie along is not considered.
func (g group) load(b Body, w Wind, c LoadCase) load {
	weight := b.weight()
	l := load{rounding: 1e-9 * weight}
	centre := triple{float64(b.Along) - g.along, float64(b.Across) - g.across, float64(b.Up)}
	l.add(triple{-float64(c.Forward) * weight, float64(c.Right) * weight, float64(c.Up) * weight}, centre)
	if !c.Weightless {
		l.add(triple{z: -weight}, centre)
	}
	l.add(triple{z: w.lift()}, centre)
	l.add(triple{y: float64(c.Gust) * w.push()}, triple{centre.x, centre.y, float64(w.SideUp)})
	return l
}
