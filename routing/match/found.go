package match

import (
	"context"
	"math"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// pieces lists what a chain drives that begins at a sample.
func (m *matcher) pieces(chain []cell, from int) []network.Piece {
	var out []network.Piece
	for i := 1; i < len(chain); i++ {
		for _, p := range m.hop(chain[i-1], chain[i], from+i) {
			out = m.append(out, p)
		}
	}
	return slices.DeleteFunc(out, func(p network.Piece) bool { return p.Length() == 0 })
}

// hop lists what is driven from a cell to one of a sample.
func (m *matcher) hop(from, to cell, i int) []network.Piece {
	w := m.ways(from, []cell{to}, geodesic.Between(m.samples[i-1].at, m.samples[i].at))
	return m.drives(from, to, w[0])
}

// append adds a piece, made one with the last where it goes on along the same
// arc. Where samples lie a little farther back than the one before, the road
// counts up to the farthest.
func (m *matcher) append(out []network.Piece, p network.Piece) []network.Piece {
	if len(out) == 0 {
		return append(out, p)
	}
	last := &out[len(out)-1]
	whole := m.net.Length[p.Arc.Edge()]
	switch around := p.Start == 0 && last.End == whole; { // a road that ends where it begins
	case last.Arc == p.Arc && !around:
		last.End = max(last.End, p.End)
		return out
	case last.Arc == p.Arc.Back():
		p.Start = min(p.Start, whole-last.End)
	}
	return append(out, p)
}

// rival is what a chain drives on its way to one sample that is not the best.
type rival struct {
	pieces []network.Piece
	doubt  float64 // more than that of the best
}

// rivals lists, for each sample, what chains drive on their way to it that are
// so nearly as likely as the best that they may be meant.
func (m *matcher) rivals(ctx context.Context) ([][]rival, error) {
	out := make([][]rival, len(m.samples))
	last := m.columns[len(m.columns)-1]
	left := make([]float64, len(last)) // the least doubt from a cell to the end
	best := math.Inf(1)
	for _, c := range last {
		best = min(best, c.doubt)
	}
	for i := len(m.columns) - 1; i > 0; i-- {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		before, here := m.columns[i-1], m.columns[i]
		leftBefore := slices.Repeat([]float64{math.Inf(1)}, len(before))
		for _, j := range m.joins[i] {
			leftBefore[j.from] = min(leftBefore[j.from], j.doubt-before[j.from].doubt+left[j.to])
			from, to := before[j.from], here[j.to]
			if more := j.doubt + left[j.to] - best; from.arc != noArc && to.arc != noArc && more <= rivalDoubt {
				out[i] = append(out[i], rival{m.hop(from, to, i), more})
			}
		}
		left = leftBefore
	}
	return out, nil
}

// besides lists the stretches of others that pieces do not cover, each arc once.
func besides(pieces, others []network.Piece) []network.Piece {
	driven := map[network.Arc][]network.Piece{}
	for _, p := range pieces {
		driven[p.Arc] = append(driven[p.Arc], p)
	}
	at := map[network.Arc]int{}
	var out []network.Piece
	for _, o := range others {
		covered := slices.ContainsFunc(driven[o.Arc], func(p network.Piece) bool {
			return p.Start <= o.Start && o.End <= p.End
		})
		i, known := at[o.Arc]
		switch {
		case covered:
		case known:
			out[i].Start, out[i].End = min(out[i].Start, o.Start), max(out[i].End, o.End)
		default:
			at[o.Arc] = len(out)
			out = append(out, o)
		}
	}
	return out
}

// around lists the roads at a sample, as far as its error reaches: a line may
// end a little sooner or later than it says.
func (m *matcher) around(i int) []network.Piece {
	r := measure.Distance(endErrors * m.deviation(i))
	var out []network.Piece
	for _, s := range m.ix.Around(m.samples[i].at, r, r, mostRoads) {
		for _, reverse := range []bool{false, true} {
			a := network.MakeArc(s.Edge, reverse)
			at := m.net.Along(s.Position, a)
			out = append(out, network.Piece{Arc: a, Start: max(at-r, 0), End: min(at+r, m.net.Length[s.Edge])})
		}
	}
	return out
}

// nearer lists where the line lies clearly nearer to another road than to the
// one of the chain.
func (m *matcher) nearer(chain []cell, from, to int) []Nearer {
	var out []Nearer
	for i := from; i <= to; i++ {
		closer := chain[i].off - m.nearest[i].Distance
		if m.nearest[i].Edge == chain[i].arc.Edge() || float64(closer) < clearlyCloser*m.deviation(i) {
			continue
		}
		at := m.samples[i].along
		if i > from && len(out) > 0 && out[len(out)-1].To == m.samples[i-1].along {
			last := &out[len(out)-1]
			last.To = at
			if closer > last.Closer {
				last.Closer, last.Edge = closer, m.nearest[i].Edge
			}
			continue
		}
		out = append(out, Nearer{From: at, To: at, Edge: m.nearest[i].Edge, Closer: closer})
	}
	return slices.DeleteFunc(out, func(n Nearer) bool { return n.To-n.From < leastNearer })
}
