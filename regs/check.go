package regs

import (
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// checking is one question to the tables: a vehicle, at a place, from a moment
// on.
type checking struct {
	t  *Tables
	v  Vehicle
	p  Stay
	at time.Time
	// brief leaves out what would settle a finding: it is asked for its outcome alone.
	brief bool
}

// quantity answers one quantity in one jurisdiction.
//
//  1. Find the rows in force that are or may be about the vehicle, of the
//     jurisdiction and of its country.
//  2. Any row exceeded: the gravest outcome of them, their demands added up.
//  3. None exceeded, and one may clear: clear, unless less is left to one than
//     the measure is uncertain by. Then a person must decide.
//  4. Otherwise unknown, with every figure there is and whom to ask.
func (c *checking) quantity(code string, q limit.Quantity) []finding.Finding {
	applied := c.applied(code, q)
	f := finding.Finding{
		Topic: finding.Limit, Rule: finding.Rule(q), Jurisdiction: code, Outcome: finding.Unknown,
		Settles: c.t.AskingLimit(code, q),
	}
	if q.OfAxles() {
		return c.axles(f, q, applied)
	}
	value := c.v.Measures[q]
	amount, given := value.Least()
	given = given && (amount > 0 || q.MayBeZero())
	if given {
		for i := range applied {
			b := &applied[i]
			b.exceeded = b.row.Exceeded(amount) && !b.sleeps()
			b.near = !b.exceeded && b.time != window.Closed && b.row.Exceeded(amount+c.v.Uncertain[q].By)
		}
		f.Value = q.Known(value)
		f.Margin = margin(applied, q, value)
	}
	exceeded := slices.ContainsFunc(applied, func(b appliedLimit) bool { return b.exceeded })
	clearing := slices.IndexFunc(applied, appliedLimit.clears)
	switch {
	case !given:
		c.notGiven(&f, q, applied)
	case exceeded:
		return c.exceeded(f, q, applied, c.v.Uncertain[q])
	case value.AtLeast() && len(applied) > 0:
		f.Reason, f.Says = finding.AtLeast, []say.Remark{say.That("limit.at_least", "quantity", q)}
		f.Settles = c.measured(code, q, applied)
	case clearing >= 0 && slices.ContainsFunc(applied, func(b appliedLimit) bool { return b.near }):
		return []finding.Finding{c.nearly(f, q, applied, c.v.Uncertain[q])}
	case clearing >= 0:
		return []finding.Finding{c.clear(f, q, applied, clearing)}
	case len(applied) == 0:
		noRow(&f, q)
	default:
		c.noneClears(&f, q, applied)
	}
	c.rest(&f, applied, func(appliedLimit) bool { return false })
	return []finding.Finding{f}
}

func (c *checking) notGiven(f *finding.Finding, q limit.Quantity, applied []appliedLimit) {
	f.Reason, f.Says = finding.NotGiven, []say.Remark{say.That("limit.not_given", "quantity", q)}
	f.Settles = c.measured(f.Jurisdiction, q, applied)
}

func noRow(f *finding.Finding, q limit.Quantity) {
	f.Reason = finding.NoRow
	f.Says = []say.Remark{say.That("limit.no_row", "quantity", q, "where", say.Jurisdiction(f.Jurisdiction))}
}

// noneClears gives the reason of the row that came nearest to clearing, and what
// would let it.
func (c *checking) noneClears(f *finding.Finding, q limit.Quantity, applied []appliedLimit) {
	best := nearest(applied)
	f.Reason, f.Settles = best.why, c.settles(f.Jurisdiction, q, applied)
	f.Says = []say.Remark{say.That("limit.none_clears", "quantity", q, "limit", best.row.Published, "row", best.row.ID,
		"why", best.rejected)}
}

// nearest is the row that came nearest to clearing: the lowest legal one of the
// jurisdiction, or the first there is.
func nearest(applied []appliedLimit) appliedLimit {
	if own := slices.DeleteFunc(slices.Clone(applied), func(b appliedLimit) bool { return b.umbrella }); len(own) > 0 {
		applied = own
	}
	best := applied[0]
	for _, b := range applied {
		if b.row.Tier == limit.Legal && (best.row.Tier != limit.Legal || len(b.rejected) < len(best.rejected)) {
			best = b
		}
	}
	return best
}

// margin is what is left to the lowest threshold that is or may be the legal
// limit, rounded down in either system; negative beyond it.
func margin(applied []appliedLimit, q limit.Quantity, value Measure) finding.Quantity {
	amount, exact := value.Value()
	for _, b := range applied { // strictest first
		if exact && b.row.Tier != limit.Beyond {
			return q.Of(b.row.Threshold - amount)
		}
	}
	return finding.Quantity{}
}

// compared is the value in a remark: in full where one quantity does not tell it.
func compared(f finding.Finding) any {
	if !f.Figures.None() {
		return f.Figures
	}
	return f.Value
}

func (c *checking) clear(f finding.Finding, q limit.Quantity, applied []appliedLimit, decides int) finding.Finding {
	row := applied[decides].row
	f.Answer(finding.Clear, "", say.That("limit.within", "quantity", q, "value", compared(f), "limit", row.Published))
	c.rest(&f, applied, func(b appliedLimit) bool { return b.row.ID == row.ID })
	return f
}

// nearly answers where every row is kept by the measure, and not by what that is
// uncertain by.
func (c *checking) nearly(f finding.Finding, q limit.Quantity, applied []appliedLimit, by Uncertainty) finding.Finding {
	row := applied[slices.IndexFunc(applied, func(b appliedLimit) bool { return b.near })].row
	says := say.That("limit.nearly_measured", "quantity", q, "value", compared(f), "limit", row.Published, "by",
		q.Of(by.By))
	if by.Designed {
		says = say.That("limit.nearly_designed", "quantity", q, "value", compared(f), "limit", row.Published, "by",
			q.Of(by.By))
	}
	f.Answer(finding.Review, finding.Uncertain, says)
	f.Settles = finding.By(stepOf(q))
	c.rest(&f, applied, func(b appliedLimit) bool { return b.near })
	return f
}

// exceeded answers where at least one row is exceeded. Where none of those
// says anything of escorts, a second finding says that more may be asked. Where
// one more would be exceeded within the uncertainty of the measure, a person must
// decide.
func (c *checking) exceeded(f finding.Finding, q limit.Quantity, applied []appliedLimit,
	by Uncertainty) []finding.Finding {
	var open []finding.Step                                     // what decides whether the rows bind
	f.Outcome, f.Reason = finding.Conditional, finding.Exceeded // whatever its rows say, what is beyond one is not clear
	escortsSaid := false
	var over []say.Remark
	var asked []finding.Demands
	for _, b := range applied {
		if !b.exceeded {
			continue
		}
		outcome, demands := b.asks(f.Jurisdiction)
		f.Outcome = finding.Worse(f.Outcome, outcome)
		asked, open = append(asked, demands), append(open, c.answers(b)...)
		escortsSaid = escortsSaid || b.row.EscortsSaid && b.firm() && !b.umbrella
		over = append(over, say.That("limit.beyond_one", "limit", b.row.Published, "hangs", b.hangs))
	}
	f.Demands = f.Demands.Union(asked...)
	f.Says = []say.Remark{say.That("limit.beyond", "quantity", q, "value", compared(f), "limits", alike(over))}
	more := slices.IndexFunc(applied, func(b appliedLimit) bool { return b.near })
	if more >= 0 {
		f.Outcome = finding.Worse(f.Outcome, finding.Review)
		f.Says = append(f.Says, say.That("limit.nearly_more", "limit", applied[more].row.Published, "quantity", q,
			"by", q.Of(by.By)))
	}
	f.Settles = c.granted(f, q, open)
	c.rest(&f, applied, func(b appliedLimit) bool { return b.exceeded || more >= 0 && b.near })
	out := []finding.Finding{f}
	if !escortsSaid && f.Outcome != finding.Forbidden {
		out = append(out, finding.Finding{
			Topic: finding.Limit, Rule: q.Escorts(), Jurisdiction: f.Jurisdiction, Outcome: finding.Unknown,
			Reason: finding.NoRow, Value: f.Value, Figures: f.Figures, Citations: f.Citations,
			Invented: f.Invented, Says: []say.Remark{say.That("limit.escorts_open", "quantity", q)},
			Settles: finding.By(append(open, c.t.asking(f.Jurisdiction, say.That("task.escorts", "quantity", q)))...),
		})
	}
	return out
}

// alike leaves out what says the same as the remark before it.
func alike(remarks []say.Remark) []say.Remark {
	return slices.CompactFunc(remarks, func(a, b say.Remark) bool { return a.String() == b.String() })
}

// rest puts the rows behind a finding into it.
func (c *checking) rest(f *finding.Finding, applied []appliedLimit, decides func(appliedLimit) bool) {
	for _, b := range applied {
		f.Invented = f.Invented || b.row.Status == finding.Invented
		f.Citations = append(f.Citations, c.t.cited(b.row, decides(b), b.says()))
	}
	f.Citations = append(f.Citations, c.dismissed(f.Jurisdiction, limit.Quantity(f.Rule))...)
}

// cited is a row as a finding shows it.
func (t *Tables) cited(r *limit.Row, decides bool, says []say.Remark) finding.Citation {
	return finding.Citation{
		ID: r.ID, Revision: t.Revision, Published: r.Published, Status: r.Status, Source: r.Source, Section: r.Section,
		Year: r.Year, URL: r.URL, ReadOn: r.ReadOn, Tier: string(r.Tier), Decides: decides, Says: says,
	}
}
