package search

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/routing/graph"
	"wayhouse/routing/network"
)

// maze is a small network with everything that a search keeps to. All of it is
// invented.
type maze struct {
	at    []orb.Point
	ends  [][2]int
	bans  [][]network.Arc
	shut  map[network.Arc]bool    // closed in one direction
	dear  map[network.Arc]Millis  // how many times as dear as it must be
	local map[network.EdgeID]bool // only at the ends of a way
	aside map[network.EdgeID]bool // in between at a price

	built *network.Network // the last that was made of it
}

func drawMaze(t *rapid.T) *maze {
	m := &maze{
		shut: map[network.Arc]bool{}, dear: map[network.Arc]Millis{}, local: map[network.EdgeID]bool{},
		aside: map[network.EdgeID]bool{},
	}
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
		m.local[e], m.aside[e] = tenth.Draw(t, "local") < 2, tenth.Draw(t, "aside") < 2
		for _, a := range arcs(e) {
			m.shut[a] = tenth.Draw(t, "shut") < 1
			m.dear[a] = Millis(rapid.IntRange(1, 5).Draw(t, "dear"))
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
		edge := network.Edge{
			From: network.NodeID(e[0]), To: network.NodeID(e[1]), Line: []orb.Point{from, middle, to}, Class: network.Primary,
		}
		if _, err := b.Edge(edge); err != nil {
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
	m.built = n
	return n
}

func (m *maze) cost(p network.Piece, _ Millis) (Millis, bool) {
	return m.dear[p.Arc] * Millis(m.built.Millis(p, 0)), !m.shut[p.Arc]
}

func (m *maze) rules(n *network.Network) Rules {
	return Rules{
		Cost: m.cost, EndsOnly: func(p network.Piece) bool { return m.local[p.Arc.Edge()] },
		Aside: func(p network.Piece) bool { return m.aside[p.Arc.Edge()] }, Rejoin: rejoin,
		Turns: n.Turns(), Charge: func(sequence int32) Millis {
			return Infinite * Millis(min(1, max(0, n.Bans()-int(sequence))))
		},
	}
}

// history is where a way stands for the reference: its last arcs, as many as a
// ban can ask for, and how far it has come through local roads.
type history struct {
	last  [3]network.Arc // the newest last, noArc where there was none
	phase int            // 0: local roads so far, 1: others since, 2: local ones again, 3: only roads aside since
}

// rejoin is what it costs to leave roads aside in between.
const rejoin Millis = 40_000

var nowhere = history{last: [3]network.Arc{noArc, noArc, noArc}}

// next drives one more arc and returns what is paid beside it; ok is false where a ban, a
// turn round or a local road forbids it.
func (m *maze) next(h history, a network.Arc) (after history, paid Millis, ok bool) {
	if h.last[2] == a.Back() {
		return h, 0, false
	}
	driven := append(slices.Clone(h.last[:]), a)
	for _, ban := range m.bans {
		if slices.Equal(driven[len(driven)-len(ban):], ban) {
			return h, 0, false
		}
	}
	local := m.local[a.Edge()]
	aside := m.aside[a.Edge()] && !local
	switch h.phase {
	case 0:
		if !local && !aside {
			h.phase = 1
		}
	case 2:
		if !local && !aside {
			return h, 0, false
		}
	default:
		before := h.phase
		if h.phase = 1; local {
			h.phase = 2
		} else if aside {
			h.phase = 3
		} else if before == 3 {
			paid = rejoin
		}
	}
	copy(h.last[:], driven[1:])
	return h, paid, true
}

// reference is the cost of the cheapest way, found by driving on from every
// history until none gets cheaper. A way that starts where an edge ends counts
// as having come along that edge; one that ends where an edge starts does not
// turn into it.
func (m *maze) reference(n *network.Network, from, to network.Position) Millis {
	best, cost := never, map[history]Millis{}
	arrive := func(h history, base Millis, p network.Piece) {
		price, open := m.cost(p, 0)
		_, paid, ok := m.next(h, p.Arc)
		switch { // what has no length is not turned into
		case open && p.Length() == 0 && h != nowhere:
			best = min(best, base+price)
		case open && ok:
			best = min(best, base+paid+price)
		}
	}
	var changed []history
	drive := func(h history, base Millis, p network.Piece) {
		price, open := m.cost(p, 0)
		after, paid, ok := m.next(h, p.Arc)
		if known, seen := cost[after]; open && ok && (!seen || base+paid+price < known) {
			cost[after] = base + paid + price
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
	if first.Arc.Edge() != from.Edge || first.Start != n.Along(from, first.Arc) || last.Arc.Edge() != to.Edge ||
		last.End != n.Along(to, last.Arc) {
		t.Fatalf("%v does not lead from %v to %v", p.Pieces, from, to)
	}
	at, sum := nowhere, Millis(0)
	for i, piece := range p.Pieces {
		if i > 0 {
			before := p.Pieces[i-1]
			if before.End != n.Length[before.Arc.Edge()] || piece.Start != 0 || n.Head(before.Arc) != n.Tail(piece.Arc) {
				t.Fatalf("%v does not go on from %v", piece, before)
			}
		}
		price, open := m.cost(piece, 0)
		if !open {
			t.Fatalf("%v is shut", piece)
		}
		sum += price
		if i > 0 && i == len(p.Pieces)-1 && piece.Length() == 0 {
			break // nothing is turned into
		}
		after, paid, ok := m.next(at, piece.Arc)
		if !ok {
			t.Fatalf("%v may not be driven after %v", piece, p.Pieces[:i])
		}
		at, sum = after, sum+paid
	}
	if sum != p.Cost {
		t.Fatalf("the pieces cost %v, the path says %v", sum, p.Cost)
	}
}

// check compares every search with the reference and returns a path.
func (m *maze) check(t *rapid.T, n *network.Network, from, to network.Position) Path {
	return m.compare(t, n, from, to, m.reference(n, from, to), m.rules(n))
}

func (m *maze) compare(
	t *rapid.T,
	n *network.Network,
	from, to network.Position,
	want Millis,
	rules Rules,
) (path Path) {
	for name, search := range searches(t, n) {
		got, err := search(context.Background(), from, to, rules)
		if (want == never) != errors.Is(err, ErrNoRoute) || err != nil && !errors.Is(err, ErrNoRoute) {
			t.Fatalf("%s: %v, the reference says %v", name, err, want)
		}
		if err != nil {
			path = Path{Cost: never}
			continue
		}
		if got.Cost != want {
			t.Fatalf("%s: %v ms by %v, the reference says %v ms", name, got.Cost, got.Pieces, want)
		}
		m.obeys(t, n, from, to, got)
		path = got
	}
	return path
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
			if with.Cost < best.Cost {
				t.Fatalf("%d bans cost %v ms, one fewer %v ms", len(m.bans), with.Cost, best.Cost)
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
			if with.Cost < best.Cost {
				t.Fatalf("with edge %d closed %v ms, without %v ms", e, with.Cost, best.Cost)
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
		rules.Charge = func(sequence int32) Millis {
			if int(sequence) < len(binding) && binding[sequence] {
				return Infinite
			}
			return 0
		}
		some := *m
		some.bans = nil
		for i, b := range binding {
			if b {
				some.bans = append(some.bans, m.bans[i])
			}
		}
		some.compare(t, n, from, to, some.reference(n, from, to), rules)
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
		rules.Turns, rules.Charge = nil, nil
		m.compare(t, n, from, to, m.reference(n, from, to), rules)
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
			shut: map[network.Arc]bool{}, dear: map[network.Arc]Millis{}, local: map[network.EdgeID]bool{},
			aside: map[network.EdgeID]bool{2: true},
		}
		for a := range network.Arc(8) {
			m.dear[a] = 1
		}
		n := m.net(t)
		from, to := network.Position{Edge: 0}, network.Position{Edge: 1, Offset: n.Length[1] / 2}
		round := n.Length[0] + n.Length[2] + n.Length[3] + n.Length[1]/2
		if got := m.check(t, n, from, to); math.Abs(float64(got.Length()-round)) > 1e-6 {
			t.Fatalf("%v, want %v round the block", got, round)
		}
		if got := m.check(t, n, from, to); got.Cost < rejoin {
			t.Fatalf("leaving a road aside costs nothing: %v", got)
		}
		m.local[2] = true
		if got := m.check(t, n, from, to); got.Cost != never {
			t.Fatalf("through a local road: %v", got)
		}
	})
}

// The core arc that drives a road is found as by looking at every one of them.
func TestDriving(t *testing.T) {
	outer := t
	rapid.Check(t, func(t *rapid.T) {
		n := drawTown(outer, byRapid{t}, 30).net
		e, err := New(context.Background(), n)
		if err != nil {
			t.Fatal(err)
		}
		want := map[network.Arc]uint32{}
		for a := range uint32(e.prepared.Core.Arcs()) {
			e.prepared.Core.Drive(a, func(road uint32) bool {
				want[network.Arc(road)] = a
				return true
			})
		}
		for road := range network.Arc(2 * n.Edges()) {
			a, driven := want[road]
			if got := e.driving(road); got != a && driven || !driven && got != graph.None {
				t.Fatalf("arc %d is driven by core arc %d, want %d, %v", road, got, a, driven)
			}
		}
	})
}
