package standing

import (
	"cmp"
	"strings"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// Said puts the ledger of a leg into findings.
func (j *Judge) Said(l *Ledger, codes []string) []finding.Finding {
	jurisdiction := strings.Join(codes, "/")
	var out []finding.Finding
	for _, key := range l.order {
		e := l.said[key]
		f := finding.Finding{
			Topic: e.topic, Rule: e.rule, Jurisdiction: jurisdiction, Outcome: e.outcome, Reason: e.reason,
			Demands: e.demands, Value: e.value, Place: e.place(),
			Says: []say.Remark{e.said()}, Settles: finding.By(regs.AskingRoads(e.said())),
		}
		if e.outcome == finding.Conditional {
			f.SeeTo()
		}
		f.Citations = j.Cite(e.of, cmp.Or(e.text, "as tagged"))
		if e.truck {
			f.Settles = j.ofTrucks(e.said(), codes)
			f.Citations = append(f.Citations, j.Tables.Trucks(j.Rig.Truck(), codes, "", j.Departure).Rows...)
		}
		out = append(out, f)
	}
	for _, fact := range []network.Fact{network.OneWays, network.Lanes, network.Surfaces, network.Speeds} {
		if length := l.unsaid[fact]; length > 0 && !j.Network.Lacks(fact) {
			out = append(out, finding.Finding{
				Topic: finding.Network, Rule: finding.Rule(fact), Jurisdiction: jurisdiction, Outcome: finding.Unknown,
				Reason: finding.NotMapped, Says: []say.Remark{silence(fact, length)},
				Settles: telling(fact),
			})
		}
	}
	if n := len(l.bridges); n > 0 {
		out = append(out, finding.Finding{
			Topic: finding.Network, Rule: "bridges", Jurisdiction: jurisdiction, Outcome: finding.Unknown,
			Reason: finding.NotMapped, Says: []say.Remark{say.That("network.bridges", "count", n)},
			Settles: finding.By(regs.AskingRoads(say.That("task.bridges", "count", n))),
		})
	}
	return out
}

// place is where a note holds first, and how often more.
func (e *entry) place() say.Remark {
	at := say.That("place.into_leg", "along", e.at)
	if e.of != "" {
		at = say.That("place.element", "at", at, "element", e.of)
	}
	if e.times > 1 {
		at = say.That("place.more", "at", at, "more", e.times-1)
	}
	return at
}

// silence says what follows where roads of a length say nothing of a fact.
func silence(f network.Fact, length measure.Distance) say.Remark {
	switch f {
	case network.OneWays:
		return say.That("network.untagged_one_ways", "length", length)
	case network.Lanes:
		return say.That("network.untagged_lanes", "length", length)
	case network.Surfaces:
		return say.That("network.untagged_surfaces", "length", length)
	default:
		return say.That("network.untagged_speeds", "length", length)
	}
}

// tall is the height above which wires, signals and branches are asked for on
// small roads: a rule of this project.
const tall = 4 * measure.Metre

// Survey says of small roads what no map has.
func (j *Judge) Survey(codes []string) []finding.Finding {
	high, some := j.Rig.Height.Least()
	if some && high <= tall && j.Rig.Height.Known() {
		return nil
	}
	f := finding.Finding{
		Topic: finding.Network, Rule: "survey", Jurisdiction: strings.Join(codes, "/"), Outcome: finding.Unknown,
		Reason: finding.NotMapped, Demands: finding.Demands{Survey: true},
		Says:    []say.Remark{say.That("network.survey")},
		Settles: finding.By(Surveying(say.That("task.wires"))),
	}
	if some {
		f.Value = finding.Of(high)
	}
	return []finding.Finding{f}
}
