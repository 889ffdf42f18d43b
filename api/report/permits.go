package report

import (
	"fmt"
	"strings"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/permit"
	"wayhouse/regs/say"
)

// permits lists what to ask for, an office each.
func (t *text) permits() {
	for _, n := range t.plan.Permits {
		when := "when is not known"
		if !n.From.IsZero() {
			when = "from " + n.From.Format("2006-01-02 15:04 MST")
		}
		t.line("  %s, for %s; %s of the way, %s", n.Jurisdiction, t.named(n.Because), n.Length, when)
		t.line("    ask %s", t.in.Say(n.Office))
		t.line("    with %s", t.measurements(n.Sizes))
		for _, o := range n.Permits {
			t.offer(o)
		}
		for _, u := range t.in.Each(n.Unknown) {
			t.line("    UNKNOWN: %s", u)
		}
		if len(n.Permits) > 1 {
			t.line("    which of these is the one to ask for, the office says")
		}
		for _, c := range n.Log {
			t.line("    log: %s", t.logged(c))
		}
	}
}

func (t *text) measurements(sizes []regs.Size) string {
	var out []string
	for _, s := range sizes {
		value := t.in.Quantity(s.Value)
		if value == "" {
			value = "not given"
		}
		out = append(out, t.in.Term(s.Quantity)+" "+value)
	}
	return strings.Join(out, "; ")
}

func (t *text) offer(o regs.Offer) {
	t.line("    - %s", o.Name)
	said := func(label, text string) {
		if text != "" {
			t.line("      %s: %s", label, text)
		}
	}
	said("from", strings.Trim(o.Office+", "+o.Contact, ", "))
	said("fee", t.unsure(o.Fee, o.FeeUnknown, o.FeeNote))
	by := ""
	if !o.AskBy.IsZero() {
		by = "by " + o.AskBy.Format("Monday 2006-01-02")
	}
	said("ask", t.unsure(by, o.AskUnknown, o.LeadNote))
	said("valid", o.Validity)
	said("signs, flags, lamps", o.Signs)
	said("insurance", o.Insurance)
	said("note", o.Note)
	t.row(o.Row)
}

// unsure prints a value, why it is not sure, and a note that this does not say.
func (t *text) unsure(value string, why say.Remark, note string) string {
	var parts []string
	if value != "" {
		parts = append(parts, value)
	}
	if !why.None() {
		parts = append(parts, "UNKNOWN, "+t.in.Say(why))
	}
	if note != "" && why.Get("note") != note {
		parts = append(parts, note)
	}
	return strings.Join(parts, "; ")
}

func (t *text) logged(c *permit.Contact) string {
	out := fmt.Sprintf("%s: %s", c.ID, c.Asked)
	if !c.AskedOn.IsZero() {
		out += ", asked " + c.AskedOn.Format(time.DateOnly)
	}
	for _, q := range c.Stated() {
		out += t.say(", %s up to %s", t.in.Term(q), q.Of(c.Sizes[q]))
	}
	for _, about := range c.Meant() {
		out += ", for " + t.in.Term(about)
	}
	if !c.Roads.Any() {
		out += ", for " + c.Roads.String()
	}
	if c.AnsweredOn.IsZero() {
		return out + ", no answer yet"
	}
	out += fmt.Sprintf(", answered %s on %s by %s", c.Outcome, c.AnsweredOn.Format(time.DateOnly), c.AnsweredBy)
	if c.PermitNumber != "" {
		out += ", permit " + c.PermitNumber
	}
	if !c.Expires.IsZero() {
		out += " to " + c.Expires.Format(time.DateOnly)
	}
	return out
}
