package sweep

import (
	"math"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// MaxPath is the longest path that is driven, in metres. This project's
// choice, no source: it bounds the memory, about 6 MB for a path without many
// points of its own.
const MaxPath measure.Distance = 5000

// A station is a place on the path with what was swept across it. The offsets
// lie on the normal of the path, left positive. They start at 0 because the
// front axle itself passes there.
type station struct {
	at, along vec // place and unit direction; the bisector at a kink
	s         float64
	low, high float64
	// how far to the right and left the unit's sides passed abreast of its axles
	right, left float64
}

// lay puts stations on the path, no further apart than stationStep, with a
// straight rig length before its start and behind its end. It returns the index of
// the station at the start of the path.
func (d *Driver) lay(path orb.LineString) (start int, err error) {
	d.nodes = append(d.nodes[:0], vec{})
	if d.nodes, err = pathNodes(d.nodes, path); err != nil {
		return 0, err
	}
	n := d.nodes
	n[0] = beyond(n[2], n[1], d.reach)
	d.nodes = append(n, beyond(n[len(n)-2], n[len(n)-1], d.reach))

	d.stations = d.stations[:0]
	s, before := -d.reach, vec{}
	for i, a := range d.nodes[:len(d.nodes)-1] {
		if i == 1 {
			start = len(d.stations)
		}
		leg := d.nodes[i+1].sub(a)
		length := leg.length()
		e := leg.times(1 / length)
		d.segment(a, e, bisector(before, e), s, length)
		s, before = s+length, e
	}
	d.stations = append(d.stations, station{at: d.nodes[len(d.nodes)-1], along: before, s: s})
	d.tightest = tightest(d.nodes)
	return start, nil
}

// tightest returns the least radius of a path: at each vertex, the length of
// the shorter segment beside it over the turn, as on an arc cut into chords. A
// segment counts for no more than the chord of an arc, so that a kink between
// long ones is tight. It is infinite for a straight path.
func tightest(nodes []vec) float64 {
	least := math.Inf(1)
	for i := 1; i < len(nodes)-1; i++ {
		in, out := nodes[i].sub(nodes[i-1]), nodes[i+1].sub(nodes[i])
		if turn := float64(in.angle(out)); turn > 1e-6 { // less is rounding
			least = min(least, min(in.length(), out.length(), arcStep)/turn)
		}
	}
	return least
}

// segment appends the stations of one straight piece without its far end.
func (d *Driver) segment(from, e, first vec, s, length float64) {
	n := math.Ceil(length / stationStep)
	for k := 0.0; k < n; k++ {
		f := length * k / n
		d.stations = append(d.stations, station{at: from.add(e.times(f)), along: e, s: s + f})
	}
	d.stations[len(d.stations)-int(n)].along = first
}

// pathNodes appends the distinct points of a path that is not too long. The
// nodes come with one free place in front.
func pathNodes(nodes []vec, path orb.LineString) ([]vec, error) {
	tail, err := distinct(nodes[1:], path)
	nodes = append(nodes[:1], tail...)
	if err != nil {
		return nodes, err
	}
	var length measure.Distance
	for i := 2; i < len(nodes); i++ {
		length += measure.Distance(nodes[i].sub(nodes[i-1]).length())
	}
	if !(length <= MaxPath) {
		return nodes, undrivable(say.That("error.path_long", "length", length, "bound", MaxPath))
	}
	return nodes, nil
}

// beyond returns the point that continues the way from a to b by a distance.
func beyond(a, b vec, distance float64) vec {
	e := b.sub(a)
	return b.add(e.times(distance / e.length()))
}

// bisector returns the direction between two directions. The first may be
// zero, and a turn straight back keeps the second: there is no direction
// between.
func bisector(a, b vec) vec {
	m := a.add(b)
	if l := m.length(); l > 1e-9 {
		return m.times(1 / l)
	}
	return b
}
