package match

import (
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// How far roads are looked for. The bundled roads are drawn coarsely, so the
// reach is wide.
const (
	reach       measure.Distance = 250 // from a sample to a road
	moreReach   measure.Distance = 60  // beyond the nearest road, or four errors
	mostRoads                    = 16  // of one sample
	passRise    measure.Distance = 3   // that a road goes away before it passes again
	leastError  measure.Distance = 10  // of a line, one standard deviation
	mostError   measure.Distance = 80
	beam                         = 60.0 // a cell with so much more doubt than the best is dropped
	rivalDoubt                   = 8.0  // a chain with so little more doubt than the best may be meant: e^-8 as likely
	likelyDoubt                  = 3.0  // e^-3, a twentieth
)

const noArc network.Arc = -1

// cell is a place on the directed roads that a sample may mean, or none of
// them, at the end of the likeliest chain of cells to it.
type cell struct {
	arc   network.Arc // noArc: off the roads
	at    measure.Distance
	off   measure.Distance // from the sample
	turn  network.TurnState
	doubt float64
	prev  int32 // of the column before
}

// join is a step from a cell to one of the next column, and the doubt of the
// likeliest chain that takes it.
type join struct {
	from, to int32
	doubt    float64
}

// matcher finds the likeliest chain of cells: the algorithm of A. J. Viterbi
// over directed arcs.
type matcher struct {
	reacher
	ix      *network.Index
	samples []sample
	sigma   measure.Distance // error of the line
	nearest []network.Snapped
	columns [][]cell
	joins   [][]join // to each column, of rivals of the best chain only
}

// lineError reads the error of a line off its distances from the roads, as Newson
// and Krumm do: 1.4826 times the median, which is the standard deviation of a
// normal error.
func lineError(ix *network.Index, line orb.LineString) measure.Distance {
	const looks = 400
	var off []measure.Distance
	every := len(line)/looks + 1
	for i := 0; i < len(line); i += every {
		for _, s := range ix.Around(line[i], reach, 0, 1) {
			off = append(off, s.Distance)
		}
	}
	if len(off) == 0 {
		return 0
	}
	slices.Sort(off)
	return 1.4826 * off[len(off)/2]
}

func newMatcher(n *network.Network, ix *network.Index, line orb.LineString, rules Rules) *matcher {
	off := lineError(ix, line)
	m := &matcher{
		reacher: reacher{net: n, rules: rules}, ix: ix, samples: observe(line, off),
		sigma: min(max(leastError, off), mostError),
	}
	m.beta = float64(m.sigma) / 2
	return m
}

// run fills the columns.
func (m *matcher) run(ctx context.Context) error {
	for i := range m.samples {
		if err := ctx.Err(); err != nil {
			return err
		}
		cells := m.candidates(i)
		if i == 0 {
			m.columns, m.joins = append(m.columns, m.open(cells)), append(m.joins, nil)
			continue
		}
		column, joins := m.follow(i, cells)
		m.columns, m.joins = append(m.columns, column), append(m.joins, joins)
	}
	return nil
}

// candidates lists the places that a sample may mean, off the roads first.
func (m *matcher) candidates(i int) []cell {
	at, more := m.samples[i].at, max(moreReach, 4*m.sigma)
	near := m.ix.Around(at, reach, more, mostRoads)
	out := []cell{{arc: noArc, prev: -1}}
	nearest := network.Snapped{Position: network.Position{Edge: -1}}
	if len(near) > 0 {
		nearest = near[0]
	}
	m.nearest = append(m.nearest, nearest)
	for _, road := range near {
		for _, s := range m.ix.Passes(road.Edge, at, passRise) { // a hairpin passes twice
			if s.Distance > min(reach, nearest.Distance+more) {
				continue
			}
			for _, reverse := range []bool{false, true} {
				a := network.MakeArc(s.Edge, reverse)
				out = append(out, cell{arc: a, at: m.net.Along(s.Position, a), off: s.Distance, prev: -1})
			}
		}
	}
	return out
}

// deviation is the standard deviation of a sample, in metres.
func (m *matcher) deviation(i int) float64 {
	return math.Sqrt(float64(m.sigma*m.sigma) + m.samples[i].chord)
}

// emission is the doubt of a road so far from a sample: that of a normal error,
// and beyond two of them of one that has longer tails (P. J. Huber, "Robust
// Estimation of a Location Parameter", Annals of Mathematical Statistics 35,
// 1964).
func (m *matcher) emission(i int, off measure.Distance) float64 {
	z := float64(off) / m.deviation(i)
	if z <= 2 {
		return z * z / 2
	}
	return 2*z - 2
}

// open is the first column.
func (m *matcher) open(cells []cell) []cell {
	for k := range cells {
		cells[k].doubt = m.begin(cells[k])
		if c := cells[k]; c.arc != noArc {
			cells[k].doubt += m.emission(0, c.off)
		}
	}
	return cells
}

// begin is the doubt of beginning at a cell.
func (m *matcher) begin(c cell) float64 {
	switch {
	case c.arc == noArc:
		return offEntry
	case m.closed(c.arc):
		return againstEntry
	default:
		return 0
	}
}

// follow joins each candidate to the likeliest cell before it.
func (m *matcher) follow(i int, cells []cell) ([]cell, []join) {
	straight := geodesic.Between(m.samples[i-1].at, m.samples[i].at)
	for k := range cells {
		cells[k].doubt = math.Inf(1)
	}
	var joins []join
	for from, b := range m.columns[i-1] {
		var ways []way
		if b.arc != noArc {
			ways = m.ways(b, cells, straight)
		}
		for to := range cells {
			c := &cells[to]
			doubt := b.doubt + m.step(b, *c, ways, to, straight)
			if c.arc != noArc {
				doubt += m.emission(i, c.off)
			}
			if math.IsInf(doubt, 1) {
				continue
			}
			joins = append(joins, join{int32(from), int32(to), doubt})
			if doubt < c.doubt {
				c.doubt, c.prev, c.turn = doubt, int32(from), 0
				if ways != nil {
					c.turn = ways[to].turn
				}
			}
		}
	}
	return prune(cells, joins)
}

// step is the doubt of going from one cell to another, by one of the ways that
// lead there.
func (m *matcher) step(from, to cell, ways []way, k int, straight measure.Distance) float64 {
	switch {
	case from.arc == noArc && to.arc == noArc:
		return offMetre * float64(straight)
	case from.arc == noArc:
		return offEntry + offMetre*float64(straight) + m.begin(to)
	case to.arc == noArc:
		return offEntry + offMetre*float64(straight)
	default:
		return m.cost(ways[k])
	}
}

// prune drops cells that are too unlikely, and joins that no rival of the best
// chain can take. The cell off the roads stays.
func prune(cells []cell, joins []join) ([]cell, []join) {
	best := math.Inf(1)
	for _, c := range cells {
		best = min(best, c.doubt)
	}
	number := make([]int32, len(cells))
	var kept []cell
	for k, c := range cells {
		number[k] = -1
		if k == 0 || c.doubt <= best+beam {
			number[k] = int32(len(kept))
			kept = append(kept, c)
		}
	}
	var rivals []join
	for _, j := range joins {
		if k := number[j.to]; k >= 0 && j.doubt <= cells[j.to].doubt+rivalDoubt {
			rivals = append(rivals, join{j.from, k, j.doubt})
		}
	}
	return slices.Clip(kept), slices.Clip(rivals)
}

// trace lists the cells of the likeliest chain.
func (m *matcher) trace() []cell {
	last := m.columns[len(m.columns)-1]
	at := int32(0)
	for k, c := range last {
		if c.doubt < last[at].doubt {
			at = int32(k)
		}
	}
	out := make([]cell, len(m.columns))
	for i := len(m.columns) - 1; i >= 0; i-- {
		out[i] = m.columns[i][at]
		at = out[i].prev
	}
	return out
}
