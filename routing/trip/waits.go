package trip

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/standing"
)

// timed tells whether anything shuts an arc at certain hours.
func (bs *barriers) timed(a network.Arc) bool {
	return slices.ContainsFunc(bs.on(bs.b.Network.Whole(a)), func(b *standing.Barrier) bool { return b.When != "" })
}

// penalised tells whether a search charges more than time: its prices are then no
// clock, and what is shut at certain hours of the trip counts as shut throughout.
func (b *builder) penalised(t terms) bool {
	w := &b.request.Wishes
	return t.dearer != nil || b.request.AvoidUnmeasured || !w.Once && (w.PermitCost > 0 || len(w.PermitCosts) > 0)
}

// wait is how long a rig that comes to a piece so long after the start of the
// search waits until what shuts it at certain hours lets it through; opens is
// false where it does not in time.
func (b *builder) wait(p network.Piece, at search.Millis, t terms) (wait search.Millis, opens bool) {
	long := time.Duration(b.Network.Millis(p, b.request.Wishes.Top)) * time.Millisecond
	holds := slices.DeleteFunc(slices.Clone(b.barriers.on(p)), func(o *standing.Barrier) bool { return o.When == "" || t.lifted != nil && t.lifted(o) })
	if len(holds) > 0 && b.penalised(t) {
		return 0, !slices.ContainsFunc(holds, func(o *standing.Barrier) bool { return o.Met })
	}
	for open := 0; open < len(holds); { // all must be open at the same moment
		for _, barrier := range holds {
			there := b.departure.Add(time.Duration(b.after+at+wait) * time.Millisecond).In(barrier.Zone)
			on, ok := barrier.Pause(there, b.departure.Add(standing.Patience), long, window.Env{})
			switch {
			case !ok:
				return 0, false
			case on.After(there):
				wait, open = wait+search.Millis((on.Sub(there)+time.Millisecond-1)/time.Millisecond), 1
			default:
				open++
			}
		}
	}
	return wait, true
}

// waitFindings says where the ways wait for a road to open.
func (b *builder) waitFindings(ways []way) {
	b.after, b.waits = 0, false
	stays := b.request.Given == nil && b.plan.Passable && !b.penalised(terms{}) // others wait for nothing
	var at search.Millis
	for _, w := range ways {
		for i, p := range w.Pieces {
			if i > 0 {
				at += b.turn(w.Pieces[i-1].Arc, p.Arc)
			}
			wait, _ := b.wait(p, at, terms{})
			switch {
			case !stays:
				b.plan.Findings = append(b.plan.Findings, b.closedThen(p, at)...)
				wait = 0
			case wait > 0:
				b.waits = true
				b.plan.Findings = append(b.plan.Findings, b.waiting(p, wait))
			}
			at += wait + search.Millis(b.Network.Millis(p, b.request.Wishes.Top))
		}
	}
}

// closedThen says of a way that waits for nothing which signs close it when the rig
// comes by. Structures of its legs say so themselves.
func (b *builder) closedThen(p network.Piece, at search.Millis) (out []finding.Finding) {
	there := b.departure.Add(time.Duration(at) * time.Millisecond)
	gone := there.Add(time.Duration(b.Network.Millis(p, b.request.Wishes.Top)) * time.Millisecond)
	for _, barrier := range b.barriers.on(p) {
		if barrier.When == "" || barrier.Kind == standing.ByStructure || barrier.During(there.In(barrier.Zone), gone.In(barrier.Zone), window.Env{}) != window.Open {
			continue
		}
		codes := b.Network.Jurisdictions(p.Arc.Edge())
		out = append(out, finding.Finding{
			Rule: "hours of signs", Jurisdiction: strings.Join(codes, "/"), Place: say.Text(b.Network.RoadName(p.Arc.Edge())), Outcome: finding.Forbidden,
			Summary: "closed when the rig comes by: " + barrier.What, Ask: b.Tables.Ask(firstOf(codes)),
			Demands:   finding.Demands{Hours: []say.Remark{say.That("hours.not_during", "when", barrier.When)}},
			Citations: b.stands.Cite(standing.Element("way", b.Network.Origin(p.Arc.Edge())), "closed @ ("+barrier.When+")"),
		})
	}
	return out
}

func (b *builder) waiting(p network.Piece, wait search.Millis) finding.Finding {
	codes := b.Network.Jurisdictions(p.Arc.Edge())
	f := finding.Finding{
		Rule: "waiting", Jurisdiction: strings.Join(codes, "/"), Place: say.Text(b.Network.RoadName(p.Arc.Edge())), Outcome: finding.Conditional,
		Ask: b.Tables.Ask(firstOf(codes)),
		Summary: fmt.Sprintf("the way waits about %s for hours at which the road is open; this is not in its driving time, and where to wait is not planned",
			(time.Duration(wait) * time.Millisecond).Round(time.Minute)),
	}
	for _, barrier := range b.barriers.on(p) {
		if barrier.When != "" {
			f.Demands.Hours = append(f.Demands.Hours, say.That("hours.not_during", "when", barrier.When))
			if barrier.Kind == standing.ByStructure {
				f.Citations = append(f.Citations, barrier.Citations...)
				continue
			}
			f.Citations = append(f.Citations, b.stands.Cite(standing.Element("way", b.Network.Origin(p.Arc.Edge())), "closed @ ("+barrier.When+")")...)
		}
	}
	return f
}
