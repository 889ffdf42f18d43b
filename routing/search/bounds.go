package search

import (
	"wayhouse/routing/graph"
	"wayhouse/routing/network"
)

// Bounds returns for every pair of positions a lower bound of what a way between
// them costs under the rules, whatever these close: by the hierarchy of the rig,
// one look from each target. Infinite says that none leads there for any rig.
func (e *Engine) Bounds(from, to []network.Position, rules Rules) [][]Millis {
	s := e.seeker()
	defer e.rest(s)
	potential := graph.NewPotential(&e.prepared.Order)
	starts := make([][]walk, len(from))
	out := make([][]Millis, len(from))
	for i, p := range from {
		starts[i], out[i] = e.walks(p), make([]Millis, len(to))
	}
	for k, p := range to {
		s.begin(rules, p)
		var targets []graph.Target
		ends := e.walks(p)
		for _, w := range ends {
			if least := s.least(w.pieces); w.end != graph.None && least < Infinite {
				targets = append(targets, graph.Target{Node: w.end, Rest: uint32(least)})
			}
		}
		potential.Aim(&e.prepared.Hierarchies[s.bucket], targets...)
		for i := range from {
			out[i][k] = s.bound(potential, from[i], p, starts[i], ends)
		}
	}
	return out
}

// Infinite is the cost of what cannot be reached.
const Infinite = Millis(graph.Infinite)

// least is what pieces cost as the bucket has it.
func (s *seeker) least(pieces []network.Piece) (sum Millis) {
	b := network.Buckets()[s.bucket]
	for _, p := range pieces {
		sum += Millis(s.net.Price(p, b.Top, b.Others))
	}
	return min(sum, Infinite)
}

// bound is the lower bound of one pair. Positions that need no core are as near
// as can be.
func (s *seeker) bound(p *graph.Potential, from, to network.Position, out, in []walk) Millis {
	if from.Edge == to.Edge {
		return 0
	}
	best := Infinite
	for _, o := range out {
		for _, i := range in {
			if _, _, ok := s.crossing(o, i); ok {
				return 0
			}
		}
		if o.end != graph.None {
			if d := p.Least(o.end); d < graph.Infinite {
				best = min(best, s.least(o.pieces)+Millis(d))
			}
		}
	}
	return best
}
