package search

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// maze is a small network with everything that a search keeps to. All of it is
// invented.
type maze struct {
	at    []orb.Point
	ends  [][2]int
	bans  [][]network.Arc
	shut  map[network.Arc]bool    // closed in one direction
	dear  map[network.Arc]float64 // seconds per metre
	local map[network.EdgeID]bool // only at the ends of a way
}

func drawMaze(t *rapid.T) *maze {
	m := &maze{shut: map[network.Arc]bool{}, dear: map[network.Arc]float64{}, local: map[network.EdgeID]bool{}}
	nodes := rapid.IntRange(2, 12).Draw(t, "nodes")
	for i := range nodes {
		m.at = append(m.at, orb.Point{-75 + 0.01*float64(i), 45 + 0.001*float64(rapid.IntRange(0, 9).Draw(t, "y"))})
	}
	node := rapid.IntRange(0, nodes-1)
	for range rapid.IntRange(1, min(25, 3*nodes)).Draw(t, "edges") {
		m.ends = append(m.ends, [2]int{node.Draw(t, "from"), node.Draw(t, "to")}) // loops and roads side by side too
	}
	tenth := rapid.IntRange(0, 9)
	for e := range network.EdgeID(len(m.ends)) {
		m.local[e] = tenth.Draw(t, "local") < 2
		for _, a := range arcs(e) {
			m.shut[a] = tenth.Draw(t, "shut") < 1
			m.dear[a] = float64(rapid.IntRange(1, 5).Draw(t, "dear"))
		}
	}
	return m
}

func (m *maze) net(t *rapid.T) *network.Network {
	b := network.NewBuilder()
	for _, p := range m.at {
		b.Node(p)
	}
	for i, e := range m.ends {
		from, to := m.at[e[0]], m.at[e[1]]
		middle := orb.Point{(from[0] + to[0]) / 2, 45.02 + 0.002*float64(i)} // a loop has a length as well
		if _, err := b.Edge(network.Edge{From: network.NodeID(e[0]), To: network.NodeID(e[1]), Line: []orb.Point{from, middle, to}, Class: network.Primary}); err != nil {
			t.Fatal(err)
		}
	}
	for _, arcs := range m.bans {
		b.Ban(arcs, network.Ban{})
	}
	n, err := b.Finish(network.About{Name: "a maze for tests", Lacks: network.AllFacts()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func (m *maze) cost(p network.Piece) (float64, bool) {
	return m.dear[p.Arc] * float64(p.Length()), !m.shut[p.Arc]
}

func (m *maze) rules(n *network.Network) Rules {
	return Rules{
		Cost: m.cost, EndsOnly: func(p network.Piece) bool { return m.local[p.Arc.Edge()] },
		Turns: n.Turns(), Banned: func(int32) bool { return true },
	}
}

// history is where a way stands for the reference: its last arcs, as many as a
// ban can ask for, and how far it has come through local roads.
type history struct {
	last  [3]network.Arc // the newest last, noArc where there was none
	phase int            // 0: local roads so far, 1: others since, 2: local ones again
}

var nowhere = history{last: [3]network.Arc{noArc, noArc, noArc}}

// next drives one more arc; ok is false where a ban, a turn round or a local
// road forbids it.
func (m *maze) next(h history, a network.Arc) (history, bool) {
	if h.last[2] == a.Back() {
		return h, false
	}
	driven := append(slices.Clone(h.last[:]), a)
	for _, ban := range m.bans {
		if slices.Equal(driven[len(driven)-len(ban):], ban) {
			return h, false
		}
	}
	switch local := m.local[a.Edge()]; {
	case local && h.phase == 1:
		h.phase = 2
	case !local && h.phase == 0:
		h.phase = 1
	case !local && h.phase == 2:
		return h, false
	}
	copy(h.last[:], driven[1:])
	return h, true
}

// reference is the cost of the cheapest way, found by driving on from every
// history until none gets cheaper. A way that starts where an edge ends counts
// as having come along that edge; one that ends where an edge starts does not
// turn into it.
func (m *maze) reference(n *network.Network, from, to network.Position) float64 {
	best, cost := math.Inf(1), map[history]float64{}
	arrive := func(h history, base float64, p network.Piece) {
		seconds, open := m.cost(p)
		if _, ok := m.next(h, p.Arc); open && (ok || p.Length() == 0 && h != nowhere) {
			best = min(best, base+seconds)
		}
	}
	var changed []history
	drive := func(h history, base float64, p network.Piece) {
		seconds, open := m.cost(p)
		after, ok := m.next(h, p.Arc)
		if known, seen := cost[after]; open && ok && (!seen || base+seconds < known) {
			cost[after] = base + seconds
			changed = append(changed, after)
		}
	}
	for _, a := range arcs(from.Edge) {
		drive(nowhere, 0, network.Piece{Arc: a, Start: n.Along(from, a), End: n.Length[from.Edge]})
		if start, end := n.Along(from, a), n.Along(to, a); from.Edge == to.Edge && start <= end {
			arrive(nowhere, 0, network.Piece{Arc: a, Start: start, End: end})
		}
	}
	for len(changed) > 0 {
		h := changed[0]
		changed = changed[1:]
		for _, a := range n.Out(n.Head(h.last[2])) {
			drive(h, cost[h], n.Whole(a))
		}
	}
	for h, base := range cost {
		for _, a := range arcs(to.Edge) {
			if n.Tail(a) == n.Head(h.last[2]) {
				arrive(h, base, network.Piece{Arc: a, End: n.Along(to, a)})
			}
		}
	}
	return best
}

// obeys wants a path that hangs together and breaks no rule.
func (m *maze) obeys(t *rapid.T, n *network.Network, from, to network.Position, p Path) {
	first, last := p.Pieces[0], p.Pieces[len(p.Pieces)-1]
	if first.Arc.Edge() != from.Edge || first.Start != n.Along(from, first.Arc) || last.Arc.Edge() != to.Edge || last.End != n.Along(to, last.Arc) {
		t.Fatalf("%v does not lead from %v to %v", p.Pieces, from, to)
	}
	at, sum := nowhere, 0.0
	for i, piece := range p.Pieces {
		if i > 0 {
			before := p.Pieces[i-1]
			if before.End != n.Length[before.Arc.Edge()] || piece.Start != 0 || n.Head(before.Arc) != n.Tail(piece.Arc) {
				t.Fatalf("%v does not go on from %v", piece, before)
			}
		}
		seconds, open := m.cost(piece)
		if !open {
			t.Fatalf("%v is shut", piece)
		}
		sum += seconds
		if i > 0 && i == len(p.Pieces)-1 && piece.Length() == 0 {
			break // nothing is turned into
		}
		after, ok := m.next(at, piece.Arc)
		if !ok {
			t.Fatalf("%v may not be driven after %v", piece, p.Pieces[:i])
		}
		at = after
	}
	if math.Abs(sum-p.Seconds) > 1e-9*max(1, sum) {
		t.Fatalf("the pieces cost %v, the path says %v", sum, p.Seconds)
	}
}

// check compares the search with the reference and returns its path.
func (m *maze) check(t *rapid.T, n *network.Network, from, to network.Position) Path {
	want := m.reference(n, from, to)
	got, err := Route(context.Background(), n, from, to, m.rules(n))
	if math.IsInf(want, 1) != errors.Is(err, ErrNoRoute) || err != nil && !errors.Is(err, ErrNoRoute) {
		t.Fatalf("%v, the reference says %v", err, want)
	}
	if err != nil {
		return Path{Seconds: math.Inf(1)}
	}
	if math.Abs(got.Seconds-want) > 1e-9*max(1, want) {
		t.Fatalf("%v s by %v, the reference says %v s", got.Seconds, got.Pieces, want)
	}
	m.obeys(t, n, from, to, got)
	return got
}

// more bans a part of a path, so that bans bite, a ban that ends as another
// does, or a way at random.
func (m *maze) more(t *rapid.T, n *network.Network, p Path) {
	if len(m.bans) > 0 && rapid.IntRange(0, 3).Draw(t, "longer") == 0 {
		if old := rapid.SampledFrom(m.bans).Draw(t, "ban"); len(old) < 4 {
			before := rapid.SampledFrom(n.Out(n.Tail(old[0]))).Draw(t, "before").Back()
			longer := append([]network.Arc{before}, old...)
			if len(longer) < 4 { // and on, so that the other one ends within it
				longer = append(longer, rapid.SampledFrom(n.Out(n.Head(longer[len(longer)-1]))).Draw(t, "after"))
			}
			m.bans = append(m.bans, longer)
			return
		}
	}
	arcs := rapid.IntRange(2, 4).Draw(t, "arcs")
	if len(p.Pieces) >= 2 && rapid.IntRange(0, 3).Draw(t, "choice") > 0 {
		arcs = min(arcs, len(p.Pieces))
		start := rapid.IntRange(0, len(p.Pieces)-arcs).Draw(t, "start")
		var ban []network.Arc
		for _, piece := range p.Pieces[start : start+arcs] {
			ban = append(ban, piece.Arc)
		}
		m.bans = append(m.bans, ban)
		return
	}
	ban := []network.Arc{network.Arc(rapid.IntRange(0, 2*n.Edges()-1).Draw(t, "first"))}
	for len(ban) < arcs {
		ban = append(ban, rapid.SampledFrom(n.Out(n.Head(ban[len(ban)-1]))).Draw(t, "next"))
	}
	m.bans = append(m.bans, ban)
}

// With banned turns, local roads and closed directions the search finds what
// the reference finds, and a further ban never makes a way cheaper.
func TestTurnsAgainstHistories(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMaze(t)
		n := m.net(t)
		from, to := position(t, n), position(t, n)
		best := m.check(t, n, from, to)
		for range rapid.IntRange(1, 6).Draw(t, "bans") {
			m.more(t, n, best)
			n = m.net(t)
			with := m.check(t, n, from, to)
			if with.Seconds < best.Seconds-1e-9*best.Seconds {
				t.Fatalf("%d bans cost %v s, one fewer %v s", len(m.bans), with.Seconds, best.Seconds)
			}
			best = with
		}
	})
}

// A road closed, or open only at the ends of a way, never makes one cheaper.
func TestClosingNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMaze(t)
		n := m.net(t)
		from, to := position(t, n), position(t, n)
		best := m.check(t, n, from, to)
		m.more(t, n, best)
		n = m.net(t)
		best = m.check(t, n, from, to)
		for range rapid.IntRange(1, 4).Draw(t, "closures") {
			e := network.EdgeID(rapid.IntRange(0, n.Edges()-1).Draw(t, "closed"))
			if len(best.Pieces) > 0 && rapid.Bool().Draw(t, "on the way") {
				e = rapid.SampledFrom(best.Pieces).Draw(t, "piece").Arc.Edge()
			}
			for _, a := range arcs(e) {
				m.shut[a] = true
			}
			with := m.check(t, n, from, to)
			if with.Seconds < best.Seconds-1e-9*best.Seconds {
				t.Fatalf("with edge %d closed %v s, without %v s", e, with.Seconds, best.Seconds)
			}
			best = with
		}
	})
}

// Only the bans that are named count; without any the way is that of a search
// without turns, unless it turns round.
func TestBansThatDoNotBind(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMaze(t)
		n := m.net(t)
		from, to := position(t, n), position(t, n)
		for range 4 {
			m.more(t, n, m.check(t, n, from, to))
			n = m.net(t)
		}
		binding := rapid.SliceOfN(rapid.Bool(), 4, 4).Draw(t, "binding")
		rules := m.rules(n)
		rules.Banned = func(ban int32) bool { return binding[ban] }
		some := *m
		some.bans = nil
		for i, b := range binding {
			if b {
				some.bans = append(some.bans, m.bans[i])
			}
		}
		want := some.reference(n, from, to)
		got, err := Route(context.Background(), n, from, to, rules)
		if (err != nil) != math.IsInf(want, 1) || err == nil && math.Abs(got.Seconds-want) > 1e-9*max(1, want) {
			t.Fatalf("%v s, %v, the reference says %v s", got.Seconds, err, want)
		}
	})
}

// Local roads count without turns as well, and a way then never turns round
// either.
func TestEndsOnlyWithoutTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMaze(t)
		n := m.net(t)
		from, to := position(t, n), position(t, n)
		rules := m.rules(n)
		rules.Turns, rules.Banned = nil, nil
		want := m.reference(n, from, to)
		got, err := Route(context.Background(), n, from, to, rules)
		if (err != nil) != math.IsInf(want, 1) || err == nil && math.Abs(got.Seconds-want) > 1e-9*max(1, want) {
			t.Fatalf("%v s, %v, the reference says %v s", got.Seconds, err, want)
		}
		if err == nil {
			m.obeys(t, n, from, to, got)
		}
	})
}

// The reference itself, on a case worked out by hand: the block is gone round
// because of the ban, and the local road is no short cut.
func TestRoundTheBlock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := &maze{
			at:   []orb.Point{{-75, 45}, {-74.99, 45}, {-74.98, 45}, {-74.99, 45.01}},
			ends: [][2]int{{0, 1}, {1, 2}, {1, 3}, {3, 2}},
			bans: [][]network.Arc{{network.MakeArc(0, false), network.MakeArc(1, false)}},
			shut: map[network.Arc]bool{}, dear: map[network.Arc]float64{}, local: map[network.EdgeID]bool{},
		}
		for a := range network.Arc(8) {
			m.dear[a] = 1
		}
		n := m.net(t)
		from, to := network.Position{Edge: 0}, network.Position{Edge: 1, Offset: n.Length[1] / 2}
		round := float64(n.Length[0] + n.Length[2] + n.Length[3] + n.Length[1]/2)
		if got := m.check(t, n, from, to); math.Abs(got.Seconds-round) > 1e-6 {
			t.Fatalf("%v, want %v round the block", got, measure.Distance(round))
		}
		m.local[2] = true
		if got := m.check(t, n, from, to); !math.IsInf(got.Seconds, 1) {
			t.Fatalf("through a local road: %v", got)
		}
	})
}
