package standing

import (
	"strings"

	"wayhouse/regs"
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
		Settles: finding.By(finding.Step{By: finding.Expert, Whom: say.That("ask.ferry"), Of: "ferry"}),
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
	case network.Controls:
		return say.That("network.no_controls")
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
			Says: []say.Remark{says}, Settles: telling(f),
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
		Settles: [][]finding.Step{{Surveying(say.That("task.walk", "stop", stop))},
			{regs.AskingRoads(say.That("task.streets", "stop", stop))}},
	}
}

// Surveying is the step of having somebody drive the way before, with a height pole.
func Surveying(asks say.Remark) finding.Step {
	return finding.Step{By: finding.Expert, Whom: say.That("ask.survey"), Of: "survey", Asks: asks}
}

// telling is what settles what the network does not say of a fact: whoever drives the
// way before sees it, or those who run the roads know, or a network has it.
func telling(f network.Fact) [][]finding.Step {
	asks := say.That("task.fact", "fact", f)
	data := finding.Step{By: finding.Data, Of: "network", Asks: asks}
	if f == network.RoadLimits || f == network.Notices {
		return [][]finding.Step{{regs.AskingRoads(asks)}, {data}}
	}
	return [][]finding.Step{{Surveying(asks)}, {data}}
}
