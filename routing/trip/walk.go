package trip

import (
	"iter"
	"slices"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/routing/trip/standing"
)

// Where is what of a plan a finding is about; the zero value is the trip as a whole.
type Where struct {
	Leg int  // its number, from 1
	Rig bool // the rig on this way
}

// All walks over all findings of a plan: of the trip, of the rig on this way, and
// of the legs in their order.
func (p *Plan) All() iter.Seq2[Where, finding.Finding] {
	return func(yield func(Where, finding.Finding) bool) {
		each := func(at Where, list []finding.Finding) bool {
			return !slices.ContainsFunc(list, func(f finding.Finding) bool { return !yield(at, f) })
		}
		if !each(Where{}, p.Findings) || p.Road != nil && !each(Where{Rig: true}, p.Road.Findings) {
			return
		}
		for i, l := range p.Legs {
			if !each(Where{Leg: i + 1}, l.Findings) {
				return
			}
		}
	}
}

// invented reports whether a finding rests on what was made up.
func invented(f finding.Finding) bool {
	return f.Invented || slices.ContainsFunc(f.Citations, func(r finding.Citation) bool {
		return r.Status == finding.Invented
	})
}

func anyInvented(list []standing.Passing) bool {
	return slices.ContainsFunc(list, func(s standing.Passing) bool { return s.Invented() })
}

// RestsOnInvented reports whether anything in the leg was made up.
func (l *Leg) RestsOnInvented() bool {
	return anyInvented(l.Structures) || slices.ContainsFunc(l.Findings, invented)
}

// RestsOnInvented reports whether anything in the plan was made up.
func (p *Plan) RestsOnInvented() bool {
	for _, f := range p.All() {
		if invented(f) {
			return true
		}
	}
	for _, l := range p.Legs {
		if anyInvented(l.Structures) {
			return true
		}
	}
	for _, a := range p.Avoided {
		if anyInvented(a.Structures) {
			return true
		}
	}
	for _, n := range p.Permits {
		if slices.ContainsFunc(n.Permits, func(o regs.Offer) bool { return o.Row.Status == finding.Invented }) {
			return true
		}
	}
	return p.Invented
}

// Drivable reports whether nothing forbids the trip as far as is known; much of it may not be.
func (p *Plan) Drivable() bool { return p.Passable && p.Verdict.Worst != finding.Forbidden }
