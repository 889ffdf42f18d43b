package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"

	"wayhouse/api/draw"
	"wayhouse/api/phrase"
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
	if err := draw.Text(&t.b, t.in, r.Rig, r.Statics, width, false); err != nil {
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
		t.line("  %s: %s [left %s]", outcome(f.Outcome), t.in.Summary(f), t.in.Down(f.Margin))
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
	line := fmt.Sprintf("  %s %s", outcome(f.Outcome), t.in.Term(f.Rule))
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
	switch s.Basis {
	case rig.OnScale:
		t.line("  weighed on %s (%s): %s", r.Rig.Unit.Ticket.On.Format("2006-01-02"),
			cmp.Or(r.Rig.Unit.Ticket.Label, "no label"), t.mass(s.Unit))
	case rig.ByParts:
		t.line("  by the sum of its parts, which nobody weighed: %s", t.mass(s.Unit))
	default:
		t.line("  UNKNOWN: %s", t.in.All(s.Unknown))
	}
	if s.Basis == rig.OnScale && s.Parts.High > 0 {
		t.line("  its parts add up to %s", t.mass(s.Parts))
	}
	t.line("  centre of gravity: %s behind the coupling, %s to the right, %s up", t.centre(s.Centre.Along), t.centre(s.Centre.Across), t.centre(s.Centre.Up))
	if on, ok := s.Coupling.Value(); ok {
		t.line("  on the coupling: %s, %.1f %% of the unit (%.1f to %.1f)", t.mass(on), 100*s.Share.Likely,
			100*s.Share.Low, 100*s.Share.High)
	}
	if on, ok := s.Group.Value(); ok {
		t.line("  on all axles of the unit together: %s", t.mass(on))
	}
	if on, ok := s.Right.Value(); ok {
		t.line("  of that on the right tires: %s", t.mass(on))
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

func (t *text) centre(c rig.Centre) string {
	switch {
	case !c.Known():
		return "UNKNOWN"
	case c.Low == c.High:
		return t.in.Quantity(c.Likely)
	default:
		return t.say("%s (%s to %s)", c.Likely, c.Low, c.High)
	}
}

// axles writes what each axle carries beside what it is rated for.
func (t *text) axles(r rig.Report) {
	for _, in := range t.in.EachSystem() {
		rows := axleRows(in, "tow vehicle", r.Rig.Tow.Truck.Axles, r.Statics.Tow)
		rows = append(rows, axleRows(in, "unit", r.Rig.Unit.Frame.Axles, r.Statics.Axles)...)
		if len(rows) > 0 {
			t.table([]string{"", "carries, likely", "at the most", "each tire", "rated for", "left"}, rows)
		}
	}
}

func axleRows(in *phrase.Language, of string, axles []rig.Axle, masses []rig.Estimate) (rows []entry) {
	for i, a := range axles {
		e := entry{cells: []string{fmt.Sprintf("%s axle %d", of, i+1), "UNKNOWN", "UNKNOWN", "UNKNOWN", "not given", "UNKNOWN"}}
		limit := a.Lowest()
		if limit != nil {
			e.cells[4] = in.Down(*limit)
		}
		if i < len(masses) {
			on := masses[i]
			e.cells[1], e.cells[2] = in.Quantity(on.Likely), in.Up(on.High)
			if a.Tires > 0 {
				e.cells[3] = in.Up(on.Over(a.Tires).High)
			}
			if limit != nil {
				e.cells[5] = in.Down(*limit - on.High)
			}
		}
		rows = append(rows, e)
	}
	return rows
}

// levers writes what moving the heaviest parts does.
func (t *text) levers(r rig.Report) {
	const most = 8
	if len(r.Levers) == 0 {
		return
	}
	t.line("  moved %s toward the coupling, these put more on it and take as much off the axles:", measure.Metre)
	levers := slices.Clone(r.Levers)
	slices.SortStableFunc(levers, func(a, b rig.Lever) int { return cmp.Compare(b.ToCoupling, a.ToCoupling) })
	for i, l := range levers {
		if i == most {
			t.line("    and %d smaller ones", len(r.Levers)-most)
			break
		}
		t.line("    %s (%s): %s", l.Part, t.mass(l.Mass), l.ToCoupling)
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
		e := entry{cells: []string{name, "UNKNOWN", "UNKNOWN", "UNKNOWN", "UNKNOWN", ""}}
		if m.Shaped {
			x := m.Extent
			e.cells[1], e.cells[2], e.cells[3] = t.in.Quantity(x.Top), t.in.Quantity(x.Width()), t.in.Quantity(x.Length())
		}
		if on, ok := m.Coupling.Value(); ok {
			e.cells[4] = t.in.Alone(on.Likely)
		}
		if m.Hits {
			e.cells[5] = "HITS"
		}
		rows = append(rows, e)
	}
	t.table([]string{"", "height", "width", "length", "on coupling", ""}, rows)
}

func (t *text) turning(r rig.Turning) {
	if !r.Rig.Known() {
		t.line("  UNKNOWN: %s", t.in.Say(r.Rig.Why()))
		return
	}
	var rows []entry
	for _, c := range r.Circles {
		e := entry{cells: []string{t.in.Quantity(c.Radius),
			"does not hold it", "", ""}}
		if c.Lock {
			e.cells[0] += ", full lock"
		}
		if c.Held {
			e.cells = []string{e.cells[0], t.in.Quantity(c.OffTracking),
				t.in.Quantity(c.Inner), t.in.Quantity(c.Width)}
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
	t.line("  %s under the middle of %s between supports: it passes crests of %s radius and more", measure.OfMetres(float64(u.Clearance)), u.Span, u.Crest)
	if u.Crossing > 0 {
		t.line("  the steepest level crossing within the usual standard needs %s; crossings that keep to "+
			"none are not listed anywhere", t.in.Up(measure.OfMetres(float64(u.Crossing))))
	} else {
		t.line("  UNKNOWN: the usual standard of level crossings says nothing of so long a span")
	}
	if u.Departure > 0 {
		t.line("  the tail passes a change of grade of %.1f %%", 100*u.Departure)
	} else {
		t.line("  UNKNOWN: what the tail clears is not given")
	}
}
