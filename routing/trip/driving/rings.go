package driving

import (
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/bend"
	"wayhouse/routing/network"
)

// mini is a mini-roundabout that a way passes. A long rig drives over its middle, which
// is built for that (OpenStreetMap wiki, Tag:highway=mini_roundabout): it is swept along
// the line of the roads, and compared with the diameter where that is tagged.
type mini struct {
	at       measure.Distance // along the line
	point    orb.Point
	diameter measure.Length // 0: not tagged
}

// minisOn lists the mini-roundabouts on a part of the way, each once.
func (w *bender) minisOn(along []stretch) (out []mini) {
	const same = 1 // m: at a node both of its pieces have it
	n := w.Network
	for _, s := range along {
		for _, spot := range n.Spots(s.Arc.Edge()) {
			where := network.Position{Edge: spot.Edge, Offset: spot.Offset}
			if spot.Kind != network.MiniRoundabout || !n.Covers(s.Piece, where) {
				continue
			}
			at := s.at - along[0].at + n.Along(where, s.Arc) - s.Start
			if k := len(out); k == 0 || at-out[k-1].at > same {
				out = append(out, mini{at, n.Point(where), n.Record(spot.Road).Width})
			}
		}
	}
	return out
}

// among puts a mini-roundabout among the bends of a line, in their order: in the place of
// the bends at it, which it takes the turn of. It is a corner however little it turns.
func (m mini) among(bends []bend.Bend) []bend.Bend {
	const near = 15 // m: half of the greatest diameter that is mapped as a point
	here := bend.Bend{At: m.at, Point: m.point}
	out := bends[:0]
	for _, b := range bends {
		if b.At < m.at-near || b.At > m.at+near {
			out = append(out, b)
			continue
		}
		here.Turn += b.Turn
	}
	i := slices.IndexFunc(out, func(b bend.Bend) bool { return b.At > m.at })
	if i < 0 {
		i = len(out)
	}
	return slices.Insert(out, i, here)
}

// overMini reports whether a bend is that of a mini-roundabout.
func (w *bender) overMini(b bend.Bend) bool {
	return slices.ContainsFunc(w.minis, func(m mini) bool { return m.at == b.At })
}

// onRing reports whether a piece is of a roundabout or another circular junction.
func (w *bender) onRing(s stretch) bool {
	n := w.Network
	return n.Record(n.RoadID(s.Arc.Edge())).Flags.Has(network.Roundabout)
}
