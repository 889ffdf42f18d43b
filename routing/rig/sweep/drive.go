package sweep

import (
	"math"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
)

// stationStep is the greatest distance between stations, and the way of the
// front axle in one step, metres. TestStep compares it with steps of 1 mm;
// Drive says what it found.
const stationStep = 0.1

// Swept is what a rig needs along a path. Widths and offsets are measured
// across the path, on the normal of one of its points. A body that cuts across
// the centre of a tight bend is measured by its shortest distance from the
// path instead, so the width is that of a band which runs along the path. Where
// the path comes back beside itself closer than the rig is wide that means
// little; Round gives such a line a small least radius or 0.
type Swept struct {
	// OffTracking is the greatest distance from the path at which the middle of
	// the trailer's axle group passes, and Cuts the side: in a bend the inner one.
	OffTracking measure.Distance
	Cuts        Side
	// Width is the greatest swept width and At the path distance where it is
	// needed, negative on the straight run that leads into the path. A straight
	// path needs the greater of the two widths, at its start.
	Width, At measure.Distance
	// Articulation is the greatest angle between tow vehicle and trailer.
	// Beyond 90 degrees the rig is Jackknifed and the other figures are only
	// formal: no real coupling goes there unharmed.
	Articulation Angle
	Jackknifed   bool
	// Steer is the greatest angle between the way of the front axle and the tow
	// vehicle, up to half a degree too great on arcs of chords. A vehicle whose
	// wheels do not turn that far cannot follow.
	Steer Angle
	// TailSwing is how far the unit's rear corner on the outer side of a bend
	// goes beyond half the unit's width from the path, and beyond where the unit's
	// axles passed: what they still keep off the path from a bend before is no
	// swing. On the straight before a bend that is how far it goes outside the
	// straight line of the unit's outer side. Swings is that side.
	TailSwing measure.Distance
	Swings    Side
}

// Side is a side of a path.
type Side int8

// The sides.
const (
	Neither Side = iota
	Left
	Right
)

// String names a side, "" for neither.
func (s Side) String() string { return [...]string{"", "left", "right"}[s] }

// Driver drives rigs along paths and keeps its buffers between drives. The
// zero value is ready. It is not safe for use by several goroutines at once.
type Driver struct {
	nodes    []vec
	stations []station
	tracers  [points]tracer
	steps    int     // of the front axle from one station to the next, 0 means 1
	front    int     // the station where the front axle is
	reach    float64 // length of the rig
	half     float64 // width of the unit
	tightest float64 // least radius of the path
}

// Drive moves the middle of the rig's front axle along a polyline in planar
// metres. The rig starts straight on the first segment. The path is taken to
// go on straight at both ends by the length of the rig, so that the whole rig
// passes all of it.
//
//  1. Lay stations on the path, at most 0.1 m apart.
//  2. Move the front axle from station to station. The tow vehicle follows on
//     a tractrix, the coupling point is fixed on it, and the trailer follows
//     the coupling point on another tractrix.
//  3. Each corner of both bodies, and each point of their sides abreast of an
//     axle, leaves its offset on the normal of every station when it passes
//     that station and all before it. One that cuts across the centre of a bend
//     passes those it is no longer nearest to.
//  4. The swept width of a station is the greatest offset to the left less the
//     greatest to the right. The front axle's middle has offset 0 everywhere.
//
// Steps of 1 mm change no figure by 1 mm where nothing cuts across the centre
// of a bend, and none by more than 0.1 m where something does. A path of arcs cut
// into chords of 0.1 m adds up to 5 mm. Sources of error in the rig and the path
// are far greater. A line with kinks that Round has not replaced takes many
// times as long. The error is that of Rig.Check, or wraps ErrPath.
func (d *Driver) Drive(r Combination, path orb.LineString) (Swept, error) {
	if err := r.Check(); err != nil {
		return Swept{}, err
	}
	d.reach, d.half = r.length(), float64(r.UnitWidth)/2
	start, err := d.lay(path)
	if err != nil {
		return Swept{}, err
	}
	return d.roll(r, start), nil
}

// roll drives from the station of the given index to the last, and then
// straight on until the whole rig has passed the last.
func (d *Driver) roll(r Combination, start int) Swept {
	along := d.stations[start-1].along // of the straight run in
	p := pose{front: d.stations[start].at, tow: along, unit: along}
	for i, at := range p.outline(r) {
		d.tracers[i] = tracer{last: at}
	}
	d.front = start
	var k peaks
	d.trace(r, p, &k)
	for d.front++; d.front < len(d.stations); d.front++ {
		to := d.stations[d.front].at
		k.steer = max(k.steer, bend(p.tow, to.sub(p.front)))
		p = d.advance(r, p, to, &k)
	}
	d.front--
	end := d.stations[d.front]
	for out := stationStep; out < d.reach+stationStep; out += stationStep {
		p = d.advance(r, p, end.at.add(end.along.times(out)), &k)
	}
	return d.swept(r, k)
}

// advance moves the front axle straight to a point.
func (d *Driver) advance(r Combination, p pose, to vec, k *peaks) pose {
	n := max(d.steps, 1)
	for left := n; left > 0; left-- {
		p = p.moved(r, p.front.add(to.sub(p.front).times(1/float64(left))))
		d.trace(r, p, k)
	}
	return p
}

// Peaks are the greatest figures so far. Angles are kept as squared chords of
// the unit circle, which grow with the angle and need no arc functions.
type peaks struct {
	offTracking, tailSwing, articulation, steer float64
	cuts, swings                                Side
}

// raise takes a figure of a side where it is the greatest so far.
func raise(most *float64, side *Side, figure float64, of Side) {
	if figure > *most {
		*most, *side = figure, of
	}
}

// bend returns the squared chord between a unit vector and a direction.
func bend(heading, way vec) float64 {
	c := way.times(1 / way.length()).sub(heading)
	return c.dot(c)
}

func angleOf(squaredChord float64) Angle {
	return Angle(2 * math.Asin(min(math.Sqrt(squaredChord)/2, 1)))
}

// trace records where the points of the rig pass the stations.
func (d *Driver) trace(r Combination, p pose, k *peaks) {
	k.articulation = max(k.articulation, bend(p.tow, p.unit))
	turn := p.unit.cross(p.tow)
	for i, at := range p.outline(r) {
		trail := d.pass(i, at)
		switch {
		case i == trailerAxle:
			raise(&k.offTracking, &k.cuts, -trail.low, Right)
			raise(&k.offTracking, &k.cuts, trail.high, Left)
		case i == rearRight && turn > 0: // in a left bend the right side is the outer one
			raise(&k.tailSwing, &k.swings, trail.right, Right)
		case i == rearLeft && turn < 0:
			raise(&k.tailSwing, &k.swings, trail.left, Left)
		}
	}
}

// swept sums up once every point has passed every station.
func (d *Driver) swept(r Combination, k peaks) Swept {
	out := Swept{
		OffTracking:  measure.Distance(k.offTracking),
		Cuts:         k.cuts,
		Articulation: angleOf(k.articulation),
		Jackknifed:   k.articulation > 2, // the squared chord of 90 degrees
		Steer:        angleOf(k.steer),
		TailSwing:    measure.Distance(k.tailSwing),
		Swings:       k.swings,
		Width:        max(r.TowWidth, r.UnitWidth),
	}
	for i := range d.stations {
		s := &d.stations[i]
		if w := measure.Distance(s.high - s.low); w > out.Width+duplicate { // more than rounding
			out.Width, out.At = w, measure.Distance(s.s)
		}
	}
	return out
}
