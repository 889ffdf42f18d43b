package report

import (
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// place says what of the plan a finding is about.
func place(at trip.Where) say.Remark {
	switch {
	case at.Rig:
		return say.That("report.of_rig")
	case at.Leg > 0:
		return say.That("report.of_leg", "leg", at.Leg)
	default:
		return say.That("report.of_trip")
	}
}

// named lists rules in words.
func (t *text) named(rules []finding.Rule) string {
	var out []string
	for _, r := range rules {
		out = append(out, t.in.Term(r))
	}
	return strings.Join(out, ", ")
}
