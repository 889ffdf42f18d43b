package trip

import (
	"fmt"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/standing"
)

// turnFindings says which forbidden turns the ways take: a given one may, and
// one that goes on from a stop.
func (b *builder) turnFindings(ways []way) {
	var pieces []network.Piece
	for i, w := range ways {
		if i > 0 {
			b.turningRound(ways[i-1], w)
		}
		pieces = append(pieces, w.Pieces...)
		if w.Gap != nil || i == len(ways)-1 {
			b.plan.Findings = append(b.plan.Findings, b.forbiddenTurns(pieces)...)
			pieces = nil
		}
	}
}

// turningRound says where a rig has to turn round at a stop to go on.
func (b *builder) turningRound(before, after way) {
	if len(before.Pieces) == 0 || len(after.Pieces) == 0 || before.Pieces[len(before.Pieces)-1].Arc.Back() != after.Pieces[0].Arc {
		return
	}
	b.plan.Findings = append(b.plan.Findings, finding.Finding{
		Rule: "turning round", Place: say.Text(after.from), Outcome: finding.Unknown, Ask: "whoever runs the stop, and someone who walks it",
		Summary: "the way goes on from this stop against the way it came: whether there is room to turn the rig round is not known",
	})
}

// forbiddenTurns lists the forbidden turns along pieces that follow each other.
func (b *builder) forbiddenTurns(pieces []network.Piece) []finding.Finding {
	t, at := b.Network.Turns(), network.TurnState(0)
	var out []finding.Finding
	for i, p := range pieces {
		if i > 0 && pieces[i-1].Arc == p.Arc {
			continue
		}
		at = t.Step(at, p.Arc)
		for _, ban := range t.Ends(at) {
			if !b.stands.Banned(ban) {
				continue
			}
			of, _ := b.Network.Ban(int(ban))
			f := finding.Finding{
				Rule: "turn rules", Jurisdiction: strings.Join(b.codes(pieces[i:i+1]), "/"), Outcome: finding.Forbidden, Ask: "the road's authority",
				Summary: fmt.Sprintf("a turn is forbidden onto %s", b.Network.RoadName(p.Arc.Edge())), Place: say.Text(fmt.Sprintf("OpenStreetMap relation %d", of.OSM)),
				Citations: b.stands.Cite(standing.Element("relation", of.OSM), "a turn restriction"),
			}
			if when := b.Network.Text(of.When); when != "" {
				f.Outcome, f.Summary = finding.Conditional, f.Summary+" at certain hours: "+when
				f.Demands.Hours = []say.Remark{say.That("hours.no_turn", "when", when)}
			}
			out = append(out, f)
		}
	}
	return out
}
