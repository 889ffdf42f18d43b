package choosing

import (
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

// timed reports whether anything shuts an arc at certain hours.
func (bs *barriers) timed(a network.Arc) bool {
	return slices.ContainsFunc(bs.on(bs.stands.Network.Whole(a)), func(b *standing.Barrier) bool { return b.When != "" })
}

// penalised reports whether a search charges more than time: its prices are then no
// clock, and what is shut at certain hours of the trip counts as shut throughout.
func (c *Chooser) penalised(t Terms) bool {
	w := &c.Wishes
	return t.Dearer != nil || c.AvoidUnmeasured || !w.Once && (w.PermitCost > 0 || len(w.PermitCosts) > 0)
}

// wait is how long a rig that comes to a piece so long after the start of the
// search waits until what shuts it at certain hours lets it through; opens is
// false where it does not in time.
func (c *Chooser) wait(p network.Piece, at search.Millis, t Terms) (wait search.Millis, opens bool) {
	long := time.Duration(c.Network.Millis(p, c.Wishes.Top)) * time.Millisecond
	holds := slices.DeleteFunc(slices.Clone(c.barriers.on(p)), func(o *standing.Barrier) bool {
		return o.When == "" || t.Lifted != nil && t.Lifted(o)
	})
	if len(holds) > 0 && c.penalised(t) {
		return 0, !slices.ContainsFunc(holds, func(o *standing.Barrier) bool { return o.Met })
	}
	for open := 0; open < len(holds); { // all must be open at the same moment
		for _, barrier := range holds {
			there := c.stands.Departure.Add(time.Duration(c.after+at+wait) * time.Millisecond).In(barrier.Zone)
			on, ok := barrier.Pause(there, c.stands.Departure.Add(standing.Patience), long, window.Env{})
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

// Waits says where ways wait for a road to open, and whether they do anywhere: later
// hours are then not known. What is driven whatever shuts it waits for nothing, and
// is closed then.
func (c *Chooser) Waits(ways [][]network.Piece, whatever bool) (out []finding.Finding, waits bool) {
	c.after = 0
	stays := !whatever && !c.penalised(Terms{}) // others wait for nothing
	var at search.Millis
	for _, pieces := range ways {
		for i, p := range pieces {
			if i > 0 {
				at += c.turn(pieces[i-1].Arc, p.Arc)
			}
			wait, _ := c.wait(p, at, Terms{})
			switch {
			case !stays:
				out = append(out, c.closedThen(p, at)...)
				wait = 0
			case wait > 0:
				waits = true
				out = append(out, c.waiting(p, wait))
			}
			at += wait + search.Millis(c.Network.Millis(p, c.Wishes.Top))
		}
	}
	return out, waits
}

// closedThen says of a way that waits for nothing which signs close it when the rig
// comes by. Structures of its legs say so themselves.
func (c *Chooser) closedThen(p network.Piece, at search.Millis) (out []finding.Finding) {
	there := c.stands.Departure.Add(time.Duration(at) * time.Millisecond)
	gone := there.Add(time.Duration(c.Network.Millis(p, c.Wishes.Top)) * time.Millisecond)
	for _, barrier := range c.barriers.on(p) {
		if barrier.When == "" || barrier.Kind == standing.ByStructure ||
			barrier.During(there.In(barrier.Zone), gone.In(barrier.Zone), window.Env{}) != window.Open {
			continue
		}
		codes := c.Network.Jurisdictions(p.Arc.Edge())
		out = append(out, finding.Finding{
			Topic: finding.Sign, Rule: "hours of signs", Jurisdiction: strings.Join(codes, "/"),
			Place: c.Network.RoadName(p.Arc.Edge()), Outcome: finding.Forbidden, Reason: finding.Exceeded,
			Settles:   c.stands.Office(codes...),
			Says:      []say.Remark{say.That("sign.closed_then", "barrier", barrier.What)},
			Demands:   finding.Demands{Hours: []say.Remark{say.That("hours.not_during", "when", barrier.When)}},
			Citations: c.stands.CiteWay(p.Arc.Edge(), "closed @ ("+barrier.When+")"),
		})
	}
	return out
}

func (c *Chooser) waiting(p network.Piece, wait search.Millis) finding.Finding {
	codes := c.Network.Jurisdictions(p.Arc.Edge())
	f := finding.Finding{
		Topic: finding.Sign, Rule: "waiting", Jurisdiction: strings.Join(codes, "/"),
		Place: c.Network.RoadName(p.Arc.Edge()), Outcome: finding.Conditional,
		Settles: c.stands.Office(codes...),
		Says:    []say.Remark{say.That("sign.waiting", "wait", (time.Duration(wait) * time.Millisecond).Round(time.Minute))},
	}
	for _, barrier := range c.barriers.on(p) {
		if barrier.When != "" {
			f.Demands.Hours = append(f.Demands.Hours, say.That("hours.not_during", "when", barrier.When))
			if barrier.Kind == standing.ByStructure {
				f.Citations = append(f.Citations, barrier.Citations...)
				continue
			}
			f.Citations = append(f.Citations, c.stands.CiteWay(p.Arc.Edge(), "closed @ ("+barrier.When+")")...)
		}
	}
	f.SeeTo()
	return f
}
