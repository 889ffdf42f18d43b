package network

import (
	"time"

	"wayhouse/regs/measure"
)

// Delay is what an arc costs beside driving it at its assumed speed: signals,
// signs, crossings and junctions, on an ordinary trip and on a slow one.
type Delay struct {
	Likely, Slow uint16 // tenths of a second
	Signals      uint8  // junctions and crossings with signals
	Stops        uint8  // stop signs
}

// tenth is the unit of a [Delay].
const tenth = 100 * time.Millisecond

// Set sets the times of a delay, rounded to tenths of a second; the longest are
// 109 minutes.
func (d *Delay) Set(likely, slow time.Duration) {
	const most = 1<<16 - 1
	d.Likely = uint16(min((likely+tenth/2)/tenth, most))
	d.Slow = uint16(min((slow+tenth/2)/tenth, most))
}

// Delay returns what a piece costs beside driving it, likely and on a slow trip.
// A part of an arc has its share of it. Both are 0 where the network does not
// know of what delays traffic.
func (n *Network) Delay(p Piece) (likely, slow time.Duration) {
	d := n.delay[p.Arc]
	if share := n.share(p); share < 1 {
		return time.Duration(share * float64(d.Likely) * float64(tenth)),
			time.Duration(share * float64(d.Slow) * float64(tenth))
	}
	return time.Duration(d.Likely) * tenth, time.Duration(d.Slow) * tenth
}

// share is how much of its arc a piece is.
func (n *Network) share(p Piece) float64 {
	if whole := n.Length[p.Arc.Edge()]; p.Length() < whole {
		return float64(p.Length()) / float64(whole)
	}
	return 1
}

// Controls returns how many signals and stop signs an arc meets, 0 where the
// network does not know.
func (n *Network) Controls(a Arc) (signals, stops int) {
	d := n.delay[a]
	return int(d.Signals), int(d.Stops)
}

// Slow sets what an edge costs in either direction beside driving it, and its
// assumed speed, once all edges are there.
func (b *Builder) Slow(e EdgeID, v measure.Speed, along, against Delay) {
	n := b.net
	n.speed[e], n.delay[MakeArc(e, false)], n.delay[MakeArc(e, true)] = v, along, against
}

// Mark sets flags of an edge's record that were found out once all edges were
// there.
func (b *Builder) Mark(e EdgeID, f Flags) {
	from := marking{b.net.road[e], f}
	to, known := b.marked[from]
	if !known {
		r, err := decodeRecord(b.roads.at(uint32(from.road)))
		if err != nil {
			return // this builder encoded it
		}
		r.Flags |= f
		to = b.Record(r)
		b.marked[from] = to
	}
	b.net.road[e] = to
}

// marking is a record and the flags that are set in it.
type marking struct {
	road  RoadID
	flags Flags
}
