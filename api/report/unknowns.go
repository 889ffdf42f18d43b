package report

import (
	"fmt"
	"slices"
	"strings"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// about says what of the plan a finding is about.
func about(at trip.Where) string {
	switch {
	case at.Rig:
		return "the rig on this way"
	case at.Leg > 0:
		return fmt.Sprintf("leg %d", at.Leg)
	default:
		return "trip"
	}
}

// whom is who is asked first, for comparison.
func whom(f finding.Finding) string {
	steps := slices.Concat(f.Settles...)
	i := slices.IndexFunc(steps, func(s finding.Step) bool { return !s.Whom.None() })
	if i < 0 {
		return ""
	}
	return steps[i].Whom.String()
}

// ask is whom to ask about a finding, as the end of its line; nothing where nobody is.
func (t *text) ask(f finding.Finding) string {
	if whom := t.in.Ask(f); whom != "" {
		return ". Ask " + whom
	}
	return ""
}

// at reports whether a place is this one.
func at(place say.Remark) func(say.Remark) bool {
	return func(other say.Remark) bool { return place.String() == other.String() }
}

// unknowns writes each unknown that is not about a limit once, with the legs
// it stands on.
func (t *text) unknowns() {
	type entry struct {
		f      finding.Finding
		places []say.Remark
		legs   []string
	}
	var list []entry
	add := func(f finding.Finding, leg string) {
		if f.Outcome != finding.Unknown || ofLimits(f) {
			return
		}
		for i := range list {
			e := &list[i]
			if alike := same(e.f, f) && whom(e.f) == whom(f); alike && (at(e.f.Place)(f.Place) || f.Topic == finding.Structure) {
				if !slices.ContainsFunc(e.places, at(f.Place)) {
					e.places = append(e.places, f.Place)
				}
				e.legs = append(e.legs, leg)
				return
			}
		}
		list = append(list, entry{f, []say.Remark{f.Place}, []string{leg}})
	}
	for at, f := range t.plan.All() {
		add(f, about(at))
	}
	for _, e := range list {
		what := strings.TrimSpace(t.in.Term(e.f.Rule) + " " + strings.Join(t.in.Each(e.places), ", "))
		t.line("  UNKNOWN %s (%s): %s%s.", what,
			strings.Join(slices.Compact(e.legs), ", "), t.in.Summary(e.f), t.ask(e.f))
	}
	t.limitsToAsk()
}

// limitsToAsk says of each jurisdiction which limits are unknown, and whom to ask
// about those that are not clear.
func (t *text) limitsToAsk() {
	t.line("  For every limit above that is not clear, ask:")
	var order []string
	ask, open := map[string]string{}, map[string][]finding.Rule{}
	for _, f := range t.plan.All() {
		code := f.Jurisdiction
		if !ofLimits(f) || t.in.Ask(f) == "" {
			continue
		}
		if ask[code] == "" {
			order, ask[code] = append(order, code), t.in.Ask(f)
		}
		if f.Outcome == finding.Unknown && !slices.Contains(open[code], f.Rule) {
			open[code] = append(open[code], f.Rule)
		}
	}
	for _, code := range order {
		line := fmt.Sprintf("    %s: %s", codes(slices.DeleteFunc([]string{code},
			func(s string) bool { return s == "" })), ask[code])
		if len(open[code]) > 0 {
			line += "; UNKNOWN: " + t.named(open[code])
		}
		t.line("%s", line)
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
