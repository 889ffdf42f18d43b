package standing

import (
	"fmt"
	"math"
	"strings"
	"time"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// overhead knows what the network itself has over its roads.
type overhead struct {
	net   *network.Network
	of    *Case
	day   time.Time // of departure, on the clock of the first stop
	last  time.Time // on which the trip may still be under way
	term  time.Duration
	known map[judged]heights
}

// heights are the clear heights that a record states for one direction, and
// how the rig passes under them.
type heights struct {
	posted, measured *measure.Length
	unread           []string // what it says, where none of it is a figure
	passage          clearance.Passage
}

// passes works out how the rig passes under what a record says.
func (o *overhead) passes(road network.RoadID, reverse bool) heights {
	key := judged{road: road, reverse: reverse}
	if h, ok := o.known[key]; ok {
		return h
	}
	var h heights
	for _, s := range o.net.Record(road).Signs {
		if !s.Subject.Height() || !s.Bound.Binds(reverse) {
			continue
		}
		h.unread = append(h.unread, fmt.Sprintf("%s=%s", s.Subject, o.net.Text(s.Text)))
		if s.State != network.Known {
			continue // a sign under a condition counts always: the lower is the safer
		}
		v := s.Length()
		if s.Subject == network.MaxHeightPhysical {
			h.measured = lower(h.measured, v)
		} else {
			h.posted = lower(h.posted, v)
		}
	}
	h.passage, _ = pass(clearance.Structure{Posted: h.posted, Measured: h.measured, Status: finding.Secondary},
		o.of, o.day, o.last, o.term, nil)
	o.known[key] = h
	return h
}

func lower(known *measure.Length, v measure.Length) *measure.Length {
	if known != nil && *known < v {
		return known
	}
	return &v
}

// on lists what stands over a piece, in the order of the line of its edge.
func (o *overhead) on(piece network.Piece) []Placed {
	var out []Placed
	signs := map[network.RoadID]bool{} // whose figure another structure shows
	for _, s := range o.net.Spots(piece.Arc.Edge()) {
		if s.Kind != network.PostedHeight && o.over(s, piece) {
			signs[s.Road] = true
		}
	}
	for _, s := range o.net.Spots(piece.Arc.Edge()) {
		if o.over(s, piece) && !(s.Kind == network.PostedHeight && signs[s.Road]) {
			out = append(out, o.placed(s, o.within(s, piece), piece.Arc.Reverse()))
		}
	}
	return out
}

// over reports whether something stands over a piece: what stands over a road all
// along does so wherever the piece is.
func (o *overhead) over(s network.Spot, piece network.Piece) bool {
	if !s.Kind.Overhead() {
		return false
	}
	return s.Whole() && piece.Length() > 0 || o.net.Covers(piece, network.Position{Edge: s.Edge, Offset: s.Offset})
}

// within returns where a piece meets a spot.
func (o *overhead) within(s network.Spot, piece network.Piece) network.Position {
	at := network.Position{Edge: s.Edge, Offset: s.Offset}
	along := min(max(o.net.Along(at, piece.Arc), piece.Start), piece.End)
	at.Offset = along
	if piece.Arc.Reverse() {
		at.Offset = o.net.Length[s.Edge] - along
	}
	return at
}

func (o *overhead) placed(s network.Spot, at network.Position, reverse bool) Placed {
	h := o.passes(s.Road, reverse)
	element := "way"
	if s.OnNode == 1 {
		element = "node"
	}
	name := o.net.Text(s.Name)
	p := Placed{
		Called: say.That("structure.over", "kind", s.Kind, "name", name, "road", o.net.RoadName(s.Edge)),
		At:     at, forward: true, backward: true, Passage: h.passage, risk: int(s.Kind), Whole: s.Whole(),
		Revision: o.net.About.Revision,
		Structure: clearance.Structure{
			ID: fmt.Sprintf("osm-%s-%d", element, s.OSM), Name: name, Point: o.net.Point(at),
			Road: o.net.Ref(s.Edge), Direction: "both", Posted: h.posted, Measured: h.measured,
			Status: finding.Secondary,
			Source: "OpenStreetMap " + Element(element, s.OSM), Year: o.net.About.Vintage,
		},
	}
	if road := o.net.Origin(s.Edge); element == "node" || road != s.OSM {
		p.Structure.Section = Element("way", road)
	}
	if !h.passage.Known && len(h.unread) > 0 {
		p.Passage.Why = say.That("structure.only_signs", "why", p.Passage.Why, "signs", strings.Join(h.unread, " "))
	}
	return p
}

// blind counts what stands over a piece without a usable figure.
func (o *overhead) blind(piece network.Piece) int {
	n := 0
	for _, s := range o.net.Spots(piece.Arc.Edge()) {
		if s.Kind != network.PostedHeight && o.over(s, piece) && !o.passes(s.Road, piece.Arc.Reverse()).passage.Known {
			n++
		}
	}
	return n
}

// shut reports whether something over a piece is too low.
func (o *overhead) shut(piece network.Piece) bool {
	for _, s := range o.net.Spots(piece.Arc.Edge()) {
		if o.over(s, piece) && o.passes(s.Road, piece.Arc.Reverse()).passage.Outcome == finding.Forbidden {
			return true
		}
	}
	return false
}

// firstRisk is that of structures that the user gave: before all others.
const firstRisk = math.MinInt
