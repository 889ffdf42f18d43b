package regs

import (
	"cmp"
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// checking is one question to the tables: a vehicle, at a place, from a moment
// on.
type checking struct {
	t  *Tables
	v  Vehicle
	p  Place
	at time.Time
}

// A bearing is how one row bears on one case.
type bearing struct {
	row      *limit.Row
	sure     bool          // the row surely binds this vehicle on a part of these roads
	hangs    []say.Remark  // on what it hangs where it does not
	time     window.State  // whether its time comes on the way
	groups   []limit.Group // of axles that the row speaks of
	exceeded bool
	near     bool // it is exceeded if the vehicle is more than its measure by what that is uncertain by
	umbrella bool
	partly   bool // it holds at some times or on some of these roads only
	stale    bool
	rejected []say.Remark   // why it cannot clear
	why      finding.Reason // the same in a word: the first of them
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
	bearings := c.bearings(code, q)
	f := finding.Finding{
		Topic: finding.Limit, Rule: string(q), Jurisdiction: code, Outcome: finding.Unknown, Settles: c.t.Asks(code),
	}
	if q.OfAxles() {
		return c.axles(f, q, bearings)
	}
	value := c.v.Measures[q]
	amount, given := value.Least()
	given = given && (amount > 0 || q.MayBeZero())
	if given {
		for i := range bearings {
			b := &bearings[i]
			b.exceeded = b.row.Exceeded(amount) && !b.sleeps()
			b.near = !b.exceeded && b.time != window.Closed && b.row.Exceeded(amount+c.v.Uncertain[q].By)
		}
		f.Value = q.Known(value)
		f.Margin = margin(bearings, q, value)
	}
	exceeded := slices.ContainsFunc(bearings, func(b bearing) bool { return b.exceeded })
	clearing := slices.IndexFunc(bearings, bearing.clears)
	switch {
	case !given:
		c.t.notGiven(&f, q)
	case exceeded:
		return c.t.exceeded(f, q, bearings, c.v.Uncertain[q])
	case value.AtLeast() && len(bearings) > 0:
		c.t.unsettled(&f, finding.AtLeast, say.That("limit.at_least", "quantity", q), stepOf(q))
	case clearing >= 0 && slices.ContainsFunc(bearings, func(b bearing) bool { return b.near }):
		return []finding.Finding{c.t.nearly(f, q, bearings, c.v.Uncertain[q])}
	case clearing >= 0:
		return []finding.Finding{c.t.clear(f, q, bearings, clearing)}
	case len(bearings) == 0:
		c.t.noRow(&f, q)
	default:
		c.t.noneClears(&f, q, bearings)
	}
	c.t.rest(&f, bearings, func(bearing) bool { return false })
	return []finding.Finding{f}
}

// unsettled leaves a finding unknown for a reason; the office is asked where what may
// settle it before does not.
func (t *Tables) unsettled(f *finding.Finding, why finding.Reason, says say.Remark, settles ...finding.Step) {
	f.Reason, f.Says = why, []say.Remark{says}
	f.Settles = append(settles, t.Asks(f.Jurisdiction)...)
}

func (t *Tables) notGiven(f *finding.Finding, q limit.Quantity) {
	t.unsettled(f, finding.NotGiven, say.That("limit.not_given", "quantity", q), stepOf(q))
}

func (t *Tables) noRow(f *finding.Finding, q limit.Quantity) {
	t.unsettled(f, finding.NoRow, say.That("limit.no_row", "quantity", q, "where", say.Jurisdiction(f.Jurisdiction)))
}

// noneClears gives the reason of the row that came nearest to clearing: the
// lowest legal one of the jurisdiction, or the first there is.
func (t *Tables) noneClears(f *finding.Finding, q limit.Quantity, bearings []bearing) {
	if own := slices.DeleteFunc(slices.Clone(bearings), func(b bearing) bool { return b.umbrella }); len(own) > 0 {
		bearings = own
	}
	best := bearings[0]
	for _, b := range bearings {
		if b.row.Tier == limit.Legal && (best.row.Tier != limit.Legal || len(b.rejected) < len(best.rejected)) {
			best = b
		}
	}
	t.unsettled(f, best.why, say.That("limit.none_clears", "quantity", q, "limit", best.row.Published, "row", best.row.ID, "why", best.rejected), best.settles()...)
}

// stepOf is the step that settles what is not known of a quantity.
func stepOf(q limit.Quantity) finding.Step {
	if q.IsMass() {
		return finding.Step{By: finding.Weigh, Of: string(q)}
	}
	return finding.Step{By: finding.Measure, Of: string(q)}
}

// sleeps tells whether a row binds at other times than those of the way. A ban
// does not sleep: that its hours must be kept is worth saying.
func (b bearing) sleeps() bool { return b.time == window.Closed && b.row.Outcome != finding.Forbidden }

func in(code string) string {
	if code == "" {
		return "where the jurisdiction is not known"
	}
	return "in " + code
}

// bearings lists the rows that may be about the case, strictest first: those of
// the jurisdiction and those of its country, which never clear.
//
// A country's law stands beside the jurisdiction's own wherever it binds the
// roads. What is no law for certain (a floor for the laws of its parts, an
// agreement between them) stands aside where the jurisdiction surely has a rule of
// its own.
func (c *checking) bearings(code string, q limit.Quantity) []bearing {
	out := c.matching(code, q)
	if len(code) == len("CA") {
		return umbrella(out)
	}
	over := country(code)
	if over == "" {
		return out
	}
	ruled := slices.ContainsFunc(out, bearing.read)
	for _, b := range umbrella(c.matching(over, q)) {
		if b.row.Tier != limit.Unsure || !ruled {
			out = append(out, b)
		}
	}
	slices.SortStableFunc(out, func(a, b bearing) int { return cmp.Compare(a.row.Threshold, b.row.Threshold) })
	return out
}

// umbrella marks rows as those of a whole country.
func umbrella(bearings []bearing) []bearing {
	for i := range bearings {
		bearings[i].umbrella = true
		bearings[i].reject(finding.NoRow, say.That("row.country"))
	}
	return bearings
}

// matching lists the rows of one table of rows that may be about the case,
// strictest first.
func (c *checking) matching(code string, q limit.Quantity) []bearing {
	var out []bearing
	for _, r := range c.t.rows[code][q] {
		if b, ok := c.bearing(r, code); ok {
			out = append(out, b)
		}
	}
	out = unreplaced(out)
	slices.SortStableFunc(out, func(a, b bearing) int { return strictest(a.row, b.row) }) // they are so by table
	return out
}

// strictest orders rows by threshold, then by id.
func strictest(a, b *limit.Row) int {
	return cmp.Or(cmp.Compare(a.Threshold, b.Threshold), cmp.Compare(a.ID, b.ID))
}

// bearing works out how a row bears on the case; ok is false where it does not.
func (c *checking) bearing(r *limit.Row, code string) (b bearing, ok bool) {
	someDay, everyDay := c.holds(r.ValidFrom, r.ValidTo)
	if !someDay {
		return b, false
	}
	r, met := r.For(c.v.Across)
	if !met {
		return b, false
	}
	sure, hangs := r.Match(c.v.Subject)
	somewhere, everywhere := r.Bound(c.p.Roads)
	if sure == limit.No || somewhere == limit.No {
		return b, false
	}
	b = bearing{
		row: r, sure: sure == limit.Yes, hangs: hangs, time: window.Open,
		stale: r.Stale(c.at, c.t.Term) || r.Stale(c.last(), c.t.Term),
	}
	if r.When != "" {
		b.time = c.during(r.Times, code)
		b.hang(b.time == window.Unknown, say.That("hangs.time", "when", r.When))
	}
	b.hang(somewhere == limit.Perhaps, r.On().Doubt(c.p.Roads))
	b.rejections(len(hangs))
	if r.When != "" && b.time != window.Unknown {
		b.reject(finding.Perhaps, say.That("row.times", "when", r.When))
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
func (b *bearing) hang(unknown bool, on say.Remark) {
	if unknown {
		b.sure, b.hangs = false, append(b.hangs, on)
	}
}

// firm tells whether a row surely holds for the whole case, with nothing left to
// read.
func (b bearing) firm() bool { return b.read() && b.row.Condition == "" }

// read reports whether a row is trusted, was read recently and is surely about
// this vehicle all the way, be it under a condition.
func (b bearing) read() bool {
	return b.row.Status.Trusted() && !b.stale && b.sure && !b.partly && !rows.IsRival(b.row.ID, b.row.Status)
}

// unreplaced leaves out rows that a firm one of their tier supersedes by name.
// Two that name each other both stand.
func unreplaced(bearings []bearing) []bearing {
	byNamed := map[string][]*limit.Row{} // firm rows, by each row that they name
	for _, b := range bearings {
		if len(b.row.Supersedes) == 0 || !b.firm() {
			continue
		}
		for _, id := range b.row.Supersedes {
			byNamed[id] = append(byNamed[id], b.row)
		}
	}
	if len(byNamed) == 0 {
		return bearings
	}
	return slices.DeleteFunc(bearings, func(old bearing) bool {
		return slices.ContainsFunc(byNamed[old.row.ID], func(by *limit.Row) bool {
			return by.ID != old.row.ID && by.Tier == old.row.Tier && !slices.Contains(old.row.Supersedes, by.ID)
		})
	})
}

// reject notes why a row cannot clear.
func (b *bearing) reject(why finding.Reason, says say.Remark) {
	b.why, b.rejected = cmp.Or(b.why, why), append(b.rejected, says)
}

// rejections notes why a row that is not exceeded cannot clear. The first of what
// it hangs on is about the vehicle, the rest about the time and the roads.
func (b *bearing) rejections(vehicle int) {
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
		if i < vehicle {
			b.reject(finding.KindOpen, on)
		} else {
			b.reject(finding.Perhaps, on)
		}
	}
}

// settles is what may let a row clear before anybody is asked.
func (b bearing) settles() []finding.Step {
	switch b.why {
	case finding.Recalled, finding.SecondHand, finding.Stale, finding.ToRead:
		return []finding.Step{{By: finding.Verify, Of: b.row.ID}}
	case finding.KindOpen:
		return []finding.Step{{By: finding.Answer, Of: "kind"}}
	}
	return nil
}

func (b bearing) clears() bool { return !b.exceeded && len(b.rejected) == 0 }

// margin is what is left to the lowest threshold that is or may be the legal
// limit, rounded down in either system; negative beyond it.
func margin(bearings []bearing, q limit.Quantity, value Measure) finding.Quantity {
	amount, exact := value.Value()
	for _, b := range bearings { // strictest first
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

func (t *Tables) clear(f finding.Finding, q limit.Quantity, bearings []bearing, decides int) finding.Finding {
	row := bearings[decides].row
	f.Outcome, f.Settles = finding.Clear, nil
	f.Says = []say.Remark{say.That("limit.within", "quantity", q, "value", compared(f), "limit", row.Published)}
	t.rest(&f, bearings, func(b bearing) bool { return b.row.ID == row.ID })
	return f
}

// nearly answers where every row is kept by the measure, and not by what that is
// uncertain by.
func (t *Tables) nearly(f finding.Finding, q limit.Quantity, bearings []bearing, by Uncertainty) finding.Finding {
	f.Outcome, f.Reason = finding.Review, finding.Uncertain
	row := bearings[slices.IndexFunc(bearings, func(b bearing) bool { return b.near })].row
	says := say.That("limit.nearly_measured", "quantity", q, "value", compared(f), "limit", row.Published, "by", q.Of(by.By))
	if by.Designed {
		says = say.That("limit.nearly_designed", "quantity", q, "value", compared(f), "limit", row.Published, "by", q.Of(by.By))
	}
	f.Says = []say.Remark{says}
	f.Settles = append([]finding.Step{stepOf(q)}, f.Settles...)
	t.rest(&f, bearings, func(b bearing) bool { return b.near })
	return f
}

// exceeded answers where at least one row is exceeded. Where none of those
// says anything of escorts, a second finding says that more may be asked. Where
// one more would be exceeded within the uncertainty of the measure, a person must
// decide.
func (t *Tables) exceeded(f finding.Finding, q limit.Quantity, bearings []bearing, by Uncertainty) []finding.Finding {
	f.Outcome, f.Reason = finding.Conditional, finding.Exceeded // whatever its rows say, what is beyond one is not clear
	escortsSaid := false
	var over []say.Remark
	var asked []finding.Demands
	for _, b := range bearings {
		if !b.exceeded {
			continue
		}
		outcome, demands := b.asks(f.Jurisdiction)
		f.Outcome = finding.Worse(f.Outcome, outcome)
		asked = append(asked, demands)
		escortsSaid = escortsSaid || b.row.EscortsSaid && b.firm() && !b.umbrella
		over = append(over, say.That("limit.beyond_one", "limit", b.row.Published, "hangs", b.hangs))
	}
	f.Demands = f.Demands.Union(asked...)
	f.Says = []say.Remark{say.That("limit.beyond", "quantity", q, "value", compared(f), "limits", alike(over))}
	more := slices.IndexFunc(bearings, func(b bearing) bool { return b.near })
	if more >= 0 {
		f.Outcome = finding.Worse(f.Outcome, finding.Review)
		f.Says = append(f.Says, say.That("limit.nearly_more", "limit", bearings[more].row.Published, "quantity", q, "by", q.Of(by.By)))
	}
	t.rest(&f, bearings, func(b bearing) bool { return b.exceeded || more >= 0 && b.near })
	out := []finding.Finding{f}
	if !escortsSaid && f.Outcome != finding.Forbidden {
		out = append(out, finding.Finding{
			Topic: finding.Limit, Rule: q.Escorts(), Jurisdiction: f.Jurisdiction, Outcome: finding.Unknown, Reason: finding.NoRow,
			Value: f.Value, Figures: f.Figures, Settles: f.Settles, Citations: f.Citations, Invented: f.Invented,
			Says: []say.Remark{say.That("limit.escorts_open", "quantity", q)},
		})
	}
	return out
}

// alike leaves out what says the same as the remark before it.
func alike(remarks []say.Remark) []say.Remark {
	return slices.CompactFunc(remarks, func(a, b say.Remark) bool { return a.String() == b.String() })
}

// asks returns what an exceeded row asks. What is forbidden at some times is a
// demand to travel at others; on a way that surely meets them it is forbidden. A
// row that only perhaps binds forbids nothing outright: whether it does a person
// must decide.
func (b bearing) asks(jurisdiction string) (finding.Outcome, finding.Demands) {
	outcome, demands := b.row.Outcome, b.row.Demands
	if b.umbrella && len(demands.Permits) > 0 { // a country gives none; the jurisdiction does
		demands.Permits = []say.Remark{limit.Permit(jurisdiction)}
	}
	if b.row.When != "" && outcome == finding.Forbidden {
		if b.time != window.Open {
			outcome = finding.Conditional
		}
		demands = demands.Union(finding.Demands{Hours: []say.Remark{say.That("hours.not_at", "when", b.row.When)}})
	}
	if b.row.Condition != "" {
		demands = demands.Union(finding.Demands{Conditions: []say.Remark{say.Text(b.row.Condition)}})
	}
	if !b.sure && outcome == finding.Forbidden {
		outcome = finding.Review // it binds only perhaps
	}
	return outcome, demands
}

// rest puts the rows behind a finding into it.
func (t *Tables) rest(f *finding.Finding, bearings []bearing, decides func(bearing) bool) {
	for _, b := range bearings {
		r := b.row
		f.Invented = f.Invented || r.Status == finding.Invented
		f.Citations = append(f.Citations, finding.Citation{
			ID: r.ID, Revision: t.Revision, Published: r.Published, Status: r.Status, Source: r.Source, Section: r.Section,
			Year: r.Year, URL: r.URL, ReadOn: r.ReadOn, Tier: string(r.Tier), Decides: decides(b), Says: b.says(),
		})
	}
}

// says is how a row bears on the case.
func (b bearing) says() []say.Remark {
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
	if b.row.Note != "" || b.row.Met != "" {
		out = append(out, say.That("row.note", "note", b.row.Note, "met", b.row.Met))
	}
	return out
}

// beyond is how a row bears on the case that is exceeded.
func (b bearing) beyond() []say.Remark {
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
