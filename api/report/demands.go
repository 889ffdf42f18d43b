package report

import (
	"fmt"
	"wayhouse/regs/finding"
)

func (t *text) demands(d finding.Demands) {
	lines := t.demandLines(d)
	if len(lines) == 0 {
		t.line("  No row asks for anything so far. The unknowns above may.")
	}
	for _, s := range lines {
		t.line("  - %s", s)
	}
}

// demandLines says what is demanded, a line each.
func (t *text) demandLines(d finding.Demands) []string {
	var lines []string
	lines = append(lines, t.in.Each(d.Permits)...)
	for _, e := range []struct {
		n     int
		where string
	}{{d.EscortsFront, "in front"}, {d.EscortsRear, "behind"}, {d.EscortsAny, "place not stated"}} {
		if e.n > 0 {
			lines = append(lines, fmt.Sprintf("escort vehicles, %s: %d", e.where, e.n))
		}
	}
	if d.HeightPole {
		lines = append(lines, "a height pole vehicle ahead")
	}
	if d.Survey {
		lines = append(lines, "a survey of the route")
	}
	for _, h := range t.in.Each(d.Hours) {
		lines = append(lines, "hours of travel: "+h)
	}
	for _, c := range t.in.Each(d.Conditions) {
		lines = append(lines, "a person must read this condition of a rule: "+c)
	}
	return lines
}
