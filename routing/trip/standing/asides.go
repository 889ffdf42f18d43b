package standing

import (
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// Listed are the structures that some answer names, by [Placed.Key].
type Listed map[string]bool

// aside turns a structure that is near the way, but not known to be on it,
// into a finding of the trip: never clear, and for a person to decide where
// the rig would not pass.
func (j *Judge) aside(s Placed, why say.Remark) finding.Finding {
	s.Doubt = why
	p := j.Passing(s, 0, firstOf(j.Areas.At(s.Structure.Point)))
	f := p.Finding()
	f.Outcome, f.Reason = finding.Unknown, finding.Perhaps
	if s.Passage.Outcome == finding.Forbidden || s.Passage.Outcome == finding.Review {
		f.Outcome = finding.Review
	}
	p.Outcome = f.Outcome
	f.Settles = j.ofStructure(p)
	return f
}

// Unbound answers for the structures of the trip that stand over no known road.
func (j *Judge) Unbound(listed Listed) (out []finding.Finding) {
	for _, s := range j.structures.unplaced {
		listed[s.Key()] = true
		out = append(out, j.aside(s, say.That("structure.unbound", "reach", Reach)))
	}
	return out
}

// Near answers for every structure that no leg lists and that stands within reach
// of some points: positions are no better than that.
func (j *Judge) Near(points []orb.Point, why say.Remark, listed Listed) (out []finding.Finding) {
	if j.Tables.Clearances().Len() > 0 {
		for _, p := range points {
			j.structures.near(p.Bound())
		}
	}
	for _, s := range j.every() {
		if !listed[s.Key()] && slices.ContainsFunc(points, func(p orb.Point) bool {
			return geodesic.Between(p, s.Structure.Point) <= Reach
		}) {
			listed[s.Key()] = true
			out = append(out, j.aside(s, why))
		}
	}
	return out
}

// Rivals answers for the structures over pieces that a given line may mean instead
// of those that were found for it, but for those that are passed all the same.
func (j *Judge) Rivals(pieces []network.Piece, passed func(Placed) bool, listed Listed) (out []finding.Finding) {
	type met struct {
		id, name string
		outcome  finding.Outcome
	}
	said := map[met]bool{}
	for _, p := range pieces {
		for _, s := range j.On(p) {
			key := met{s.Key(), s.Called.String(), s.Passage.Outcome}
			if said[key] || passed(s) {
				continue
			}
			said[key], listed[s.Key()] = true, true
			out = append(out, j.aside(s, say.That("structure.rival_road")))
		}
	}
	return out
}
