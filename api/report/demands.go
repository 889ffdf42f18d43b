package report

import (
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// demandLines says what is demanded, a line each.
func (t *text) demandLines(d finding.Demands) []string {
	asked := slices.Clone(d.Permits)
	if d.EscortsFront > 0 {
		asked = append(asked, say.That("report.escorts_front", "count", d.EscortsFront))
	}
	if d.EscortsRear > 0 {
		asked = append(asked, say.That("report.escorts_rear", "count", d.EscortsRear))
	}
	if d.EscortsAny > 0 {
		asked = append(asked, say.That("report.escorts_any", "count", d.EscortsAny))
	}
	if d.HeightPole {
		asked = append(asked, say.That("report.height_pole"))
	}
	if d.Survey {
		asked = append(asked, say.That("report.survey"))
	}
	for _, h := range d.Hours {
		asked = append(asked, say.That("report.travel_hours", "hours", h))
	}
	for _, c := range d.Conditions {
		asked = append(asked, say.That("report.condition", "condition", c))
	}
	return t.in.Each(asked)
}
