package regs

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
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
	rejected []say.Remark // why it cannot clear
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
	f := finding.Finding{Rule: string(q), Jurisdiction: code, Outcome: finding.Unknown, Ask: c.t.Ask(code)}
	if q.OfAxles() {
		return c.axles(f, q, bearings)
	}
	value, given := c.v.Measures[q]
	given = given && (value.Amount > 0 || q.MayBeZero())
	if given {
		for i := range bearings {
			b := &bearings[i]
			b.exceeded = b.row.Exceeded(value.Amount) && !b.sleeps()
			b.near = !b.exceeded && b.time != window.Closed && b.row.Exceeded(value.Amount+c.v.Uncertain[q].By)
		}
		f.Value = q.Of(value.Amount)
		f.Value.AtLeast = value.AtLeast
		f.Margin = margin(bearings, q, value)
	}
	exceeded := slices.ContainsFunc(bearings, func(b bearing) bool { return b.exceeded })
	clearing := slices.IndexFunc(bearings, bearing.clears)
	switch {
	case !given:
		f.Summary = fmt.Sprintf("the %s is not given", q.Words())
	case exceeded:
		return c.t.exceeded(f, q, bearings, c.v.Uncertain[q])
	case value.AtLeast && len(bearings) > 0:
		f.Summary = fmt.Sprintf("the %s is known only as a least value: the tow vehicle, the tires or a trailer under its load were not measured; give their measurements or those of the whole rig", q.Words())
	case clearing >= 0 && slices.ContainsFunc(bearings, func(b bearing) bool { return b.near }):
		return []finding.Finding{c.t.nearly(f, q, bearings, c.v.Uncertain[q])}
	case clearing >= 0:
		return []finding.Finding{c.t.clear(f, q, bearings, clearing)}
	case len(bearings) == 0:
		f.Summary = fmt.Sprintf("the table has no row for the %s %s", q.Words(), in(code))
	default:
		f.Summary = fmt.Sprintf("no row can clear the %s: %s", q.Words(), whyNot(bearings))
	}
	c.t.rest(&f, bearings, func(bearing) bool { return false })
	return []finding.Finding{f}
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
		bearings[i].rejected = append(bearings[i].rejected, say.Text("a row of the whole country, not of the jurisdiction"))
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
	b = bearing{row: r, sure: sure == limit.Yes, hangs: hangs, stale: r.Stale(c.at, c.t.Term) || r.Stale(c.last(), c.t.Term), time: window.Open}
	if r.When != "" {
		b.time = c.during(r.Times, code)
		b.hang(b.time == window.Unknown, say.Text("at the time the rule names: "+r.When))
	}
	b.hang(somewhere == limit.Perhaps, r.On().Doubt(c.p.Roads))
	b.rejected = b.rejections()
	if r.When != "" && b.time != window.Unknown {
		b.rejected = append(b.rejected, say.Text("it holds at some times only: "+r.When))
	}
	if somewhere == limit.Yes && !everywhere {
		b.rejected = append(b.rejected, say.Text("it holds on a part of these roads only: "+r.Road))
	}
	if !everyDay {
		b.rejected = append(b.rejected, say.Text("it is in force on some days of the way only"))
		b.hang(c.p.Until.IsZero(), say.Text("if the rig is there while the rule is in force"+span(r.ValidFrom, r.ValidTo)))
	}
	b.partly = r.When != "" || !everywhere || !everyDay
	return b, true
}

// span says from which day to which a row is in force.
func span(from, to time.Time) string {
	var out string
	if !from.IsZero() {
		out += " from " + from.Format(time.DateOnly)
	}
	if !to.IsZero() {
		out += " to " + to.Format(time.DateOnly)
	}
	return out
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

// rejections says why a row that is not exceeded cannot clear.
func (b bearing) rejections() []say.Remark {
	var why []say.Remark
	if !b.row.Status.Trusted() {
		why = append(why, say.Text(fmt.Sprintf("only known from %s, not verified", wordsOf(b.row.Status))))
	} else if b.stale {
		why = append(why, say.Text("read too long ago"))
	}
	if rows.IsRival(b.row.ID, b.row.Status) {
		why = append(why, say.Text("the shipped version of a row that you changed"))
	}
	if b.row.Tier == limit.Beyond {
		why = append(why, say.Text("a step above the legal limit"))
	}
	if b.row.Tier == limit.Unsure {
		why = append(why, say.Text("the source does not say whether it is the legal limit"))
	}
	if b.row.Condition != "" {
		why = append(why, say.Text("a condition must be read: "+b.row.Condition))
	}
	return append(why, b.hangs...)
}

func wordsOf(s finding.Status) string {
	switch s {
	case finding.Secondary:
		return "a second-hand text"
	case finding.Memory:
		return "memory"
	default:
		return "an " + string(s) + " row"
	}
}

func (b bearing) clears() bool { return !b.exceeded && len(b.rejected) == 0 }

// margin is what is left to the lowest threshold that is or may be the legal
// limit, rounded down in either system; negative beyond it.
func margin(bearings []bearing, q limit.Quantity, value Measure) finding.Quantity {
	if value.AtLeast {
		return finding.Quantity{}
	}
	for _, b := range bearings { // strictest first
		if b.row.Tier != limit.Beyond {
			return q.Of(b.row.Threshold - value.Amount)
		}
	}
	return finding.Quantity{}
}

// compared is what was compared, in words.
func compared(f finding.Finding) string {
	switch {
	case !f.Figures.None():
		return f.Figures.String()
	case f.Value.AtLeast:
		return "at least " + f.Value.Exactly().String()
	}
	return f.Value.String()
}

func (t *Tables) clear(f finding.Finding, q limit.Quantity, bearings []bearing, decides int) finding.Finding {
	row := bearings[decides].row
	f.Outcome, f.Ask = finding.Clear, ""
	f.Summary = fmt.Sprintf("%s %s is within %s", q.Words(), compared(f), row.Published)
	t.rest(&f, bearings, func(b bearing) bool { return b.row.ID == row.ID })
	return f
}

// nearly answers where every row is kept by the measure, and not by what that is
// uncertain by.
func (t *Tables) nearly(f finding.Finding, q limit.Quantity, bearings []bearing, by Uncertainty) finding.Finding {
	f.Outcome = finding.Review
	i := slices.IndexFunc(bearings, func(b bearing) bool { return b.near })
	f.Summary = fmt.Sprintf("%s %s is within %s: %s", q.Words(), compared(f), bearings[i].row.Published, by.onlyIf(q))
	t.rest(&f, bearings, func(b bearing) bool { return b.near })
	return f
}

// onlyIf says on what an answer hangs that is within the uncertainty of a
// measure.
func (u Uncertainty) onlyIf(q limit.Quantity) string {
	if u.Designed {
		return fmt.Sprintf("clear only if built exactly so, and a designed %s may turn out %s more", q.Words(), q.PrintUp(u.By))
	}
	return fmt.Sprintf("clear only if it is exactly so, and a measured %s may be %s more", q.Words(), q.PrintUp(u.By))
}

// exceeded answers where at least one row is exceeded. Where none of those
// says anything of escorts, a second finding says that more may be asked. Where
// one more would be exceeded within the uncertainty of the measure, a person must
// decide.
func (t *Tables) exceeded(f finding.Finding, q limit.Quantity, bearings []bearing, by Uncertainty) []finding.Finding {
	f.Outcome = finding.Conditional // whatever its rows say, what is beyond one is not clear
	escortsSaid := false
	var over []string
	var asked []finding.Demands
	for _, b := range bearings {
		if !b.exceeded {
			continue
		}
		outcome, demands := b.asks(f.Jurisdiction)
		f.Outcome = finding.Worse(f.Outcome, outcome)
		asked = append(asked, demands)
		escortsSaid = escortsSaid || b.row.EscortsSaid && b.firm() && !b.umbrella
		over = append(over, strings.Join(append([]string{b.row.Published}, say.Strings(b.hangs)...), ", "))
	}
	f.Demands = f.Demands.Union(asked...)
	f.Summary = fmt.Sprintf("%s %s is beyond %s", q.Words(), compared(f), strings.Join(slices.Compact(over), "; "))
	more := slices.IndexFunc(bearings, func(b bearing) bool { return b.near })
	if more >= 0 {
		f.Outcome = finding.Worse(f.Outcome, finding.Review)
		f.Summary += fmt.Sprintf("; within %s only if it is exactly so: the %s may be %s more", bearings[more].row.Published, q.Words(), q.PrintUp(by.By))
	}
	t.rest(&f, bearings, func(b bearing) bool { return b.exceeded || more >= 0 && b.near })
	out := []finding.Finding{f}
	if !escortsSaid && f.Outcome != finding.Forbidden {
		out = append(out, finding.Finding{
			Rule: q.Escorts(), Jurisdiction: f.Jurisdiction, Outcome: finding.Unknown, Value: f.Value, Figures: f.Figures, Ask: f.Ask, Citations: f.Citations, Invented: f.Invented,
			Summary: fmt.Sprintf("no row says which escorts are asked for this %s", q.Words()),
		})
	}
	return out
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

// whyNot gives the reason of the row that came nearest to clearing: the
// lowest legal one of the jurisdiction, or the first there is.
func whyNot(bearings []bearing) string {
	if own := slices.DeleteFunc(slices.Clone(bearings), func(b bearing) bool { return b.umbrella }); len(own) > 0 {
		bearings = own
	}
	best := bearings[0]
	for _, b := range bearings {
		if b.row.Tier == limit.Legal && (best.row.Tier != limit.Legal || len(b.rejected) < len(best.rejected)) {
			best = b
		}
	}
	return fmt.Sprintf("%s (%s) cannot, because: %s", best.row.Published, best.row.ID, strings.Join(say.Strings(best.rejected), "; "))
}

// rest puts the rows behind a finding into it.
func (t *Tables) rest(f *finding.Finding, bearings []bearing, decides func(bearing) bool) {
	for _, b := range bearings {
		r := b.row
		f.Invented = f.Invented || r.Status == finding.Invented
		f.Citations = append(f.Citations, finding.Citation{
			ID: r.ID, Revision: t.Revision, Published: r.Published, Status: r.Status, Source: r.Source, Section: r.Section,
			Year: r.Year, URL: r.URL, ReadOn: r.ReadOn, Tier: string(r.Tier), Decides: decides(b), Words: b.words(),
		})
	}
}

// words says how a row bears on the case.
func (b bearing) words() string {
	var parts []string
	switch {
	case b.exceeded:
		parts = append(parts, "exceeded")
		if b.umbrella {
			parts = append(parts, "a row of the whole country, not of the jurisdiction")
		}
		parts = append(parts, say.Strings(b.hangs)...)
		for _, g := range b.row.Beyond(b.groups) {
			parts = append(parts, g.String())
		}
		if b.row.Condition != "" {
			parts = append(parts, "condition: "+b.row.Condition)
		}
	case b.near:
		parts = append(parts, "exceeded if it is more than its measure by what that is uncertain by")
		fallthrough
	case len(b.rejected) > 0:
		parts = append(parts, "cannot clear: "+strings.Join(say.Strings(b.rejected), "; "))
	}
	if b.stale && b.row.Status.Trusted() && b.exceeded {
		parts = append(parts, "read too long ago, so it only tightens")
	}
	if b.row.Note != "" {
		parts = append(parts, "note: "+b.row.Note)
	}
	return strings.Join(parts, "; ")
}
