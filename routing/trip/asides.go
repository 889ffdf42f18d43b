package trip

import (
	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/trip/standing"
)

// aside turns a structure that is near the way, but not known to be on it,
// into a finding of the trip: never clear, and for a person to decide where
// the rig would not pass.
func (b *builder) aside(s standing.Placed, why say.Remark) {
	s.Doubt = why
	p := b.stands.Passing(s, 0, firstOf(b.Areas.At(s.Structure.Point)))
	f := p.Finding()
	f.Outcome, f.Reason, f.Settles = finding.Unknown, finding.Perhaps, b.stands.Office(p.Jurisdiction)
	if s.Passage.Outcome == finding.Forbidden || s.Passage.Outcome == finding.Review {
		f.Outcome = finding.Review
	}
	b.plan.Findings = append(b.plan.Findings, f)
}

// asides answers for every structure that no leg lists and that stands within
// reach of a stop or of a given line: positions are no better than that.
func (b *builder) asides(points []orb.Point, why say.Remark) {
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
