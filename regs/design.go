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
	"wayhouse/regs/task"
)

// Answer is what one jurisdiction says of one quantity of a design.
type Answer struct {
	Jurisdiction string
	Quantity     limit.Quantity
	Findings     []finding.Finding // the quantity's own first, then what is not known of escorts
	Stated       *Stated           // the smallest figure that is or may be the legal limit; nil where no row states one
	Proven       finding.Quantity  // the largest that is clear there, as it stands on the road; none where none is proven
	Proof        []finding.Finding // what clears that
	Next         *NextStep         // the next step up of the table; nil where it has none
	ToClear      say.Remark        // how much less would make it clear; none where it is, or nothing would
}

// Invented reports whether anything of the answer rests on an invented row.
func (a Answer) Invented() bool {
	return a.Next != nil && a.Next.Invented || a.Stated != nil && a.Stated.Invented || slices.ContainsFunc(a.Findings,
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
	Name     string // of the unit
	Invented bool   // the unit is an example
	Vehicle  Vehicle
	Codes    []string     // the jurisdictions, in the order asked
	Assumed  []say.Remark // what the caller took for granted
	Answers  []Answer
	Permits  []Need // to ask for; nil where that was not asked
	Envelope
}

// RestsOnInvented reports whether the unit is an example or an invented row is among
// those of an answer.
func (d *Design) RestsOnInvented() bool {
	invented := func(l Largest) bool { return l.Invented || l.Unproven != nil && l.Unproven.Invented }
	return d.Invented || slices.ContainsFunc(d.Answers, Answer.Invented) || slices.ContainsFunc(d.Free, invented) ||
		slices.ContainsFunc(d.NoEscort, invented)
}

// Design checks a vehicle against whole jurisdictions, without a route: each of some
// quantities (none: all) in each of them, and the largest unit for all. Rules of single roads, of towns and of
// who owns a road are not considered, and rows that bind some roads only never clear.
func (t *Tables) Design(v Vehicle, codes []string, at time.Time, quantities ...limit.Quantity) *Design {
	asked := slices.DeleteFunc(limit.Quantities(), func(q limit.Quantity) bool {
		return len(quantities) > 0 && !slices.Contains(quantities, q)
	})
	out := &Design{Revision: t.Revision, Day: at, Vehicle: v, Codes: codes, Envelope: t.envelope(v, codes, at, asked)}
	for _, code := range codes {
		c := t.across(v, code, at)
		for _, q := range asked {
			found := c.answered(code, c.quantity(code, q), []finding.Rule{finding.Rule(q), q.Escorts()})
			if len(found) == 0 {
				continue
			}
			a := Answer{
				Jurisdiction: code, Quantity: q, Findings: found, Stated: c.stated(code, q), Next: c.nextStep(code, q),
				ToClear: c.toClear(code, q, found[0]),
			}
			a.Proven, a.Proof = c.proven(code, q)
			out.Answers = append(out.Answers, a)
		}
	}
	return out
}

// AskPermits lists what to ask for in each jurisdiction, without a route: how far and for
// how long the vehicle is there is not known. From is the day of the move; zero: not known.
func (d *Design) AskPermits(t *Tables, from time.Time) {
	var way []Passage
	for _, code := range d.Codes {
		p := Passage{Jurisdiction: code, From: from, Earliest: d.Day}
		for _, a := range d.Answers {
			if a.Jurisdiction == code {
				p.Findings = append(p.Findings, a.Findings...)
			}
		}
		way = append(way, p)
	}
	d.Permits = append([]Need{}, t.Permits(d.Vehicle, way)...)
}

// Heed lets what was told of tasks bear on the answers.
func (d *Design) Heed(done []task.Done, term time.Duration) {
	for _, a := range d.Answers {
		task.Heed(a.Findings, done, d.Day, term)
	}
}

// across asks about a whole jurisdiction, on roads of its own.
func (t *Tables) across(v Vehicle, code string, at time.Time) *checking {
	return &checking{t: t, v: v, p: Stay{Jurisdictions: []string{code}, OwnerKnown: true, Until: at}, at: at}
}

// Stated is a figure that is or may be a legal limit, whether it can clear or not.
type Stated struct {
	Value     finding.Quantity
	Under     bool // what is at it is beyond it
	Rows      []string
	Published string // as the source of the first of them prints it
	In        []string
	Invented  bool

	most limit.Amount // the greatest that is not beyond it
}

// stated is the smallest of them in a jurisdiction.
func (c *checking) stated(code string, q limit.Quantity) (out *Stated) {
	if q.OfAxles() {
		return nil
	}
	for _, b := range c.applied(code, q) {
		if b.row.Tier != limit.Beyond {
			out = out.with(&Stated{
				Value: q.Of(b.row.Threshold), Under: b.row.Inclusive, Rows: []string{b.row.ID}, Published: b.row.Published,
				In: []string{code}, Invented: b.row.Status == finding.Invented, most: under(b.row),
			})
		}
	}
	return out
}

// with is the smaller of two figures, or both as one where they are the same.
func (s *Stated) with(other *Stated) *Stated {
	switch {
	case s == nil || other.most < s.most:
		return other
	case other.most == s.most:
		s.Rows = append(s.Rows, missing(s.Rows, other.Rows)...)
		s.In = append(s.In, missing(s.In, other.In)...)
		s.Invented = s.Invented || other.Invented
	}
	return s
}

// missing are those of others that a list has not.
func missing(list, others []string) []string {
	return slices.DeleteFunc(slices.Clone(others), func(o string) bool { return slices.Contains(list, o) })
}

// proven is the largest value that is clear in a jurisdiction, and what clears it.
func (c *checking) proven(code string, q limit.Quantity) (finding.Quantity, []finding.Finding) {
	if q.OfAxles() {
		return finding.Quantity{}, nil
	}
	most, ok := c.exactly().largest(code, q, isClear, math.MaxInt64)
	if !ok {
		return finding.Quantity{}, nil
	}
	return q.Of(most), c.exactly().with(q, most).quantity(code, q)
}

// nextStep is the lowest threshold above the value. Where that is a step further up
// and no row below it is or may be the legal limit, there is none: what is asked before
// it nobody knows.
func (c *checking) nextStep(code string, q limit.Quantity) *NextStep {
	value, given := c.v.Measures[q].Least()
	if !given || q.OfAxles() {
		return nil
	}
	applied := c.applied(code, q) // lowest first
	for _, b := range applied {
		if b.row.Exceeded(value) {
			continue
		}
		if !slices.ContainsFunc(applied, func(legal appliedLimit) bool {
			return legal.row.Tier != limit.Beyond && legal.row.Threshold <= b.row.Threshold
		}) {
			return nil
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
	other.brief = true
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

// Sized reports whether any size or mass is given, so that there is something to check.
func (d *Design) Sized() bool { return len(d.Vehicle.Measures)+len(d.Vehicle.Loads) > 0 }

// Found are the answers; of a vehicle without any size, what is open at the figures
// that rows state, where the quantities that were asked about have such.
func (d *Design) Found() (out []finding.Finding) {
	if d.Sized() || len(d.Free) == 0 {
		for _, a := range d.Answers {
			out = append(out, a.Findings...)
		}
		return out
	}
	for _, l := range d.Free {
		out = append(out, l.Open...)
	}
	return out
}

// Tasks is what is to be done about what was found.
func (d *Design) Tasks() task.List {
	return task.Of(func(yield func(int, finding.Finding) bool) {
		for _, f := range d.Found() {
			if !yield(0, f) {
				return
			}
		}
	})
}
