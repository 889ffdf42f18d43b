package paper

import (
	"slices"

	"wayhouse/api/draw"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
)

// firstTasks is how many tasks a route sheet names: the others are counted.
const firstTasks = 6

// routeSheet is what a driver drives by: what is not known first, what is asked on the
// way, whom to call; then each day on a page of its own.
func (p Print) routeSheet(t *trip.Plan) Doc {
	m := p.ofTrip(RouteSheet, t)
	m.doc.Large = true
	if !t.Rig.Unit.HeightMeasured {
		m.mark(say.That("paper.draft"))
	}
	m.state(t)
	m.unknown(t)
	m.asked(t)
	m.offices(t)
	m.strip(t)
	for i, d := range m.days(t) {
		if i == 0 || d.drives {
			m.add(Leaf{})
		}
		m.day(t, d)
	}
	return m.doc
}

// strip is the way pulled straight, to see at once what stands over it.
func (m *making) strip(t *trip.Plan) {
	m.add(Leaf{})
	m.heading(say.That("paper.head_strip"))
	for _, row := range draw.StripRows(m.In, t) {
		m.add(Picture{Of: row, Says: m.say(say.That("paper.head_strip"))})
	}
	m.add(List{Items: draw.StripNotes(m.In, t)})
	for _, c := range wire.Credits(m.In, t.About, false) {
		m.add(Text{Says: c.String(), Small: true})
	}
}

// state says whether to drive by the sheet at all.
func (m *making) state(t *trip.Plan) {
	switch {
	case !t.Passable:
		m.loud(say.That("paper.shut"))
	case !t.Drivable():
		m.loud(say.That("paper.forbidden"))
	}
	for _, f := range t.All() {
		if f.Outcome == finding.Forbidden {
			m.add(List{Items: []string{m.found(f)}})
		}
	}
	if !t.Rig.Unit.HeightMeasured {
		m.loud(say.That("paper.measure_height", "height", sized(t.Rig.Height)))
		m.add(Fields{m.field(say.That("paper.measured_height"), ""), m.field(say.That("paper.measured_by"), "")})
	}
	m.loud(say.That("paper.roads", "name", t.About.Name, "caution", t.About.Caution))
}

// found is a finding with where it is about.
func (m *making) found(f finding.Finding) string {
	var rule any = f.Rule
	if f.Topic == finding.Hours { // of which it speaks in any case
		rule = nil
	}
	return m.say(say.That("paper.found", "jurisdiction", f.Jurisdiction, "rule", rule, "place", f.Place, "says", f.Says))
}

// unknown says what is not known of the way, and the first of what is to be done about it.
func (m *making) unknown(t *trip.Plan) {
	l := t.Tasks()
	if l.Open == 0 {
		return
	}
	m.heading(say.That("paper.head_unknown"))
	m.text(say.That("paper.open", "open", l.Open, "tasks", len(l.Tasks)))
	var items []string
	for _, one := range l.Tasks[:min(firstTasks, len(l.Tasks))] {
		first := say.Remark{}
		if len(one.Asks) > 0 {
			first = one.Asks[0].Says
		}
		items = append(items, m.say(say.That("paper.task", "by", one.By, "whom", one.Whom, "asks", first,
			"more", max(0, len(one.Asks)-1))))
	}
	if more := len(l.Tasks) - len(items); more > 0 {
		items = append(items, m.say(say.That("paper.more_tasks", "count", more)))
	}
	m.add(List{Items: items})
}

// asked says what the way asks of whoever drives it: permits and escorts, hours, wind,
// conditions.
func (m *making) asked(t *trip.Plan) {
	var items []string
	tell := func(r say.Remark) { items = append(items, m.say(r)) }
	for _, n := range t.Permits {
		tell(say.That("paper.permit_aboard", "jurisdiction", say.Jurisdiction(n.Jurisdiction)))
	}
	d := t.Verdict.Demands
	if d.Escorts() > 0 {
		tell(say.That("paper.escorts", "front", d.EscortsFront, "rear", d.EscortsRear, "any", d.EscortsAny))
	}
	if d.HeightPole {
		tell(say.That("paper.pole"))
	}
	if d.Survey {
		tell(say.That("paper.survey"))
	}
	var said []say.Remark
	for _, f := range t.All() {
		hours := f.Topic == finding.Hours
		wind := f.Topic == finding.Rig && f.Rule == rig.RuleWind
		if (hours || wind) && f.Outcome != finding.Clear {
			items, said = append(items, m.found(f)), append(said, f.Demands.Conditions...)
		}
	}
	for _, c := range shared(d.Conditions) {
		if !slices.ContainsFunc(said, func(s say.Remark) bool { return s.String() == c.String() }) {
			tell(c)
		}
	}
	if items = slices.Compact(items); len(items) > 0 {
		m.heading(say.That("paper.head_asked"))
		m.add(List{Items: items})
	}
}

// shared tells what several jurisdictions ask alike once, with all of them: federal rules
// hold in each.
func shared(all []say.Remark) (out []say.Remark) {
	const where = "where"
	asks := func(r say.Remark) string { // wherever it is
		r.Args = slices.DeleteFunc(slices.Clone(r.Args), func(a say.Arg) bool { return a.Name == where })
		return r.String()
	}
	for _, c := range all {
		at, placed := c.Get(where).(say.Jurisdiction)
		i := slices.IndexFunc(out, func(o say.Remark) bool { return placed && asks(o) == asks(c) })
		if i < 0 {
			c.Args = slices.Clone(c.Args)
			out = append(out, c)
			continue
		}
		for k, a := range out[i].Args {
			if before, ok := a.Value.(say.Jurisdiction); ok && a.Name == where {
				out[i].Args[k].Value = before + ", " + at
			}
		}
	}
	return out
}

// offices lists whom to call, for each jurisdiction on the way.
func (m *making) offices(t *trip.Plan) {
	var rows []Row
	var done []string
	for _, l := range t.Legs {
		for _, code := range l.Jurisdictions {
			if slices.Contains(done, code) {
				continue
			}
			done = append(done, code)
			name, contact := m.office(t, code)
			rows = append(rows, Row{Cells: []string{code, name, contact}})
		}
	}
	if len(rows) > 0 {
		m.heading(say.That("paper.head_offices"))
		m.table(rows, []float64{0.14, 0.46, 0.40}, say.That("paper.jurisdiction"), say.That("paper.office"),
			say.That("paper.contact"))
	}
}

// office is the office of a jurisdiction as the findings name it, and how to reach it: ""
// where the tables do not say.
func (m *making) office(t *trip.Plan, code string) (name, contact string) {
	for _, f := range t.All() {
		for _, step := range slices.Concat(f.Settles...) {
			if n, ok := step.Whom.Get("name").(string); ok && step.By == finding.Office && step.Of == code {
				contact, _ := step.Whom.Get("contact").(string)
				return m.In.Ours(n), contact
			}
		}
	}
	return "", ""
}
