package standing

import (
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// Ferry answers for a ferry that is on the way.
func (j *Judge) Ferry(e network.EdgeID, codes []string) finding.Finding {
	uses, need := say.That("way.ferry"), say.That("way.ferry_time_unknown")
	if j.Network.Class[e] == network.PossibleFerry {
		uses = say.That("way.possible_ferry")
	}
	if v, ok := j.Network.Speed(e); ok {
		need = say.That("way.ferry_time", "minutes", float64(j.Network.Length[e])/float64(v)/60)
	}
	return finding.Finding{
		Topic: finding.Road, Rule: "ferry", Jurisdiction: strings.Join(codes, "/"), Outcome: finding.Unknown,
		Reason: finding.NotMapped, Says: []say.Remark{uses, need},
		Settles: finding.Asking(finding.Expert, say.That("ask.ferry")),
	}
}

// lacking says what follows when the network lacks a kind of fact; nothing of what
// is asked with the rules.
func lacking(f network.Fact) say.Remark {
	switch f {
	case network.Structures:
		return say.That("network.no_structures")
	case network.RoadLimits:
		return say.That("network.no_limits")
	case network.OneWays:
		return say.That("network.no_one_ways")
	case network.TurnRules:
		return say.That("network.no_turn_rules")
	case network.Grades:
		return say.That("network.no_grades")
	case network.Lanes:
		return say.That("network.no_lanes")
	case network.Surfaces:
		return say.That("network.no_surfaces")
	case network.Speeds:
		return say.That("network.no_speeds")
	case network.Notices:
		return say.That("network.no_notices")
	default:
		return say.Remark{}
	}
}

// Lacks answers unknown for each kind of fact that the network does not carry.
func (j *Judge) Lacks(codes []string) []finding.Finding {
	var out []finding.Finding
	for _, f := range network.AllFacts() {
		says := lacking(f)
		if !j.Network.Lacks(f) || says.None() {
			continue
		}
		out = append(out, finding.Finding{
			Topic: finding.Network, Rule: finding.Rule(f), Jurisdiction: strings.Join(codes, "/"),
			Outcome: finding.Unknown, Reason: finding.NotMapped,
			Says: []say.Remark{says}, Settles: append(finding.Asking(finding.Office, say.That("ask.road_pole")),
				finding.Step{By: finding.Data, Of: string(f)}),
		})
	}
	return out
}

// AtStop says that the way between a stop and the network is nobody's but the
// driver's.
func (j *Judge) AtStop(rule finding.Rule, stop, offRoad say.Remark, codes []string) finding.Finding {
	return finding.Finding{
		Topic: finding.Road, Rule: rule, Jurisdiction: strings.Join(codes, "/"), Place: stop, Outcome: finding.Unknown,
		Reason: finding.NotMapped, Says: []say.Remark{say.That("way.at_stop", "stop", stop), offRoad},
		Settles: finding.Asking(finding.Office, say.That("ask.town")),
	}
}
