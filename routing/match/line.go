package match

import (
	"cmp"
	"context"
	"errors"
	"math"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
)

// Section is a stretch of a line: on the road, or matching none.
type Section struct {
	Pieces []network.Piece
	Off    measure.Distance // the farthest that the line lies from the roads found for it
	Gap    orb.LineString   // the stretch of the line that matches no road
}

// How a line is compared with the roads. The bundled roads are drawn coarsely,
// so the reach is wide.
const (
	sampleStep   measure.Distance = 200    // between samples of the line
	maxSamples                    = 10_000 // a longer line is sampled more thinly
	reach        measure.Distance = 250    // from a sample to a road
	candidates                    = 5      // roads looked at for each sample
	offRoad      measure.Distance = 60     // one unit of doubt for being off a road
	offLength    measure.Distance = 60     // one unit of doubt for a length that differs
	detourFactor                  = 1.5    // how much longer a way between samples may be
	detourSlack  measure.Distance = 150
	leastShare                    = 0.7 // of a stretch that the roads found for it must cover
	anyLength    measure.Distance = 1e9 // for a way that was found before
)

// ByLine finds the roads that a line follows. It takes the most likely chain
// of roads through samples of the line: near to them, and joined by ways about
// as long as the line between them (the hidden Markov approach of P. Newson
// and J. Krumm, "Hidden Markov Map Matching Through Noise and Sparseness",
// ACM SIGSPATIAL 2009; the parameters are this project's). Where no road is
// near or none leads on, the stretch is a gap.
func ByLine(ctx context.Context, n *network.Network, ix *network.Index, line orb.LineString) ([]Section, error) {
	m := matcher{net: n, ix: ix, samples: Sample(line)}
	var out []Section
	gapFrom := 0
	for at := 0; at < len(m.samples); {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		chain, err := m.chain(ctx, at)
		if err != nil {
			return nil, err
		}
		if len(chain) < 2 {
			at++
			continue
		}
		out = m.appendGap(out, gapFrom, at)
		pieces, err := m.pieces(ctx, chain)
		if err != nil {
			return nil, err
		}
		// A line that only crosses a road, or runs to and fro, is not on it.
		stretch := m.samples[at : at+len(chain)]
		if lengthOf(pieces) < leastShare*geodesic.Length(stretch) {
			out = append(out, Section{Gap: orb.LineString(stretch).Clone()})
		} else {
			out = append(out, Section{Pieces: pieces, Off: farthest(chain)})
		}
		at += len(chain) - 1
		gapFrom = at
		at++
	}
	return m.appendGap(out, gapFrom, len(m.samples)-1), nil
}

func lengthOf(pieces []network.Piece) measure.Distance {
	return search.Path{Pieces: pieces}.Length()
}

func farthest(chain []network.Snapped) measure.Distance {
	var most measure.Distance
	for _, s := range chain {
		most = max(most, s.Distance)
	}
	return most
}

// appendGap adds the samples from one index to another as a gap.
func (m *matcher) appendGap(out []Section, from, to int) []Section {
	if to <= from {
		return out
	}
	return append(out, Section{Gap: orb.LineString(m.samples[from : to+1]).Clone()})
}

// Sample places points along a line in equal steps, and keeps both ends.
func Sample(line orb.LineString) []orb.Point {
	if len(line) == 0 {
		return nil
	}
	step := max(sampleStep, geodesic.Length(line)/maxSamples)
	out := []orb.Point{line[0]}
	left := step // to the next sample
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := geodesic.Between(a, b)
		at := left
		for ; at < length; at += step {
			r := float64(at / length)
			out = append(out, orb.Point{a[0] + r*(b[0]-a[0]), a[1] + r*(b[1]-a[1])})
		}
		left = at - length
	}
	if end := line[len(line)-1]; out[len(out)-1] != end {
		out = append(out, end)
	}
	return out
}

type matcher struct {
	net     *network.Network
	ix      *network.Index
	samples []orb.Point
}

// cell is a candidate road of one sample in the most likely chain that ends
// there.
type cell struct {
	network.Snapped
	doubt float64
	prev  int // index of the candidate before, -1 at the head of the chain
}

// chain returns the most likely chain of roads from a sample on, as far as it
// can be followed.
func (m *matcher) chain(ctx context.Context, from int) ([]network.Snapped, error) {
	columns := [][]cell{m.column(from)}
	for i := from + 1; i < len(m.samples) && len(columns[len(columns)-1]) > 0; i++ {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		next, err := m.follow(ctx, columns[len(columns)-1], m.column(i), geodesic.Between(m.samples[i-1], m.samples[i]))
		if err != nil {
			return nil, err
		}
		if len(next) == 0 {
			break
		}
		columns = append(columns, next)
	}
	return trace(columns), nil
}

func (m *matcher) column(i int) []cell {
	near := m.ix.Near(m.samples[i], reach)
	var out []cell
	for _, s := range near[:min(len(near), candidates)] {
		out = append(out, cell{Snapped: s, doubt: float64(s.Distance / offRoad), prev: -1})
	}
	return out
}

// follow joins each candidate to the likeliest one before it; candidates that
// nothing leads to fall out.
func (m *matcher) follow(ctx context.Context, before, here []cell, straight measure.Distance) ([]cell, error) {
	var out []cell
	for _, c := range here {
		best := cell{doubt: math.Inf(1)}
		for k, b := range before {
			way, ok, err := m.way(ctx, b.Position, c.Position, straight)
			if err != nil {
				return nil, err
			}
			if !ok {
				continue
			}
			doubt := b.doubt + c.doubt + math.Abs(float64((way.Length()-straight)/offLength))
			if doubt < best.doubt {
				best = cell{Snapped: c.Snapped, doubt: doubt, prev: k}
			}
		}
		if !math.IsInf(best.doubt, 1) {
			out = append(out, best)
		}
	}
	return out, nil
}

// way returns the shortest way between two candidates if it is not much longer
// than the line between their samples. On one edge a line may also go back a
// little, as tracks do.
func (m *matcher) way(ctx context.Context, a, b network.Position, straight measure.Distance) (search.Path, bool, error) {
	limit := float64(straight*detourFactor + detourSlack)
	if a.Edge == b.Edge {
		arc := network.MakeArc(a.Edge, a.Offset > b.Offset)
		piece := network.Piece{Arc: arc, Start: m.net.Along(a, arc), End: m.net.Along(b, arc)}
		return search.Path{Pieces: []network.Piece{piece}}, float64(piece.Length()) <= limit, nil
	}
	path, err := search.Within(ctx, m.net, a, b, search.Rules{Cost: byLength}, search.Millis(1000*limit))
	if errors.Is(err, search.ErrNoRoute) {
		return path, false, nil
	}
	return path, err == nil, err
}

// byLength makes a millimetre cost a millisecond: the shortest way is sought.
func byLength(p network.Piece, _ search.Millis) (search.Millis, bool) {
	return search.Millis(1000 * p.Length()), true
}

// trace walks the likeliest chain back from the last column.
func trace(columns [][]cell) []network.Snapped {
	last := columns[len(columns)-1]
	best := -1
	for k, c := range last {
		if best < 0 || c.doubt < last[best].doubt {
			best = k
		}
	}
	if best < 0 {
		return nil
	}
	out := make([]network.Snapped, len(columns))
	for i := len(columns) - 1; i >= 0; i-- {
		out[i] = columns[i][best].Snapped
		best = columns[i][best].prev
	}
	return out
}

// pieces joins the chain's ways to one.
func (m *matcher) pieces(ctx context.Context, chain []network.Snapped) ([]network.Piece, error) {
	var out []network.Piece
	for i := 1; i < len(chain); i++ {
		way, ok, err := m.way(ctx, chain[i-1].Position, chain[i].Position, anyLength)
		if err != nil || !ok {
			return nil, cmp.Or(err, errors.New("a way that was found is not there any more"))
		}
		for _, p := range way.Pieces {
			out = m.join(out, p)
		}
	}
	return out, nil
}

// join appends a piece, made one with the last where it goes on along the same
// edge. A track that goes a little way in and comes back is straightened: at a
// crossing a sample often lies nearer to the other road.
func (m *matcher) join(out []network.Piece, p network.Piece) []network.Piece {
	if p.Length() == 0 {
		return out
	}
	if len(out) == 0 {
		return append(out, p)
	}
	last := &out[len(out)-1]
	switch {
	case last.Arc == p.Arc && math.Abs(float64(last.End-p.Start)) < float64(same):
		last.End = p.End
		return out
	case last.Arc.Edge() == p.Arc.Edge() && last.Arc != p.Arc && min(p.Length(), last.Length()) < back:
		return straighten(out, p)
	default:
		return append(out, p)
	}
}

// straighten nets the last piece and one that runs back over it.
func straighten(out []network.Piece, p network.Piece) []network.Piece {
	last := &out[len(out)-1]
	switch over := p.Length() - last.Length(); {
	case over < -same:
		last.End -= p.Length()
		return out
	case over <= same:
		return out[:len(out)-1]
	default:
		p.Start = p.End - over
		return append(out[:len(out)-1], p)
	}
}

const (
	back measure.Distance = 100 // how far a track may run back and still be going on
	same measure.Distance = 1   // two places along a road closer than this are one
)
