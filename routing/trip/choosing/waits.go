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
	return t.Hours == asShut || t.Dearer != nil || c.AvoidUnmeasured ||
		!w.Once && (w.PermitCost > 0 || len(w.PermitCosts) > 0)
}

// wait is how long a rig that comes to a piece so long after the start of the
// search waits until what shuts it at certain hours lets it through; opens is
// false where it does not in time.
func (c *Chooser) wait(p network.Piece, at search.Millis, t Terms) (wait search.Millis, opens bool) {
	if t.Hours == asOpen {
		return 0, true
	}
	long := time.Duration(c.Network.Millis(p, c.Wishes.Top)) * time.Millisecond
	holds := slices.DeleteFunc(slices.Clone(c.barriers.on(p)), func(o *standing.Barrier) bool {
		return o.When == "" || t.Lifted != nil && t.Lifted(o)
	})
	c.Timed = c.Timed || len(holds) > 0
	if len(holds) > 0 && c.penalised(t) {
		return 0, !slices.ContainsFunc(holds, func(o *standing.Barrier) bool { return o.Met })
	}
	for open := 0; open < len(holds); { // all must be open at the same moment
		for _, barrier := range holds {
			there := c.then(c.after + at).Add(time.Duration(wait) * time.Millisecond).In(barrier.Zone)
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

// then is when the rig has driven and waited for so long since the departure.
func (c *Chooser) then(after search.Millis) time.Time {
	if c.Then != nil {
		return c.Then(time.Duration(after) * time.Millisecond)
	}
	return c.stands.Departure.Add(time.Duration(after) * time.Millisecond)
}

// Waits says where ways wait for a road to open, and whether they do anywhere: later
// hours are then not known. What is driven whatever shuts it waits for nothing, and
// is closed then.
func (c *Chooser) Waits(ways [][]network.Piece, whatever bool) (out []finding.Finding, waits bool) {
	c.after = 0
	stays := !whatever && !c.penalised(Terms{}) // others wait for nothing
	var at, late search.Millis                  // likely, and how much later on a slow trip
	for _, pieces := range ways {
		for i, p := range pieces {
			if i > 0 {
				at += c.turn(pieces[i-1].Arc, p.Arc)
			}
			long := search.Millis(c.Network.Millis(p, c.Wishes.Top))
			later := late + c.slower(pieces[max(i-1, 0):i+1], i)
			wait, _ := c.wait(p, at, Terms{})
			switch then := c.signsThen(p, at, long); {
			case !stays && len(then) > 0:
				out, wait = append(out, c.closedThen(p, then, finding.Forbidden)...), 0
			case stays && wait > 0:
				waits = true
				out = append(out, c.waiting(p, wait))
			case !waits: // later hours are not known then
				out, wait = append(out, c.closedThen(p, c.signsThen(p, at, later+long), finding.Conditional)...), 0
			}
			at, late = at+wait+long, later
		}
	}
	return out, waits
}

// slower is how much longer the last of up to two pieces takes on a slow trip.
func (c *Chooser) slower(pieces []network.Piece, i int) search.Millis {
	d := c.pace.Time(pieces)
	if i > 0 {
		d = d.Sub(c.pace.Time(pieces[:1]))
	}
	return search.Millis((d.Slow - d.Duration) / time.Millisecond)
}

// signsThen lists the signs that close a piece while the rig is on it, entered so
// long after the departure. Structures of its legs say so themselves.
func (c *Chooser) signsThen(p network.Piece, at, long search.Millis) (out []*standing.Barrier) {
	there := c.then(at)
	gone := there.Add(time.Duration(long) * time.Millisecond)
	for _, barrier := range c.barriers.on(p) {
		if barrier.When != "" && barrier.Kind != standing.ByStructure &&
			barrier.During(there.In(barrier.Zone), gone.In(barrier.Zone), window.Env{}) == window.Open {
			out = append(out, barrier)
		}
	}
	return out
}

// closedThen says which signs close a piece when the rig comes by, or, where that is
// a condition, would if it is slow.
func (c *Chooser) closedThen(p network.Piece, signs []*standing.Barrier, o finding.Outcome) (out []finding.Finding) {
	for _, barrier := range signs {
		codes := c.Network.Jurisdictions(p.Arc.Edge())
		f := finding.Finding{
			Topic: finding.Sign, Rule: "hours of signs", Jurisdiction: strings.Join(codes, "/"),
			Place: c.Network.RoadName(p.Arc.Edge()), Outcome: o, Reason: finding.Exceeded,
			Settles:   c.stands.Office(codes...),
			Says:      []say.Remark{say.That("sign.closed_then", "barrier", barrier.What)},
			Demands:   finding.Demands{Hours: []say.Remark{say.That("hours.not_during", "when", barrier.Says())}},
			Citations: c.stands.CiteWay(p.Arc.Edge(), "closed @ ("+barrier.When+")"),
		}
		if o == finding.Conditional {
			f.Reason, f.Says = "", []say.Remark{say.That("sign.closed_if_slow", "barrier", barrier.What)}
			f.SeeTo()
		}
		out = append(out, f)
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
			f.Demands.Hours = append(f.Demands.Hours, say.That("hours.not_during", "when", barrier.Says()))
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
