package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"

	"wayhouse/api/draw"
	"wayhouse/api/phrase"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
)

// Rig writes what a rig is as plain text: one screen of it, one subject, or all.
func Rig(w io.Writer, v View, a *wire.RigAnswer) error {
	switch {
	case v.Why != "":
		return whyRig(w, v, a)
	case !v.Full:
		return rigScreen(v, a).write(w, v)
	}
	return wholeRig(w, v, a)
}

// wholeRig writes all there is of a rig: its ten lines, what opens behind them, and then
// sizes, masses, ratings with their rows, states, turning, what holds the house, drag, the
// way that was asked about, the drawing, and a checklist.
func wholeRig(w io.Writer, v View, a *wire.RigAnswer) error {
	r := a.Report
	t := newText(v, &trip.Plan{Invented: a.Invented, Rig: r.Rig})
	t.b.WriteString(rigScreen(v, a).String() + "\n")
	t.b.WriteString(rigDetails(v, a).String())
	t.heading(say.That("report.head_rig"))
	t.rig(r.Rig)
	t.heading(say.That("report.head_weighs"))
	t.masses(r)
	t.heading(say.That("report.head_ratings"))
	t.ofRig(r.Findings)
	t.heading(say.That("report.head_handling"))
	t.handling(r)
	t.heading(say.That("report.head_states"))
	t.states(r)
	t.heading(say.That("report.head_turns"))
	t.turning(r.Turning)
	t.bending(r.Bending)
	if a.Corner != nil {
		t.heading(say.That("report.head_tried"))
		t.corner(a.Corner)
	}
	t.heading(say.That("report.head_under"))
	t.underneath(r.Underneath)
	if r.Holding != nil {
		t.heading(say.That("report.head_holding"))
		t.holding(*r.Holding)
	}
	t.heading(say.That("report.head_drag"))
	t.drag(r)
	if a.Plan != nil {
		t.heading(say.That("report.head_way"))
		t.plan = a.Plan
		t.road(a.Plan, many)
	}
	t.heading(say.That("report.head_scale"))
	if err := draw.Text(&t.b, t.in, r.Rig, r.Statics, width, false); err != nil {
		return err
	}
	t.list(say.That("report.head_departure"), t.in.Each(r.Departure))
	t.list(say.That("report.head_cautions"), t.in.Each(r.Cautions))
	t.list(say.That("report.head_data"), []string{t.in.Say(say.That("report.tables", "revision", a.Tables))})
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
		t.line(
			"  %s",
			t.in.Say(say.That("report.finding_left", "outcome", t.outcome(f.Outcome), "says", f.Says, "margin", f.Margin)),
		)
		t.rows(f.Citations)
	}
	if len(within) > 0 {
		t.tell(3, say.That("report.for_these_ask", "whom", t.in.Ask(within[0])))
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
	value := ""
	if !told(f) {
		value = t.in.Value(f)
	}
	t.tell(1, say.That("report.answered", "outcome", t.outcome(f.Outcome), "rule", f.Rule, "jurisdiction", f.Jurisdiction,
		"says", f.Says, "value", value, "margin", f.Margin))
	t.rows(f.Citations)
	if t.in.Ask(f) != "" {
		t.tell(3, say.That("report.ask", "whom", t.in.Ask(f)))
	}
}

// plain reports whether a row shows a figure and nothing else.
func plain(r finding.Citation) bool { return len(r.Says) == 0 }

// rows writes where what a finding compares comes from, rows of one origin together.
func (t *text) rows(rows []finding.Citation) {
	for len(rows) > 0 {
		r, n := rows[0], 1
		for n < len(rows) && t.origin(rows[n]) == t.origin(r) && rows[n].Decides == r.Decides && plain(r) && plain(rows[n]) {
			r.Published = fmt.Sprintf("%s (%s); %s", t.in.Figure(r), r.ID, t.in.Figure(rows[n]))
			r.ID = rows[n].ID
			n++
		}
		t.row(r)
		rows = rows[n:]
	}
}

// What a foot of a house weighs as built and dry: a rule of the trade, read second-hand.
const (
	lightFoot = 450 * measure.Pound
	heavyFoot = 500 * measure.Pound
)

// byLength writes what each foot of the outline weighs, beside the rule of the trade.
func (t *text) byLength(r rig.Report) {
	boxes := r.Rig.Unit.Outline
	if len(boxes) == 0 || r.Statics.Unit.Likely == 0 {
		return
	}
	front, rear := boxes[0].From, boxes[0].To
	for _, b := range boxes {
		front, rear = min(front, b.From), max(rear, b.To)
	}
	feet := float64(rear-front) / float64(measure.Foot)
	t.tell(1, say.That("report.by_length", "length", rear-front,
		"each", measure.Mass(float64(r.Statics.Unit.Likely)/feet), "low", lightFoot, "high", heavyFoot))
}

func (t *text) masses(r rig.Report) {
	s := r.Statics
	switch s.Basis {
	case rig.OnScale:
		t.tell(1, say.That("report.weighed", "on", say.Day(r.Rig.Unit.Ticket.On), "label", r.Rig.Unit.Ticket.Label,
			"mass", s.Unit.Says()))
	case rig.ByParts:
		t.tell(1, say.That("report.by_parts", "mass", s.Unit.Says()))
	default:
		t.tell(1, say.That("report.unknown", "why", s.Unknown))
	}
	if s.Basis == rig.OnScale && s.Parts.High > 0 {
		t.tell(1, say.That("report.parts_add_up", "mass", s.Parts.Says()))
	}
	t.byLength(r)
	t.tell(1, say.That("report.centre", "along", t.centre(s.Centre.Along), "across", t.centre(s.Centre.Across),
		"up", t.centre(s.Centre.Up)))
	if on, ok := s.Coupling.Value(); ok {
		t.tell(1, say.That("report.on_coupling", "mass", on.Says(), "percent", 100*s.Share.Likely,
			"low", 100*s.Share.Low, "high", 100*s.Share.High))
	}
	if on, ok := s.Group.Value(); ok {
		t.tell(1, say.That("report.on_axles", "mass", on.Says()))
	}
	if on, ok := s.Right.Value(); ok {
		t.tell(1, say.That("report.on_right", "mass", on.Says()))
	}
	t.axles(r)
	if s.Basis != rig.Nothing {
		for _, why := range s.Unknown {
			t.unknown(why)
		}
	}
	t.levers(r)
}

func (t *text) centre(c rig.Centre) string {
	switch {
	case !c.Known():
		return t.notKnown()
	case c.Low == c.High:
		return t.in.Quantity(c.Likely)
	default:
		return t.in.Say(say.That("report.likely_between", "likely", c.Likely, "low", c.Low, "high", c.High))
	}
}

// axles writes what each axle carries beside what it is rated for.
func (t *text) axles(r rig.Report) {
	for _, in := range t.in.EachSystem() {
		rows := axleRows(in, towAxle, r.Rig.Tow.Truck.Axles, r.Statics.Tow)
		rows = append(rows, axleRows(in, unitAxle, r.Rig.Unit.Frame.Axles, r.Statics.Axles)...)
		if len(rows) > 0 {
			t.table(t.heads(say.Remark{}, say.That("report.carries_likely"), say.That("report.at_most"),
				say.That("report.each_tire"), say.That("report.rated_for"), say.That("report.left")), rows)
		}
	}
}

func towAxle(number int) say.Remark { return say.That("report.tow_axle", "number", number) }

func unitAxle(number int) say.Remark { return say.That("report.unit_axle", "number", number) }

func axleRows(in *phrase.Language, named func(int) say.Remark, axles []rig.Axle, masses []rig.Estimate) (rows []entry) {
	unknown, notGiven := in.Say(say.That("report.not_known")), in.Say(say.That("report.not_given"))
	for i, a := range axles {
		e := entry{cells: []string{in.Say(named(i + 1)), unknown, unknown, unknown, notGiven, unknown}}
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
	t.tell(1, say.That("report.levers", "by", measure.Metre))
	levers := slices.Clone(r.Levers)
	slices.SortStableFunc(levers, func(a, b rig.Lever) int { return cmp.Compare(b.ToCoupling, a.ToCoupling) })
	for i, l := range levers {
		if i == most {
			t.tell(2, say.That("report.smaller_levers", "count", len(r.Levers)-most))
			break
		}
		t.tell(2, say.That("report.lever", "part", l.Part, "mass", l.Mass.Says(), "more", l.ToCoupling))
	}
}

func (t *text) states(r rig.Report) {
	if !r.States[0].Shaped && len(r.Rig.Unit.Movables) == 0 {
		t.unknown(say.That("report.no_states"))
		return
	}
	unknown := t.notKnown()
	var rows []entry
	for _, m := range r.States {
		name := t.in.Term(m.State)
		if m.Forgotten != "" {
			name = t.in.Say(say.That("report.forgotten", "name", m.Forgotten))
		}
		e := entry{cells: []string{name, unknown, unknown, unknown, unknown, ""}}
		if m.Shaped {
			x := m.Extent
			e.cells[1], e.cells[2], e.cells[3] = t.in.Quantity(x.Top), t.in.Quantity(x.Width()), t.in.Quantity(x.Length())
		}
		if on, ok := m.Coupling.Value(); ok {
			e.cells[4] = t.in.Alone(on.Likely)
		}
		if m.Hits {
			e.cells[5] = t.in.Say(say.That("report.hits"))
		}
		rows = append(rows, e)
	}
	t.table(append(t.heads(say.Remark{}, say.That("report.height"), say.That("report.width"), say.That("report.length"),
		say.That("report.on_coupling_head")), ""), rows)
}

func (t *text) turning(r rig.Turning) {
	if !r.Rig.Known() {
		t.unknown(r.Rig.Why())
		return
	}
	var rows []entry
	for _, c := range r.Circles {
		radius := long(c.Radius) // a distance reads 12.5 m as 12
		e := entry{cells: []string{t.in.Quantity(radius),
			t.in.Say(say.That("report.not_held")), "", ""}}
		if c.Lock {
			e.cells[0] = t.in.Say(say.That("report.full_lock", "radius", radius))
		}
		if c.Held {
			e.cells = []string{e.cells[0], t.in.Quantity(c.OffTracking),
				t.in.Quantity(c.Inner), t.in.Quantity(c.Width)}
		}
		rows = append(rows, e)
	}
	t.table(t.heads(say.That("report.circle"), say.That("report.cut_in"), say.That("report.inner_side"),
		say.That("report.swept")), rows)
}

func (t *text) bending(k measure.Known[rig.Bending]) {
	b, ok := k.Value()
	switch {
	case !ok:
		t.unknown(k.Why())
	case b.First != nil:
		t.tell(1, say.That("screen.rig.touches", "angle", b.First.Angle, "against", b.First.Against, "box", b.First.Box,
			"unsure", b.First.Unsure))
	default:
		t.tell(1, bends(b))
	}
}

func (t *text) underneath(clears measure.Known[rig.Underneath]) {
	u, ok := clears.Value()
	if !ok {
		t.unknown(clears.Why())
		return
	}
	t.tell(1, say.That("report.under", "clears", measure.OfMetres(float64(u.Clearance)), "span", u.Span, "crest", u.Crest))
	if u.Crossing > 0 {
		t.tell(1, say.That("report.crossing", "needs", measure.OfMetres(float64(u.Crossing))))
	} else {
		t.unknown(say.That("report.no_crossing"))
	}
	if u.Departure > 0 {
		t.tell(1, say.That("report.tail", "percent", 100*u.Departure))
	} else {
		t.unknown(say.That("report.no_tail"))
	}
}
