package report

import (
	"io"

	"wayhouse/regs/compare"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// differing is how many findings that differ are shown unless all are asked for.
const differing = 12

// Comparison writes in what two answers differ: what both come to, figures that differ,
// and the findings, those whose outcome differs first.
func Comparison(w io.Writer, v View, c *compare.Comparison) error {
	s := &screen{in: v.In, full: v.Full}
	s.whole().keeps(say.That("compare.title", "invented", c.A.Invented || c.B.Invented, "a", c.A.Name, "b", c.B.Name))
	s.side(say.That("compare.a"), c.A)
	s.side(say.That("compare.b"), c.B)
	if len(c.Moved) > 0 {
		s.apart(say.That("compare.moved")).tells(c.Moved...)
	}
	s.differs(c, v.Full)
	p := s.whole()
	p.apart = true
	p.keeps(say.That("screen.words"), say.That("caution.aid"), say.That("compare.open"))
	_, err := io.WriteString(w, s.String())
	return err
}

// side says what a side comes to.
func (s *screen) side(label say.Remark, of compare.Side) {
	c := counts{}
	for _, f := range of.Findings {
		c.add(f.Outcome)
	}
	s.part(label).keeps(c.verdict(of.Verdict.Outcome()))
}

func (s *screen) differs(c *compare.Comparison, all bool) {
	p := s.whole()
	p.apart = true
	if len(c.Facts)+len(c.Rows) > 0 {
		p.row(true, "", "", s.in.Say(say.That("compare.a")), s.in.Say(say.That("compare.b")))
	}
	for _, f := range c.Facts {
		p.row(true, "", s.in.Say(f.Name), s.fact(f.A, f.OnlyB), s.fact(f.B, f.OnlyA))
	}
	for i, r := range c.Rows {
		if i == differing && !all {
			p.hides(len(c.Rows) - i)
			break
		}
		f := r.Finding()
		a, b := s.cells(r)
		p.row(all, "", s.in.Say(about(f)), a, b)
		s.speaksOf(f)
	}
	p.keeps(say.That("compare.alike", "differ", len(c.Facts)+len(c.Rows), "alike", c.Same))
}

// fact is a figure, or that it is not known, or that this side has none.
func (s *screen) fact(value any, lacks bool) string {
	switch {
	case lacks:
		return s.in.Say(say.That("screen.no_answer"))
	case value == nil:
		return s.in.Say(say.That("compare.not_known"))
	}
	return s.in.Say(say.That("compare.fact", "value", value))
}

// cells say what each side has of a finding: its state with what is left or was
// compared, and where that reads alike what is told.
func (s *screen) cells(r compare.Row) (a, b string) {
	a, b = s.sideCell(r.A, briefly), s.sideCell(r.B, briefly)
	if a == b {
		return s.sideCell(r.A, inWords), s.sideCell(r.B, inWords)
	}
	return a, b
}

func (s *screen) sideCell(f *finding.Finding, beside func(*finding.Finding) (left, over, says any)) string {
	if f == nil {
		return s.in.Say(say.That("screen.no_answer"))
	}
	left, over, says := beside(f)
	return s.in.EachSystem()[0].Say(
		say.That("compare.cell", "state", stateOf(f.Outcome), "left", left, "over", over, "says", says),
	)
}

// briefly is what is left, or too much, or what was compared, or what is told.
func briefly(f *finding.Finding) (left, over, says any) {
	l, length := f.Margin.Length()
	m, mass := f.Margin.Mass()
	switch {
	case length && l < 0:
		return nil, finding.Of(-l), nil
	case mass && m < 0:
		return nil, finding.Of(-m), nil
	case length || mass:
		return f.Margin, nil, nil
	case !f.Figures.None():
		return nil, nil, f.Figures
	case f.Value.Known():
		return nil, nil, f.Value
	default:
		return inWords(f)
	}
}

func inWords(f *finding.Finding) (left, over, says any) {
	if len(f.Says) == 0 {
		return nil, nil, nil
	}
	return nil, nil, f.Says
}
