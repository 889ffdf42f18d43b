package report

import (
	"io"
	"strings"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
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

// Text writes all there is of a plan: its screen without a limit, and behind it the rig
// on this way, its legs, the findings by jurisdiction with their rows, structures with
// their margins, and permits. attributions are the credits of the data, a line each.
func Text(w io.Writer, v View, p *trip.Plan, attributions []string) error {
	v.Full = true
	t := newText(v, p)
	t.b.WriteString(planScreen(v, p).String())
	if p.Road != nil {
		t.heading(say.That("report.head_rig_on_way"))
		t.ofRig(p.Road.Findings)
		t.road(p, few)
	}
	if p.Timetable != nil {
		t.heading(say.That("report.head_timetable"))
		t.timetable(p)
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
	if len(p.Permits) > 0 {
		t.heading(say.That("report.head_permits"))
		t.permits()
	}
	end := &screen{in: v.In, full: true}
	end.grounds(p.Assumptions, p.Cautions, p.About, p.Tables, attributions)
	t.b.WriteString("\n" + strings.TrimPrefix(end.String(), "\n"))
	_, err := io.WriteString(w, t.b.String())
	return err
}

func (t *text) duration(d driving.Duration) string {
	if !d.Unknown.None() {
		return t.in.Say(say.That("report.time_unknown", "why", d.Unknown))
	}
	return t.in.Say(say.That("report.time", "time", d.Duration, "slow", ifSlow(d)))
}

func (t *text) legs() {
	for i, l := range t.plan.Legs {
		v := l.Verdict()
		start := say.That("report.start_unknown")
		if !l.Start.IsZero() {
			start = say.That("report.starts", "at", t.in.Clock(l.Start))
		}
		t.tell(1, say.That("report.leg", "number", i+1, "from", l.From, "to", l.To, "through", t.codes(l.Jurisdictions),
			"length", l.Length, "start", start, "time", t.duration(l.Time), "outcome", t.outcome(v.Outcome()),
			"unknowns", v.Unknowns))
		if len(l.Roads) > 0 {
			t.line("     %s", t.in.Say(say.That("report.by_roads", "roads", t.in.Each(l.Roads))))
		}
		if l.Signals+l.Stops > 0 {
			t.line("     %s", t.in.Say(say.That("report.controls", "signals", l.Signals, "stops", l.Stops)))
		}
		if c := l.Climb; c != nil && c.Unknown < l.Length {
			var unknown say.Remark
			if c.Unknown > 0 {
				unknown = say.That("report.of_it_unknown", "length", c.Unknown)
			}
			t.line("     %s", t.in.Say(say.That("report.leg_climbs", "up", measure.Rise(c.Ascent),
				"down", measure.Rise(c.Descent), "steepest", 100*c.Steepest, "unknown", unknown)))
		}
		if l.Fuel.Unknown.None() {
			all := l.Fuel.Band()
			t.line("     %s", t.in.Say(say.That("report.leg_fuel", "likely", all.Likely, "low", all.Low, "high", all.High)))
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
