package report

import (
	"cmp"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/standing"
)

// passed is a structure on a leg, or one that the way avoids.
type passed struct {
	standing.Passing
	leg int
}

// passings are the structures on a plan's legs.
func passings(p *trip.Plan) (out []passed) {
	for i, l := range p.Legs {
		for _, one := range l.Structures {
			out = append(out, passed{one, i + 1})
		}
	}
	return out
}

// tightest are how many structures are shown.
const tightest = 3

// overhead shows the structures with the least room, and counts the others.
func (s *screen) overhead(p *trip.Plan) {
	part := s.part(say.That("screen.label.overhead"))
	all := passings(p)
	slices.SortStableFunc(all, func(a, b passed) int { return cmp.Or(a.rank()-b.rank(), cmp.Compare(a.Margin, b.Margin)) })
	unmeasured, shown := 0, s.some(tightest, len(all))
	for i, one := range all {
		if !one.Known {
			unmeasured++
		}
		if i >= shown {
			continue
		}
		tells := part.tells
		if i == 0 || one.Outcome == finding.Forbidden {
			tells = part.keeps
		}
		tells(one.tells())
		s.speaksOf(one.Finding())
	}
	part.hides(len(all) - shown)
	if unmeasured > 0 {
		part.keeps(say.That("screen.unmeasured", "count", unmeasured))
	}
	if slices.Contains(p.About.Lacks, network.Structures) {
		part.keeps(say.That("screen.overhead_not_known", "listed", len(all)))
	} else if len(all) == 0 {
		part.keeps(say.That("screen.overhead_none"))
	}
}

// rank is what is shown first: what forbids, then what is measured.
func (p passed) rank() int {
	switch {
	case p.Outcome == finding.Forbidden:
		return 0
	case p.Known:
		return 1
	default:
		return 2
	}
}

// doubt is the word for why a figure is not enough, nothing where there is none.
func doubt(why finding.Reason) any {
	if slices.Contains([]finding.Reason{finding.Recalled, finding.SecondHand, finding.Stale, finding.Made}, why) {
		return why
	}
	return nil
}

func (p passed) tells() say.Remark {
	figure, of := p.Structure.Figure()
	why := doubt(p.Reason)
	if !p.Known || figure == nil {
		return say.That("screen.passes_unmeasured", "state", stateOf(p.Outcome), "called", p.Called, "leg", p.leg, "at", p.At,
			"reason", why)
	}
	var left any
	if p.Margin >= 0 {
		left = p.Margin
	}
	return say.That("screen.passes", "state", stateOf(p.Outcome), "called", p.Called, "leg", p.leg, "at", p.At, "of", of,
		"figure", *figure, "left", left, "short", above0(-p.Margin), "reason", why)
}
