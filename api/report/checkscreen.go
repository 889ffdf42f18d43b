package report

import (
	"cmp"
	"slices"
	"strings"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
)

// checkScreen is the answer to a check on one screen: what was asked, what it comes to
// and what decides that; what each jurisdiction says of each quantity; the largest
// unit, what is proven apart from what is not; what to do next.
func checkScreen(v View, d *regs.Design) *screen {
	s := &screen{in: v.In, full: v.Full}
	s.design(d)
	s.designVerdict(d)
	s.figures(d)
	s.largest(d)
	s.tasks(d.Tasks())
	s.foot(designExamples(d))
	return s
}

// fewCodes is how many jurisdictions are named where there may be many.
const fewCodes = 4

// where names some jurisdictions, and counts the others.
func (s *screen) where(codes []string) say.Remark {
	n := s.some(fewCodes, len(codes))
	return say.That("screen.check.where", "codes", codes[:n], "more", len(codes)-n)
}

func (s *screen) design(d *regs.Design) {
	s.whole().keeps(say.That("screen.check.title", "invented", d.RestsOnInvented(), "name", d.Name, "sized", d.Sized(),
		"where", s.where(d.Codes), "day", say.Day(d.Day)))
	v := d.Vehicle
	s.part(say.That("screen.label.counts_as")).keeps(say.That("screen.check.subject", "kind", v.Kind, "use", v.Use,
		"form", v.Form, "tow", v.Tow, "axles", v.Axles))
}

// designVerdict says what the answers come to, and the few that decide it; without any
// size, how many of the figures are proven.
func (s *screen) designVerdict(d *regs.Design) {
	part := s.part(say.That("screen.label.verdict"))
	if !d.Sized() && len(d.Free) > 0 {
		drawn := slices.DeleteFunc(slices.Clone(d.Answers), func(a regs.Answer) bool {
			return !slices.Contains(regs.DrawnBy(), a.Quantity)
		})
		c := proofs(drawn)
		part.keeps(say.That("screen.check.no_size", "all", len(drawn), "cleared", c.proven, "unproven", c.unproven,
			"none", c.none))
		return
	}
	c := counts{}
	found := d.Found()
	for _, f := range found {
		c.add(f.Outcome)
	}
	part.keeps(c.verdict(finding.Roll(found).Outcome()))
	for _, f := range deciding(found, decisive) {
		part.briefly(s.decides(f))
		s.speaksOf(f)
	}
	s.part(say.That("screen.label.assumed")).briefly(say.Text(s.in.All(d.Assumed)))
}

// proof counts how well figures are known.
type proof struct{ proven, unproven, none int }

func proofs(of []regs.Answer) (out proof) {
	for _, a := range of {
		switch {
		case a.Proven.Known():
			out.proven++
		case a.Stated != nil:
			out.unproven++
		default:
			out.none++
		}
	}
	return out
}

// figures writes a table of the figure that each jurisdiction states, with the state of
// the unit at it and what is left; or whether it is proven, where no size is given.
func (s *screen) figures(d *regs.Design) {
	quantities := tabled(d)
	part := s.apart(say.That("screen.label.rules"))
	var heads []say.Remark
	var unit []string
	for _, q := range quantities {
		heads = append(heads, say.Remark{Code: heading(q).Term()})
		unit = append(unit, s.in.Say(sizeOf(q.Known(d.Vehicle.Measures[q]))))
	}
	part.head(heads...)
	if d.Sized() {
		part.richRow(true, s.in.Say(say.That("screen.check.unit")), unit, unit)
	}
	if len(d.Codes) > counted {
		totals := s.totals(d, quantities)
		part.richRow(true, s.in.Say(say.That("screen.check.all", "count", len(d.Codes))), totals, totals)
	}
	codes := graver(d)
	n := s.some(shownCodes, len(codes))
	part.hides(len(codes) - n)
	for i, code := range codes[:n] {
		var cells, rich []string
		for _, q := range quantities {
			plain, full := s.figure(d, code, q)
			cells, rich = append(cells, plain), append(rich, full)
		}
		part.richRow(i < fewCodes, code, cells, rich)
	}
	s.others(d, quantities)
}

// sizeOf is what the unit has of a quantity.
func sizeOf(q finding.Quantity) say.Remark {
	if !q.Known() {
		return say.That("screen.no_answer")
	}
	return say.That("screen.alone", "value", q)
}

// A heading is a quantity as a column or a row of a table has it, where words are short.
type heading limit.Quantity

// Term is the code of the heading: a word of its own for the quantities by which a unit
// is drawn.
func (h heading) Term() say.Code {
	if q := limit.Quantity(h); !slices.Contains(regs.DrawnBy(), q) {
		return q.Term()
	}
	return say.Word("heading", string(h))
}

// shownCodes is how many jurisdictions are on the screen at most.
const shownCodes = 12

// counted is from how many jurisdictions on the answers are counted.
const counted = 8

// tabled are the quantities of the table: those by which a unit is drawn, or the first
// few of those that were asked about.
func tabled(d *regs.Design) (out []limit.Quantity) {
	asked := quantitiesOf(d)
	for _, q := range regs.DrawnBy() {
		if slices.Contains(asked, q) {
			out = append(out, q)
		}
	}
	if len(out) == 0 {
		out = asked[:min(len(asked), len(regs.DrawnBy()))]
	}
	return out
}

func quantitiesOf(d *regs.Design) (out []limit.Quantity) {
	for _, a := range d.Answers {
		if !slices.Contains(out, a.Quantity) {
			out = append(out, a.Quantity)
		}
	}
	return out
}

// graver are the jurisdictions, those first where the worst is known once there are many.
func graver(d *regs.Design) []string {
	if len(d.Codes) <= counted {
		return d.Codes
	}
	rank := map[string]int{}
	for _, a := range d.Answers {
		worst := finding.Roll(a.Findings).Worst
		rank[a.Jurisdiction] = max(rank[a.Jurisdiction], 100*slices.Index(finding.Outcomes(), worst)*severe(worst))
	}
	for _, l := range d.Free {
		for _, code := range l.Decides {
			rank[code]++
		}
		if l.Unproven != nil {
			for _, code := range l.Unproven.In {
				rank[code]++
			}
		}
	}
	out := slices.Clone(d.Codes)
	slices.SortStableFunc(out, func(a, b string) int { return cmp.Compare(rank[b], rank[a]) })
	return out
}

// severe is 1 for an outcome that is known and not clear.
func severe(o finding.Outcome) int {
	if o == finding.Unknown || o == finding.Clear {
		return 0
	}
	return 1
}

// answerOn is what a jurisdiction says of a quantity.
func answerOn(d *regs.Design, code string, q limit.Quantity) (regs.Answer, bool) {
	i := slices.IndexFunc(d.Answers, func(a regs.Answer) bool { return a.Jurisdiction == code && a.Quantity == q })
	if i < 0 {
		return regs.Answer{}, false
	}
	return d.Answers[i], true
}

// figure is a cell: the figure, and beneath it the state; rich also what is left.
func (s *screen) figure(d *regs.Design, code string, q limit.Quantity) (plain, rich string) {
	a, ok := answerOn(d, code, q)
	if !ok {
		none := s.in.Say(say.That("screen.no_answer"))
		return none, none
	}
	f := a.Findings[0]
	if notGiven(f) {
		return s.figureAlone(a), s.figureAlone(a)
	}
	s.speaksOf(f)
	top := s.in.Say(stated(a.Stated)) + "\n"
	word := cell(stateOf(f.Outcome))
	plain = top + s.in.Term(word)
	if over, is := beyond(f.Margin); is {
		return plain, top + s.in.Say(say.That("screen.check.over", "state", word, "over", over))
	}
	if f.Margin.Known() && a.Stated != nil {
		return plain, top + s.in.Say(say.That("screen.check.left", "state", word, "left", f.Margin))
	}
	return plain, plain
}

// figureAlone is a cell where the unit has no size: the figure, and whether it is proven.
func (s *screen) figureAlone(a regs.Answer) string {
	switch {
	case a.Proven.Known():
		s.speaksOf(a.Proof...)
		return s.in.Say(say.That("screen.alone_down", "value", a.Proven)) + "\n" + s.in.Say(say.That("screen.check.proven"))
	case a.Stated != nil:
		return s.in.Say(stated(a.Stated)) + "\n" + s.in.Say(say.That("screen.check.unproven"))
	case a.Quantity.OfAxles():
		return s.in.Say(say.That("screen.check.by_axles"))
	}
	return s.in.Say(stated(nil))
}

// stated is a figure as a cell has it.
func stated(f *regs.Stated) say.Remark {
	if f == nil {
		return say.That("screen.check.not_stated")
	}
	return say.That("screen.check.stated", "value", f.Value, "under", f.Under)
}

// totals counts the states of all jurisdictions by quantity.
func (s *screen) totals(d *regs.Design, quantities []limit.Quantity) (out []string) {
	for _, q := range quantities {
		var of []regs.Answer
		c := counts{}
		for _, a := range d.Answers {
			if a.Quantity == q {
				of = append(of, a)
				c.add(a.Findings[0].Outcome)
			}
		}
		p := proofs(of)
		lines := []say.Remark{
			say.That("screen.check.total_proven", "count", p.proven),
			say.That("screen.check.total_unproven", "count", p.unproven), say.That("screen.check.total_none", "count", p.none),
		}
		if _, given := d.Vehicle.Measures[q].Least(); given {
			lines = []say.Remark{
				say.That("screen.check.total", "count", c[finding.Clear], "state", cell(finding.Clear)),
				say.That("screen.check.total_not_clear", "count", c[finding.Conditional]+c[finding.Review]+c[finding.Forbidden]),
				say.That("screen.check.total", "count", c[finding.Unknown], "state", cell(finding.Unknown)),
			}
		}
		out = append(out, strings.Join(s.in.Each(lines), "\n"))
	}
	return out
}

// others says of the quantities that the table leaves out what they come to, and which
// are not given.
func (s *screen) others(d *regs.Design, quantities []limit.Quantity) {
	if !d.Sized() {
		return
	}
	var told []say.Remark
	var missing []say.Term
	for _, q := range quantitiesOf(d) {
		if slices.Contains(quantities, q) {
			continue
		}
		c, open := counts{}, false
		for _, a := range d.Answers {
			if a.Quantity == q {
				c.add(a.Findings[0].Outcome)
				open = open || notGiven(a.Findings[0])
			}
		}
		if open {
			missing = append(missing, q)
		} else {
			told = append(told, say.That("screen.check.other", "quantity", q, "counts", s.in.Each(c.brief())))
		}
	}
	if len(missing) > 0 {
		told = append(told, say.That("screen.check.not_given", "quantities", missing))
	}
	if len(told) > 0 {
		s.part(say.That("screen.label.also")).briefly(say.Text(s.in.All(told)))
	}
}
