package report

import (
	"io"
	"slices"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// Design writes the answer to a check as plain text: one screen of it, one subject, or
// all: the screen without a limit, and behind it each jurisdiction with its quantities.
// v.Rows says whether every row is printed with its source, or only those that decide.
func Design(w io.Writer, v View, d *regs.Design) error {
	switch {
	case v.Why != "":
		return why(w, v, designSubjects(d), d.Tasks())
	case !v.Full && d.Permits == nil:
		return checkScreen(v, d).write(w, v)
	}
	t := newText(v, &trip.Plan{Permits: d.Permits})
	t.b.WriteString(checkScreen(v, d).String())
	if d.Permits != nil {
		t.heading(say.That("report.head_permits"))
		t.permits()
		if len(d.Permits) == 0 {
			t.tell(1, say.That("screen.no_permit", "unknown", finding.Roll(d.Found()).Unknowns))
		}
	}
	if !v.Full {
		_, err := io.WriteString(w, t.b.String())
		return err
	}
	if len(d.Codes) > manyCodes {
		t.line("")
		t.tell(0, say.That("report.too_many_to_open", "count", len(d.Codes), "bound", manyCodes, "first", d.Codes[0]))
	} else {
		t.byJurisdiction(d, v.Rows)
	}
	t.whomToAsk(d)
	t.list(say.That("report.head_cautions"), t.in.Each(trip.DesignCautions()))
	t.list(say.That("report.head_data"), []string{t.in.Say(say.That("report.tables", "revision", d.Revision))})
	_, err := io.WriteString(w, t.b.String())
	return err
}

// manyCodes is how many jurisdictions a long report opens: that of all of them was four
// thousand lines, which nobody reads.
const manyCodes = 12

// byJurisdiction writes what each jurisdiction says of each quantity.
func (t *text) byJurisdiction(d *regs.Design, rows bool) {
	code := ""
	var missing []say.Term
	flush := func() {
		if len(missing) > 0 {
			t.tell(2, say.That("report.not_given_quantities", "quantities", missing))
		}
		missing = nil
	}
	for _, a := range d.Answers {
		if a.Jurisdiction != code {
			flush()
			code = a.Jurisdiction
			t.heading(say.Text(code))
		}
		if notGiven(a.Findings[0]) {
			missing = append(missing, a.Quantity)
			continue
		}
		t.answer(a, rows)
	}
	flush()
}

// whomToAsk names the office of each jurisdiction in which something is not
// clear.
func (t *text) whomToAsk(d *regs.Design) {
	t.heading(say.That("report.head_ask"))
	var told []string
	for _, a := range d.Answers {
		for _, f := range a.Findings {
			if t.in.Ask(f) != "" && !slices.Contains(told, a.Jurisdiction) {
				told = append(told, a.Jurisdiction)
				t.line("  %s: %s", a.Jurisdiction, t.in.Ask(f))
			}
		}
	}
}

func (t *text) answer(a regs.Answer, rows bool) {
	for _, f := range a.Findings {
		if rows {
			t.rule(f)
		} else {
			t.short(f)
		}
		if f.Outcome != finding.Clear && f.Outcome != finding.Unknown {
			t.asked(f.Demands)
		}
	}
	if !a.ToClear.None() {
		t.tell(3, say.That("report.less", "what", a.ToClear))
	}
	if n := a.Next; n != nil {
		t.tell(3, say.That("report.next_step", "margin", n.Margin, "limit", n.Limit, "row", n.Row,
			"outcome", t.outcome(n.Outcome), "firm", n.Firm))
		t.asked(n.Demands)
	}
}

// asked lists demands in one line.
func (t *text) asked(d finding.Demands) {
	if lines := t.demandLines(d); len(lines) > 0 {
		t.tell(3, say.That("report.asks", "demands", say.Each(lines)))
	}
}

// short writes a finding with the rows that decide and their sources; the
// others of an unknown only by name.
func (t *text) short(f finding.Finding) {
	t.tell(2, say.That("report.finding", "outcome", t.outcome(f.Outcome), "says", f.Says, "margin", f.Margin))
	if limit.OfEscorts(f.Rule) {
		return
	}
	var names []string
	for _, r := range f.Citations {
		switch {
		case r.Decides:
			t.row(r)
		case f.Outcome == finding.Unknown:
			names = append(names, r.ID+" ("+t.status(r.Status)+")")
		}
	}
	if len(names) > 0 {
		t.tell(3, say.That("report.rows", "rows", names))
	}
}
