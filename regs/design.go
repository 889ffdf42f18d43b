package regs

import (
	"maps"
	"math"
	"slices"
	"sort"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Answer is what one jurisdiction says of one quantity of a design.
type Answer struct {
	Jurisdiction string
	Quantity     limit.Quantity
	Findings     []finding.Finding // the quantity's own first, then what is not known of escorts
	Next         *NextStep         // the next step up of the table; nil where it has none
	ToClear      say.Remark        // how much less would make it clear; none where it is, or nothing would
}

// Invented reports whether anything of the answer rests on an invented row.
func (a Answer) Invented() bool {
	return a.Next != nil && a.Next.Invented || slices.ContainsFunc(a.Findings,
		func(f finding.Finding) bool { return f.Invented })
}

// NextStep is a threshold above a value, and what is asked beyond it.
type NextStep struct {
	Row      string
	Limit    string           // as the source prints it
	Margin   finding.Quantity // from the value to the threshold
	Outcome  finding.Outcome
	Demands  finding.Demands
	Invented bool
	Firm     bool // the row is published or verified, read recently and surely about such a rig
	Hangs    []say.Remark
}

// Design is a vehicle checked against whole jurisdictions.
type Design struct {
	Revision string // of the tables
	Day      time.Time
	Assumed  []say.Remark // what the caller took for granted
	Answers  []Answer
	Envelope
}

// Design checks a vehicle against whole jurisdictions, without a route: each
// quantity in each of them, and the largest unit for all. Rules of single roads, of towns and of who owns a
// road are not considered, and rows that bind some roads only never clear.
func (t *Tables) Design(v Vehicle, codes []string, at time.Time) *Design {
	out := &Design{Revision: t.Revision, Day: at, Envelope: t.envelope(v, codes, at)}
	for _, code := range codes {
		c := &checking{t, v, Stay{Jurisdictions: []string{code}, OwnerKnown: true, Until: at}, at}
		for _, q := range limit.Quantities() {
			found := c.answered(code, c.quantity(code, q), []finding.Rule{finding.Rule(q), q.Escorts()})
			if len(found) == 0 {
				continue
			}
			out.Answers = append(out.Answers, Answer{
				Jurisdiction: code, Quantity: q, Findings: found, Next: c.nextStep(code, q),
				ToClear: c.toClear(code, q, found[0]),
			})
		}
	}
	return out
}

// nextStep is the lowest threshold above the value.
func (c *checking) nextStep(code string, q limit.Quantity) *NextStep {
	value, given := c.v.Measures[q].Least()
	if !given || q.OfAxles() {
		return nil
	}
	for _, b := range c.applied(code, q) { // lowest first
		if b.row.Exceeded(value) {
			continue
		}
		outcome, demands := b.asks(code)
		return &NextStep{
			Row: b.row.ID, Limit: b.row.Published, Margin: q.Of(b.row.Threshold - value), Outcome: outcome, Demands: demands,
			Firm: b.firm() && !b.umbrella, Hangs: b.hangs, Invented: b.row.Status == finding.Invented,
		}
	}
	return nil
}

// with is the same question with another value of a quantity.
func (c *checking) with(q limit.Quantity, a limit.Amount) *checking {
	other := *c
	other.v.Measures = maps.Clone(c.v.Measures)
	if other.v.Measures == nil {
		other.v.Measures = map[limit.Quantity]Measure{}
	}
	other.v.Measures[q] = measure.Exactly(a)
	return &other
}

// exactly is the same question of a vehicle that is as it measures.
func (c *checking) exactly() *checking {
	other := *c
	other.v.Uncertain = nil
	return &other
}

// toClear is how much less of a quantity would be clear. Where nothing would,
// it is how much less would be within every row that is exceeded, and says so;
// nothing where none is.
func (c *checking) toClear(code string, q limit.Quantity, f finding.Finding) say.Remark {
	value, exact := c.v.Measures[q].Value()
	if f.Outcome == finding.Clear || !exact || q.OfAxles() {
		return say.Remark{}
	}
	most, ok := c.exactly().largest(code, q, isClear, math.MaxInt64)
	most -= c.v.Uncertain[q].By
	if ok && most < value {
		return say.That("limit.less", "by", q.Of(value-most), "how", q.Less())
	}
	within := value
	for _, b := range c.applied(code, q) {
		if b.row.Exceeded(value) {
			within = min(within, under(b.row)-c.v.Uncertain[q].By)
		}
	}
	if within == value {
		return say.Remark{}
	}
	return say.That("limit.less_within", "by", q.Of(value-within), "how", q.Less())
}

// under is the greatest value that is not beyond a row.
func under(r *limit.Row) limit.Amount {
	if r.Inclusive {
		return r.Threshold - oneStep(r.Quantity)
	}
	return r.Threshold
}

// oneStep is the least by which a value is under a threshold that it must not
// reach.
func oneStep(q limit.Quantity) limit.Amount {
	if q == limit.GrossMass {
		return limit.Amount(measure.Kilogram)
	}
	return limit.Amount(measure.Millimetre)
}

// largest is the greatest value at a threshold of the table that is good in a
// jurisdiction; ok is false where none is. good is isClear or unescorted.
//
// More of a quantity is beyond more rows, so that what is clear stays clear
// below, and so does what asks neither for an escort nor for a condition: each
// is looked for by halves. At the greatest of the latter it shows whether the
// rows beyond which it is say that no escort is asked; below, fewer of them are
// left to say so, until it is clear.
func (c *checking) largest(code string, q limit.Quantity, good func([]finding.Finding) bool,
	most limit.Amount) (limit.Amount, bool) {
	var candidates []limit.Amount
	for _, b := range c.applied(code, q) {
		if a := under(b.row); a > 0 && a <= most {
			candidates = append(candidates, a)
		}
	}
	slices.Sort(candidates)
	candidates = slices.Compact(candidates)
	for _, holds := range []func([]finding.Finding) bool{asksNobody, isClear} {
		n := sort.Search(len(candidates), func(i int) bool { return !holds(c.with(q, candidates[i]).quantity(code, q)) })
		if n > 0 && good(c.with(q, candidates[n-1]).quantity(code, q)) {
			return candidates[n-1], true
		}
	}
	return 0, false
}

func isClear(found []finding.Finding) bool { return found[0].Outcome == finding.Clear }

// asksNobody reports whether no row that is exceeded forbids, or asks for an
// escort, a person's decision or a condition.
func asksNobody(found []finding.Finding) bool {
	return !slices.ContainsFunc(found, func(f finding.Finding) bool {
		return f.Outcome == finding.Forbidden || f.Outcome == finding.Review || f.Demands.Escorts() > 0 ||
			len(f.Demands.Conditions) > 0
	})
}

// Largest is the greatest value of a quantity in a set of jurisdictions.
type Largest struct {
	Quantity       limit.Quantity
	Value          finding.Quantity // none where it is not established
	Decides        []string         // jurisdictions that allow no more
	NotEstablished []string         // jurisdictions without a row that settles it
	Invented       bool             // an invented row is among those it rests on
}

// Envelope is the largest unit for a set of jurisdictions.
type Envelope struct {
	Free     []Largest // without a permit
	NoEscort []Largest // with a permit and surely without an escort
}

// sized are the quantities by which a unit is drawn.
var sized = []limit.Quantity{limit.Height, limit.Width, limit.TrailerLength, limit.CombinationLength, limit.GrossMass}

// Largest works out the largest unit of a vehicle's kind, use and combination in
// one jurisdiction without a permit, by quantity, as it stands on the road:
// whatever the vehicle's own measures are uncertain by.
func (t *Tables) Largest(v Vehicle, code string, at time.Time) []Largest {
	v.Uncertain = nil
	return t.envelope(v, []string{code}, at).Free
}

// envelope works out the largest unit of a vehicle's kind, use and combination
// for all of some jurisdictions, with what the vehicle's measures are uncertain by
// kept before every limit. A value is established only where each of them has a
// row that settles it. What is good for every value up to one is good for a measure
// that is uncertain by so much less.
func (t *Tables) envelope(v Vehicle, codes []string, at time.Time) Envelope {
	var out Envelope
	for _, q := range sized {
		out.Free = append(out.Free, t.overAll(v, codes, at, q, isClear))
		out.NoEscort = append(out.NoEscort, t.overAll(v, codes, at, q, unescorted))
	}
	return out
}

// unescorted reports whether a quantity is clear, or allowed under a permit with
// nothing unknown and no escort.
func unescorted(found []finding.Finding) bool {
	for _, f := range found {
		if f.Outcome != finding.Clear && f.Outcome != finding.Conditional {
			return false
		}
	}
	return len(found) > 0 && asksNobody(found)
}

func (t *Tables) overAll(v Vehicle, codes []string, at time.Time, q limit.Quantity,
	good func([]finding.Finding) bool) Largest {
	out := Largest{Quantity: q}
	places := map[string]*checking{}
	for _, code := range codes {
		c := (&checking{t, v, Stay{Jurisdictions: []string{code}, OwnerKnown: true, Until: at}, at}).exactly()
		places[code] = c
		out.Invented = out.Invented || slices.ContainsFunc(c.applied(code, q), func(b appliedLimit) bool {
			return b.row.Status == finding.Invented
		})
	}
	least := limit.Amount(math.MaxInt64)
	for settled := false; !settled; { // what is good in one place may not be in another that allows more
		settled = true
		for _, code := range codes {
			if slices.Contains(out.NotEstablished, code) ||
				least < math.MaxInt64 && good(places[code].with(q, least).quantity(code, q)) {
				continue
			}
			most, ok := places[code].largest(code, q, good, least)
			if !ok {
				out.NotEstablished = append(out.NotEstablished, code)
				continue
			}
			least, settled = most, false
		}
	}
	if len(out.NotEstablished) > 0 || len(codes) == 0 {
		return out
	}
	out.Value = q.Of(least - v.Uncertain[q].By)
	for _, code := range codes {
		if most, ok := places[code].largest(code, q, good, math.MaxInt64); ok && most == least {
			out.Decides = append(out.Decides, code)
		}
	}
	return out
}

// Says is the whole in one line.
func (l Largest) Says() say.Remark {
	if !l.Value.Known() {
		return say.That("limit.no_largest", "quantity", l.Quantity, "where", l.NotEstablished)
	}
	return say.That("limit.largest", "quantity", l.Quantity, "value", l.Value, "by", l.Decides)
}
