package network

import (
	"math"

	"github.com/paulmach/orb"
)

// SharpTurn is the change of heading, in degrees, from which driving on counts
// as a turn at a junction. It is part of how a network is prepared.
const SharpTurn = 60

// shownBy is over how many metres a road shows which way it runs at a junction, or over all of it where it is
// shorter: this project's choice. Within less, lanes that part and the hand of who drew show instead.
const shownBy = 30

// Deflection returns by how many degrees the heading changes where one arc ends
// and the next starts, -180 to 180, to the right positive, and 0 where the road only bends: at a node with
// two edges. Headings are those of a flat map, which is near enough.
func (n *Network) Deflection(in, on Arc) float64 {
	if v := n.Tail(on); n.arcStart[v+1]-n.arcStart[v] <= 2 {
		return 0
	}
	return n.change(in, on, shownBy)
}

// change is the change of heading from the end of one arc to the start of another, each over so many metres.
func (n *Network) change(in, on Arc, over float64) float64 {
	return math.Remainder(n.heading(on, false, over)-n.heading(in, true, over), 360)
}

// heading returns the direction of an arc at its start or its end, over so many metres, in degrees from north.
func (n *Network) heading(a Arc, atEnd bool, over float64) float64 {
	node, sign := n.Node[n.Tail(a)], 1.0
	if atEnd {
		node, sign = n.Node[n.Head(a)], -1
	}
	east, north := flat(node, n.shown(a, atEnd, over))
	return math.Atan2(sign*east, sign*north) * 180 / math.Pi
}

// shown is the point of an arc so many metres from its start or its end, the other end where it is shorter. A point
// on the very end shows nothing and is passed over.
func (n *Network) shown(a Arc, atEnd bool, over float64) orb.Point {
	shape := n.Shape(a.Edge())
	at, step := 0, 1
	if atEnd != a.Reverse() {
		at, step = len(shape)-1, -1
	}
	for left := over; ; at += step {
		east, north := flat(shape[at], shape[at+step])
		long := math.Hypot(east, north)
		last := at+2*step < 0 || at+2*step >= len(shape)
		switch {
		case long >= left && left > 0:
			part := left / long
			return orb.Point{
				shape[at][0] + part*math.Remainder(shape[at+step][0]-shape[at][0], 360),
				shape[at][1] + part*(shape[at+step][1]-shape[at][1]),
			}
		case last:
			return shape[at+step]
		}
		left -= long
	}
}

// flat is from one point to another near it on a flat map, metres east and north, to some parts in a thousand.
func flat(from, to orb.Point) (east, north float64) {
	const degree = 111_195.0 // metres, of a sphere of 6,371 km
	return math.Remainder(to.Lon()-from.Lon(), 360) * degree * math.Cos(from.Lat()*math.Pi/180),
		(to.Lat() - from.Lat()) * degree
}
