package trip

import (
	"github.com/paulmach/orb"

	"strings"

	"wayhouse/regs/finding"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/trip/standing"
)

// aside turns a structure that is near the way, but not known to be on it,
// into a finding of the trip: never clear, and for a person to decide where
// the rig would not pass.
func (b *builder) aside(s standing.Placed, why string) {
	s.Doubt = why
	p := b.stands.Passing(s, 0, firstOf(b.Areas.At(s.Structure.Point)))
	f := p.Finding()
	f.Outcome, f.Ask = finding.Unknown, b.Tables.Ask(p.Jurisdiction)
	if s.Passage.Outcome == finding.Forbidden || s.Passage.Outcome == finding.Review {
		f.Outcome = finding.Review
	}
	if !strings.Contains(f.Summary, why) {
		f.Summary += "; " + why
	}
	b.plan.Findings = append(b.plan.Findings, f)
}

// asides answers for every structure that no leg lists and that stands within
// reach of a stop or of a given line: positions are no better than that.
func (b *builder) asides(points []orb.Point, why string) {
	for _, p := range points {
		b.stands.Near(p)
	}
	for _, s := range b.stands.Every() {
		if b.listed[s.Key()] {
			continue
		}
		for _, p := range points {
			if geodesic.Between(p, s.Structure.Point) <= standing.Reach {
				b.listed[s.Key()] = true
				b.aside(s, why)
				break
			}
		}
	}
}
