package paper

import (
	"slices"

	"wayhouse/regs"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// wayIn is the way of a trip in a jurisdiction: its ends, and its roads with how far each
// is driven.
func (m *making) wayIn(t *trip.Plan, n regs.Need) {
	p := t.Particulars
	m.heading(say.That("paper.head_way"))
	from, to := t.Ends()
	m.add(Fields{
		m.label("from", m.say(from)), m.label("from_address", p.From), m.label("to", m.say(to)),
		m.label("to_address", p.To), m.label("length_in", m.In.Quantity(n.Length)),
	})
	var rows []Row
	for _, s := range stretches(t) {
		if slices.Contains(t.Legs[s.leg].Jurisdictions, n.Jurisdiction) {
			rows = append(rows, Row{Cells: []string{m.say(s.road), m.In.Quantity(s.length)}})
		}
	}
	m.table(rows, []float64{0.6, 0.4}, say.That("paper.head_road"), say.That("paper.head_far"))
}

// stretch is how far one road is driven on a leg.
type stretch struct {
	leg    int
	road   say.Remark
	length measure.Distance
}

// stretches are the roads of a trip in the order of travel, cut where legs end.
func stretches(t *trip.Plan) (out []stretch) {
	var at measure.Distance
	for i, l := range t.Legs {
		on, from := say.That("paper.no_road_name"), at
		if len(l.Roads) > 0 {
			on = l.Roads[0]
		}
		end := at + l.Length
		until := func(to measure.Distance) {
			if to > from {
				out = append(out, stretch{i, on, to - from})
			}
			from = to
		}
		if t.Road != nil {
			for _, move := range t.Road.Moves {
				if move.At >= at && move.At < end && move.Onto.String() != on.String() {
					until(move.At)
					on = move.Onto
				}
			}
		}
		until(end)
		at = end
	}
	return out
}

// standing lists what stands over the way in a jurisdiction.
func (m *making) standing(t *trip.Plan, code string) {
	var rows []Row
	var at measure.Distance
	for _, l := range t.Legs {
		for _, s := range l.Structures {
			if slices.Contains(l.Jurisdictions, code) {
				rows = append(rows, Row{Cells: []string{m.In.Alone(at + s.At), m.say(passes(s))}})
			}
		}
		at += l.Length
	}
	if len(rows) > 0 {
		m.heading(say.That("paper.head_structures"))
		m.table(rows, []float64{0.17, 0.83}, say.That("paper.head_at"), say.That("paper.head_passes"))
	}
}
