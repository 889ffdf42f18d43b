package report

import (
	"slices"

	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// A state is an outcome in the words of the screens, which the last lines explain.
type state finding.Outcome

// Term is the code of the state's name.
func (s state) Term() say.Code { return say.Word("state", string(s)) }

// A cell is a state in a table, where words are short.
type cell state

// Term is the code of the cell's word.
func (c cell) Term() say.Code { return say.Word("cell", string(c)) }

// stateOf is the state of an outcome. A word that is none of ours is not known.
func stateOf(o finding.Outcome) state {
	if !slices.Contains(finding.Outcomes(), o) {
		o = finding.Unknown
	}
	return state(o)
}

// counts are how many answers have each outcome.
type counts map[finding.Outcome]int

func (c counts) add(o finding.Outcome) { c[finding.Outcome(stateOf(o))]++ }

// say lists how many answers there are of each state.
func (c counts) say() say.Remark {
	all := 0
	for _, n := range c {
		all += n
	}
	return say.That("screen.counts", "all", all, "clear", c[finding.Clear], "conditional", c[finding.Conditional],
		"review", c[finding.Review], "forbidden", c[finding.Forbidden], "unknown", c[finding.Unknown])
}

// brief lists the states that there are.
func (c counts) brief() (out []say.Remark) {
	for _, o := range finding.Outcomes() {
		if c[o] > 0 {
			out = append(out, say.That("screen.check.total", "count", c[o], "state", cell(o)))
		}
	}
	return out
}

// verdict says what the answers come to, and how many there are of each state.
func (c counts) verdict(o finding.Outcome) say.Remark {
	open := c[finding.Unknown] > 0 && stateOf(o) != state(finding.Forbidden)
	return say.That("screen.verdict", "state", stateOf(o), "open", open, "answers", c.say())
}

// foot explains the words, warns, and says how to open more of what the screen tells;
// examples are things that --why opens.
func (s *screen) foot(examples []string) {
	p := s.whole()
	p.apart = true
	p.keeps(say.That("screen.words"), say.That("caution.aid"))
	if !s.full {
		p.keeps(say.That("screen.open", "examples", examples))
	}
}

// credit names whose the roads and the towns are, as their licences ask wherever an
// answer is shown. A full screen has all credits among its grounds.
func (s *screen) credit(about network.About) {
	if !s.full {
		s.whole().keeps(say.That("screen.credit", "roads", about.Attribution, "places", wire.CreditOf("places")))
	}
}

// grounds are what an answer rests on: what was taken for granted, cautions, and the
// data with its credits.
func (s *screen) grounds(assumed, cautions []say.Remark, about network.About, tables string, attributions []string) {
	s.apart(say.That("screen.label.assumed")).tells(assumed...)
	s.apart(say.That("screen.label.cautions")).tells(cautions...)
	s.apart(say.That("screen.label.data")).tells(append([]say.Remark{
		say.That("screen.data", "name", about.Name, "network", about.Revision, "tables", tables),
	}, say.Each(attributions)...)...)
}
