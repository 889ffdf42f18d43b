package report

import (
	"io"
	"slices"
	"strings"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/routing/trip"
)

// Design writes the answer to a check as plain text: each jurisdiction with
// its quantities, then the largest unit for all of them. rows says whether every
// row is printed with its source, or only those that decide.
func Design(w io.Writer, v View, d *regs.Design) error {
	t := newText(v, nil)
	t.line("%sChecked against tables revision %s, for a move on %s.", marked(d.RestsOnInvented()), d.Revision, d.Day.Format(time.DateOnly))
	t.line("%s", t.in.Say(trip.Cautions()[0]))
	code := ""
	var missing []string
	flush := func() {
		if len(missing) > 0 {
			t.line("    UNKNOWN because not given: %s", strings.Join(missing, ", "))
		}
		missing = nil
	}
	for _, a := range d.Answers {
		if a.Jurisdiction != code {
			flush()
			code = a.Jurisdiction
			t.heading(code)
		}
		if notGiven(a.Findings[0]) {
			missing = append(missing, t.in.Term(a.Quantity))
			continue
		}
		t.answer(a, v.Rows)
	}
	flush()
	t.whomToAsk(d)
	t.heading("The largest unit for all of these, without a permit")
	t.largest(d.Free)
	t.heading("The largest with a permit, and surely no escort")
	t.largest(d.NoEscort)
	t.list("Taken for granted", t.in.Each(d.Assumed))
	t.list("Cautions", t.in.Each(trip.DesignCautions()))
	_, err := io.WriteString(w, t.b.String())
	return err
}

func (t *text) largest(values []regs.Largest) {
	for _, l := range values {
		t.line("  %s", t.in.Say(l.Says()))
	}
}

// whomToAsk names the office of each jurisdiction in which something is not
// clear.
func (t *text) whomToAsk(d *regs.Design) {
	t.heading("For all that is not clear, ask")
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
		t.line("      less: %s", t.in.Say(a.ToClear))
	}
	if n := a.Next; n != nil {
		sure := ""
		if !n.Firm {
			sure = " (not verified, or not surely about such a rig)"
		}
		t.line("      next step: %s more to %s (%s), beyond it %s%s", t.in.Down(n.Margin), n.Limit,
			n.Row, outcome(n.Outcome), sure)
		t.asked(n.Demands)
	}
}

// asked lists demands in one line.
func (t *text) asked(d finding.Demands) {
	if lines := t.demandLines(d); len(lines) > 0 {
		t.line("      asks: %s", strings.Join(lines, "; "))
	}
}

// short writes a finding with the rows that decide and their sources; the
// others of an unknown only by name.
func (t *text) short(f finding.Finding) {
	margin := ""
	if f.Margin.Known() {
		margin = " [margin " + t.in.Down(f.Margin) + "]"
	}
	t.line("    %s: %s%s", outcome(f.Outcome), t.in.Summary(f), margin)
	if limit.OfEscorts(f.Rule) {
		return
	}
	var names []string
	for _, r := range f.Citations {
		switch {
		case r.Decides:
			t.row(r)
		case f.Outcome == finding.Unknown:
			names = append(names, r.ID+" ("+status(r.Status)+")")
		}
	}
	if len(names) > 0 {
		t.line("      rows: %s", strings.Join(names, ", "))
	}
}
