package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"

	"wayhouse/api/draw"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
)

// Rig writes what a rig is as plain text: what to look at first, then masses,
// states, stability, turning, what holds the house, drag, and a checklist. plan is
// the way that was asked about, nil for none; tables is the revision of the tables
// that were asked.
func Rig(w io.Writer, v View, r rig.Report, plan *trip.Plan, tables string, invented bool) error {
	t := newText(v, &trip.Plan{Invented: invented, Rig: r.Rig})
	roll := finding.Roll(r.Findings)
	t.line("%s%s, not clear: %d answers are unknown.", marked(invented), outcome(roll.Outcome()), roll.Unknowns)
	t.line("%s", t.in.Say(r.Cautions[0]))
	t.heading("Rig")
	t.rig(r.Rig)
	t.heading("What it weighs")
	t.masses(r)
	t.heading("Ratings, tipping, wind")
	t.ofRig(r.Findings)
	t.heading("As it travels, as it stands, and with something forgotten")
	t.states(r)
	t.heading("How it turns")
	t.turning(r.Turning)
	t.heading("What passes under it")
	t.underneath(r.Underneath)
	if r.Holding != nil {
		t.heading("What holds the house to the trailer")
		t.holding(*r.Holding)
	}
	t.heading("Drag and power")
	t.drag(r)
	if plan != nil {
		t.heading("On the way")
		t.plan = plan
		t.road(plan, many)
	}
	t.heading("To scale")
	if err := draw.Text(&t.b, t.in, r.Rig, r.Statics, width, invented); err != nil {
		return err
	}
	t.list("Before it leaves", t.in.Each(r.Departure))
	t.list("Cautions", t.in.Each(r.Cautions))
	t.list("Data", []string{"tables revision " + tables})
	_, err := io.WriteString(w, t.b.String())
	return err
}

// ofRig writes findings of a rig; ratings that only a scale can clear come last, with
// one word on whom to ask.
func (t *text) ofRig(findings []finding.Finding) {
	var within []finding.Finding
	for _, f := range findings {
		if f.Outcome == finding.Unknown && f.Margin.Known() && rig.Rated(f) {
			within = append(within, f)
			continue
		}
		t.answered(f)
	}
	for _, f := range within {
		t.line("  %s%s: %s [left %s]", marked(f.Invented), outcome(f.Outcome), t.in.Summary(f), t.in.Down(f.Margin))
		t.rows(f.Citations)
	}
	if len(within) > 0 {
		t.line("      for these ask %s", t.in.Ask(within[0]))
	}
}

// told reports whether a finding says what it compared already.
func told(f finding.Finding) bool {
	switch len(f.Figures.Args) {
	case 0:
		return tells(f.Says, f.Value)
	case 1:
		return tells(f.Says, f.Figures.Args[0].Value)
	default:
		return tells(f.Says, f.Figures)
	}
}

// tells reports whether a value stands in remarks, or in those that they are made of.
func tells(remarks []say.Remark, value any) bool {
	return slices.ContainsFunc(remarks, func(r say.Remark) bool {
		return slices.ContainsFunc(r.Args, func(a say.Arg) bool {
			switch inner := a.Value.(type) {
			case []say.Remark:
				return tells(inner, value)
			case say.Remark:
				return inner.String() == fmt.Sprint(value) || tells([]say.Remark{inner}, value)
			default:
				return fmt.Sprint(inner) == fmt.Sprint(value)
			}
		})
	})
}

// answered writes a finding with what it compared, its rows and whom to ask.
func (t *text) answered(f finding.Finding) {
	line := fmt.Sprintf("  %s%s %s", marked(f.Invented), outcome(f.Outcome), t.in.Term(f.Rule))
	if f.Jurisdiction != "" {
		line += " " + f.Jurisdiction
	}
	line += ": " + t.in.Summary(f)
	if value := t.in.Value(f); value != "" && !told(f) {
		line += "; " + value
	}
	if f.Margin.Known() {
		line += " [left " + t.in.Down(f.Margin) + "]"
	}
	t.line("%s", line)
	t.rows(f.Citations)
	if t.in.Ask(f) != "" {
		t.line("      ask %s", t.in.Ask(f))
	}
}

// plain reports whether a row shows a figure of its source and nothing else.
func plain(r finding.Citation) bool { return len(r.Says) == 0 && r.Shows.None() }

// rows writes where what a finding compares comes from, rows of one origin together.
func (t *text) rows(rows []finding.Citation) {
	for len(rows) > 0 {
		r, n := rows[0], 1
		for n < len(rows) && origin(rows[n]) == origin(r) && rows[n].Decides == r.Decides && plain(r) && plain(rows[n]) {
			r.Published += fmt.Sprintf(" (%s); %s", r.ID, rows[n].Published)
			r.ID = rows[n].ID
			n++
		}
		t.row(r)
		rows = rows[n:]
	}
}

func (t *text) masses(r rig.Report) {
	s := r.Statics
	invented := marked(t.plan.Invented)
	switch s.Basis {
	case rig.OnScale:
		t.line("  %sweighed on %s (%s): %s", invented, r.Rig.Unit.Ticket.On.Format("2006-01-02"),
			cmp.Or(r.Rig.Unit.Ticket.Label, "no label"), t.mass(s.Unit))
	case rig.ByParts:
		t.line("  %sby the sum of its parts, which nobody weighed: %s", invented, t.mass(s.Unit))
	default:
		t.line("  UNKNOWN: %s", t.in.All(s.Unknown))
	}
	if s.Basis == rig.OnScale && s.Parts.High > 0 {
		t.line("  %sits parts add up to %s", invented, t.mass(s.Parts))
	}
	t.line("  %scentre of gravity: %s behind the coupling, %s to the right, %s up", invented,
		centre(s.Centre.Along), centre(s.Centre.Across), centre(s.Centre.Up))
	if on, ok := s.Coupling.Value(); ok {
		t.line("  %son the coupling: %s, %.1f %% of the unit (%.1f to %.1f)", invented, t.mass(on), 100*s.Share.Likely,
			100*s.Share.Low, 100*s.Share.High)
	}
	if on, ok := s.Group.Value(); ok {
		t.line("  %son all axles of the unit together: %s", invented, t.mass(on))
	}
	if on, ok := s.Right.Value(); ok {
		t.line("  %sof that on the right tires: %s", invented, t.mass(on))
	}
	t.axles(r)
	if s.Basis != rig.Nothing {
		for _, why := range s.Unknown {
			t.line("  UNKNOWN: %s", t.in.Say(why))
		}
	}
	t.levers(r)
}

func (t *text) mass(e rig.Estimate) string { return t.in.Say(e.Says()) }

func centre(c rig.Centre) string {
	if !c.Known() {
		return "UNKNOWN"
	}
	if c.Low == c.High {
		return fmt.Sprintf("%.2f m", float64(c.Likely))
	}
	return fmt.Sprintf("%.2f m (%.2f to %.2f)", float64(c.Likely), float64(c.Low), float64(c.High))
}

// axles writes what each axle carries beside what it may.
func (t *text) axles(r rig.Report) {
	var rows []entry
	add := func(of string, axles []rig.Axle, masses []rig.Estimate) {
		for i, a := range axles {
			e := entry{invented: t.plan.Invented, cells: []string{fmt.Sprintf("%s axle %d", of, i+1), "UNKNOWN",
				"UNKNOWN", "UNKNOWN", "not given", "UNKNOWN"}}
			if i < len(masses) {
				e.cells[1], e.cells[2] = kilos(masses[i]), pounds(masses[i])
				if a.Tires > 0 {
					e.cells[3] = kilos(masses[i].Over(a.Tires))
				}
			}
			if limit := a.Lowest(); limit != nil {
				e.cells[4] = fmt.Sprintf("%.0f kg", limit.Kilograms())
				if i < len(masses) {
					e.cells[5] = fmt.Sprintf("%+.0f kg", (*limit - masses[i].High).Kilograms())
				}
			}
			rows = append(rows, e)
		}
	}
	add("tow vehicle", r.Rig.Tow.Truck.Axles, r.Statics.Tow)
	add("unit", r.Rig.Unit.Frame.Axles, r.Statics.Axles)
	if len(rows) > 0 {
		t.table([]string{"", "carries, kg", "lb", "each tire, kg", "may carry", "left at the high end"}, rows)
	}
}

func kilos(e rig.Estimate) string  { return span(e, measure.Kilogram) }
func pounds(e rig.Estimate) string { return span(e, measure.Pound) }

func span(e rig.Estimate, unit measure.Mass) string {
	of := func(m measure.Mass) float64 { return float64(m) / float64(unit) }
	if e.Exact() {
		return fmt.Sprintf("%.0f", of(e.Likely))
	}
	return fmt.Sprintf("%.0f (%.0f to %.0f)", of(e.Likely), of(e.Low), of(e.High))
}

// levers writes what moving the heaviest parts does.
func (t *text) levers(r rig.Report) {
	const most = 8
	if len(r.Levers) == 0 {
		return
	}
	t.line("  moved 1 m toward the coupling, these put more on it and take as much off the axles:")
	levers := slices.Clone(r.Levers)
	slices.SortStableFunc(levers, func(a, b rig.Lever) int { return cmp.Compare(b.ToCoupling, a.ToCoupling) })
	for i, l := range levers {
		if i == most {
			t.line("    and %d smaller ones", len(r.Levers)-most)
			break
		}
		t.line("    %s%s (%s): %.1f kg", marked(t.plan.Invented), l.Part, kilos(l.Mass)+" kg", l.ToCoupling.Kilograms())
	}
}

func (t *text) states(r rig.Report) {
	if !r.States[0].Shaped && len(r.Rig.Unit.Movables) == 0 {
		t.line("  UNKNOWN: neither the outline nor what moves on it is described")
		return
	}
	var rows []entry
	for _, m := range r.States {
		name := string(m.State)
		if m.Forgotten != "" {
			name = m.Forgotten + " forgotten"
		}
		e := entry{invented: t.plan.Invented, cells: []string{name, "UNKNOWN", "UNKNOWN", "UNKNOWN", "UNKNOWN", ""}}
		if m.Shaped {
			x := m.Extent
			e.cells[1], e.cells[2], e.cells[3] = t.in.Quantity(x.Top), t.in.Quantity(x.Width()), t.in.Quantity(x.Length())
		}
		if on, ok := m.Coupling.Value(); ok {
			e.cells[4] = kilos(on)
		}
		if m.Hits {
			e.cells[5] = "HITS"
		}
		rows = append(rows, e)
	}
	t.table([]string{"", "height", "width", "length", "on coupling, kg", ""}, rows)
}

func (t *text) turning(r rig.Turning) {
	if !r.Rig.Known() {
		t.line("  UNKNOWN: %s", t.in.Say(r.Rig.Why()))
		return
	}
	var rows []entry
	for _, c := range r.Circles {
		e := entry{invented: t.plan.Invented, cells: []string{fmt.Sprintf("%.1f m", float64(c.Radius)),
			"does not hold it", "", ""}}
		if c.Lock {
			e.cells[0] += ", full lock"
		}
		if c.Held {
			e.cells = []string{e.cells[0], fmt.Sprintf("%.2f m", float64(c.OffTracking)),
				fmt.Sprintf("%.2f m", float64(c.Inner)), fmt.Sprintf("%.2f m", float64(c.Width))}
		}
		rows = append(rows, e)
	}
	t.table([]string{"steady circle", "axles cut in by", "inner side at", "swept width"}, rows)
}

func (t *text) underneath(clears measure.Known[rig.Underneath]) {
	u, ok := clears.Value()
	if !ok {
		t.line("  UNKNOWN: %s", t.in.Say(clears.Why()))
		return
	}
	invented := marked(t.plan.Invented)
	t.line("  %s%.2f m under the middle of %.2f m between supports: it passes crests of %.0f m radius and more",
		invented, float64(u.Clearance), float64(u.Span), float64(u.Crest))
	if u.Crossing > 0 {
		t.line("  %sthe steepest level crossing within the usual standard needs %.3f m; crossings that keep to "+
			"none are not listed anywhere", invented, float64(u.Crossing))
	} else {
		t.line("  UNKNOWN: the usual standard of level crossings says nothing of so long a span")
	}
	if u.Departure > 0 {
		t.line("  %sthe tail passes a change of grade of %.1f %%", invented, 100*u.Departure)
	} else {
		t.line("  UNKNOWN: what the tail clears is not given")
	}
}
