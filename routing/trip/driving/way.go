package driving

import (
	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// Way is a part of a trip: pieces of road, or a gap of a given route that matches
// none.
type Way struct {
	Pieces []network.Piece
	Gap    orb.LineString
}

// passed is a piece of the way, or a gap of a given route.
type passed struct {
	network.Piece
	gap    measure.Distance
	driven bool // a ferry and a gap are not
}

func (p passed) length() measure.Distance { return p.Length() + p.gap }

// Pass notes the next of the ways; its legs are driven one by one.
func (d *Driver) Pass(w Way) {
	d.ways = append(d.ways, w)
	for _, p := range w.Pieces {
		d.passed = append(d.passed, passed{Piece: p, driven: d.Network.Class[p.Arc.Edge()] != network.Ferry})
	}
	if w.Gap != nil {
		d.passed = append(d.passed, passed{gap: geodesic.Length(w.Gap)})
		d.run.Unknown += geodesic.Length(w.Gap)
		d.gap = NoRoad()
	}
}

// spotAt is the place after so much driving; its distance along the way counts
// ferries and gaps too.
func (d *Driver) spotAt(driven measure.Distance) Spot {
	var out Spot
	var last network.Piece
	var part measure.Distance
	for _, p := range d.passed {
		if !p.driven {
			out.At += p.length()
			continue
		}
		last, part = p.Piece, min(driven, p.Length())
		out.At += part
		if driven -= part; driven <= 0 {
			break
		}
	}
	if part > 0 || last.Length() > 0 {
		out.Point, out.Road = d.Network.Point(d.along(last, part)), d.Network.RoadName(last.Arc.Edge())
	}
	return out
}

// along is a position on a piece.
func (d *Driver) along(p network.Piece, at measure.Distance) network.Position {
	e := p.Arc.Edge()
	offset := p.Start + at
	if p.Arc.Reverse() {
		offset = d.Network.Length[e] - offset
	}
	return network.Position{Edge: e, Offset: offset}
}

func lengthOf(w Way) measure.Distance {
	var out measure.Distance
	for _, p := range w.Pieces {
		out += p.Length()
	}
	if w.Gap != nil {
		out += geodesic.Length(w.Gap)
	}
	return out
}
