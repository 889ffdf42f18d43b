package graph

import (
	"context"
	"errors"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/testdata/cities"
)

// tangle is a small random road graph; all of it is invented.
type tangle struct {
	edges  *Edges
	weight []uint32 // of an arc of the road graph
	open   []bool
	keep   []bool
	part   []bool // of an edge
}

func drawTangle(t *rapid.T) *tangle {
	g := &tangle{edges: &Edges{Nodes: rapid.IntRange(1, 14).Draw(t, "nodes")}}
	node := rapid.Uint32Range(0, uint32(g.edges.Nodes-1))
	for range rapid.IntRange(0, 26).Draw(t, "edges") {
		g.edges.From, g.edges.To = append(g.edges.From, node.Draw(t, "from")), append(g.edges.To, node.Draw(t, "to"))
	}
	for range 2 * len(g.edges.From) {
		g.weight = append(g.weight, rapid.Uint32Range(0, 9).Draw(t, "weight"))
		g.open = append(g.open, rapid.IntRange(0, 9).Draw(t, "open") > 0)
	}
	for range g.edges.Nodes {
		g.keep = append(g.keep, rapid.IntRange(0, 9).Draw(t, "keep") == 0)
	}
	for range g.edges.From {
		g.part = append(g.part, rapid.IntRange(0, 9).Draw(t, "part") == 0)
	}
	g.edges.Part = func(e uint32) bool { return g.part[e] }
	g.edges.Open = func(a uint32) bool { return g.open[a] }
	g.edges.Keep = func(v uint32) bool { return g.keep[v] }
	return g
}

func (g *tangle) core(t *rapid.T) (*Core, []uint32) {
	c, err := Compress(g.edges)
	if err != nil {
		t.Fatal(err)
	}
	weight, err := c.Sum(func(road uint32) uint32 { return g.weight[road] })
	if err != nil {
		t.Fatal(err)
	}
	return c, weight
}

// Every edge that may be driven is in one chain or leads out of one tree; every
// chain hangs together between core nodes; every arc drives its chain; a tree
// leads to what is not one.
func TestCompressLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawTangle(t)
		c, _ := g.core(t)
		trees := map[uint32]bool{}
		for v := range uint32(g.edges.Nodes) {
			core, link, out := c.Where(v)
			switch {
			case out != None:
				trees[out>>1] = true
				if g.edges.Tail(out) != v || g.keep[v] {
					t.Fatalf("node %d leaves its tree by arc %d", v, out)
				}
			case link != None:
				if g.edges.Tail(c.Links[link]) != v || g.keep[v] {
					t.Fatalf("link %d does not start at node %d", link, v)
				}
			case core == None || int(core) >= c.Nodes():
				t.Fatalf("node %d is nowhere", v)
			}
		}
		for e := range uint32(len(g.edges.From)) {
			usable := g.open[2*e] || g.open[2*e+1] || g.part[e]
			inChain := c.Place[e] != None
			if inChain && c.Links[c.Place[e]]>>1 != e || usable != (inChain != trees[e]) || !usable && (inChain || trees[e]) {
				t.Fatalf("edge %d (usable %v) is in a chain: %v, in a tree: %v", e, usable, inChain, trees[e])
			}
		}
		g.checkChains(t, c)
	})
}

func (g *tangle) checkChains(t *rapid.T, c *Core) {
	arcs := map[uint32]bool{}
	for a := range uint32(c.Arcs()) {
		arcs[c.Chain[a]] = true
		at := None
		c.Drive(a, func(road uint32) bool {
			if !g.open[road] || at != None && g.edges.Tail(road) != at {
				t.Fatalf("arc %d drives %d from %d", a, road, at)
			}
			if at == None {
				if core, _, _ := c.Where(g.edges.Tail(road)); core != c.Tail[a] {
					t.Fatalf("arc %d leaves %d, not %d", a, core, c.Tail[a])
				}
			}
			at = g.edges.Head(road)
			return true
		})
		if core, _, _ := c.Where(at); core != c.Head[a] || a < c.First[c.Tail[a]] || a >= c.First[c.Tail[a]+1] {
			t.Fatalf("arc %d reaches %d, not %d, or is out of place", a, core, c.Head[a])
		}
	}
	for i := range uint32(c.Chains()) {
		open := [2]bool{true, true}
		for l := c.ChainFirst[i]; l < c.ChainFirst[i+1]; l++ {
			if c.ChainOf(l) != i {
				t.Fatalf("link %d is in chain %d, not %d", l, i, c.ChainOf(l))
			}
			open[0], open[1] = open[0] && g.open[c.Links[l]], open[1] && g.open[c.Links[l]^1]
		}
		if open[0] != arcs[2*i] || open[1] != arcs[2*i+1] {
			t.Fatalf("chain %d may be driven %v, arcs %v", i, open, arcs)
		}
	}
}

// The least that a hierarchy states is what Dijkstra says, and its way is one
// of that cost: for a hierarchy in its own order, and for one of other weights
// in the same order.
func TestPotentialIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawTangle(t)
		c, weight := g.core(t)
		order, first, err := Build(context.Background(), c, weight, nil)
		if err != nil {
			t.Fatal(err)
		}
		p := NewPotential(order)
		checkPotential(t, c, weight, p, first)
		other := slices.Clone(weight)
		for a := range other {
			other[a] += rapid.Uint32Range(0, 5).Draw(t, "more")
			if rapid.IntRange(0, 9).Draw(t, "closed") == 0 {
				other[a] = Infinite
			}
		}
		second, err := Rebuild(context.Background(), c, other, order, nil)
		if err != nil {
			t.Fatal(err)
		}
		checkPotential(t, c, other, p, second)
	})
}

func checkPotential(t *rapid.T, c *Core, weight []uint32, p *Potential, h *Hierarchy) {
	r := reference{core: c, weight: weight, rules: Rules{Pay: func(_ int, arc, at uint32) uint32 {
		if weight[arc] == Infinite {
			return Infinite
		}
		return 0
	}}}
	targets := []Target{
		{rapid.Uint32Range(0, uint32(c.Nodes()-1)).Draw(t, "to"), rapid.Uint32Range(0, 9).Draw(t, "rest")},
		{rapid.Uint32Range(0, uint32(c.Nodes()-1)).Draw(t, "or"), 3},
	}
	p.Aim(h, targets...)
	for v := range uint32(c.Nodes()) {
		r.seeds, r.goals = []Seed{{State: v}}, nil
		for _, target := range targets {
			r.goals = append(r.goals, Goal{target.Node, target.Rest, func(uint32, int, uint32) uint32 { return target.Rest }})
		}
		want := r.cost()
		if got := p.Least(v); got != want {
			t.Fatalf("from %d to %v: %d, Dijkstra says %d", v, targets, got, want)
		}
		if want == Infinite {
			continue
		}
		arcs, end := p.Way(v, nil)
		sum, at := uint32(0), v
		for _, a := range arcs {
			if c.Tail[a] != at {
				t.Fatalf("%v does not hang together", arcs)
			}
			sum, at = sum+weight[a], c.Head[a]
		}
		i := slices.IndexFunc(targets, func(g Target) bool { return g.Node == end && sum+g.Rest == want })
		if at != end || i < 0 {
			t.Fatalf("%v costs %d and ends at %d; want %d", arcs, sum, at, want)
		}
	}
}

// reference settles states in the order of their cost, without any hierarchy.
type reference struct {
	core   *Core
	weight []uint32
	rules  Rules
	seeds  []Seed
	goals  []Goal
}

func (r *reference) cost() uint32 {
	s := &Search{core: r.core, weight: r.weight, rules: r.rules, layers: uint32(max(r.rules.Layers, 1))}
	best := Infinite
	type key struct {
		state uint32
		layer int
	}
	dist, done := map[key]uint32{}, map[key]bool{}
	for _, seed := range r.seeds {
		k := key{seed.State, seed.Layer}
		if d, ok := dist[k]; !ok || seed.Price < d {
			dist[k] = seed.Price
		}
	}
	for {
		at, least, found := key{}, Infinite, false
		for k, d := range dist {
			if !done[k] && d < least {
				at, least, found = k, d, true
			}
		}
		if !found {
			return best
		}
		done[at] = true
		v := s.node(at.state)
		for _, g := range r.goals {
			if rest := g.Finish(at.state, at.layer, least); g.Node == v && rest < Infinite {
				best = min(best, least+rest)
			}
		}
		for a := r.core.First[v]; a < r.core.First[v+1]; a++ {
			next, l, price := s.step(at.state, at.layer, a, least)
			if k := (key{next, l}); price < Infinite {
				if d, ok := dist[k]; !ok || least+price < d {
					dist[k] = least + price
				}
			}
		}
	}
}

// bans are turns that are banned or cost something, and nobody turns round.
type bans struct {
	core  *Core
	price map[[2]uint32]uint32
}

func (b bans) States() int             { return b.core.Arcs() }
func (b bans) Arc(state uint32) uint32 { return state }
func (b bans) Next(state, arc uint32) (next, price uint32) {
	if b.core.Chain[state] == b.core.Chain[arc]^1 {
		return arc, Infinite
	}
	return arc, b.price[[2]uint32{state, arc}]
}

// A search costs what the reference says and its way costs that, under closed
// and dear arcs, arcs that open at an hour, turns and layers.
func TestSearchIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawTangle(t)
		c, weight := g.core(t)
		if c.Arcs() == 0 {
			return
		}
		order, h, err := Build(context.Background(), c, weight, nil)
		if err != nil {
			t.Fatal(err)
		}
		s := NewSearch(c, order)
		for range 3 { // the same search again: nothing of the last may be left
			rules := drawRules(t, c)
			seeds, goals := drawEnds(t, c, rules)
			want := (&reference{c, weight, rules, seeds, goals}).cost()
			way, err := s.Find(context.Background(), h, weight, rules, seeds, goals)
			if want == Infinite != errors.Is(err, ErrNoWay) || err != nil && !errors.Is(err, ErrNoWay) ||
				err == nil && way.Price != want {
				t.Fatalf("%+v, %v; the reference says %d", way, err, want)
			}
			if err == nil {
				checkWay(t, s, way)
			}
		}
	})
}

func checkWay(t *rapid.T, s *Search, w Way) {
	seed := s.seeds[w.Seed]
	state, layer, at := seed.State, seed.Layer, seed.Price
	for _, a := range w.Arcs {
		if s.core.Tail[a] != s.node(state) {
			t.Fatalf("%v does not hang together", w)
		}
		next, l, price := s.step(state, layer, a, at)
		if price == Infinite {
			t.Fatalf("%v may not be driven", w)
		}
		state, layer, at = next, l, at+price
	}
	if g := s.goals[w.Goal]; g.Node != s.node(state) || at+g.Finish(state, layer, at) != w.Price {
		t.Fatalf("%v costs %d before the goal %d", w, at, w.Goal)
	}
}

func drawRules(t *rapid.T, c *Core) Rules {
	pay, opens, layer := make([]uint32, c.Arcs()), make([]uint32, c.Arcs()), make([]int, c.Arcs())
	for a := range pay {
		pay[a] = rapid.SampledFrom([]uint32{0, 0, 0, 0, 0, 0, 4, Infinite}).Draw(t, "pay")
		opens[a] = rapid.SampledFrom([]uint32{0, 0, 0, 0, 12}).Draw(t, "opens")
		layer[a] = rapid.SampledFrom([]int{0, 0, 0, 0, 1}).Draw(t, "layer")
	}
	toll := rapid.Uint32Range(0, 5).Draw(t, "toll") // of arcs that are entered in layer 1
	r := Rules{Pay: func(l int, arc, at uint32) uint32 {
		if pay[arc] == Infinite {
			return Infinite
		}
		return pay[arc] + max(opens[arc], at) - at + toll*uint32(l)
	}}
	if rapid.Bool().Draw(t, "turns") {
		b := bans{c, map[[2]uint32]uint32{}}
		for range rapid.IntRange(0, 12).Draw(t, "bans") {
			arc := rapid.Uint32Range(0, uint32(c.Arcs()-1))
			b.price[[2]uint32{arc.Draw(t, "a"), arc.Draw(t, "b")}] = rapid.SampledFrom([]uint32{Infinite, 3}).Draw(t, "price")
		}
		r.Turns = b
	}
	if rapid.Bool().Draw(t, "layers") { // a way must use an arc of layer 1, twice not
		r.Layers = 2
		r.Step = func(l int, arc uint32) int {
			switch {
			case layer[arc] == 0:
				return l
			case l == 0:
				return 1
			default:
				return -1
			}
		}
	}
	return r
}

func drawEnds(t *rapid.T, c *Core, r Rules) (seeds []Seed, goals []Goal) {
	states := c.Nodes()
	if r.Turns != nil {
		states = r.Turns.States()
	}
	for range rapid.IntRange(1, 2).Draw(t, "seeds") {
		seeds = append(
			seeds,
			Seed{State: rapid.Uint32Range(0, uint32(states-1)).Draw(t, "seed"), Price: rapid.Uint32Range(0, 9).Draw(t, "price")},
		)
	}
	for range rapid.IntRange(1, 2).Draw(t, "goals") {
		rest, more := rapid.Uint32Range(0, 9).Draw(t, "rest"), rapid.SampledFrom([]uint32{0, 0, 5, Infinite}).Draw(t, "more")
		goals = append(
			goals,
			Goal{rapid.Uint32Range(0, uint32(c.Nodes()-1)).Draw(t, "goal"), rest, func(_ uint32, layer int, _ uint32) uint32 {
				if more == Infinite || r.Layers > 1 && layer != 1 {
					return Infinite
				}
				return rest + more
			}},
		)
	}
	return seeds, goals
}

// A search that may settle little says that it was not finished, and one whose
// context has ended says so.
func TestSearchStops(t *testing.T) {
	c, weight, order, h := ladderCore(t)
	s := NewSearch(c, order)
	shut := func(_ int, arc, at uint32) uint32 { return uint32(arc % 2) }
	seeds, goals := []Seed{{}}, []Goal{{uint32(c.Nodes() - 1), 0, func(uint32, int, uint32) uint32 { return 0 }}}
	if _, err := s.Find(context.Background(), h, weight, Rules{Pay: shut, Budget: 3}, seeds, goals); !errors.Is(
		err,
		ErrNotFinished,
	) {
		t.Errorf("got %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := s.Find(ctx, h, weight, Rules{Pay: shut}, seeds, goals); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// ladderCore is the core of a ladder with 300 rungs.
func ladderCore(t testing.TB) (*Core, []uint32, *Order, *Hierarchy) {
	e := &Edges{Nodes: 600, Open: func(uint32) bool { return true }}
	for i := range uint32(300) {
		e.From, e.To = append(e.From, 2*i), append(e.To, 2*i+1)
		if i > 0 {
			e.From, e.To = append(e.From, 2*i-2, 2*i-1), append(e.To, 2*i, 2*i+1)
		}
	}
	e.Keep = func(uint32) bool { return true }
	c, err := Compress(e)
	if err != nil {
		t.Fatal(err)
	}
	weight, err := c.Sum(func(road uint32) uint32 { return 10 + road%7 })
	if err != nil {
		t.Fatal(err)
	}
	order, h, err := Build(context.Background(), c, weight, nil)
	if err != nil {
		t.Fatal(err)
	}
	return c, weight, order, h
}

// What lies behind a wall is answered by the look back, long before the rest of
// the network has been searched.
func TestWalledOff(t *testing.T) {
	c, weight, order, h := ladderCore(t)
	s := NewSearch(c, order)
	pay := func(_ int, arc, _ uint32) uint32 {
		if c.Head[arc] >= 590 && c.Tail[arc] < 590 {
			return Infinite
		}
		return 0
	}
	way, err := s.Find(
		context.Background(),
		h,
		weight,
		Rules{Pay: pay},
		[]Seed{{}},
		[]Goal{{uint32(c.Nodes() - 1), 0, func(uint32, int, uint32) uint32 { return 0 }}},
	)
	if !errors.Is(err, ErrNoWay) || !way.Probed || way.Settled > 0 {
		t.Errorf("got %+v, %v", way, err)
	}
}

// A search that was used before allocates nothing.
func TestSearchAllocatesNothing(t *testing.T) {
	c, weight, order, h := ladderCore(t)
	s := NewSearch(c, order)
	rules := Rules{Pay: func(_ int, arc, _ uint32) uint32 { return arc % 2 }, Turns: bans{core: c}}
	seeds, goals := []Seed{{}}, []Goal{{uint32(c.Nodes() - 1), 0, func(uint32, int, uint32) uint32 { return 0 }}}
	got := testing.AllocsPerRun(10, func() {
		if _, err := s.Find(context.Background(), h, weight, rules, seeds, goals); err != nil {
			t.Fatal(err)
		}
	})
	if got != 0 {
		t.Errorf("%v allocations", got)
	}
}

// The same core gives the same hierarchy however many processors work on it: files of
// networks are compared byte by byte.
func TestBuildHangsOnNoProcessor(t *testing.T) {
	w := newWorld(t, cities.Plan{Nodes: 5_000, Seed: 3, Hard: true})
	build := func(processors int) (*Order, *Hierarchy, *Hierarchy) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(processors))
		order, h, err := Build(t.Context(), w.core, w.weight, nil)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Rebuild(t.Context(), w.core, w.weight, order, nil)
		if err != nil {
			t.Fatal(err)
		}
		return order, h, again
	}
	order, h, again := build(1)
	for _, n := range []int{2, 3, 7} {
		if o, h1, h2 := build(n); !reflect.DeepEqual(o, order) || !reflect.DeepEqual(h1, h) || !reflect.DeepEqual(h2, again) {
			t.Errorf("%d processors give another hierarchy than one", n)
		}
	}
}
