// Package bend finds where a line on the map bends, and how tightly.
//
// Roads are drawn as straight pieces, so a radius is an estimate: where pieces
// are short they follow the curve, and the radius is that of the circle through
// them; where a long straight meets another, the true curve lies within
// [Drawn] of the corner and is at most as wide as that allows.
//
// A line is no better than the hand that drew it. What a straight road would look
// like with points [Unsteady] off is no bend at all. Where the road may run
// straight within Drawn of its line, or where its pieces are so long that only
// Drawn says how wide a curve may be, the line is drawn too coarsely: it shows that
// the road turns there, and neither a radius nor a speed.
package bend

import (
	"math"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
)

// How far a road may run from the line that is drawn for it, this project's
// estimates: GeoGratis and OpenStreetMap lines are mostly nearer than Drawn, and
// points of one hand, one after the other, nearer than Unsteady.
const (
	Drawn    measure.Distance = 5
	Unsteady measure.Distance = 2
)

// Room is how far a rig may keep from the middle of its lane to drive a bend wider
// than it is: this project's choice, for 2.6 m of rig in 3.6 m of lane.
const Room measure.Distance = 1

// Limits of what counts as one bend, this project's own.
const (
	steady   = 0.1 * math.Pi / 180 // turns below it are the hand of who drew
	faint    = 3 * math.Pi / 180   // a bend turns by as much at the least
	apart    = 70                  // metres between corners of the line that belong to one bend
	tight    = 40                  // a point of the line on this radius, metres, or less
	looser   = 3                   // does not belong to one on so many times its radius
	near     = 15                  // metres that are looked ahead and back, or as far as the shorter piece is long
	far      = 30                  // and once more, or as far as the longer one is
	farthest = 150
	about    = 100  // metres to either side, at the least, within which a line has to run along a straight
	hair     = 0.01 // metres that arithmetic may be off by
	deep     = 7.5  // metres that a wide curve leaves a straight by within as much as is looked at
	widest   = 1500 // metres of radius: wider bends slow nobody
)

// A corner is a bend that a long rig has to be steered through: it turns by 45
// degrees or more, on a radius of 40 m or less.
const (
	cornerTurn   = 45 * math.Pi / 180
	cornerRadius = tight
)

// Bend is one bend of a line.
type Bend struct {
	At     measure.Distance // of its sharpest point, along the line
	Point  orb.Point        // longitude, latitude
	Radius measure.Distance // the least that a rig in its lane has to drive
	Turn   float64          // radians, to the right positive; all of it
	// Coarse: the line shows neither the radius nor that the road bends so tightly.
	Coarse   bool
	From, To measure.Distance // the pieces before and after it, along the line
	// points of the line: the sharpest, the first and the last
	point, first, last int
}

// Corner reports whether a long rig has to be steered through it.
func (b Bend) Corner() bool { return math.Abs(b.Turn) >= cornerTurn && b.Radius <= cornerRadius }

// Drivable is the radius on which a rig surely gets round: it has the [Room] of its
// lane where the road turns on the spot.
func (b Bend) Drivable() measure.Distance { return within(Room, b.Turn) }

// within is the radius of the curve between two straights that runs so far from
// where they meet, turning by an angle in radians.
func within(off measure.Distance, turn float64) measure.Distance {
	half := math.Abs(turn) / 2
	if half >= math.Pi/2 {
		return 0
	}
	return off / measure.Distance(1/math.Cos(half)-1)
}

// Tracer finds bends. It keeps its workspace for the next line; it is not safe
// for use by many goroutines.
type Tracer struct {
	dx, dy, length []float64 // of the pieces of the line, metres
	at             []float64 // of its points
	strip          strip
}

// Along lists the bends of a line, in its order. The slice that it appends to is
// given, so that it can be used again.
func (t *Tracer) Along(line orb.LineString, bends []Bend) []Bend {
	t.lay(line)
	first, last := len(bends), Bend{}
	for i := 1; i < len(line)-1; i++ {
		turn := t.turn(i)
		if math.Abs(turn) < steady {
			continue
		}
		b := t.bend(i, turn)
		b.Point = line[i]
		if n := len(bends); n > first && last.continues(b) {
			bends[n-1].join(b)
		} else {
			bends = append(t.settle(bends, first), b)
		}
		last = b
	}
	return t.settle(bends, first)
}

// bend is the bend at one point of the line.
func (t *Tracer) bend(i int, turn float64) Bend {
	round, most := t.radius(i), within(Drawn, turn)
	return Bend{
		At: measure.Distance(t.at[i]), Radius: min(round, most), Turn: turn, Coarse: round > most,
		From: measure.Distance(t.at[i-1]), To: measure.Distance(t.at[i+1]), point: i, first: i, last: i,
	}
}

// continues reports whether the next bent point of a line belongs to the same bend. A tight one ends at a straight that
// is too long to be a piece of its curve, which would leave it by more than [Drawn].
func (b Bend) continues(next Bend) bool {
	tighter, wider, straight := min(b.Radius, next.Radius), max(b.Radius, next.Radius), next.At-b.At
	if tighter <= tight && (wider > looser*tighter || straight*straight/8 > Drawn*tighter) {
		return false
	}
	return straight <= apart && (next.Turn > 0) == (b.Turn > 0)
}

// settle takes the last bend out again where it turns by next to nothing, or where
// the line only shakes, and notes where it is drawn too coarsely. A short bend is
// driven as wide as the lane allows.
func (t *Tracer) settle(bends []Bend, first int) []Bend {
	n := len(bends)
	if n == first {
		return bends
	}
	b := &bends[n-1]
	if math.Abs(b.Turn) < faint {
		return bends[:n-1]
	}
	if b.Radius = max(b.Radius, b.Drivable()); b.Radius > widest {
		return bends
	}
	reach := max(about, math.Sqrt(4*deep*float64(b.Radius)))
	switch off := max(t.off(b.point, reach), t.off((b.first+b.last)/2, reach)); {
	case off <= float64(Unsteady)+hair:
		return bends[:n-1]
	case off <= float64(Drawn):
		b.Coarse = true
	}
	return bends
}

// join takes in a corner of the line that belongs to the same bend.
func (b *Bend) join(o Bend) {
	both := *b
	if o.Radius < b.Radius {
		both = o
	}
	both.Turn, both.From, both.To, both.first, both.last = b.Turn+o.Turn, b.From, o.To, b.first, o.last
	*b = both
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
// its neighbourhood lies.
func (t *Tracer) radius(i int) measure.Distance {
	shorter, longer := min(t.length[i-1], t.length[i]), max(t.length[i-1], t.length[i])
	return measure.Distance(
		min(t.round(i, min(max(near, shorter), farthest)), t.round(i, min(max(far, longer), farthest))),
	)
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
