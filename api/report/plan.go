package report

import (
	"fmt"
	"io"
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
)

// Plan writes a plan as plain text: one screen of it, one subject, or all.
func Plan(w io.Writer, v View, p *trip.Plan, attributions []string) error {
	switch {
	case v.Why != "":
		return why(w, v, subjects(p), p.Tasks())
	case v.Full:
		return Text(w, v, p, attributions)
	default:
		return planScreen(v, p).write(w, v)
	}
}

// Text writes a plan as plain text: the verdict first, then the rig, the
// route, its legs, the findings by jurisdiction with their rows, the
// structures with their margins, what is unknown and whom to ask, time, fuel
// and cautions. attributions are the credits of the data, a line each.
func Text(w io.Writer, v View, p *trip.Plan, attributions []string) error {
	t := newText(v, p)
	t.b.WriteString(Printable(t.in.Sentences(p.Notice())) + "\n") // one line, so that nothing of it is below the fold
	t.line("%s", t.in.Say(trip.Cautions()[0]))
	t.heading(say.That("report.head_rig"))
	t.rig(p.Rig)
	t.heading(say.That("report.head_route"))
	t.route()
	if p.Road != nil {
		t.heading(say.That("report.head_rig_on_way"))
		t.ofRig(p.Road.Findings)
		t.road(p, few)
	}
	t.heading(say.That("report.head_legs"))
	t.legs()
	t.heading(say.That("report.head_rules"))
	t.rules()
	t.heading(say.That("report.head_duty"))
	t.duty()
	t.heading(say.That("report.head_structures"))
	t.structures()
	t.onRoads()
	t.heading(say.That("report.head_tasks"))
	t.allTasks(p.Tasks())
	t.heading(say.That("report.head_arrange"))
	demands := p.Verdict.Demands
	demands.Conditions = nil // they stand among what is to be done
	t.demands(demands)
	if len(p.Permits) > 0 {
		t.heading(say.That("report.head_permits"))
		t.permits()
	}
	t.heading(say.That("report.head_time"))
	t.timeAndFuel()
	t.list(say.That("report.head_assumed"), t.in.Each(p.Assumptions))
	t.list(say.That("report.head_cautions"), t.in.Each(p.Cautions))
	t.data(p.About.Revision, p.Tables, attributions)
	_, err := io.WriteString(w, t.b.String())
	return err
}

// data says which state of the data an answer rests on, and whose it is.
func (t *text) data(network, tables string, attributions []string) {
	t.list(say.That("report.head_data"), append(
		[]string{t.in.Say(say.That("report.revisions", "network", network, "tables", tables))}, attributions...))
}

func (t *text) route() {
	p := t.plan
	how := say.That("report.found")
	if p.Given {
		how = say.That("report.as_given")
	}
	if p.Given && slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Topic == finding.Given }) {
		how = say.That("report.given_in_part")
	}
	if !p.Passable {
		how = say.That("report.every_way_shut")
	}
	t.tell(1, say.That("report.route", "length", p.Length, "leaving", t.in.WeekdayMoment(p.Departure), "how", how))
	for _, f := range p.Findings {
		if f.Outcome != finding.Unknown && f.Topic != finding.Structure && f.Topic != finding.Duty {
			t.tell(1, say.That("report.about", "outcome", t.outcome(f.Outcome), "what", "", "says", f.Says,
				"whom", t.in.Ask(f)))
		}
	}
	for _, a := range p.Avoided {
		t.avoided(a)
	}
}

func (t *text) avoided(a choosing.Avoided) {
	extra := say.That("report.longer_by", "length", a.Extra, "time", t.duration(a.ExtraTime))
	if a.Extra < 0 {
		extra = say.That("report.shorter_by", "length", -a.Extra, "time", t.duration(a.ExtraTime))
	}
	if a.Ferry {
		t.tell(1, say.That("report.avoided_ferry", "from", a.From, "to", a.To, "extra", extra))
		return
	}
	for _, s := range a.Signs {
		t.tell(1, say.That("report.avoided", "what", s, "why", "", "count", 1))
	}
	type passed struct{ what, why string }
	var order []passed
	times := map[passed]int{}
	for _, s := range a.Structures {
		one := passed{t.in.Say(s.Called), t.in.All(s.Others)}
		if s.Known && s.Margin < 0 {
			one.why = t.in.Say(say.That("report.short", "by", -s.Margin))
		}
		if times[one]++; times[one] == 1 {
			order = append(order, one)
		}
	}
	for _, one := range order {
		t.tell(1, say.That("report.avoided", "what", one.what, "why", one.why, "count", times[one]))
	}
	t.tell(1, say.That("report.going_round", "from", a.From, "to", a.To, "extra", extra))
}

func (t *text) duration(d driving.Duration) string {
	if !d.Unknown.None() {
		return t.in.Say(say.That("report.time_unknown", "why", d.Unknown))
	}
	minutes := int(d.Round(time.Minute).Minutes())
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}

func (t *text) legs() {
	for i, l := range t.plan.Legs {
		v := l.Verdict()
		start := say.That("report.start_unknown")
		if !l.Start.IsZero() {
			start = say.That("report.starts", "at", l.Start.Format("15:04"))
		}
		t.tell(1, say.That("report.leg", "number", i+1, "from", l.From, "to", l.To, "through", t.codes(l.Jurisdictions),
			"length", l.Length, "start", start, "time", t.duration(l.Time), "outcome", t.outcome(v.Outcome()),
			"unknowns", v.Unknowns))
		if len(l.Roads) > 0 {
			t.line("     %s", t.in.Say(say.That("report.by_roads", "roads", t.in.Each(l.Roads))))
		}
		if c := l.Climb; c != nil && c.Unknown < l.Length {
			var unknown say.Remark
			if c.Unknown > 0 {
				unknown = say.That("report.of_it_unknown", "length", c.Unknown)
			}
			t.line("     %s", t.in.Say(say.That("report.leg_climbs", "up", measure.Rise(c.Ascent),
				"down", measure.Rise(c.Descent), "steepest", 100*c.Steepest, "unknown", unknown)))
		}
		if l.Unmatched {
			t.line("     %s", t.in.Say(say.That("report.leg_unmatched")))
		}
	}
}

// codes are the jurisdictions that a place may lie in.
func (t *text) codes(c []string) string {
	if len(c) == 0 {
		return t.in.Say(say.That("report.jurisdiction_unknown"))
	}
	return t.in.Say(say.That("report.jurisdictions", "all", c))
}

func (t *text) timeAndFuel() {
	p := t.plan
	t.tell(1, say.That("report.driving_time", "time", t.duration(p.Time)))
	if !p.Fuel.Unknown.None() {
		t.tell(1, say.That("report.fuel_unknown", "why", p.Fuel.Unknown))
	} else {
		t.tell(1, say.That("report.fuel_of_trip", "low", p.Fuel.Low, "high", p.Fuel.High))
	}
	for i, l := range p.Legs {
		if !l.Fuel.Unknown.None() {
			t.tell(2, say.That("report.leg_no_fuel", "leg", i+1, "time", t.duration(l.Time)))
			continue
		}
		t.tell(2, say.That("report.leg_fuel", "leg", i+1, "time", t.duration(l.Time), "low", l.Fuel.Low, "high", l.Fuel.High))
	}
}
