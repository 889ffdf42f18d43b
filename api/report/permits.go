package report

import (
	"strings"

	"wayhouse/regs"
	"wayhouse/regs/permit"
	"wayhouse/regs/say"
)

// permits lists what to ask for, an office each.
func (t *text) permits() {
	for _, n := range t.plan.Permits {
		when := say.That("report.when_unknown")
		switch {
		case n.From.IsZero():
		case n.Length == 0: // without a way only the day is known
			when = say.That("report.from", "from", say.Day(n.From))
		default:
			when = say.That("report.from", "from", n.From)
		}
		t.tell(1, say.That("report.permit", "jurisdiction", say.Jurisdiction(n.Jurisdiction), "because", t.named(n.Because),
			"length", above0(n.Length), "when", when))
		t.tell(2, say.That("report.ask", "whom", t.in.Say(n.Office)))
		t.tell(2, say.That("report.with", "sizes", t.measurements(n.Sizes)))
		for _, o := range n.Permits {
			t.offer(o)
		}
		for _, u := range n.Unknown {
			t.tell(2, say.That("report.unknown", "why", u))
		}
		if len(n.Permits) > 1 {
			t.tell(2, say.That("report.which_permit"))
		}
		for _, c := range n.Log {
			t.tell(2, logged(c))
		}
	}
}

func (t *text) measurements(sizes []regs.Size) (out []say.Remark) {
	for _, s := range sizes {
		out = append(out, say.That("report.size", "quantity", s.Quantity, "value", t.in.Quantity(s.Value)))
	}
	return out
}

func (t *text) offer(o regs.Offer) {
	t.line("    - %s", o.Name)
	by := ""
	if !o.AskBy.IsZero() {
		by = t.in.Say(say.That("report.by", "day", t.in.Weekday(o.AskBy)))
	}
	for _, said := range []struct {
		label say.Remark
		text  string
	}{
		{say.That("report.permit_office"), strings.Trim(o.Office+", "+o.Contact, ", ")},
		{say.That("report.permit_fee"), t.unsure(o.Fee, o.FeeUnknown, t.in.Ours(o.FeeNote))},
		{say.That("report.permit_ask"), t.unsure(by, o.AskUnknown, t.in.Ours(o.LeadNote))},
		{say.That("report.permit_valid"), t.in.Ours(o.Validity)}, {say.That("report.permit_signs"), t.in.Ours(o.Signs)},
		{say.That("report.permit_insurance"), t.in.Ours(o.Insurance)}, {say.That("report.permit_note"), t.in.Ours(o.Note)},
	} {
		if said.text != "" {
			t.tell(3, say.That("named", "name", said.label, "says", said.text))
		}
	}
	t.row(o.Row)
}

// unsure prints a value, why it is not sure, and a note that this does not say.
func (t *text) unsure(value string, why say.Remark, note string) string {
	var parts []string
	if value != "" {
		parts = append(parts, value)
	}
	if !why.None() {
		parts = append(parts, t.in.Say(say.That("report.unsure", "why", why)))
	}
	if note != "" && why.Get("note") != note {
		parts = append(parts, note)
	}
	return strings.Join(parts, "; ")
}

// logged says what stands in the log of contacts.
func logged(c *permit.Contact) say.Remark {
	said := []say.Remark{say.That("named", "name", c.ID, "says", c.Asked)}
	if !c.AskedOn.IsZero() {
		said = append(said, say.That("report.asked_on", "on", say.Day(c.AskedOn)))
	}
	for _, q := range c.Stated() {
		said = append(said, say.That("report.up_to", "quantity", q, "most", q.Of(c.Sizes[q])))
	}
	for _, about := range c.Meant() {
		said = append(said, say.That("report.meant_for", "what", about))
	}
	if !c.Roads.Any() {
		said = append(said, say.That("report.meant_for", "what", c.Roads.String()))
	}
	if c.AnsweredOn.IsZero() {
		said = append(said, say.That("report.no_answer"))
		return say.That("report.log", "said", said)
	}
	said = append(
		said,
		say.That("report.answered_on", "outcome", c.Outcome, "on", say.Day(c.AnsweredOn), "by", c.AnsweredBy),
	)
	if c.PermitNumber != "" {
		said = append(said, say.That("report.permit_number", "number", c.PermitNumber))
	}
	if !c.Expires.IsZero() {
		said = append(said, say.That("report.until", "day", say.Day(c.Expires)))
	}
	return say.That("report.log", "said", said)
}
