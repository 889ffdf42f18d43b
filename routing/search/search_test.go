package search

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/data"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/testdata/needs"
	"wayhouse/testdata/roads"
)

func read(t interface{ Fatal(...any) }, raw []byte) *network.Network {
	n, err := network.ReadGeoJSON(raw)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func facts() []string {
	var out []string
	for _, f := range network.AllFacts() {
		out = append(out, string(f))
	}
	return out
}

// random draws a network of a few nodes near 45 N with roads between them,
// parallel ones included.
func random(t *rapid.T) *network.Network {
	count := rapid.IntRange(2, 9).Draw(t, "nodes")
	var nodes []orb.Point
	for i := range count {
		nodes = append(nodes, orb.Point{
			-75 + 0.01*float64(i) + 0.001*float64(rapid.IntRange(0, 9).Draw(t, "x")),
			45 + 0.01*float64(rapid.IntRange(0, 9).Draw(t, "y")),
		})
	}
	var edges []roads.Edge
	for i := 1; i < count; i++ { // every node is an end of a road
		edges = append(edges, edge(t, i, rapid.IntRange(0, i-1).Draw(t, "to")))
	}
	for range rapid.IntRange(0, 12).Draw(t, "more") {
		from := rapid.IntRange(0, count-1).Draw(t, "from")
		to := rapid.IntRange(0, count-1).Draw(t, "to")
		if from != to {
			edges = append(edges, edge(t, from, to))
		}
	}
	return read(t, roads.GeoJSON(nodes, edges, facts()))
}

func edge(t *rapid.T, from, to int) roads.Edge {
	class := rapid.SampledFrom([]string{"freeway", "primary", "secondary", "local connector"}).Draw(t, "class")
	return roads.Edge{From: from, To: to, Class: class, Jurisdiction: "CA-ON"}
}

// wall shuts a position to travel in one direction or both.
type wall struct {
	at    network.Position
	arcs  [2]bool // forward, backward
	extra Millis  // instead of shutting: what passing costs
}

func position(t *rapid.T, n *network.Network) network.Position {
	e := network.EdgeID(rapid.IntRange(0, n.Edges()-1).Draw(t, "edge"))
	part := rapid.SampledFrom([]float64{0, 0.25, 0.5, 1}).Draw(t, "part")
	return network.Position{Edge: e, Offset: n.Length[e] * measure.Distance(part)}
}

func walls(t *rapid.T, n *network.Network) []wall {
	var out []wall
	for range rapid.IntRange(0, 8).Draw(t, "walls") {
		way := rapid.IntRange(1, 3).Draw(t, "way")
		out = append(out, wall{position(t, n), [2]bool{way&1 != 0, way&2 != 0}, Millis(rapid.IntRange(0, 1).Draw(t, "dear")) * 600_000})
	}
	return out
}

func costOf(n *network.Network, ws []wall) cost {
	return func(p network.Piece, _ Millis) (Millis, bool) {
		cost := Millis(n.Millis(p, 0))
		for _, w := range ws {
			direction := 0
			if p.Arc.Reverse() {
				direction = 1
			}
			if !w.arcs[direction] || !n.Covers(p, w.at) {
				continue
			}
			if w.extra == 0 {
				return 0, false
			}
			cost += w.extra
		}
		return cost, true
	}
}

type cost func(network.Piece, Millis) (Millis, bool)

const never = Millis(math.MaxInt64)

// oracle is Bellman and Ford's relaxation over every piece there is: slow and
// with nothing in common with the search but the cost.
func oracle(n *network.Network, from, to network.Position, cost cost) Millis {
	best := never
	dist := make([]Millis, len(n.Node))
	for i := range dist {
		dist[i] = never
	}
	try := func(d *Millis, base Millis, p network.Piece) {
		if step, open := cost(p, 0); open && base != never && base+step < *d {
			*d = base + step
		}
	}
	for _, a := range arcs(from.Edge) {
		try(&dist[n.Head(a)], 0, network.Piece{Arc: a, Start: n.Along(from, a), End: n.Length[from.Edge]})
		if start, end := n.Along(from, a), n.Along(to, a); from.Edge == to.Edge && start <= end {
			try(&best, 0, network.Piece{Arc: a, Start: start, End: end})
		}
	}
	for changed := true; changed; {
		changed = false
		for a := range network.Arc(2 * n.Edges()) {
			before := dist[n.Head(a)]
			try(&dist[n.Head(a)], dist[n.Tail(a)], n.Whole(a))
			changed = changed || dist[n.Head(a)] < before
		}
	}
	for _, a := range arcs(to.Edge) {
		try(&best, dist[n.Tail(a)], network.Piece{Arc: a, End: n.Along(to, a)})
	}
	return best
}

// searches are the ways to search, by name: each must answer the same.
func searches(t interface{ Fatal(...any) }, n *network.Network) map[string]func(context.Context, network.Position, network.Position, Rules) (Path, error) {
	e, err := New(context.Background(), n)
	if err != nil {
		t.Fatal(err)
	}
	return map[string]func(context.Context, network.Position, network.Position, Rules) (Path, error){
		"plain": func(ctx context.Context, from, to network.Position, r Rules) (Path, error) {
			return Plain(ctx, n, from, to, r)
		},
		"engine": func(ctx context.Context, from, to network.Position, r Rules) (Path, error) {
			a, err := e.Route(ctx, from, to, r)
			return a.Path, err
		},
	}
}

// Each search costs what the oracle says, its path costs what the search says,
// and the path hangs together from the start to the target.
func TestRouteIsOptimal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := random(t)
		from, to := position(t, n), position(t, n)
		cost := costOf(n, walls(t, n))
		want := oracle(n, from, to, cost)
		for name, search := range searches(t, n) {
			got, err := search(context.Background(), from, to, Rules{Cost: cost})
			if want == never {
				if !errors.Is(err, ErrNoRoute) {
					t.Fatalf("%s: got %v, %v; the oracle finds no way", name, got, err)
				}
				continue
			}
			if err != nil || got.Cost != want {
				t.Fatalf("%s: got %v ms, %v; the oracle says %v ms", name, got.Cost, err, want)
			}
			checkPath(t, n, from, to, got, cost)
		}
	})
}

func checkPath(t *rapid.T, n *network.Network, from, to network.Position, p Path, cost cost) {
	sum, at := Millis(0), n.Point(from)
	for _, piece := range p.Pieces {
		step, open := cost(piece, 0)
		if !open {
			t.Fatalf("piece %v is shut", piece)
		}
		line := n.Line(piece)
		if gap := geodesic.Between(at, line[0]); gap > 0.01 {
			t.Fatalf("piece %v starts %v away from where the last ended", piece, gap)
		}
		sum, at = sum+step, line[len(line)-1]
	}
	if gap := geodesic.Between(at, n.Point(to)); gap > 0.01 {
		t.Fatalf("the path ends %v away from the target", gap)
	}
	if sum != p.Cost {
		t.Fatalf("pieces cost %v, the path says %v", sum, p.Cost)
	}
}

// The same on real roads: pairs of places with one road in fifty shut.
func TestBundledPairs(t *testing.T) {
	n := bundled(t)
	pairs := 40
	if needs.Long {
		pairs = 1000
	}
	random := rand.New(rand.NewPCG(3, 4))
	place := func() network.Position {
		e := network.EdgeID(random.IntN(n.Edges()))
		return network.Position{Edge: e, Offset: n.Length[e] * measure.Distance(random.Float64())}
	}
	all := searches(t, n)
	for range pairs {
		shut := uint64(random.Uint32())
		cost := func(p network.Piece, _ Millis) (Millis, bool) {
			return Millis(n.Millis(p, 0)), n.Class[p.Arc.Edge()].Water() || (uint64(p.Arc)*2654435761+shut)%50 != 0
		}
		from, to := place(), place()
		want := oracle(n, from, to, cost)
		for name, search := range all {
			got, err := search(context.Background(), from, to, Rules{Cost: cost, Ferries: true})
			if found := err == nil; found == (want == never) || found && got.Cost != want {
				t.Errorf("%s, %v to %v: %v ms, %v; the oracle says %v ms", name, from, to, got.Cost, err, want)
			}
		}
	}
}

// One more wall never makes a way cheaper.
func TestWallsNeverHelp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := random(t)
		from, to := position(t, n), position(t, n)
		ws := walls(t, n)
		for name, search := range searches(t, n) {
			last := Millis(0)
			for k := range len(ws) + 1 {
				p, err := search(context.Background(), from, to, Rules{Cost: costOf(n, ws[:k])})
				if err != nil {
					p.Cost = never
				}
				if p.Cost < last {
					t.Fatalf("%s: %d walls cost %v ms, one fewer costs %v", name, k, p.Cost, last)
				}
				last = p.Cost
			}
		}
	})
}

func TestWithinGivesUp(t *testing.T) {
	n := read(t, roads.GeoJSON([]orb.Point{{-75, 45}, {-75, 45.1}}, []roads.Edge{{From: 0, To: 1, Class: "primary", Jurisdiction: "CA-ON"}}, facts()))
	from, to := network.Position{}, network.Position{Offset: n.Length[0]}
	metres := func(p network.Piece, _ Millis) (Millis, bool) { return Millis(p.Length()), true }
	if _, err := Within(context.Background(), n, from, to, Rules{Cost: metres}, 11_000); !errors.Is(err, ErrNoRoute) {
		t.Errorf("a way of %v was found within 11 km: %v", n.Length[0], err)
	}
	if p, err := Within(context.Background(), n, from, to, Rules{Cost: metres}, 12_000); err != nil || p.Length() != n.Length[0] {
		t.Errorf("got %v, %v", p, err)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	n := bundled(t)
	for name, search := range searches(t, n) {
		cost := func(p network.Piece, _ Millis) (Millis, bool) { return Millis(n.Millis(p, 0)) + 1, true }
		if _, err := search(ctx, network.Position{}, network.Position{Edge: 3000}, Rules{Cost: cost}); !errors.Is(err, context.Canceled) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func bundled(t interface{ Fatal(...any) }) *network.Network {
	raw, err := data.Files.ReadFile("roads/network.wayroads")
	if err != nil {
		t.Fatal(err)
	}
	n, err := network.Read(raw)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// On real roads a way is longer than the great circle and, between towns, at
// most about twice as long: circuity 1.02 to 2.0. Ottawa to Montreal is
// 196.9 km in the source of the bundled roads, by its own line lengths.
func TestCircuity(t *testing.T) {
	n := bundled(t)
	index := network.NewIndex(n)
	cost := func(p network.Piece, _ Millis) (Millis, bool) {
		_, known := n.Speed(p.Arc.Edge())
		return Millis(n.Millis(p, 0)), known
	}
	points := map[string]orb.Point{
		"Ottawa": {-75.69812, 45.41117}, "Montreal": {-73.58781, 45.50884}, "Cornwall": {-74.72815, 45.01809}, "Perth": {-76.24939, 44.90011},
		"Hawkesbury": {-74.61595, 45.60009}, "Sorel": {-73.11327, 46.04178},
	}
	at := map[string]network.Position{}
	for name, p := range points {
		s, err := index.Snap(p, 5000, nil)
		if err != nil {
			t.Fatal(err)
		}
		at[name] = s.Position
	}
	for a := range points {
		for b := range points {
			if a == b {
				continue
			}
			p, err := Plain(context.Background(), n, at[a], at[b], Rules{Cost: cost})
			if err != nil {
				t.Errorf("%s to %s: %v", a, b, err)
				continue
			}
			straight := geodesic.Between(n.Point(at[a]), n.Point(at[b]))
			if ratio := float64(p.Length() / straight); ratio < 1.02 || ratio > 2.0 {
				t.Errorf("%s to %s: %v by road, %v straight, circuity %.3f", a, b, p.Length(), straight, ratio)
			}
		}
	}
	p, err := Plain(context.Background(), n, at["Ottawa"], at["Montreal"], Rules{Cost: cost})
	if err != nil || math.Abs(float64(p.Length())/1000-196.9) > 4 {
		t.Errorf("Ottawa to Montreal: %v, %v", p.Length(), err)
	}
}

func BenchmarkRoute(b *testing.B) {
	n := bundled(b)
	cost := costOf(n, nil)
	for name, search := range searches(b, n) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				to := network.Position{Edge: network.EdgeID((i * 997) % n.Edges())}
				if _, err := search(context.Background(), network.Position{}, to, Rules{Cost: cost, Ferries: true}); err != nil && !errors.Is(err, ErrNoRoute) {
					b.Fatal(err)
				}
			}
		})
	}
}
