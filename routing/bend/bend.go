// Package bend finds where a line on the map bends, and how tightly.
//
// Roads are drawn as straight pieces, so a radius is an estimate: where pieces
// are short they follow the curve, and the radius is that of the circle through
// them; where a long straight meets another, the true curve lies within
// [Drawn] of the corner and is at most as wide as that allows.
package bend

import (
	"math"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
)

// Drawn is how far a road may run from the line that is drawn for it: this
// project's estimate. GeoGratis and OpenStreetMap lines are mostly nearer.
const Drawn measure.Distance = 5

// Limits of what counts as one bend, this project's own.
const (
	unsteady = 0.3 * math.Pi / 180 // turns below it are the hand of who drew
	faint    = 3 * math.Pi / 180   // a bend turns by as much at the least
	apart    = 70                  // metres between corners of the line that belong to one bend
	near     = 15                  // metres that are looked ahead and back, or as far as the shorter piece is long
	far      = 30                  // and once more, or as far as the longer one is
	farthest = 150
)

// A corner is a bend that a long rig has to be steered through: it turns by 45
// degrees or more, on a radius of 40 m or less.
const (
	cornerTurn   = 45 * math.Pi / 180
	cornerRadius = 40
)

// Bend is one bend of a line.
type Bend struct {
	At     measure.Distance // of its sharpest point, along the line
	Point  orb.Point        // longitude, latitude
	Radius measure.Distance // the least
	Turn   float64          // radians, to the right positive; all of it
}

// Corner reports whether a long rig has to be steered through it.
func (b Bend) Corner() bool { return math.Abs(b.Turn) >= cornerTurn && b.Radius <= cornerRadius }

// Tracer finds bends. It keeps its workspace for the next line; it is not safe
// for use by many goroutines.
type Tracer struct {
	dx, dy, length []float64 // of the pieces of the line, metres
	at             []float64 // of its points
}

// Along lists the bends of a line, in its order. The slice that it appends to is
// given, so that it can be used again.
func (t *Tracer) Along(line orb.LineString, bends []Bend) []Bend {
	t.lay(line)
	first, last := len(bends), 0.0
	for i := 1; i < len(line)-1; i++ {
		turn := t.turn(i)
		if math.Abs(turn) < unsteady {
			continue
		}
		b := Bend{At: measure.Distance(t.at[i]), Point: line[i], Radius: t.radius(i), Turn: turn}
		if n := len(bends); n > first && t.at[i]-last <= apart && (turn > 0) == (bends[n-1].Turn > 0) {
			bends[n-1].join(b)
		} else {
			bends = append(dropFaint(bends, first), b)
		}
		last = t.at[i]
	}
	return dropFaint(bends, first)
}

// dropFaint takes the last bend out again where it turns by next to nothing.
func dropFaint(bends []Bend, first int) []Bend {
	if n := len(bends); n > first && math.Abs(bends[n-1].Turn) < faint {
		return bends[:n-1]
	}
	return bends
}

// join takes in a corner of the line that belongs to the same bend.
func (b *Bend) join(o Bend) {
	b.Turn += o.Turn
	if o.Radius < b.Radius {
		b.At, b.Point, b.Radius = o.At, o.Point, o.Radius
	}
}

// lay works out the pieces of a line in metres.
func (t *Tracer) lay(line orb.LineString) {
	t.dx, t.dy, t.length, t.at = t.dx[:0], t.dy[:0], t.length[:0], t.at[:0]
	at := 0.0
	for i, p := range line {
		t.at = append(t.at, at)
		if i == len(line)-1 {
			break
		}
		dx, dy := offset(p, line[i+1])
		length := math.Hypot(dx, dy)
		at += length
		t.dx, t.dy, t.length = append(t.dx, dx), append(t.dy, dy), append(t.length, length)
	}
}

// turn is by how much the line turns at a point, to the right positive. Points
// that lie on one another turn by nothing.
func (t *Tracer) turn(i int) float64 {
	return between(t.dx[i-1], t.dy[i-1], t.dx[i], t.dy[i])
}

// between is the angle from one direction to another, to the right positive.
func between(ax, ay, bx, by float64) float64 {
	return -math.Atan2(ax*by-ay*bx, ax*bx+ay*by)
}

// radius estimates the radius at a point of the line: that of the circle on which
// its neighbourhood lies, and no more than what stays near the corner as it is
// drawn.
func (t *Tracer) radius(i int) measure.Distance {
	shorter, longer := min(t.length[i-1], t.length[i]), max(t.length[i-1], t.length[i])
	round := min(t.round(i, min(max(near, shorter), farthest)), t.round(i, min(max(far, longer), farthest)))
	half := math.Abs(t.turn(i)) / 2
	if half >= math.Pi/2 {
		return 0
	}
	return measure.Distance(min(round, float64(Drawn)/(1/math.Cos(half)-1)))
}

// round is the radius of the circle that runs so far to either side of a point.
func (t *Tracer) round(i int, reach float64) float64 {
	bx, by := t.reach(i-1, -1, reach)
	ax, ay := t.reach(i, 1, reach)
	if around := math.Abs(between(bx, by, ax, ay)); around > 0 {
		return (math.Hypot(bx, by) + math.Hypot(ax, ay)) / 2 / around
	}
	return math.Inf(1)
}

// reach adds up pieces from one on, forward or back, to a distance along the
// line; at the ends of the line it is less.
func (t *Tracer) reach(piece, step int, distance float64) (x, y float64) {
	for ; piece >= 0 && piece < len(t.length) && distance > 0; piece += step {
		share := 1.0
		if t.length[piece] > distance {
			share = distance / t.length[piece]
		}
		x += share * t.dx[piece]
		y += share * t.dy[piece]
		distance -= t.length[piece]
	}
	return x, y
}

// WGS84: equatorial radius in metres and the square of the eccentricity.
const (
	equator      = 6_378_137.0
	eccentricity = 0.006_694_379_990_14
)

// offset is from one point to another near it, metres east and north, by the
// radii of curvature of WGS84 half-way; over 1 km its error is below 1 mm up to
// 70 degrees of latitude.
func offset(a, b orb.Point) (east, north float64) {
	lat := (a.Lat() + b.Lat()) / 2 * math.Pi / 180
	w := 1 - eccentricity*math.Sin(lat)*math.Sin(lat)
	normal := equator / math.Sqrt(w)
	meridian := normal * (1 - eccentricity) / w
	return (b.Lon() - a.Lon()) * math.Pi / 180 * normal * math.Cos(lat), (b.Lat() - a.Lat()) * math.Pi / 180 * meridian
}

// Window is the part of a line within a distance along it of a place, in metres
// east and north of that place.
func Window(line orb.LineString, at, reach measure.Distance) orb.LineString {
	var out orb.LineString
	var along float64
	var x, y float64
	from, to := float64(at-reach), float64(at+reach)
	for i := 1; i < len(line); i++ {
		dx, dy := offset(line[i-1], line[i])
		length := math.Hypot(dx, dy)
		if along+length >= from && along <= to && length > 0 {
			first, last := max((from-along)/length, 0), min((to-along)/length, 1)
			if len(out) == 0 {
				out = append(out, orb.Point{x + first*dx, y + first*dy})
			}
			out = append(out, orb.Point{x + last*dx, y + last*dy})
		}
		along, x, y = along+length, x+dx, y+dy
		if along > to {
			break
		}
	}
	return out
}
