package matching

import (
	"fmt"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
)

// atStops cuts the parts of a line at the stops between its ends, each where the line comes
// nearest to it on a road, in their order: the trip stays there, by its own dates. A stop
// beside a gap is at the road nearest to it.
func (m Matcher) atStops(parts []Part) ([]Part, error) {
	done := 0 // parts before that lie before the stop
	for i := 1; i < len(m.Stops)-1; i++ {
		stop := m.Stops[i]
		at, piece, along, ok := m.nearest(parts[done:], stop)
		if !ok {
			return nil, fail(fmt.Sprintf("stops[%d]", i), stop.Label, say.That("error.off_line", "away", choosing.Reach),
				say.That("fix.give_stops_on_the"))
		}
		before, after := split(parts[done+at], piece, along)
		if len(before.Pieces) == 0 && at == 0 || len(after.Pieces) == 0 && done+at == len(parts)-1 {
			return nil, fail(fmt.Sprintf("stops[%d]", i), stop.Label, say.That("error.lies_at_the_same"),
				say.That("fix.take_one_of_them"))
		}
		before.To, after.From = say.Text(stop.Label), say.Text(stop.Label)
		before.Stops, after.Starts = true, true
		halves := slices.DeleteFunc([]Part{before, after}, func(p Part) bool { return len(p.Pieces) == 0 })
		parts = slices.Concat(parts[:done+at], halves, parts[done+at+1:])
		done += at + 1
		if len(before.Pieces) == 0 { // the part before ends at the stop
			done--
			parts[done-1].To, parts[done-1].Stops = before.To, true
		} else if len(after.Pieces) == 0 {
			parts[done].From, parts[done].Starts = after.From, true
		}
	}
	return parts, nil
}

// nearest is where parts come nearest to a stop on a road: the part, its piece, and how far
// along that; of places as near the first.
func (m Matcher) nearest(parts []Part, s choosing.Stop) (part, piece int, along measure.Distance, ok bool) {
	const touching measure.Distance = 1
	for _, near := range m.Index.Near(s.Point, choosing.Reach) {
		for i, p := range parts {
			for k, one := range p.Pieces {
				if one.Arc.Edge() != near.Edge {
					continue
				}
				if at := m.Network.Along(near.Position, one.Arc); at >= one.Start-touching && at <= one.End+touching {
					return i, k, min(max(at, one.Start), one.End) - one.Start, true
				}
			}
		}
	}
	return 0, 0, 0, false
}

// split cuts a part so far along one of its pieces; a half without a piece ends there.
func split(p Part, piece int, along measure.Distance) (before, after Part) {
	before, after = p, p
	one := p.Pieces[piece]
	first, second := one, one
	first.End, second.Start = one.Start+along, one.Start+along
	long := func(p network.Piece) bool { return p.Length() > 0 }
	halves := func(pieces ...network.Piece) []network.Piece {
		return slices.DeleteFunc(pieces, func(p network.Piece) bool { return !long(p) })
	}
	before.Way = driving.Way{Pieces: halves(append(slices.Clone(p.Pieces[:piece]), first)...)}
	after.Way = driving.Way{Pieces: halves(append([]network.Piece{second}, p.Pieces[piece+1:]...)...)}
	after.At, before.Stops, after.Starts = p.At+lengthOf(before.Pieces), false, false
	return before, after
}
