package standing

import (
	"strings"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
)

// ForbiddenTurns lists the forbidden turns along pieces that follow each other.
func (j *Judge) ForbiddenTurns(pieces []network.Piece) []finding.Finding {
	t, at := j.Network.Turns(), network.TurnState(0)
	var out []finding.Finding
	for i, p := range pieces {
		if i > 0 && pieces[i-1].Arc == p.Arc {
			continue
		}
		at = t.Step(at, p.Arc)
		for _, ban := range t.Ends(at) {
			bound := j.signs.banned(ban)
			if bound == limit.No {
				continue
			}
			of, _ := j.Network.Ban(int(ban))
			f := finding.Finding{
				Topic: finding.Sign, Rule: "turn rules",
				Jurisdiction: strings.Join(j.Network.Jurisdictions(p.Arc.Edge()), "/"), Outcome: finding.Forbidden,
				Reason: finding.Exceeded, Place: say.That("place.of_map", "element", Element("relation", of.OSM)),
				Settles:   finding.By(regs.AskingRoads(say.That("task.turn"))),
				Citations: j.Cite(Element("relation", of.OSM), "a turn restriction"),
			}
			road := j.Network.RoadName(p.Arc.Edge())
			f.Says = []say.Remark{say.That("sign.no_turn", "road", road)}
			if when := j.Network.Text(of.When); when != "" {
				says := window.ParseCondition(when).Says()
				f.Outcome, f.Reason, f.Says = finding.Conditional, "",
					[]say.Remark{say.That("sign.no_turn_at", "road", road, "when", says)}
				f.Demands.Hours = []say.Remark{say.That("hours.no_turn", "when", says)}
				f.SeeTo()
			}
			if bound == limit.Perhaps {
				f.Outcome, f.Reason, f.Demands = finding.Review, finding.KindOpen, finding.Demands{}
				f.Says = []say.Remark{say.That("sign.if_truck", "says", f.Says[0])}
				f.Settles = j.ofTrucks(say.That("task.turn"), j.Network.Jurisdictions(p.Arc.Edge()))
			}
			out = append(out, f)
		}
	}
	return out
}
