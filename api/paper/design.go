package paper

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"wayhouse/api/draw"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
)

// OfRig are the papers of a rig, without a way or with one.
func OfRig(p Print, a *wire.RigAnswer) []Doc {
	if a.Plan != nil {
		return OfTrip(p, a.Plan)
	}
	m := p.make(Checklist, say.That("paper.of_rig", "unit", a.Rig.Unit.Name, "tow", a.Rig.Tow.Name), a.Rig, a.Invented)
	m.rests(a.Tables, "", time.Time{})
	m.checks(a.Rig)
	return []Doc{m.doc, p.design(a, "")}
}

// designOf is the design report of the rig of a trip.
func (p Print) designOf(t *trip.Plan) Doc {
	return p.design(&wire.RigAnswer{Report: t.Rig.Report(), Invented: t.RestsOnInvented(), Tables: t.Tables},
		t.About.Revision)
}

// design is what a rig is: its drawing, sizes, masses and axles, and everything that was
// checked of it, the gravest first; roads is the revision of those that it is to go on, if
// any.
func (p Print) design(a *wire.RigAnswer, roads string) Doc {
	m := p.make(DesignReport, say.That("paper.of_rig", "unit", a.Rig.Unit.Name, "tow", a.Rig.Tow.Name), a.Rig, a.Invented)
	m.rests(a.Tables, roads, time.Time{})
	r := wire.NewRigReport(p.In, a)
	found := slices.Clone(a.Report.Findings)
	slices.SortStableFunc(found, func(a, b finding.Finding) int { return cmp.Compare(gravity(b), gravity(a)) })
	counts := map[finding.Outcome]int{}
	for _, f := range found {
		counts[f.Outcome]++
	}
	m.loud(say.That("paper.design_verdict", "all", len(found), "forbidden", counts[finding.Forbidden],
		"review", counts[finding.Review], "conditional", counts[finding.Conditional], "unknown", counts[finding.Unknown],
		"clear", counts[finding.Clear]))
	for _, view := range draw.Views(p.In, a.Rig, a.Statics, a.Corner, a.Invented) {
		m.add(Picture{Of: view, Says: view.Title})
	}
	m.states(a.Report.States)
	m.masses(r)
	m.onAxles(r)
	m.checked(found)
	if len(r.Missing) > 0 {
		m.heading(say.That("paper.head_unknown"))
		m.add(List{Items: r.Missing})
	}
	return m.doc
}

// gravity ranks outcomes: what is not known stands before what was settled.
func gravity(f finding.Finding) int {
	return slices.Index([]finding.Outcome{finding.Clear, finding.Conditional, finding.Unknown, finding.Review,
		finding.Forbidden}, f.Outcome)
}

// states are the sizes of the unit as it travels, as it stands, and where something of it
// is forgotten.
func (m *making) states(all []rig.Measures) {
	var rows []Row
	for _, s := range all {
		name := m.In.Term(s.State)
		if s.Forgotten != "" {
			name = m.say(say.That("paper.forgotten", "name", s.Forgotten))
		}
		cells := []string{name, "", "", "", ""}
		if s.Shaped {
			e := s.Extent
			cells = []string{
				name,
				m.In.Quantity(e.Top),
				m.In.Quantity(e.Width()),
				m.In.Quantity(e.Length()),
				m.In.Quantity(e.Bottom),
			}
		}
		rows = append(rows, Row{Cells: cells, Loud: s.Hits})
	}
	m.heading(say.That("paper.head_states"))
	m.table(rows, []float64{0.28, 0.18, 0.18, 0.18, 0.18}, say.That("paper.head_state"), say.That("paper.head_height"),
		say.That("paper.head_width"), say.That("paper.head_length"), say.That("paper.head_lowest"))
}

// masses are what the unit weighs and where that rests.
func (m *making) masses(r *wire.RigReport) {
	var rows []Row
	add := func(what say.Remark, mass *wire.MassRange) {
		text := ""
		if mass != nil {
			text = mass.Text
		}
		rows = append(rows, Row{Cells: []string{m.say(what), text}})
	}
	add(say.That("rig.unit"), r.Unit)
	add(say.That("rig.on_coupling"), r.Coupling)
	add(say.That("rig.unit_axles"), r.Group)
	add(say.That("rig.rig"), r.Whole)
	m.heading(say.That("paper.head_masses"))
	m.table(rows, []float64{0.34, 0.66}, say.That("paper.head_of"), say.That("paper.head_mass"))
}

// onAxles is what each axle carries, and may.
func (m *making) onAxles(r *wire.RigReport) {
	of := map[wire.Vehicle]say.Remark{wire.TowVehicle: say.That("paper.of_tow"), wire.TowedUnit: say.That("paper.of_unit")}
	var rows []Row
	for _, a := range r.Axles {
		carries, rating := "", ""
		if a.Mass != nil {
			carries = a.Mass.Text
		}
		if a.Rating != nil {
			rating = m.In.Quantity(measure.Mass(*a.Rating * float64(measure.Kilogram)))
		}
		rows = append(rows, Row{Cells: []string{
			m.say(say.That("paper.axle", "of", of[a.Of], "number", a.Number)), carries, rating,
		}})
	}
	if len(rows) > 0 {
		m.heading(say.That("paper.head_axles"))
		m.table(rows, []float64{0.26, 0.48, 0.26}, say.That("paper.head_axle"), say.That("paper.head_carries"),
			say.That("paper.head_rating"))
	}
}

// checked lists what was checked, with what it rests on.
func (m *making) checked(found []finding.Finding) {
	var rows []Row
	for i, f := range found {
		what := m.In.Term(f.Rule)
		if place := m.In.Say(f.Place); place != "" {
			what = m.say(say.That("paper.of_place", "rule", f.Rule, "place", f.Place))
		}
		rows = append(rows, Row{
			Cells: []string{fmt.Sprint(i + 1), what, m.say(state(f.Outcome)), m.In.Summary(f)},
			Loud:  f.Outcome == finding.Forbidden,
		})
	}
	m.heading(say.That("paper.head_checks"))
	m.table(rows, []float64{0.06, 0.24, 0.14, 0.56}, say.That("paper.head_number"), say.That("paper.head_quantity"),
		say.That("paper.head_state"), say.That("paper.head_says"))
}
