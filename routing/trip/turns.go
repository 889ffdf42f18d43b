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
		Topic: finding.Road, Rule: "turning round", Place: say.Text(after.from), Outcome: finding.Unknown, Reason: finding.NotMapped,
		Says: []say.Remark{say.That("way.turning_round")}, Settles: finding.Asking(finding.Expert, say.That("ask.stop")),
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
				Topic: finding.Sign, Rule: "turn rules", Jurisdiction: strings.Join(b.codes(pieces[i:i+1]), "/"), Outcome: finding.Forbidden,
				Reason: finding.Exceeded, Place: say.Text(fmt.Sprintf("OpenStreetMap relation %d", of.OSM)),
				Settles:   finding.Asking(finding.Office, say.That("ask.road")),
				Citations: b.stands.Cite(standing.Element("relation", of.OSM), "a turn restriction"),
			}
			road := b.Network.RoadName(p.Arc.Edge())
			f.Says = []say.Remark{say.That("sign.no_turn", "road", road)}
			if when := b.Network.Text(of.When); when != "" {
				f.Outcome, f.Reason, f.Says = finding.Conditional, "", []say.Remark{say.That("sign.no_turn_at", "road", road, "when", when)}
				f.Demands.Hours = []say.Remark{say.That("hours.no_turn", "when", when)}
			}
			out = append(out, f)
		}
	}
	return out
}
