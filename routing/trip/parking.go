package trip

import (
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// How far before the place where the rig stands as planned it may stand instead, and how far
// beside the way by road: our choice.
const (
	parkBefore measure.Distance = 30_000
	parkBeside measure.Distance = 3_000
)

// mostParks is how many places to stand at are named, those nearest to the planned one.
const mostParks = 3

// parking is where the rig is to stand after a leg: on the last of its road a place has to be
// arranged. What the network knows there is named; whether there is room is for who drives to
// find out.
func (b *builder) parking(l Leg, s, next stage) finding.Finding {
	way := tailOf(s.pieces, parkBefore)
	length := lengthOf(way)
	zone := b.legZone(l)
	arrange := say.That("park.arrange", "from", s.late.In(zone), "until", next.slow.In(zone), "length", length,
		"roads", b.RoadNames(way), "parks", b.parks(way, length))
	f := finding.Finding{
		Topic: finding.Road, Rule: "place to park", Jurisdiction: strings.Join(l.Jurisdictions, "/"), Place: l.To,
		Outcome: finding.Conditional, Demands: finding.Demands{Conditions: []say.Remark{arrange}},
		Says: []say.Remark{say.That("park.stands", "lacks", b.Network.Lacks(network.Stopping))},
	}
	if n := b.plan.Timetable.nightBefore(next); n != nil {
		f.Demands.Conditions = []say.Remark{say.That("park.rests", "from", s.late.In(zone), "until", next.slow.In(zone),
			"place", n.Says(), "later", n.Later)}
		f.Says = []say.Remark{say.That("park.at_place")}
	}
	f.SeeTo()
	return f
}

// parks names the places to stand at on the last of a leg, that nearest to its end first.
func (b *builder) parks(way []network.Piece, length measure.Distance) (out []say.Remark) {
	if b.Network.Lacks(network.Stopping) {
		return nil
	}
	halts := b.Network.Halts(way, parkBeside)
	for i := len(halts) - 1; i >= 0 && len(out) < mostParks; i-- {
		h := halts[i]
		lots, known := h.Trucks.Value()
		out = append(out, say.That("park.place", "kind", h.Kind, "name", h.Name, "before", length-h.At, "off", h.There,
			"lots", lots, "counted", known, "stay", h.Stay))
	}
	return out
}

// tailOf is the last of pieces, so long at the most.
func tailOf(pieces []network.Piece, most measure.Distance) []network.Piece {
	from, length := len(pieces), measure.Distance(0)
	for from > 0 && length+pieces[from-1].Length() <= most {
		from--
		length += pieces[from].Length()
	}
	out := pieces[from:]
	if from > 0 && length < most { // and the end of the piece before
		cut := pieces[from-1]
		cut.Start = cut.End - (most - length)
		out = append([]network.Piece{cut}, out...)
	}
	return out
}
