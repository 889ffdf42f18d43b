package driving

import (
	"math"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// Move is where the way leaves a road for another, or turns sharply at a junction.
type Move struct {
	Spot
	Onto say.Remark       // the road after it
	Turn float64          // degrees, to the right positive; 0 where the road only changes its name
	Far  measure.Distance // until the next one, or the end of the way between two stops
}

// moves finds them along each of the ways that were passed, in the order of travel.
func (d *Driver) moves() (out []Move) {
	var at measure.Distance
	for _, w := range d.ways {
		first := len(out)
		end := at + lengthOf(w)
		on := d.called(w.Pieces)
		for i, p := range w.Pieces {
			if i > 0 {
				if m, turns := d.move(w.Pieces[i-1], p, &on); turns {
					m.At = at
					out = append(out, m)
				}
			}
			at += p.Length()
		}
		for i := first; i < len(out); i++ {
			until := end
			if i+1 < len(out) {
				until = out[i+1].At
			}
			out[i].Far = until - out[i].At
		}
		at = end
	}
	return out
}

// called is what the road of the first of some pieces is called.
func (d *Driver) called(pieces []network.Piece) []string {
	if len(pieces) == 0 {
		return nil
	}
	return d.names(pieces[0].Arc.Edge())
}

// names are the numbers of a road, or else its name.
func (d *Driver) names(e network.EdgeID) []string {
	if refs := d.Network.Refs(e); len(refs) > 0 {
		return refs
	}
	return []string{d.Network.Name(e)}
}

// move is what a driver does between two pieces, and whether that is anything; on are the
// names that all of the road so far has. Where roads run together the one that is left
// last tells which was followed.
func (d *Driver) move(in, out network.Piece, on *[]string) (m Move, turns bool) {
	next := d.names(out.Arc.Edge())
	both := slices.DeleteFunc(slices.Clone(*on), func(n string) bool { return !slices.Contains(next, n) })
	turn := d.Network.Deflection(in.Arc, out.Arc)
	if len(both) > 0 && math.Abs(turn) < network.SharpTurn {
		*on = both
		return m, false
	}
	*on = next
	return Move{
		Spot: Spot{Point: d.Network.Line(out)[0], Road: d.Network.RoadName(in.Arc.Edge())},
		Onto: d.Network.RoadName(out.Arc.Edge()), Turn: turn,
	}, true
}
