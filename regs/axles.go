package regs

import (
	"cmp"
	"math"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// axles answers a quantity that is about axles or groups of them.
//
//  1. Find the groups of axles that each row speaks of, and which weigh too
//     much under it.
//  2. Any: the gravest outcome of those rows, as for other quantities.
//  3. None, and every axle and every group that the quantity is about is within
//     what some row that may clear allows it: clear.
//  4. Otherwise unknown, with what no row covers.
func (c *checking) axles(f finding.Finding, q limit.Quantity, applied []appliedLimit) []finding.Finding {
	loads := c.v.Loads
	if len(applied) == 0 && q.OnlyWhereRuled() {
		return nil
	}
	if len(loads) == 0 {
		c.notGiven(&f, q, applied)
		c.rest(&f, applied, func(appliedLimit) bool { return false })
		return []finding.Finding{f}
	}
	var all []limit.Group
	for i := range applied {
		b := &applied[i]
		groups, sure := b.row.Groups(loads)
		b.groups = groups
		if len(groups) > 0 && sure == limit.Perhaps {
			b.hang(true, say.That("hangs.axles_count"))
			b.reject(finding.Perhaps, say.That("row.axles_open"))
		}
		b.exceeded = len(b.row.Beyond(groups)) > 0 && !b.sleeps()
		all = append(all, groups...)
	}
	compare(&f, all)
	if slices.ContainsFunc(applied, func(b appliedLimit) bool { return b.exceeded }) {
		return c.exceeded(f, q, applied, Uncertainty{})
	}
	clearing := slices.DeleteFunc(slices.Clone(applied), func(b appliedLimit) bool { return !b.clears() })
	open, why := c.uncovered(f.Jurisdiction, q, clearing)
	decides := func(appliedLimit) bool { return false }
	switch {
	case len(applied) == 0:
		noRow(&f, q)
	case len(clearing) == 0:
		c.noneClears(&f, q, applied)
	case len(open) > 0:
		f.Reason, f.Says = why, []say.Remark{say.That("axles.open", "quantity", q, "open", open)}
		if why != finding.NoRow {
			f.Settles = finding.By(stepOf(q), c.t.askingLimit(f.Jurisdiction, q))
		}
	default:
		f.Answer(finding.Clear, "", say.That("axles.within", "quantity", q))
		decides = appliedLimit.clears
	}
	c.rest(&f, applied, decides)
	return []finding.Finding{f}
}

// uncovered says what of the axles no clearing row allows, and why the first of it
// is open.
func (c *checking) uncovered(code string, q limit.Quantity, clearing []appliedLimit) (open []say.Remark,
	why finding.Reason) {
	note := func(r finding.Reason, says say.Remark) {
		why, open = cmp.Or(why, r), append(open, says)
	}
	for _, run := range c.runs(q) {
		mass, some := run.Mass.Least()
		switch {
		case !some:
			note(finding.NotMeasured, say.That("axles.not_known", "axles", run.Name()))
		case run.Mass.AtLeast():
			note(finding.AtLeast, say.That("axles.worked_out", "axles", run.Name(), "mass", mass))
		case covers(clearing, run) || c.setApart(clearing, run) || c.answeredAs(code, q, run):
		case run.First == run.Last:
			note(finding.NoRow, say.That("axles.no_row", "axles", run.Name()))
		default:
			note(finding.NoRow, say.That("axles.no_row_apart", "axles", run.Name()))
		}
	}
	if q == limit.SteeringAxleMass && !slices.ContainsFunc(c.v.Loads, func(l limit.AxleLoad) bool { return l.Steering }) {
		note(finding.NotDescribed, say.That("axles.steering_open"))
	}
	return open, why
}

// runs lists the runs of axles that a quantity is about.
func (c *checking) runs(q limit.Quantity) []limit.Group {
	least, most := 1, 1
	switch q {
	case limit.TandemMass:
		least, most = 2, 2
	case limit.TridemMass:
		least, most = 3, 3
	case limit.BridgeFormula, limit.AxleGroupMass:
		least, most = 2, 0
	}
	any := limit.Row{Quantity: limit.AxleGroupMass, Count: limit.Count{Least: least, Most: most}}
	groups, _ := any.Groups(c.v.Loads)
	if q != limit.SteeringAxleMass {
		return groups
	}
	return slices.DeleteFunc(groups, func(g limit.Group) bool { return !c.v.Loads[g.First-1].Steering })
}

// covers reports whether a row allows a run of axles what it weighs.
func covers(clearing []appliedLimit, run limit.Group) bool {
	return slices.ContainsFunc(clearing, func(b appliedLimit) bool {
		return slices.ContainsFunc(b.groups, func(g limit.Group) bool {
			return g.First == run.First && g.Last == run.Last && g.Limit > 0
		})
	})
}

// setApart reports whether a row that can clear says that axles stand too far
// apart to count together. That a row speaks of nearer ones only says nothing:
// it may be one step of several.
func (c *checking) setApart(clearing []appliedLimit, run limit.Group) bool {
	return slices.ContainsFunc(clearing, func(b appliedLimit) bool { return b.row.SetsApart(c.v.Loads, run) })
}

// asFewer are the quantities by which axles may be answered for that stand so near
// as to count as fewer: two as a single axle, three of a group as a tridem.
var asFewer = map[limit.Quantity][]limit.Quantity{
	limit.TandemMass:    {limit.SingleAxleMass},
	limit.TridemMass:    {limit.SingleAxleMass},
	limit.AxleGroupMass: {limit.SingleAxleMass, limit.TandemMass, limit.TridemMass},
}

// answeredAs reports whether a row that can clear speaks of axles, by their
// distance, as a single axle, a tandem or a tridem; whether they are within it is
// answered there.
func (c *checking) answeredAs(code string, q limit.Quantity, run limit.Group) bool {
	return slices.ContainsFunc(asFewer[q], func(fewer limit.Quantity) bool {
		return slices.ContainsFunc(c.applied(code, fewer), func(b appliedLimit) bool {
			groups, sure := b.row.Groups(c.v.Loads)
			b.groups = groups
			return b.clears() && sure == limit.Yes && b.row.Spread.Given && covers([]appliedLimit{b}, run)
		})
	})
}

// compare puts the group that has the least left to its limit into a finding, as what
// was compared.
func compare(f *finding.Finding, groups []limit.Group) {
	least := measure.Mass(math.MaxInt64)
	for _, g := range groups {
		if left, ok := g.Left(); ok && left < least {
			mass, _ := g.Mass.Least()
			least, f.Value, f.Margin = left, finding.Of(mass), finding.Of(left)
			f.Figures = say.That("axles.compared", "axles", g.Name(), "mass", mass)
		}
	}
}
