package regs

import (
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// asking is the step of asking the permit office of a jurisdiction.
func (t *Tables) asking(jurisdiction string, asks say.Remark) finding.Step {
	return finding.Step{By: finding.Office, Whom: t.Office(jurisdiction), Of: jurisdiction, Asks: asks}
}

// askingLimit is the step of asking what the limit of a quantity is.
func (t *Tables) askingLimit(jurisdiction string, q limit.Quantity) finding.Step {
	return t.asking(jurisdiction, say.That("task.limit", "quantity", q))
}

// AskingRoads is the step of asking whoever runs the roads.
func AskingRoads(asks say.Remark) finding.Step {
	return finding.Step{By: finding.Office, Whom: say.That("owner.whom"), Of: "roads", Asks: asks}
}

// verifying is the step of reading a row of a table in its source.
func verifying(table, row, published string) finding.Step {
	return finding.Step{
		By:   finding.Verify,
		Of:   row,
		In:   table,
		Asks: say.That("task.verify", "row", row, "limit", published),
	}
}

// AskingLimit is how a limit is settled by asking the office of a jurisdiction.
func (t *Tables) AskingLimit(jurisdiction string, q limit.Quantity) [][]finding.Step {
	return finding.By(t.askingLimit(jurisdiction, q))
}

// Asks is how a finding is settled by asking the office of a jurisdiction.
func (t *Tables) Asks(jurisdiction string) [][]finding.Step {
	return finding.By(t.asking(jurisdiction, say.Remark{}))
}

// stepOf is the step that settles what is not known of a quantity.
func stepOf(q limit.Quantity) finding.Step {
	by, field := finding.Measure, fields[q]
	if q.IsMass() {
		by = finding.Weigh
	}
	return finding.Step{By: by, Of: field, Asks: say.That("task.quantity", "quantity", q)}
}

// fields are the fields of a request that state a quantity.
var fields = map[limit.Quantity]string{
	limit.Height: "unit.height", limit.Width: "unit.width", limit.TrailerLength: "unit.length",
	limit.CombinationLength: "rig.length", limit.SingleVehicleLength: "tow.length", limit.GrossMass: "rig.mass",
	limit.FrontOverhang: "rig.front_overhang", limit.RearOverhang: "rig.rear_overhang",
	limit.KingpinToRearAxle: "unit.coupling_to_last_axle",
	limit.SteeringAxleMass:  "rig.axles", limit.SingleAxleMass: "rig.axles", limit.TandemMass: "rig.axles",
	limit.TridemMass: "rig.axles", limit.AxleGroupMass: "rig.axles", limit.BridgeFormula: "rig.axles",
	limit.TireLoadPerWidth: "rig.axles",
}

// question is what a row hangs on and a field of the request decides.
type question struct {
	field string
	asks  say.Remark
	among []string               // the words that answer it; none: any
	with  []func(*limit.Subject) // every answer; none: they are not gone through
}

// The questions about a vehicle.
var (
	ofKind = every("unit.kind", func(among []string) say.Remark { return say.That("task.kind", "among", among) },
		limit.UnitKinds(),
		func(s *limit.Subject, k limit.Kind) { s.Kind = k })
	ofUse = every("use", func(among []string) say.Remark { return say.That("task.use", "among", among) },
		[]limit.Use{limit.Commercial, limit.Private},
		func(s *limit.Subject, u limit.Use) { s.Use = u })
	ofForm = every(
		"unit.combination",
		func(among []string) say.Remark { return say.That("task.combination", "among", among) },
		[]limit.Form{limit.Trailer, limit.Semitrailer},
		func(s *limit.Subject, f limit.Form) { s.Form = f },
	)
	ofTow = every("tow.form", func(among []string) say.Remark { return say.That("task.tow_form", "among", among) },
		limit.TowVehicles(),
		func(s *limit.Subject, t limit.Tow) { s.Tow = t })
)

// every is a question that one of some words answers.
func every[T ~string](field string, asks func([]string) say.Remark, words []T,
	set func(*limit.Subject, T)) question {
	q := question{field: field}
	for _, word := range words {
		q.among = append(q.among, string(word))
		q.with = append(q.with, func(s *limit.Subject) { set(s, word) })
	}
	q.asks = asks(q.among)
	return q
}

// openQuestion is the question that decides what a row hangs on; none where it was answered
// and the words of the row leave it open all the same.
func openQuestion(on say.Code, s limit.Subject) (question, bool) {
	switch {
	case on == "hangs.kind" && s.Kind == limit.KindUnknown:
		return ofKind, true
	case on == "hangs.use" && s.Use == limit.UseUnknown:
		return ofUse, true
	case on == "hangs.form" && s.Form == limit.FormUnknown, on == "hangs.no_semitrailer" && s.Form == limit.FormUnknown:
		return ofForm, true
	case on == "hangs.axles":
		return question{field: "unit.axles", asks: say.That("task.axles")}, true
	case s.Tow == limit.TowUnknown && slices.Contains([]say.Code{"hangs.tow", "hangs.semitrailers_of_which",
		"hangs.no_semitrailer"}, on):
		return ofTow, true
	}
	return question{}, false
}

// step is the step of answering a question.
func (q question) step() finding.Step {
	return finding.Step{By: finding.Answer, Of: q.field, Among: q.among, Asks: q.asks}
}

// answers are the questions to the user that decide whether a row is about the rig.
func (c *checking) answers(b appliedLimit) []finding.Step {
	var out []finding.Step
	for _, q := range questions(b, c.v.Subject) {
		out = append(out, q.step())
	}
	return out
}

// hanging are the steps that decide whether a row is about the rig: questions to the
// user, and one to whoever knows the rule where its words leave it open.
func (c *checking) hanging(b appliedLimit) []finding.Step {
	out := c.answers(b)
	if slices.ContainsFunc(b.hangs[:b.vehicle], func(on say.Remark) bool {
		_, ok := openQuestion(on.Code, c.v.Subject)
		return !ok
	}) {
		out = append(out, b.confirming())
	}
	return out
}

// confirming is the step of asking whoever knows the rule whether it is about the rig.
func (b appliedLimit) confirming() finding.Step {
	return finding.Step{By: finding.Confirm, Of: b.row.ID, Asks: say.That("task.holds", "row", b.row.ID, "limit",
		b.row.Published, "condition", b.row.Condition, "hangs", b.hangs[:b.vehicle])}
}

// reading are the steps after which a row can clear; ok is false where nothing lets it.
func (c *checking) reading(b appliedLimit) (steps []finding.Step, ok bool) {
	if b.umbrella || b.partly || b.row.Tier != limit.Legal || rows.IsRival(b.row.ID, b.row.Status) ||
		len(b.hangs) > b.vehicle || b.row.Status == finding.Invented || len(b.rejected) == 0 {
		return nil, false
	}
	if b.stale || b.row.Status.Doubt() != "" {
		steps = append(steps, verifying(limit.Table().Name, b.row.ID, b.row.Published))
	}
	steps = append(steps, c.hanging(b)...)
	switch {
	case b.row.Tires != limit.TireTest{}:
		steps = append(
			steps,
			finding.Step{By: finding.Measure, Of: "unit.running_gear.over_tires", Asks: say.That("task.over_tires")},
		)
	case b.row.Condition != "" && !slices.ContainsFunc(steps,
		func(s finding.Step) bool { return s.By == finding.Confirm }):
		steps = append(steps, b.confirming())
	}
	return steps, true
}

// settles is what settles a quantity that no row clears: reading the row that comes
// nearest, or asking the office. Where it hangs on questions to the user they are asked
// whatever else is done; they suffice alone where every answer settles it, and the
// office is named all the same.
func (c *checking) settles(code string, q limit.Quantity, applied []appliedLimit) [][]finding.Step {
	office := c.t.askingLimit(code, q)
	if c.brief || len(applied) == 0 {
		return finding.By(office)
	}
	best := nearest(applied)
	open := questions(best, c.v.Subject)
	if len(open) == 0 {
		if steps, ok := c.reading(best); ok {
			return [][]finding.Step{steps, {office}}
		}
		return finding.By(office)
	}
	asks := c.answers(best)
	ways := [][]finding.Step{append(slices.Clone(asks), office)}
	more, ok := c.whatever(code, q, open)
	if ok && len(more) == 0 {
		return append(finding.By(asks...), ways...)
	}
	if ok {
		ways = append([][]finding.Step{append(asks, more...)}, ways...)
	}
	return ways
}

// questions lists what a row hangs on that the user can answer, each once.
func questions(b appliedLimit, s limit.Subject) []question {
	var out []question
	for _, on := range b.hangs[:b.vehicle] {
		q, ok := openQuestion(on.Code, s)
		if ok && !slices.ContainsFunc(out, func(o question) bool { return o.field == q.field }) {
			out = append(out, q)
		}
	}
	return out
}

// whatever is what is still to be done after each answer to some questions; ok is
// false where after one of them only an office helps.
func (c *checking) whatever(code string, q limit.Quantity, open []question) (more []finding.Step, ok bool) {
	if len(open[0].with) == 0 {
		return nil, false
	}
	for _, answer := range open[0].with {
		other := *c
		answer(&other.v.Subject)
		var steps []finding.Step
		if len(open) > 1 {
			steps, ok = other.whatever(code, q, open[1:])
		} else {
			steps, ok = other.left(code, q)
		}
		if !ok {
			return nil, false
		}
		more = append(more, steps...)
	}
	return once(more), true
}

// left is what is still to be done about a quantity without asking an office.
func (c *checking) left(code string, q limit.Quantity) (steps []finding.Step, ok bool) {
	for _, f := range c.quantity(code, q) {
		if f.Outcome != finding.Unknown {
			continue
		}
		i := slices.IndexFunc(f.Settles, func(way []finding.Step) bool {
			return !slices.ContainsFunc(way, func(s finding.Step) bool { return s.By == finding.Office })
		})
		if i < 0 {
			return nil, false
		}
		steps = append(steps, f.Settles[i]...)
	}
	return steps, true
}

// once leaves out steps that stand before.
func once(steps []finding.Step) []finding.Step {
	var out []finding.Step
	for _, s := range steps {
		if !slices.ContainsFunc(out, func(o finding.Step) bool { return o.By == s.By && o.Of == s.Of }) {
			out = append(out, s)
		}
	}
	return out
}

// measured is what settles a quantity that is not known: its measure, and what no row
// clears then.
func (c *checking) measured(code string, q limit.Quantity, applied []appliedLimit) [][]finding.Step {
	step := stepOf(q)
	if slices.ContainsFunc(applied, appliedLimit.clears) {
		return append(finding.By(step), []finding.Step{step, c.t.askingLimit(code, q)})
	}
	var out [][]finding.Step
	for _, way := range c.settles(code, q, applied) {
		out = append(out, append([]finding.Step{step}, way...))
	}
	return out
}

// granted is what settles a quantity that is beyond a row: what decides whether the row
// binds, and the permit or, where none is asked for, that its demands are met.
func (c *checking) granted(f finding.Finding, q limit.Quantity, open []finding.Step) [][]finding.Step {
	office := c.t.askingLimit(f.Jurisdiction, q)
	if len(f.Demands.Permits) > 0 {
		office.Asks = say.That("task.permit", "quantity", q)
	}
	out := finding.By(append(once(open), office)...)
	if meets := f.Meets(); len(meets) > 0 && len(f.Demands.Permits) == 0 && f.Outcome == finding.Conditional {
		out = append([][]finding.Step{append(once(open), meets...)}, out...)
	}
	return out
}
