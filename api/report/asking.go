package report

import (
	"fmt"
	"strings"
	"wayhouse/regs/finding"
	"wayhouse/routing/trip"
)

// place says what of the plan a finding is about.
func place(at trip.Where) string {
	switch {
	case at.Rig:
		return "the rig on this way"
	case at.Leg > 0:
		return fmt.Sprintf("leg %d", at.Leg)
	default:
		return "trip"
	}
}

// ask is whom to ask about a finding, as the end of its line; nothing where nobody is.
func (t *text) ask(f finding.Finding) string {
	if whom := t.in.Ask(f); whom != "" {
		return ". Ask " + whom
	}
	return ""
}

// named lists rules in words.
func (t *text) named(rules []finding.Rule) string {
	var out []string
	for _, r := range rules {
		out = append(out, t.in.Term(r))
	}
	return strings.Join(out, ", ")
}
