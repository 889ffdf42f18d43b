package driving

import (
	"cmp"
	"math"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// UTurn is a place where the way turns back.
type UTurn struct {
	Spot
	Onto  say.Remark       // the road after it
	Room  measure.Distance // from side to side; 0: not known, as where the network lists none
	Needs measure.Distance // the rig; 0: not known
	Can   Can
}

// uturns finds where pieces that follow each other turn back, in the order of travel: by U-turns of the network, on
// the road itself as only a given route does, and where else they come back.
func (w *bender) uturns(along []stretch) {
	first := len(w.out.UTurns)
	w.listed(along)
	for i := range along {
		w.comesBack(along[:i+1], along[i+1:], first)
	}
	slices.SortStableFunc(w.out.UTurns[first:], func(a, b UTurn) int { return cmp.Compare(a.At, b.At) })
}

// listed finds U-turns of the network, and those on the road itself.
func (w *bender) listed(along []stretch) {
	t, at := w.Network.Turns(), network.TurnState(0)
	for i, s := range along {
		u := UTurn{Spot: Spot{At: s.at, Point: w.Network.Node[w.Network.Tail(s.Arc)]}}
		if i > 0 {
			u.Road, u.Onto = w.Network.RoadName(along[i-1].Arc.Edge()), w.Network.RoadName(s.Arc.Edge())
		}
		switch {
		case i > 0 && along[i-1].Arc == s.Arc:
			continue
		case i > 0 && along[i-1].Arc == s.Arc.Back():
			u.Point = w.Network.Line(s.Piece)[0]
			w.out.UTurns = append(w.out.UTurns, u)
		}
		at = t.Step(at, s.Arc)
		for _, sequence := range t.Ends(at) {
			if turn := int(sequence) - w.Network.Bans(); turn >= 0 {
				u.Room, u.Needs = w.turner.Room(turn)
				u.Can = w.turner.Fits(turn)
				w.out.UTurns = append(w.out.UTurns, u)
			}
		}
	}
}

// What counts as coming back, this project's choice: opposite carriageways of one road, driven one soon after the
// other, with a turn at a junction between them. The network lists none where it takes them for one road that bends.
const (
	runsBack                    = 150.0 // degrees between the ways in and out, as they are drawn where they end and begin
	backWithin measure.Distance = 50    // m between them
	shortPiece measure.Distance = 5     // m: less does not show which way it runs
	realTurn                    = 45.0  // degrees at a junction: less is the bend of a road
)

// comesBack finds where the last piece of a way so far runs back along one before it, unless a U-turn is known there.
// On a circle that is left again, the road after it tells. What room there is, nothing tells.
func (w *bender) comesBack(soFar, rest []stretch, first int) {
	last := len(soFar) - 1
	out := soFar[last]
	if !w.oneway(out) || w.onRing(out) && slices.ContainsFunc(rest, func(s stretch) bool { return !w.onRing(s) }) {
		return
	}
	turned := false
	for i := last - 1; i >= 0 && out.at-soFar[i+1].at <= backWithin; i-- {
		turned = turned || math.Abs(w.Network.Deflection(soFar[i].Arc, soFar[i+1].Arc)) >= realTurn
		if !turned || !w.against(soFar[i], out) {
			continue
		}
		at := soFar[i+1].at
		known := func(u UTurn) bool { return math.Abs(float64(u.At-at)) <= float64(backWithin) }
		if !slices.ContainsFunc(w.out.UTurns[first:], known) {
			w.out.UTurns = append(w.out.UTurns, UTurn{
				Spot: Spot{at, w.Network.Line(soFar[i+1].Piece)[0], w.Network.RoadName(soFar[i].Arc.Edge())},
				Onto: w.Network.RoadName(out.Arc.Edge()),
			})
		}
		return
	}
}

// against reports whether two pieces are of opposite carriageways of one road, by the line of each.
func (w *bender) against(in, out stretch) bool {
	if min(in.Length(), out.Length()) <= shortPiece || !w.oneway(in) ||
		!w.Network.SameRoad(in.Arc.Edge(), out.Arc.Edge()) {
		return false
	}
	a, b := w.Network.Line(in.Piece), w.Network.Line(out.Piece)
	turn := geodesic.Bearing(b[0], b[1]) - geodesic.Bearing(a[len(a)-2], a[len(a)-1])
	return math.Abs(math.Remainder(turn, 360)) >= runsBack
}

// oneway reports whether a piece is of a road that is driven one way only.
func (w *bender) oneway(s stretch) bool {
	f := w.Network.Flags(s.Arc.Edge())
	return f.Has(network.OnewayAlong) || f.Has(network.OnewayAgainst)
}

// finding names a place where the way turns back.
func (u UTurn) finding() finding.Finding {
	f := finding.Finding{
		Topic: finding.Road, Rule: "u-turn", Place: u.Place(), Outcome: finding.Review, Reason: finding.Practice,
		Settles: surveyed(say.That("task.u_turn")),
		Says:    []say.Remark{say.That("road.u_turn", "from", u.Road, "onto", u.Onto)},
	}
	switch {
	case u.Can == Cannot:
		f.Outcome, f.Reason = finding.Forbidden, finding.Exceeded
		f.Says = append(f.Says, say.That("road.u_turn_too_tight", "needs", measure.OfMetres(float64(u.Needs)),
			"room", measure.OfMetres(float64(u.Room))))
	case u.Can == CanDrive:
		f.Says = append(f.Says, say.That("road.u_turn_fits", "needs", measure.OfMetres(float64(u.Needs)),
			"room", measure.OfMetres(float64(u.Room))))
	case u.Room == 0:
		f.Outcome, f.Reason = finding.Unknown, finding.NotMapped
		f.Says = append(f.Says, say.That("road.u_turn_no_room_known"))
	default:
		f.Outcome, f.Reason = finding.Unknown, finding.NotDescribed
		f.Says = append(f.Says, say.That("road.u_turn_no_lock", "room", measure.OfMetres(float64(u.Room))))
	}
	return f
}
