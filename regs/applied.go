package regs

import (
	"cmp"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// An appliedLimit is how one row bears on one case.
type appliedLimit struct {
	row      *limit.Row
	sure     bool          // the row surely binds this vehicle on a part of these roads
	hangs    []say.Remark  // on what it hangs where it does not
	vehicle  int           // how many of them are about the vehicle: the first
	time     window.State  // whether its time comes on the way
	groups   []limit.Group // of axles that the row speaks of
	exceeded bool
	near     bool // it is exceeded if the vehicle is more than its measure by what that is uncertain by
	umbrella bool
	partly   bool // it holds at some times or on some of these roads only
	stale    bool
	told     say.Remark     // who said that it holds
	rejected []say.Remark   // why it cannot clear
	why      finding.Reason // the same in a word: the first of them
}

// sleeps reports whether a row binds at other times than those of the way. A ban
// does not sleep: that its hours must be kept is worth saying.
func (b appliedLimit) sleeps() bool {
	return b.time == window.Closed && b.row.Outcome != finding.Forbidden
}

// applied lists the rows that may be about the case, strictest first: those of
// the jurisdiction and those of its country, which never clear.
//
// A country's law stands beside the jurisdiction's own wherever it binds the
// roads. What is no law for certain (a floor for the laws of its parts, an
// agreement between them) stands aside where the jurisdiction surely has a rule of
// its own.
func (c *checking) applied(code string, q limit.Quantity) []appliedLimit {
	out := c.matching(code, q)
	if len(code) == len("CA") {
		return umbrella(out)
	}
	over := country(code)
	if over == "" {
		return out
	}
	ruled := slices.ContainsFunc(out, appliedLimit.read)
	for _, b := range umbrella(c.matching(over, q)) {
		if b.row.Tier != limit.Unsure || !ruled {
			out = append(out, b)
		}
	}
	slices.SortStableFunc(out, func(a, b appliedLimit) int { return cmp.Compare(a.row.Threshold, b.row.Threshold) })
	return out
}

// umbrella marks rows as those of a whole country.
func umbrella(applied []appliedLimit) []appliedLimit {
	for i := range applied {
		applied[i].umbrella = true
		applied[i].reject(finding.NoRow, say.That("row.country"))
	}
	return applied
}

// matching lists the rows of one table of rows that may be about the case,
// strictest first.
func (c *checking) matching(code string, q limit.Quantity) []appliedLimit {
	var out []appliedLimit
	for _, r := range c.t.rows[code][q] {
		if b, ok := c.apply(r, code); ok {
			out = append(out, b)
		}
	}
	out = unreplaced(out)
	slices.SortStableFunc(out, func(a, b appliedLimit) int { return strictest(a.row, b.row) }) // they are so by table
	return out
}

// strictest orders rows by threshold, then by id.
func strictest(a, b *limit.Row) int {
	return cmp.Or(cmp.Compare(a.Threshold, b.Threshold), cmp.Compare(a.ID, b.ID))
}

// apply works out how a row bears on the case; ok is false where it does not.
func (c *checking) apply(r *limit.Row, code string) (b appliedLimit, ok bool) {
	someDay, everyDay := c.holds(r.ValidFrom, r.ValidTo)
	if !someDay {
		return b, false
	}
	told, toldOf := c.told(r)
	if toldOf && !told.Holds {
		return b, false
	}
	r, met := r.For(c.v.Across)
	if !met {
		return b, false
	}
	sure, hangs := r.Match(c.v.Subject)
	if toldOf && sure != limit.No {
		r, sure, hangs = settled(r), limit.Yes, nil
	}
	somewhere, everywhere := r.Bound(c.p.Roads)
	if sure == limit.No || somewhere == limit.No {
		return b, false
	}
	b = appliedLimit{
		row: r, sure: sure == limit.Yes, hangs: hangs, vehicle: len(hangs), time: window.Open,
		stale: r.Stale(c.at, c.t.Term) || r.Stale(c.last(), c.t.Term),
	}
	if toldOf {
		b.told = told.says()
	}
	if r.When != "" {
		b.time = c.during(r.Times, code)
		b.hang(b.time == window.Unknown, say.That("hangs.time", "when", r.Times.Says()))
	}
	b.hang(somewhere == limit.Perhaps, r.On().Doubt(c.p.Roads))
	b.rejections()
	if r.When != "" && b.time != window.Unknown {
		b.reject(finding.Perhaps, say.That("row.times", "when", r.Times.Says()))
	}
	if somewhere == limit.Yes && !everywhere {
		b.reject(finding.Perhaps, say.That("row.part", "roads", r.Road))
	}
	if !everyDay {
		b.reject(finding.Perhaps, say.That("row.some_days"))
		b.hang(c.p.Until.IsZero(), say.That("hangs.in_force", "days", rows.Days(r.ValidFrom, r.ValidTo)))
	}
	b.partly = r.When != "" || !everywhere || !everyDay
	return b, true
}

// hang notes that the row binds only under a condition that is not known.
func (b *appliedLimit) hang(unknown bool, on say.Remark) {
	if unknown {
		b.sure, b.hangs = false, append(b.hangs, on)
	}
}

// firm reports whether a row surely holds for the whole case, with nothing left to
// read.
func (b appliedLimit) firm() bool { return b.read() && b.row.Condition == "" }

// read reports whether a row is trusted, was read recently and is surely about
// this vehicle all the way, be it under a condition.
func (b appliedLimit) read() bool {
	return b.row.Status.Trusted() && !b.stale && b.sure && !b.partly && !rows.IsRival(b.row.ID, b.row.Status)
}

// unreplaced leaves out rows that a firm one of their tier supersedes by name.
// Two that name each other both stand.
func unreplaced(applied []appliedLimit) []appliedLimit {
	byNamed := map[string][]*limit.Row{} // firm rows, by each row that they name
	for _, b := range applied {
		if len(b.row.Supersedes) == 0 || !b.firm() {
			continue
		}
		for _, id := range b.row.Supersedes {
			byNamed[id] = append(byNamed[id], b.row)
		}
	}
	if len(byNamed) == 0 {
		return applied
	}
	return slices.DeleteFunc(applied, func(old appliedLimit) bool {
		return slices.ContainsFunc(byNamed[old.row.ID], func(by *limit.Row) bool {
			return by.ID != old.row.ID && by.Tier == old.row.Tier && !slices.Contains(old.row.Supersedes, by.ID)
		})
	})
}
