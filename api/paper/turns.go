package paper

import (
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/sweep"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/driving"
)

// turnsOf are the turns of a way, each where the rig leaves its road with a map. One that
// leads back to its road at once is a jog of it, and one thing to do.
func turnsOf(t *trip.Plan) (out []mark) {
	moves := t.Road.Moves
	for i := 0; i < len(moves); i++ {
		one, first := moves[i], i
		m := mark{at: one.At, says: turns(t.Road, one), far: one.Far}
		if i+1 < len(moves) && one.Far <= jog && moves[i+1].Onto.String() == one.Road.String() {
			m.says = say.That("paper.jog", "onto", one.Road, "left", one.Turn < 0, "back_left", moves[i+1].Turn < 0,
				"apart", one.Far, "takes", swings(t.Road, one))
			m.far = moves[i+1].Far
			i++
		}
		if max(one.Turn, -one.Turn) >= slight && first < len(t.Turns) {
			m.around = &t.Turns[first]
		}
		out = append(out, m)
	}
	return out
}

// jog is how soon a way is back on its road that leaves it for a jog: this project's choice.
const jog measure.Distance = 60

// besides is how near a corner is to a turn that is the same.
const besides measure.Distance = 15

func near(a, b driving.Spot) bool { return max(a.At-b.At, b.At-a.At) <= besides }

// turns is a turn, with what the rig takes of the road there.
func turns(r *driving.Drive, t driving.Move) say.Remark {
	way := say.That("paper.straight", "onto", t.Onto)
	switch turn := max(t.Turn, -t.Turn); {
	case turn >= sharp && t.Turn < 0:
		way = say.That("paper.sharp_left", "onto", t.Onto)
	case turn >= sharp:
		way = say.That("paper.sharp_right", "onto", t.Onto)
	case turn >= full && t.Turn < 0:
		way = say.That("paper.left", "onto", t.Onto)
	case turn >= full:
		way = say.That("paper.right", "onto", t.Onto)
	case turn >= slight && t.Turn < 0:
		way = say.That("paper.bear_left", "onto", t.Onto)
	case turn >= slight:
		way = say.That("paper.bear_right", "onto", t.Onto)
	}
	return say.That("paper.turn", "way", way, "takes", swings(r, t))
}

// swings is what the rig takes of the road at a turn; none where it is no corner.
func swings(r *driving.Drive, t driving.Move) (out say.Remark) {
	for _, c := range r.Corners {
		if near(t.Spot, c.Spot) {
			out = takes(c)
		}
	}
	return out
}

// How far a road turns off, in degrees, that is told in other words: this project's choice.
const (
	slight = 20
	full   = 50
	sharp  = 120
)

// takes is what a corner asks of the road.
func takes(c driving.Corner) say.Remark {
	if !c.Unknown.None() {
		return say.That("paper.takes_unknown", "why", c.Unknown)
	}
	var tail any
	if c.TailSwing >= told {
		tail = c.TailSwing
	}
	return say.That("paper.takes", "swept", c.Swept, "cuts", c.OffTracking, "in_left", c.Cuts == sweep.Left, "tail", tail,
		"out_left", c.Swings == sweep.Left)
}

// told is the least swing of a tail that a driver is told of.
const told measure.Distance = 0.05
