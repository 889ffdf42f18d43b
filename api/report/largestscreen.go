package report

import (
	"math"
	"slices"
	"strings"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
)

// proofWidth is how wide what would prove a figure stands beside what is proven.
const proofWidth = 58

// largest writes the largest unit for all jurisdictions: what is proven, and apart from
// it the smallest figure that is stated, with what would prove it.
func (s *screen) largest(d *regs.Design) {
	if len(d.Free) == 0 {
		return
	}
	part := s.apart(say.That("screen.label.largest"))
	lines := briefLines
	switch {
	case s.full:
		lines = math.MaxInt
	case d.Sized(): // the tasks say more of it
		lines = 1
	}
	part.head(say.That("screen.check.without_permit"), say.That("screen.check.proven"), say.That("screen.check.smallest"))
	for _, l := range d.Free {
		cell := s.in.Say(s.smallest(l))
		if !l.Proven.Known() && (s.full || len(d.Codes) <= counted) {
			proof := folded(s.in.Say(say.That("screen.check.to_prove", "steps", s.toSettle(l.Open))), proofWidth, lines)
			cell += "\n" + strings.Join(proof, "\n")
		}
		s.speaksOf(l.Open...)
		part.tallRow(1+briefLines, s.in.Term(heading(l.Quantity)), s.in.Say(provenOf(l)), cell)
	}
	var more []say.Remark
	for i, l := range d.NoEscort {
		if s.full || l.Proven.Known() && !l.Proven.Equal(d.Free[i].Proven) {
			more = append(more, say.That("screen.check.up_to", "quantity", l.Quantity, "value", provenOf(l)))
		}
	}
	if len(more) > 0 {
		part.tells(say.That("screen.check.no_escort", "up_to", more))
	}
	s.whole().keeps(say.That("screen.check.words"))
}

func provenOf(l regs.Largest) say.Remark {
	if !l.Proven.Known() {
		return say.That("screen.check.none_proven")
	}
	return say.That("screen.down", "value", l.Proven)
}

// smallest is the smallest figure that is stated, and where; of a proven one, who allows
// no more.
func (s *screen) smallest(l regs.Largest) say.Remark {
	if l.Proven.Known() {
		return say.That("screen.check.decided", "where", s.where(l.Decides))
	}
	if l.Unproven == nil {
		return say.That("screen.check.not_stated")
	}
	return say.That("screen.check.stated_in", "value", l.Unproven.Value, "under", l.Unproven.Under,
		"where", s.where(l.Unproven.In), "silent", len(l.Unstated))
}

// doing is what to do to settle something.
type doing finding.Way

// Term is the code of the verb.
func (d doing) Term() say.Code { return say.Word("do", string(d)) }

// toSettle is what the user can do to settle findings, or whom to ask where nothing is, each
// kind of thing to do once with the first few of what it is done to.
func (s *screen) toSettle(of []finding.Finding) (out []say.Remark) {
	var order []finding.Way
	to := map[finding.Way][]string{}
	for _, f := range of {
		for _, step := range own(f.Settles) {
			if !slices.Contains(order, step.By) {
				order = append(order, step.By)
			}
			to[step.By] = append(to[step.By], step.Of)
		}
	}
	for _, by := range order {
		all := once(to[by])
		n := s.some(few, len(all))
		out = append(out, say.That("screen.step", "do", doing(by), "of", all[:n], "more", len(all)-n))
	}
	return out
}

// own is the first way to settle something that asks no office; the first where each
// does.
func own(ways [][]finding.Step) []finding.Step {
	i := slices.IndexFunc(ways, func(way []finding.Step) bool {
		return !slices.ContainsFunc(way, func(s finding.Step) bool { return s.By == finding.Office })
	})
	if len(ways) == 0 {
		return nil
	}
	return ways[max(i, 0)]
}

// designSubjects are the findings of a check; of a quantity that is not given, what clears
// the largest figure that is proven and what is open at the smallest that is stated.
func designSubjects(d *regs.Design) (out []subject) {
	for _, a := range d.Answers {
		_, given := d.Vehicle.Measures[a.Quantity].Least()
		if d.Sized() {
			for _, f := range a.Findings {
				out = append(out, subject{Finding: f})
			}
		}
		for _, f := range a.Proof {
			if !given {
				out = append(out, subject{Finding: f, where: say.That("screen.check.at_proven")})
			}
		}
	}
	for _, l := range d.Free {
		if _, given := d.Vehicle.Measures[l.Quantity].Least(); !given {
			for _, f := range l.Open {
				out = append(out, subject{Finding: f, where: say.That("screen.check.at_figure")})
			}
		}
	}
	return out
}

// designExamples are things of a check that --why opens.
func designExamples(d *regs.Design) (out []string) {
	if n := len(d.Codes); n > 0 {
		out = append(out, d.Codes[n-1])
	}
	for _, q := range quantitiesOf(d)[:min(1, len(d.Answers))] {
		out = append(out, string(q))
	}
	for _, f := range d.Found() {
		if f.Outcome != finding.Clear && len(f.Citations) > 0 && limit.Quantity(f.Rule) != "" {
			return append(out, f.Citations[0].ID)
		}
	}
	return slices.Clip(out)
}
