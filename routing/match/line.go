package match

import (
	"context"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
)

// Section is a stretch of a line: on the road, or matching none.
type Section struct {
	From, To measure.Distance // along the line
	Pieces   []network.Piece
	Off      measure.Distance // the farthest that the line lies from the roads found for it
	OffAt    measure.Distance // where that is, along the line
	Gap      orb.LineString   // the stretch of the line that matches no road
	Rivals   []network.Piece  // that may be meant instead of some of Pieces
	Likely   []network.Piece  // those of Rivals that are a twentieth as likely, or more
	Ends     []network.Piece  // around either end, where the line may begin or end as well
	Nearer   []Nearer
}

// Nearer is a stretch of a line that lies clearly nearer to another road than to
// the one that was found for it.
type Nearer struct {
	From, To measure.Distance // along the line
	Edge     network.EdgeID
	Closer   measure.Distance // by how much, at the most
}

const (
	leastShare                     = 0.5 // of a stretch that the roads found for it must cover
	leastNearer   measure.Distance = 75  // a shorter stretch may be a crossing
	clearlyCloser                  = 2.0 // errors of the line
	endErrors                      = 3.0 // so many errors around an end may be meant
)

// ByLine finds the roads that a line follows, in its direction:
//
//  1. Read the line: places a step apart, each with its error.
//  2. Find the likeliest chain of places on directed roads, or off all of them:
//     near to the line, joined by ways about as long as the line that turn round,
//     run against a one-way road or take a forbidden turn only where nothing
//     else fits.
//  3. Cut the chain into stretches on roads and gaps.
//  4. Note what else may be meant: rivals of the chain, and nearer roads.
//
// It is the hidden Markov approach of P. Newson and J. Krumm, "Hidden Markov Map
// Matching Through Noise and Sparseness", ACM SIGSPATIAL 2009, over directed arcs
// and banned turns, with a state for being off the roads. Time and memory grow
// with the length of the line, up to 1,500 km, and its points. The error is that
// of the context.
func ByLine(ctx context.Context, n *network.Network, ix *network.Index, line orb.LineString,
	rules Rules) ([]Section, error) {
	m := newMatcher(n, ix, line, rules)
	if len(m.samples) < 2 {
		return nil, nil
	}
	if err := m.run(ctx); err != nil {
		return nil, err
	}
	chain := m.trace()
	rivals, err := m.rivals(ctx)
	if err != nil {
		return nil, err
	}
	var out []Section
	onRoad := func(i int) bool { return chain[i].arc != noArc && chain[i+1].arc != noArc }
	for from := 0; from < len(chain)-1; {
		to := from + 1
		for to < len(chain)-1 && onRoad(to) == onRoad(from) {
			to++
		}
		out = append(out, m.section(chain, from, to, rivals))
		from = to
	}
	return mergeGaps(out), nil
}

// section is the stretch of the chain from one sample to another: all on roads,
// or all off them. A line that only crosses a road, or runs to and fro, is not
// on it.
func (m *matcher) section(chain []cell, from, to int, rivals [][]rival) Section {
	s := Section{From: m.samples[from].along, To: m.samples[to].along}
	var stretch orb.LineString
	for _, sample := range m.samples[from : to+1] {
		stretch = append(stretch, sample.at)
	}
	if chain[from].arc != noArc && chain[from+1].arc != noArc {
		s.Pieces = m.pieces(chain[from:to+1], from)
	}
	if s.Pieces == nil || lengthOf(s.Pieces) < leastShare*geodesic.Length(stretch) {
		s.Pieces, s.Gap = nil, stretch
		return s
	}
	for i := from; i <= to; i++ {
		if chain[i].off > s.Off {
			s.Off, s.OffAt = chain[i].off, m.samples[i].along
		}
	}
	var may, likely []network.Piece
	for _, r := range slices.Concat(rivals[from+1 : to+1]...) {
		may = append(may, r.pieces...)
		if r.doubt <= likelyDoubt {
			likely = append(likely, r.pieces...)
		}
	}
	s.Rivals, s.Likely = besides(s.Pieces, may), besides(s.Pieces, likely)
	s.Ends = besides(s.Pieces, slices.Concat(m.around(from), m.around(to)))
	s.Nearer = m.nearer(chain, from, to)
	return s
}

// mergeGaps makes one gap of those that follow each other.
func mergeGaps(sections []Section) []Section {
	var out []Section
	for _, s := range sections {
		if last := len(out) - 1; s.Gap != nil && last >= 0 && out[last].Gap != nil {
			out[last].Gap, out[last].To = append(out[last].Gap, s.Gap[1:]...), s.To
			continue
		}
		out = append(out, s)
	}
	return out
}

func lengthOf(pieces []network.Piece) measure.Distance {
	return search.Path{Pieces: pieces}.Length()
}
