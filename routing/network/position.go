package network

import (
	"math"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
)

// Position is a place on an edge: so far along its line, from its start.
type Position struct {
	Edge   EdgeID
	Offset measure.Distance
}

// Piece is a stretch of one arc, from Start to End along its direction of
// travel, 0 <= Start <= End <= length of the edge.
type Piece struct {
	Arc        Arc
	Start, End measure.Distance
}

// Length returns the length of the piece.
func (p Piece) Length() measure.Distance { return p.End - p.Start }

// Along returns where a position lies along an arc of its edge.
func (n *Network) Along(p Position, a Arc) measure.Distance {
	if a.Reverse() {
		return n.Length[p.Edge] - p.Offset
	}
	return p.Offset
}

// Whole returns the piece that is all of an arc.
func (n *Network) Whole(a Arc) Piece { return Piece{Arc: a, End: n.Length[a.Edge()]} }

// Covers reports whether travelling the piece passes a position.
func (n *Network) Covers(p Piece, at Position) bool {
	if p.Arc.Edge() != at.Edge {
		return false
	}
	along := n.Along(at, p.Arc)
	return p.Start <= along && along <= p.End
}

// Line returns the geometry of a piece in its direction of travel.
func (n *Network) Line(p Piece) orb.LineString {
	shape := n.Shape(p.Arc.Edge())
	start, end := p.Start, p.End
	if p.Arc.Reverse() {
		total := n.Length[p.Arc.Edge()]
		start, end = total-p.End, total-p.Start
	}
	line := clip(shape, start, end)
	if p.Arc.Reverse() {
		line.Reverse()
	}
	return line
}

// Point returns the coordinates of a position.
func (n *Network) Point(p Position) orb.Point {
	return clip(n.Shape(p.Edge), p.Offset, p.Offset)[0]
}

// clip cuts a line between two distances from its start, both within it.
func clip(shape []orb.Point, start, end measure.Distance) orb.LineString {
	line := orb.LineString{}
	var at measure.Distance
	for i := 1; i < len(shape); i++ {
		a, b := shape[i-1], shape[i]
		step := geodesic.Between(a, b)
		last := i == len(shape)-1
		if len(line) == 0 && (start <= at+step || last) {
			line = append(line, along(a, b, start-at, step))
		}
		if len(line) > 0 && (end <= at+step || last) {
			return append(line, along(a, b, end-at, step))
		}
		if len(line) > 0 {
			line = append(line, b)
		}
		at += step
	}
	return line
}

// Joint is how far two points of a way may lie apart and still be one: sums of
// lengths miss a node by less, and the way between such points runs anywhere.
const Joint measure.Distance = 0.01

// along returns the point at a distance from a on the way to b, the ends
// themselves where it lies at them, or no further than they are.
func along(a, b orb.Point, distance, step measure.Distance) orb.Point {
	switch {
	case distance <= Joint:
		return a
	case distance >= step-Joint:
		return b
	default:
		return geodesic.Toward(a, b, distance)
	}
}

// Join appends a line to another, without the points that lie on the one before.
func Join(line, more orb.LineString) orb.LineString {
	for _, p := range more {
		if len(line) == 0 || !atOne(line[len(line)-1], p) {
			line = append(line, p)
		}
	}
	return line
}

// atOne reports whether two points lie within a [Joint] of each other.
func atOne(a, b orb.Point) bool {
	const nearby = 1e-6 // degrees: more of latitude is more than a joint
	return math.Abs(a.Lat()-b.Lat()) < nearby && geodesic.Between(a, b) <= Joint
}
