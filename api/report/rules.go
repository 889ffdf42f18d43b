package report

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
)

// ofLimits reports whether a finding is about a quantity or the hours of the tables.
func ofLimits(f finding.Finding) bool { return f.Topic == finding.Limit || f.Topic == finding.Hours }

// notGiven reports whether a quantity is unknown because nobody said what the rig has.
func notGiven(f finding.Finding) bool {
	return f.Topic == finding.Limit && f.Outcome == finding.Unknown && f.Reason == finding.NotGiven
}

// rules writes each jurisdiction once: legs in it have the same answers unless
// time changes them, and then both stand.
func (t *text) rules() {
	var order []string
	byCode := map[string][]finding.Finding{}
	for _, f := range t.plan.All() {
		if !ofLimits(f) || slices.ContainsFunc(byCode[f.Jurisdiction], func(o finding.Finding) bool { return same(o, f) }) {
			continue
		}
		if byCode[f.Jurisdiction] == nil {
			order = append(order, f.Jurisdiction)
		}
		byCode[f.Jurisdiction] = append(byCode[f.Jurisdiction], f)
	}
	for _, code := range order {
		t.line("  %s", t.codes(slices.DeleteFunc([]string{code}, func(s string) bool { return s == "" })))
		var missing []say.Term
		for _, f := range byCode[code] {
			if notGiven(f) {
				missing = append(missing, limit.Quantity(f.Rule))
				continue
			}
			t.rule(f)
		}
		if len(missing) > 0 {
			t.tell(2, say.That("report.not_given_quantities", "quantities", missing))
		}
	}
}

// duty writes what binds the driver and the making of the rig; unknowns are
// listed with the others too.
func (t *text) duty() {
	code := ""
	for _, f := range t.plan.All() {
		if f.Topic != finding.Duty {
			continue
		}
		if f.Jurisdiction != code {
			code = f.Jurisdiction
			t.tell(1, say.That("report.ask_drivers", "jurisdiction", say.Jurisdiction(code)))
		}
		t.tell(2, say.That("report.finding", "outcome", t.outcome(f.Outcome), "says", f.Says, "margin", f.Margin))
		for _, r := range f.Citations {
			if r.Decides && f.Rule != finding.Rule(duty.AllHours) {
				t.row(r)
			}
		}
		if f.Rule == finding.Rule(duty.AllHours) && len(f.Citations) > 0 { // many rows of one source
			t.row(f.Citations[0])
			var others []string
			for _, r := range f.Citations[1:] {
				others = append(others, fmt.Sprintf("%s (%s)", r.ID, t.status(r.Status)))
			}
			t.tell(3, say.That("report.other_rows", "rows", others))
		}
	}
}

// same reports whether two findings tell the same.
func same(a, b finding.Finding) bool {
	return a.Topic == b.Topic && a.Rule == b.Rule && a.Outcome == b.Outcome && say.Same(a.Says, b.Says)
}

func (t *text) rule(f finding.Finding) {
	t.tell(2, say.That("report.finding", "outcome", t.outcome(f.Outcome), "says", f.Says, "margin", f.Margin))
	if limit.OfEscorts(f.Rule) {
		return // its rows stand under the quantity itself
	}
	var steps []string
	for _, r := range f.Citations {
		if r.Tier == string(limit.Beyond) && !r.Decides {
			steps = append(steps, fmt.Sprintf("%s (%s, %s)", r.Published, r.ID, t.status(r.Status)))
			continue
		}
		t.row(r)
	}
	if len(steps) > 0 {
		t.tell(3, say.That("report.further_up", "steps", say.Each(steps)))
	}
}

func (t *text) row(r finding.Citation) {
	t.tell(3, say.That("report.row", "decides", r.Decides, "figure", t.in.Figure(r), "row", r.ID, "origin", t.origin(r),
		"says", t.in.Bearing(r)))
}

// origin says where a row comes from, its status and when it was read.
func (t *text) origin(r finding.Citation) string {
	parts := []string{t.in.Ours(r.Source)}
	for _, s := range []string{r.Section, t.in.Ours(r.Year)} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(append(parts, t.status(r.Status), t.in.Say(readOn(r.ReadOn))), ", ")
}

// readOn says when a source was read.
func readOn(day time.Time) say.Remark {
	if day.IsZero() {
		return say.That("report.never_read")
	}
	return say.That("report.read_on", "on", say.Day(day))
}
