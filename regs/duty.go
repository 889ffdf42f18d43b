package regs

import (
	"cmp"
	"slices"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Drive is what a trip asks of a driver in one jurisdiction.
type Drive struct {
	Jurisdiction string
	Use          limit.Use
	Unit, Rig    measure.Known[measure.Mass]
	Driving      time.Duration // the longest between two rests, of the whole trip where none are planned; 0: not known
	Line         orb.LineString
	At           time.Time
}

// Duty answers hours of driving, licence, brakes and inspection in one
// jurisdiction, by its own rows and those of its country. A row of a country
// binds, but never clears: what the jurisdiction asks beside it is not known.
// Nor does a row with a note, which a person must read.
//
// Hours are compared with one shift: when the driver rests is not planned here.
func (t *Tables) Duty(d Drive) []finding.Finding {
	var out []finding.Finding
	var missing []say.Term
	for _, topic := range duty.Thresholds() {
		if found := t.threshold(d, topic); found != nil {
			out = append(out, *found)
		} else {
			missing = append(missing, topic)
		}
	}
	hours := t.driving(d)
	out = append(out, hours...)
	if len(hours) == 0 {
		missing = append(missing, duty.AllHours)
	}
	if len(missing) > 0 {
		f := d.finding("duty")
		f.Reason = finding.NoRow
		f.Says = []say.Remark{say.That("duty.no_row", "topics", missing, "where", say.Jurisdiction(d.Jurisdiction))}
		out = append(out, f)
	}
	return out
}

// finding is an answer that is still open. Permit offices do not answer for
// drivers.
func (d Drive) finding(rule duty.Topic) finding.Finding {
	return finding.Finding{
		Topic: finding.Duty, Rule: finding.Rule(rule), Jurisdiction: d.Jurisdiction, Outcome: finding.Unknown,
		Settles: finding.By(d.office(rule)),
	}
}

// office is the step of asking those who answer for drivers and their vehicles.
func (d Drive) office(rule duty.Topic) finding.Step {
	here := say.Jurisdiction(d.Jurisdiction)
	return finding.Step{By: finding.Office, Whom: say.That("office.drivers", "of", here), Of: d.Jurisdiction + ":drivers",
		Asks: say.That("task.duty", "topic", rule)}
}

// reading is what settles that rows leave it open what is asked: reading each of them,
// where that lets it clear, or the office. The finding shows what is to be read.
func (t *Tables) reading(f *finding.Finding, d Drive, rule duty.Topic, all []*duty.Row) [][]finding.Step {
	var out []finding.Step
	for _, r := range all {
		switch doubt := t.open(r, d); {
		case doubt == "":
		case doubt != r.Doubt(d.At, t.Term), doubt == finding.Made, r.Note != "", r.Jurisdiction != d.Jurisdiction,
			r.Use != "" && r.Use != d.Use:
			return finding.By(d.office(rule))
		default:
			out = append(out, verifying(duty.Table().Name, r.ID, ""))
		}
	}
	if len(out) == 0 {
		return finding.By(d.office(rule))
	}
	for _, r := range all {
		if !slices.ContainsFunc(f.Citations, func(c finding.Citation) bool { return c.ID == r.ID }) {
			t.cite(f, r, false)
		}
	}
	return [][]finding.Step{out, {d.office(rule)}}
}

// meeting is what settles what is asked: what decides whether it is, seeing to it, and
// what is left where it turns out not to be. Where nothing decides, the office may say as
// well that it is not asked of such a rig.
func (d Drive) meeting(f *finding.Finding, hangs []say.Remark, again func(Drive) []finding.Finding) [][]finding.Step {
	var out []finding.Step
	for _, on := range hangs {
		switch on.Code {
		case "hangs.use":
			out = append(out, ofUse.step())
			out = append(out, d.whatever(f, again)...)
		case "duty.unit_over", "duty.rig_over":
			out = append(out, stepOf(limit.GrossMass), d.office(duty.Topic(f.Rule)))
		}
	}
	steps, office := append(once(out), seeing(f.Demands.Conditions)...), d.office(duty.Topic(f.Rule))
	if len(out) > 0 {
		return [][]finding.Step{steps, append(slices.Clone(steps), office)}
	}
	return [][]finding.Step{steps, {office}}
}

// whatever is what is still to be done after each answer to how the rig travels. The
// finding shows the rows that are to be read then.
func (d Drive) whatever(f *finding.Finding, again func(Drive) []finding.Finding) (more []finding.Step) {
	for _, use := range []limit.Use{limit.Commercial, limit.Private} {
		d.Use = use
		for _, other := range again(d) {
			if other.Outcome != finding.Unknown {
				continue
			}
			for _, s := range other.Settles[0] {
				of := func(c finding.Citation) bool { return c.ID == s.Of }
				if i := slices.IndexFunc(other.Citations, of); i >= 0 && !slices.ContainsFunc(f.Citations, of) {
					shown := other.Citations[i]
					shown.Decides = false
					f.Citations = append(f.Citations, shown)
				}
				more = append(more, s)
			}
		}
	}
	return more
}

// seeing are the steps of seeing to what drivers and vehicles are asked, which names where.
func seeing(conditions []say.Remark) []finding.Step {
	var out []finding.Step
	for _, asked := range conditions {
		out = append(out, finding.Step{By: finding.Meet, Asks: asked})
	}
	return out
}

// dutyRows lists the rows of a topic for a jurisdiction and for its country.
func (t *Tables) dutyRows(code string, topic duty.Topic) []*duty.Row {
	var out []*duty.Row
	for _, key := range slices.Compact([]string{code, code[:min(2, len(code))]}) {
		for _, r := range t.duty[key] {
			if r.Topic == topic {
				out = append(out, r)
			}
		}
	}
	return out
}

// open is why a row that does not bind does not settle that nothing is asked, ""
// where it does.
func (t *Tables) open(r *duty.Row, d Drive) finding.Reason {
	switch doubt := r.Doubt(d.At, t.Term); {
	case doubt != "":
		return doubt
	case rows.IsRival(r.ID, r.Status):
		return finding.Contradicts
	case r.Jurisdiction != d.Jurisdiction || len(r.Jurisdiction) <= 2:
		return finding.NoRow // of the jurisdiction's own
	case r.Note != "":
		return finding.ToRead
	}
	return ""
}

func (d Drive) asked() duty.Case {
	// a way that is not known may be anywhere
	c := duty.Case{Use: d.Use, Unit: d.Unit, Rig: d.Rig, MostNorth: 90, MostSouth: -90}
	if len(d.Line) > 0 {
		c.MostNorth, c.MostSouth = -90, 90
	}
	if least, ok := d.Unit.Least(); ok && d.Rig.Open() {
		c.Rig = measure.AtLeast(least)
	}
	for _, p := range d.Line {
		c.MostNorth, c.MostSouth = max(c.MostNorth, p.Lat()), min(c.MostSouth, p.Lat())
	}
	return c
}

// threshold answers one topic of mass, nil where no row speaks of it.
func (t *Tables) threshold(d Drive, topic duty.Topic) *finding.Finding {
	found := t.dutyRows(d.Jurisdiction, topic)
	if len(found) == 0 {
		return nil
	}
	f := d.finding(topic)
	var asks, open []say.Remark
	for _, r := range found {
		applies, hangs := r.Binds(d.asked())
		t.cite(&f, r, applies == limit.Yes)
		f.Reason = cmp.Or(f.Reason, t.open(r, d))
		if r.Use != "" && r.Use != d.Use {
			f.Reason = cmp.Or(f.Reason, finding.NoRow) // for this use
		}
		switch {
		case applies == limit.No:
		case applies == limit.Yes || r.Firm(d.At, t.Term):
			f.Outcome = finding.Conditional
			asked := say.That("duty.condition", "topic", topic, "where", say.Jurisdiction(d.Jurisdiction), "demand", r.Demand)
			f.Demands = f.Demands.Union(finding.Demands{Conditions: []say.Remark{asked}})
			asks = append(asks, say.That("duty.demand", "demand", r.Demand, "hangs", hangs))
			open = append(open, hangs...)
		default:
			asks = append(asks, say.That("duty.perhaps", "demand", r.Demand, "hangs", hangs))
		}
	}
	switch {
	case f.Outcome == finding.Conditional:
		f.Answer(finding.Conditional, finding.Exceeded, say.That("duty.asks", "topic", topic, "asks", asks))
		f.Settles = d.meeting(&f, open, func(other Drive) []finding.Finding {
			return []finding.Finding{*t.threshold(other, topic)}
		})
	case f.Reason == "" && len(asks) == 0:
		for i := range f.Citations { // that none of them binds is what clears
			f.Citations[i].Decides = true
		}
		f.Answer(finding.Clear, "", say.That("duty.within", "topic", topic))
	default:
		if len(asks) > 0 {
			f.Reason = finding.Perhaps
		}
		f.Says = append([]say.Remark{say.That("duty.open", "topic", topic)}, asks...)
		f.Settles = t.reading(&f, d, topic, found)
	}
	return &f
}

// cite puts a row behind a finding.
func (t *Tables) cite(f *finding.Finding, r *duty.Row, decides bool) {
	c := r.Finding(r.ID, t.Revision, "")
	c.Shows, c.Says, c.Decides = figures(r), say.Each([]string{r.Note}), decides
	f.Citations = append(f.Citations, c)
	f.Invented = f.Invented || r.Status == finding.Invented
}

// figures are the figures of a row.
func figures(r *duty.Row) say.Remark {
	var out []say.Remark
	if r.UnitOver != nil {
		out = append(out, say.That("duty.unit_figure", "mass", *r.UnitOver))
	}
	if r.RigOver != nil {
		out = append(out, say.That("duty.rig_figure", "mass", *r.RigOver))
	}
	switch {
	case r.Free:
		out = append(out, say.That("duty.no_hours_figure"))
	case r.Worded:
		out = append(out, say.That("duty.no_mass_figure"))
	case r.OfHours():
		out = append(out, say.That("duty.hours_figure", "hours", r.Hours.Hours()))
	}
	if r.Days > 0 {
		out = append(out, say.That("duty.days_figure", "days", r.Days))
	}
	return say.That("duty.figures", "figures", out)
}

// driving answers the hours of driving, nil where no row speaks of them. Rows
// that surely do not bind are left out; that none binds is settled only where
// all of them may clear.
func (t *Tables) driving(d Drive) []finding.Finding {
	f, others, freeing := d.finding(duty.AllHours), d.finding(duty.AllHours), d.finding(duty.AllHours)
	var bound, read []*duty.Row
	var on, freed []say.Remark
	any := false
	for _, topic := range duty.Hours() {
		for _, r := range t.dutyRows(d.Jurisdiction, topic) {
			any, read, freeing.Reason = true, append(read, r), cmp.Or(freeing.Reason, t.open(r, d))
			switch applies, hangs := r.Binds(d.asked()); {
			case applies == limit.No:
				t.cite(&others, r, true)
			case r.Free:
				freed = append(freed, say.That("duty.demand", "demand", r.Demand, "hangs", hangs))
				t.cite(&freeing, r, false)
			default:
				bound = append(bound, r)
				t.cite(&f, r, true)
				on = append(on, hangs...)
			}
		}
	}
	switch {
	case !any:
		return nil
	case len(bound) > 0:
		d.bound(&f, bound, say.Once(on))
		f.Settles = d.meeting(&f, say.Once(on), t.driving)
		return []finding.Finding{f}
	case freeing.Reason == "":
		others.Outcome, others.Settles = finding.Clear, nil // that none of them binds is what clears
		others.Says = []say.Remark{say.That("duty.no_hours")}
		return []finding.Finding{others}
	default:
		freeing.Settles = t.reading(&freeing, d, duty.AllHours, read)
		freeing.Says = append([]say.Remark{say.That("duty.hours_open")}, freed...)
		return []finding.Finding{freeing}
	}
}

// bound says what rows of hours ask, and whether the trip is longer than one
// shift.
func (d Drive) bound(f *finding.Finding, rows []*duty.Row, on []say.Remark) {
	var demands []say.Remark
	beyond := false
	for _, r := range rows {
		demands = append(demands, say.Text(r.Demand))
		beyond = beyond || r.Topic == duty.Driving && d.Driving > r.Hours
	}
	asks := []say.Remark{say.That("duty.hours_ask", "on", on, "demands", demands)}
	switch {
	case d.Driving == 0:
		f.Reason = finding.TimeOpen
		asks = append(asks, say.That("duty.time_open"))
	case beyond:
		f.Reason = finding.Exceeded
		asks = append([]say.Remark{say.That("duty.beyond_shift", "driving", d.Driving)}, asks...)
	case len(on) > 0:
		f.Reason = finding.Perhaps
	}
	f.Outcome = finding.Conditional
	f.Says = []say.Remark{say.That("duty.hours", "asks", asks)}
	here := say.Jurisdiction(d.Jurisdiction)
	f.Demands.Conditions = []say.Remark{say.That("duty.hours_in", "where", here, "asks", asks)}
}
