package trip

import (
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/standing"
)

// serviceRoads names the service roads that ways drive in mid-trip: they were built to lead to a place, and nobody
// knows whether the rig fits round their corners. A given route goes where it goes.
func (b *builder) serviceRoads(ways []way) {
	if b.request.Given != nil {
		return
	}
	for _, w := range ways {
		pieces := b.inMidTrip(w.Pieces)
		if len(pieces) == 0 {
			continue
		}
		length := measure.Distance(0)
		for _, p := range pieces {
			length += p.Length()
		}
		b.plan.Findings = append(b.plan.Findings, finding.Finding{
			Topic: finding.Road, Rule: "service roads", Place: b.Network.RoadName(pieces[0].Arc.Edge()),
			Outcome: finding.Review, Reason: finding.Practice,
			Says:    []say.Remark{say.That("way.service_roads", "length", length)},
			Settles: finding.By(standing.Surveying(say.That("task.service_roads"))),
		})
	}
}

// inMidTrip lists the pieces of service roads between others.
func (b *builder) inMidTrip(pieces []network.Piece) (out []network.Piece) {
	var since []network.Piece // driven since other roads
	through := false
	for _, p := range pieces {
		switch service := b.Network.Class[p.Arc.Edge()] == network.Service; {
		case service && through:
			since = append(since, p)
		case !service:
			out, since, through = append(out, since...), nil, true
		}
	}
	return out
}
