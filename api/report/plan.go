package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
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
		return planScreen(v.In, p).write(w, v)
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
	t.heading("Rig")
	t.rig(p.Rig)
	t.heading("Route")
	t.route()
	if p.Road != nil {
		t.heading("The rig on this way")
		t.ofRig(p.Road.Findings)
		t.road(p, few)
	}
	t.heading("Legs")
	t.legs()
	t.heading("What the rules say")
	t.rules()
	t.heading("Driver, brakes and inspections")
	t.duty()
	t.heading("Structures")
	t.structures()
	t.onRoads()
	t.heading("To do")
	t.allTasks(p.Tasks())
	t.heading("To arrange")
	demands := p.Verdict.Demands
	demands.Conditions = nil // they stand among what is to be done
	t.demands(demands)
	if len(p.Permits) > 0 {
		t.heading("Permits to ask for")
		t.permits()
	}
	t.heading("Time and fuel")
	t.timeAndFuel()
	t.list("Taken for granted", t.in.Each(p.Assumptions))
	t.list("Cautions", t.in.Each(p.Cautions))
	t.data(p.About.Revision, p.Tables, attributions)
	_, err := io.WriteString(w, t.b.String())
	return err
}

// data says which state of the data an answer rests on, and whose it is.
func (t *text) data(network, tables string, attributions []string) {
	t.list("Data", append([]string{fmt.Sprintf("road network revision %s, tables revision %s", network, tables)},
		attributions...))
}

func (t *text) route() {
	p := t.plan
	how := "found in the network"
	if p.Given {
		how = "as it was given; checked, not changed"
	}
	if p.Given && slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Topic == finding.Given }) {
		how = "as it was given, and found in part only: see what is unknown below"
	}
	if !p.Passable {
		how = "EVERY WAY IS SHUT: this is the way it would take"
	}
	t.line("  %s, leaving %s; %s", p.Length,
		p.Departure.Format("Monday 2006-01-02 15:04 MST"), how)
	for _, f := range p.Findings {
		if f.Outcome != finding.Unknown && f.Topic != finding.Structure && f.Topic != finding.Duty {
			t.line("  %s: %s%s.", outcome(f.Outcome), t.in.Summary(f), t.ask(f))
		}
	}
	for _, a := range p.Avoided {
		t.avoided(a)
	}
}

func (t *text) avoided(a choosing.Avoided) {
	extra := t.say("%s and %s longer", a.Extra, t.duration(a.ExtraTime))
	if a.Extra < 0 {
		extra = t.say("%s shorter, %s more", -a.Extra, t.duration(a.ExtraTime))
	}
	if a.Ferry {
		t.line("  avoided a possible ferry between %s and %s: %s", a.From, a.To, extra)
		return
	}
	for _, s := range a.Signs {
		t.line("  avoided %s", t.in.Say(s))
	}
	var lines []string
	times := map[string]int{}
	for _, s := range a.Structures {
		why := t.in.All(s.Others)
		if s.Known && s.Margin < 0 {
			why = t.in.Up(-s.Margin) + " short"
		}
		line := fmt.Sprintf("  avoided %s: %s", t.in.Say(s.Called), why)
		if times[line]++; times[line] == 1 {
			lines = append(lines, line)
		}
	}
	for _, line := range lines {
		if n := times[line]; n > 1 {
			line += fmt.Sprintf(" (%d of them)", n)
		}
		t.line("%s", line)
	}
	t.line("  going round between %s and %s is %s", a.From, a.To, extra)
}

func (t *text) duration(d driving.Duration) string {
	if !d.Unknown.None() {
		return "UNKNOWN time (" + t.in.Say(d.Unknown) + ")"
	}
	minutes := int(d.Round(time.Minute).Minutes())
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}

func (t *text) legs() {
	for i, l := range t.plan.Legs {
		v := l.Verdict()
		start := "start UNKNOWN"
		if !l.Start.IsZero() {
			start = "at " + l.Start.Format("15:04")
		}
		t.line("  %d. %s to %s, %s: %s, %s, %s; %s, %d unknown", i+1, t.in.Say(l.From),
			t.in.Say(l.To), codes(l.Jurisdictions), l.Length, start, t.duration(l.Time), outcome(v.Outcome()), v.Unknowns)
		if len(l.Roads) > 0 {
			t.line("     by %s", strings.Join(t.in.Each(l.Roads), ", "))
		}
		if c := l.Climb; c != nil && c.Unknown < l.Length {
			unknown := ""
			if c.Unknown > 0 {
				unknown = t.say("; %s of it UNKNOWN", c.Unknown)
			}
			t.line("     climbs %s and descends %s, steepest %+.1f %%%s", measure.Rise(c.Ascent),
				measure.Rise(c.Descent), 100*c.Steepest, unknown)
		}
		if l.Unmatched {
			t.line("     matches no road of this network")
		}
	}
}

func codes(c []string) string {
	if len(c) == 0 {
		return "jurisdiction UNKNOWN"
	}
	return strings.Join(c, " or ")
}

// outcome is loud for all but clear.
func outcome(o finding.Outcome) string {
	if o == finding.Clear {
		return string(o)
	}
	return strings.ToUpper(string(o))
}

func (t *text) timeAndFuel() {
	p := t.plan
	t.line("  driving %s", t.duration(p.Time))
	if !p.Fuel.Unknown.None() {
		t.line("  fuel UNKNOWN: %s", t.in.Say(p.Fuel.Unknown))
	} else {
		t.line("  fuel %s to %s; drag, tires, air and climbs are not known well, so plan with the higher figure "+
			"and a reserve", p.Fuel.Low, p.Fuel.High)
	}
	for i, l := range p.Legs {
		if !l.Fuel.Unknown.None() {
			t.line("    leg %d: %s, fuel UNKNOWN", i+1, t.duration(l.Time))
			continue
		}
		t.line("    leg %d: %s, fuel %s to %s", i+1, t.duration(l.Time), l.Fuel.Low, l.Fuel.High)
	}
}
