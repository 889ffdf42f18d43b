package paper

import (
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
)

// checklist is what is looked at before the rig leaves, made of its own parts.
func (p Print) checklist(t *trip.Plan) Doc {
	m := p.ofTrip(Checklist, t)
	m.checks(t.Rig)
	return m.doc
}

// checks writes the list of a rig.
func (m *making) checks(r rig.Rig) {
	m.heading(say.That("paper.head_before"))
	m.add(List{Items: m.In.Each(r.Departure()), Checks: true})
	m.anchors(r)
	m.axles(r)
	m.heading(say.That("paper.head_measured"))
	m.add(Fields{
		m.field(say.That("paper.height_of", "is", sized(r.Height)), ""),
		m.field(say.That("paper.width_of", "is", sized(r.Width)), ""),
		m.field(say.That("paper.mass_of", "is", sized(r.Mass)), ""),
		m.field(say.That("paper.looked_by"), ""), m.field(say.That("paper.looked_on"), ""),
	})
}

// anchors lists what holds the house to its trailer.
func (m *making) anchors(r rig.Rig) {
	var items []string
	for _, a := range r.Unit.Anchors {
		items = append(items, m.say(say.That("paper.anchor", "name", a.Name, "kind", a.Kind, "count", a.Count)))
	}
	if len(items) > 0 {
		m.heading(say.That("paper.head_anchors"))
		m.add(List{Items: items, Checks: true})
	}
}

// axles has a line for each axle, for its pressure and what it carries on the scale.
func (m *making) axles(r rig.Rig) {
	var rows []Row
	add := func(of say.Remark, axles []rig.Axle) {
		for i, a := range axles {
			rating := ""
			if low := a.Lowest(); low != nil {
				rating = m.In.Alone(*low)
			}
			tires := ""
			if a.Tires > 0 {
				tires = m.say(say.That("paper.tires", "count", a.Tires, "width", a.Width))
			}
			rows = append(rows, Row{Cells: []string{
				m.say(say.That("paper.axle", "of", of, "number", i+1)), tires, rating, "", "", "",
			}})
		}
	}
	add(say.That("paper.of_tow"), r.Tow.Truck.Axles)
	add(say.That("paper.of_unit"), r.Unit.Frame.Axles)
	if len(rows) > 0 {
		m.heading(say.That("paper.head_axles"))
		m.table(
			rows,
			[]float64{0.23, 0.21, 0.14, 0.14, 0.14, 0.14},
			say.That("paper.head_axle"),
			say.That("paper.head_tires"),
			say.That("paper.head_rating"),
			say.That("paper.head_pressure"),
			say.That("paper.head_nuts"),
			say.That("paper.head_scale"),
		)
	}
}
