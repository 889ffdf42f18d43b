package trip

import (
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// cut is a run of road inside one set of jurisdictions, on one of the ways.
type cut struct {
	way    int
	pieces []network.Piece
	codes  []string
}

// cuts cuts ways where their jurisdictions change; a gap has none.
func (b *builder) cuts(ways []way) (out []cut) {
	for i, w := range ways {
		for _, pieces := range b.atBorders(w.Pieces) {
			out = append(out, cut{i, pieces, b.codes(pieces)})
		}
	}
	return out
}

// place is where the rules of a cut are asked, without its times.
func (b *builder) place(c cut) regs.Stay {
	first, last := c.pieces[0], c.pieces[len(c.pieces)-1]
	out := regs.Stay{Jurisdictions: c.codes, Ends: []orb.Point{b.Network.Line(first)[0]}}
	line := b.Network.Line(last)
	out.Ends = append(out.Ends, line[len(line)-1])
	met := map[network.EdgeID]bool{}
	for _, p := range c.pieces {
		e := p.Arc.Edge()
		if met[e] {
			continue
		}
		met[e] = true
		out.Roads = append(out.Roads, standing.RoadOf(b.Network, e))
		out.Towns = addTowns(out.Towns, b.Network.Town(e))
	}
	return out
}

// stretch is a section of the journey: a run of pieces of one cut that is driven, or sailed.
type stretch struct {
	cut     int
	pieces  []network.Piece
	passing []driving.Duration // from its start to the end of each piece
	ferry   bool
}

// stretches cuts a cut where a ferry begins and ends.
func (b *builder) stretches(at int, c cut) (out []stretch) {
	for i, p := range c.pieces {
		ferry := b.Network.Class[p.Arc.Edge()].Water()
		if i == 0 || ferry != out[len(out)-1].ferry {
			out = append(out, stretch{cut: at, ferry: ferry})
		}
		s := &out[len(out)-1]
		s.pieces = append(s.pieces, p)
	}
	for i := range out {
		out[i].passing = b.drives.Passing(out[i].pieces)
	}
	return out
}

func (s stretch) time() driving.Duration { return s.passing[len(s.passing)-1] }

func lengthOf(pieces []network.Piece) (l measure.Distance) {
	for _, p := range pieces {
		l += p.Length()
	}
	return l
}

// between is what of a stretch lies from one share of its slow time to another.
func (s stretch) between(from, to float64) (out []network.Piece) {
	first, begins := s.point(from)
	last, ends := s.point(to)
	for i := first; i <= last; i++ {
		p := s.pieces[i]
		if i == last {
			p.End = ends
		}
		if i == first {
			p.Start = begins
		}
		if p.Length() > 0 || from == 0 && to == 1 {
			out = append(out, p)
		}
	}
	return out
}

// point is the piece on which a share of the slow time is over, and where on its arc.
func (s stretch) point(share float64) (i int, at measure.Distance) {
	switch {
	case share <= 0:
		return 0, s.pieces[0].Start
	case share >= 1:
		return len(s.pieces) - 1, s.pieces[len(s.pieces)-1].End
	}
	slow := share * float64(s.time().Slow)
	i = max(slices.IndexFunc(s.passing, func(d driving.Duration) bool { return float64(d.Slow) >= slow }), 0)
	before := 0.0
	if i > 0 {
		before = float64(s.passing[i-1].Slow)
	}
	part := (slow - before) / (float64(s.passing[i].Slow) - before)
	return i, s.pieces[i].Start + measure.Distance(part)*s.pieces[i].Length()
}
