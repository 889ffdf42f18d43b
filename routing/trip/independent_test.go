package trip

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/graph"
	"gonum.org/v1/gonum/graph/iterator"
	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/testdata/extracts"
	"wayhouse/testdata/needs"
)

// An independent router, Dijkstra's search of gonum.org/v1/gonum, finds the same costs on two extracts. What a road,
// a turn and a sequence cost is asked of the same rules; how states are told apart is worked out here anew.
func TestIndependentRouter(t *testing.T) {
	for _, extract := range []string{extracts.Delaware, andorra} {
		p := plannerOf(t, filepath.Join(extracts.Real(t), extract))
		for i, r := range []Request{rigs()[1], rigs()[3]} {
			pairs, ways := independent(t, p, r, uint64(i))
			t.Logf("%s, rig %d: %d pairs, %d with a way", extract, i, pairs, ways)
			if ways < pairs/10 {
				t.Errorf("%s, rig %d: only %d of %d pairs have a way", extract, i, ways, pairs)
			}
		}
	}
}

// independent compares pairs from a few places.
func independent(t *testing.T, p *Planner, r Request, seed uint64) (pairs, ways int) {
	r.Stops[0].Point, r.Stops[1].Point = p.Network.Node[0], p.Network.Node[1]
	b, err := p.newBuilder(r)
	if err != nil {
		t.Fatal(err)
	}
	rules := b.chooses.Rules(choosing.Terms{})
	judged := rules.Cost
	rules.Cost = func(p network.Piece, _ search.Millis) (search.Millis, bool) { // a clock is not gonum's
		return judged(p, 0)
	}
	rules.Timed = nil
	random := rand.New(rand.NewPCG(seed, 17))
	position := func() network.Position {
		for {
			if e := network.EdgeID(random.IntN(p.Network.Edges())); b.stands.Drivable(e) {
				return network.Position{Edge: e, Offset: p.Network.Length[e] * measure.Distance(0.1+0.8*random.Float64())}
			}
		}
	}
	sources := 2
	if needs.Long {
		sources = 6
	}
	for range sources {
		from := position()
		x := newExpanded(p.Network, rules, from)
		tree := path.DijkstraFrom(simple.Node(0), x)
		for range 75 {
			to := position()
			if to.Edge == from.Edge {
				continue
			}
			want := x.cheapest(tree, to)
			got, err := p.Engine.Route(context.Background(), from, to, rules)
			if errors.Is(err, search.ErrNoRoute) {
				got.Cost, err = search.Infinite, nil
			}
			if err != nil || float64(got.Cost) != want && !(got.Cost == search.Infinite && math.IsInf(want, 1)) {
				t.Fatalf("%v to %v: %d ms, %v; gonum says %v ms", from, to, got.Cost, err, want)
			}
			if pairs++; got.Cost < search.Infinite {
				ways++
			}
		}
	}
	return pairs, ways
}

// expanded is a graph whose nodes are arcs with all that decides how a way may go on, made as they are met. Node 0 is
// the start.
type expanded struct {
	net    *network.Network
	rules  search.Rules
	from   network.Position
	first  map[network.Arc]bool
	begun  map[string]bool    // beginnings of sequences
	whole  map[string][]int32 // sequences
	ids    map[string]int64
	states []expandedState
	at     map[network.NodeID][]int64
	weight map[[2]int64]float64
}

// expandedState is the arcs driven last that begin a sequence, the last arc among them or alone, and the phase of
// roads for the ends: 0 on them since the start, 1 off them, 2 on them until the target, 3 on such as may be left
// again.
type expandedState struct {
	arcs  []network.Arc
	phase int
}

func newExpanded(n *network.Network, rules search.Rules, from network.Position) *expanded {
	x := &expanded{
		net: n, rules: rules, from: from, first: map[network.Arc]bool{}, begun: map[string]bool{},
		whole: map[string][]int32{}, ids: map[string]int64{}, states: []expandedState{{}},
		at: map[network.NodeID][]int64{}, weight: map[[2]int64]float64{},
	}
	for i := range n.Sequences() {
		arcs := n.Sequence(i)
		x.first[arcs[0]] = true
		for k := 1; k < len(arcs); k++ {
			x.begun[fmt.Sprint(arcs[:k])] = true
		}
		x.whole[fmt.Sprint(arcs)] = append(x.whole[fmt.Sprint(arcs)], int32(i))
	}
	return x
}

// on drives a piece from a state; ok is false where it must not be driven.
func (x *expanded) on(s expandedState, p network.Piece) (next expandedState, cost search.Millis, ok bool) {
	if n := len(s.arcs); n > 0 {
		last := s.arcs[n-1]
		if p.Arc == last.Back() {
			return next, 0, false
		}
		cost += x.rules.Turn(last, p.Arc)
	}
	arcs := append(append([]network.Arc{}, s.arcs...), p.Arc)
	next.arcs = arcs[len(arcs)-1:]
	for k := range arcs {
		if !x.first[arcs[k]] {
			continue
		}
		for _, sequence := range x.whole[fmt.Sprint(arcs[k:])] {
			cost += x.rules.Charge(sequence)
		}
		if len(next.arcs) == 1 && x.begun[fmt.Sprint(arcs[k:])] {
			next.arcs = arcs[k:]
		}
	}
	ends := x.rules.EndsOnly(p)
	switch aside := !ends && x.rules.Aside(p); {
	case (ends || aside) && s.phase == 0:
	case aside && s.phase == 2, ends:
		next.phase = 2
	case s.phase == 2:
		return next, 0, false
	case aside:
		next.phase = 3
	case s.phase == 3:
		cost += x.rules.Rejoin
		fallthrough
	default:
		next.phase = 1
	}
	paid, open := x.rules.Cost(p, 0)
	cost += paid
	return next, cost, open && cost < search.Infinite
}

// pieces are what may be driven next from a node.
func (x *expanded) pieces(id int64) (out []network.Piece) {
	if id == 0 {
		for _, a := range []network.Arc{network.MakeArc(x.from.Edge, false), network.MakeArc(x.from.Edge, true)} {
			out = append(out, network.Piece{Arc: a, Start: x.net.Along(x.from, a), End: x.net.Length[x.from.Edge]})
		}
		return out
	}
	arcs := x.states[id].arcs
	for _, a := range x.net.Out(x.net.Head(arcs[len(arcs)-1])) {
		out = append(out, x.net.Whole(a))
	}
	return out
}

// From, Edge and Weight are the graph, for gonum.
func (x *expanded) From(id int64) graph.Nodes {
	var out []graph.Node
	for _, p := range x.pieces(id) {
		if next, cost, ok := x.on(x.states[id], p); ok {
			to := x.id(next)
			x.weight[[2]int64{id, to}] = float64(cost)
			out = append(out, simple.Node(to))
		}
	}
	return iterator.NewOrderedNodes(out)
}

func (x *expanded) id(s expandedState) int64 {
	key := fmt.Sprint(s)
	id, known := x.ids[key]
	if !known {
		id = int64(len(x.states))
		x.ids[key], x.states = id, append(x.states, s)
		head := x.net.Head(s.arcs[len(s.arcs)-1])
		x.at[head] = append(x.at[head], id)
	}
	return id
}

func (x *expanded) Edge(from, to int64) graph.Edge {
	return simple.Edge{F: simple.Node(from), T: simple.Node(to)}
}

func (x *expanded) Weight(from, to int64) (weight float64, ok bool) {
	weight, ok = x.weight[[2]int64{from, to}]
	return weight, ok
}

// cheapest is what the cheapest way to a position costs, infinite where there is none.
func (x *expanded) cheapest(tree path.Shortest, to network.Position) float64 {
	best := math.Inf(1)
	for _, a := range []network.Arc{network.MakeArc(to.Edge, false), network.MakeArc(to.Edge, true)} {
		for _, id := range x.at[x.net.Tail(a)] {
			if _, cost, ok := x.on(x.states[id], network.Piece{Arc: a, End: x.net.Along(to, a)}); ok {
				best = min(best, tree.WeightTo(id)+float64(cost))
			}
		}
	}
	return best
}
