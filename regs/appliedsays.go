package regs

import (
	"cmp"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// reject notes why a row cannot clear.
func (b *appliedLimit) reject(why finding.Reason, says say.Remark) {
	b.why, b.rejected = cmp.Or(b.why, why), append(b.rejected, says)
}

// rejections notes why a row that is not exceeded cannot clear.
func (b *appliedLimit) rejections() {
	switch why := b.row.Status.Doubt(); why {
	case "":
		if b.stale {
			b.reject(finding.Stale, say.That("row.stale"))
		}
	case finding.Recalled:
		b.reject(why, say.That("row.recalled"))
	case finding.SecondHand:
		b.reject(why, say.That("row.second_hand"))
	default:
		b.reject(why, say.That("row.invented"))
	}
	if rows.IsRival(b.row.ID, b.row.Status) {
		b.reject(finding.Perhaps, say.That("row.rival"))
	}
	switch b.row.Tier {
	case limit.Beyond:
		b.reject(finding.NoRow, say.That("row.beyond"))
	case limit.Unsure:
		b.reject(finding.NoRow, say.That("row.unsure"))
	}
	if b.row.Condition != "" {
		b.reject(finding.ToRead, say.That("row.to_read", "condition", b.row.Condition))
	}
	for i, on := range b.hangs {
		if i < b.vehicle {
			b.reject(finding.KindOpen, on)
		} else {
			b.reject(finding.Perhaps, on)
		}
	}
}

func (b appliedLimit) clears() bool { return !b.exceeded && len(b.rejected) == 0 }

// asks returns what an exceeded row asks. What is forbidden at some times is a
// demand to travel at others; on a way that surely meets them it is forbidden. A
// row that only perhaps binds forbids nothing outright: whether it does a person
// must decide.
func (b appliedLimit) asks(jurisdiction string) (finding.Outcome, finding.Demands) {
	outcome, demands := b.row.Outcome, b.row.Demands
	if b.umbrella && len(demands.Permits) > 0 { // a country gives none; the jurisdiction does
		demands.Permits = []say.Remark{limit.Permit(jurisdiction)}
	}
	if b.row.When != "" && outcome == finding.Forbidden {
		if b.time != window.Open {
			outcome = finding.Conditional
		}
		demands = demands.Union(
			finding.Demands{Hours: []say.Remark{say.That("hours.not_during", "when", b.row.Times.Says())}},
		)
	}
	if b.row.Condition != "" {
		demands = demands.Union(finding.Demands{Conditions: []say.Remark{say.Text(b.row.Condition)}})
	}
	if !b.sure && outcome == finding.Forbidden {
		outcome = finding.Review // it binds only perhaps
	}
	return outcome, demands
}

// says is how a row bears on the case.
func (b appliedLimit) says() []say.Remark {
	var out []say.Remark
	switch {
	case b.exceeded:
		out = b.beyond()
	case b.near:
		out = append(out, say.That("row.near"))
		fallthrough
	case len(b.rejected) > 0:
		out = append(out, say.That("row.cannot_clear", "why", b.rejected))
	}
	if b.stale && b.row.Status.Trusted() && b.exceeded {
		out = append(out, say.That("row.stale_tightens"))
	}
	if !b.told.None() {
		out = append(out, b.told)
	}
	if b.row.Note != "" || b.row.Met != "" {
		out = append(out, say.That("row.note", "note", b.row.Note, "met", b.row.Met))
	}
	return out
}

// beyond is how a row bears on the case that is exceeded.
func (b appliedLimit) beyond() []say.Remark {
	out := []say.Remark{say.That("row.exceeded")}
	if b.umbrella {
		out = append(out, say.That("row.country"))
	}
	out = append(out, b.hangs...)
	for _, g := range b.row.Beyond(b.groups) {
		out = append(out, g.Name())
	}
	if b.row.Condition != "" {
		out = append(out, say.That("row.condition", "condition", b.row.Condition))
	}
	return out
}
