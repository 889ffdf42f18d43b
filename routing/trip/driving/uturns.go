package driving

import (
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
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

// uturns finds where pieces that follow each other turn back, in the order of travel: by U-turns of the network, and
// on the road itself as only a given route does.
func (w *bender) uturns(along []stretch) {
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
