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
		t.line("  %s", codes(slices.DeleteFunc([]string{code}, func(s string) bool { return s == "" })))
		var missing []string
		for _, f := range byCode[code] {
			if notGiven(f) {
				missing = append(missing, t.in.Term(limit.Quantity(f.Rule)))
				continue
			}
			t.rule(f)
		}
		if len(missing) > 0 {
			t.line("    UNKNOWN because not given: %s", strings.Join(missing, ", "))
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
			t.line("  %s: ask the offices there for driver licences and for carrier safety", code)
		}
		t.line("    %s: %s", outcome(f.Outcome), t.in.Summary(f))
		for _, r := range f.Citations {
			if r.Decides && f.Rule != finding.Rule(duty.AllHours) {
				t.row(r)
			}
		}
		if f.Rule == finding.Rule(duty.AllHours) && len(f.Citations) > 0 { // many rows of one source
			t.row(f.Citations[0])
			var others []string
			for _, r := range f.Citations[1:] {
				others = append(others, fmt.Sprintf("%s (%s)", r.ID, status(r.Status)))
			}
			t.line("      and of the rows %s", strings.Join(others, ", "))
		}
	}
}

// same reports whether two findings tell the same.
func same(a, b finding.Finding) bool {
	return a.Topic == b.Topic && a.Rule == b.Rule && a.Outcome == b.Outcome && say.Same(a.Says, b.Says)
}

func (t *text) rule(f finding.Finding) {
	margin := ""
	if f.Margin.Known() {
		margin = " [margin " + t.in.Down(f.Margin) + "]"
	}
	t.line("    %s: %s%s", outcome(f.Outcome), t.in.Summary(f), margin)
	if limit.OfEscorts(f.Rule) {
		return // its rows stand under the quantity itself
	}
	var steps []string
	for _, r := range f.Citations {
		if r.Tier == string(limit.Beyond) && !r.Decides {
			steps = append(steps, fmt.Sprintf("%s (%s, %s)", r.Published, r.ID, status(r.Status)))
			continue
		}
		t.row(r)
	}
	if len(steps) > 0 {
		t.line("      further up the table has: %s", strings.Join(steps, "; "))
	}
}

func (t *text) row(r finding.Citation) {
	decides := "beside: "
	if r.Decides {
		decides = "decides: "
	}
	words := ""
	if t.in.Bearing(r) != "" {
		words = "; " + t.in.Bearing(r)
	}
	t.line("      %s%s (%s): %s%s", decides, t.in.Figure(r),
		r.ID, origin(r), words)
}

// origin says where a row comes from, its status and when it was read.
func origin(r finding.Citation) string {
	parts := []string{r.Source}
	for _, s := range []string{r.Section, r.Year} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	read := "never read"
	if !r.ReadOn.IsZero() {
		read = "read " + r.ReadOn.Format(time.DateOnly)
	}
	return strings.Join(append(parts, status(r.Status), read), ", ")
}
