package search

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"path/filepath"
	"sync"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/testdata/needs"
)

// town is a random network with all that the engine's bounds hang on: speeds,
// ferries, posted heights, chains, dead ends, banned turns. All of it is invented.
type town struct {
	net    *network.Network
	low    map[network.Arc]measure.Length // least height posted over an arc
	opens  map[network.Arc]Millis         // when an arc opens
	dear   map[network.Arc]Millis
	shut   map[network.Arc]bool
	local  map[network.EdgeID]bool
	corner map[[2]network.Arc]Millis
	used   map[network.EdgeID]bool
}

// draws is what a town is drawn with: by rapid, or from a seed for long ones.
type draws interface{ upTo(n int) int }

type byRapid struct{ *rapid.T }

func (r byRapid) upTo(n int) int { return rapid.IntRange(0, n-1).Draw(r.T, "n") }

type bySeed struct{ *rand.Rand }

func (r bySeed) upTo(n int) int { return r.IntN(n) }

func drawTown(t testing.TB, d draws, nodes int) *town {
	w := &town{
		low: map[network.Arc]measure.Length{}, opens: map[network.Arc]Millis{},
		dear: map[network.Arc]Millis{}, shut: map[network.Arc]bool{},
		local: map[network.EdgeID]bool{}, corner: map[[2]network.Arc]Millis{}, used: map[network.EdgeID]bool{},
	}
	b := network.NewBuilder()
	at := make([]orb.Point, nodes)
	for i := range at {
		at[i] = orb.Point{-75 + 0.002*float64(d.upTo(40)), 45 + 0.0001*float64(i)}
		b.Node(at[i])
	}
	for i := 1; i < nodes; i++ { // a tree, mostly of chains
		w.road(t, b, d, at, max(0, i-1-d.upTo(3)), i)
	}
	for range d.upTo(nodes) + nodes/4 {
		w.road(t, b, d, at, d.upTo(nodes), d.upTo(nodes))
	}
	n := b.Graph()
	for range d.upTo(nodes) {
		ban := []network.Arc{network.Arc(d.upTo(2 * n.Edges()))}
		for range 1 + d.upTo(2) {
			out := n.Out(n.Head(ban[len(ban)-1]))
			ban = append(ban, out[d.upTo(len(out))])
		}
		b.Ban(ban, network.Ban{})
	}
	for range 2 * nodes {
		in := network.Arc(d.upTo(2 * n.Edges()))
		out := n.Out(n.Head(in))
		w.corner[[2]network.Arc{in, out[d.upTo(len(out))]}] = Millis(d.upTo(90_000))
	}
	var err error
	if w.net, err = b.Finish(network.About{Name: "a town for tests", Lacks: network.AllFacts()}, nil); err != nil {
		t.Fatal(err)
	}
	return w
}

// road adds a road with what is on it.
func (w *town) road(t testing.TB, b *network.Builder, d draws, at []orb.Point, from, to int) {
	e := network.Edge{
		From: network.NodeID(from), To: network.NodeID(to), Line: []orb.Point{at[from], at[to]},
		Class: network.Primary, Speed: measure.Speed(5 + d.upTo(30)),
	}
	if from == to { // a loop wants a length
		e.Line = []orb.Point{at[from], {at[from][0] + 0.01, at[from][1]}, at[from]}
	}
	if d.upTo(12) == 0 {
		e.Class = network.Ferry
	}
	if d.upTo(12) == 0 {
		e.Road = b.Record(network.Record{Road: network.Road{Flags: network.OnewayAlong}})
	}
	id, err := b.Edge(e)
	if err != nil {
		t.Fatal(err)
	}
	w.local[id], w.used[id] = d.upTo(8) == 0, d.upTo(10) == 0
	for i, a := range arcs(id) {
		w.shut[a] = e.Road != 0 && i == 1 || d.upTo(15) == 0
		w.dear[a] = Millis(max(0, d.upTo(60)-50)) * 30_000
		if d.upTo(10) == 0 {
			w.opens[a] = Millis(d.upTo(1_000_000))
		}
	}
	if d.upTo(4) == 0 {
		w.bridge(b, d, id)
	}
}

// heights are those that bridges of a town are posted with.
var heights = []measure.Length{3500, 3800, 3900, 4100, 4200, 4300, 4500}

// bridge puts a bridge over a road, posted for one direction or both.
func (w *town) bridge(b *network.Builder, d draws, id network.EdgeID) {
	h := heights[d.upTo(len(heights))] * measure.Millimetre
	bound := network.Bound(d.upTo(3))
	record := b.Record(
		network.Record{
			Signs: []network.Sign{{Subject: network.MaxHeight, Bound: bound, State: network.Known, Value: int64(h)}},
		},
	)
	b.Spot(
		network.Spot{
			Edge:   id,
			Offset: b.Length(id) * measure.Distance(d.upTo(5)) / 4,
			Road:   record,
			Kind:   network.RoadBridge,
		},
	)
	for _, a := range arcs(id) {
		if bound.Binds(a.Reverse()) {
			w.low[a] = h
		}
	}
}

func (w *town) position(d draws) network.Position {
	e := network.EdgeID(d.upTo(w.net.Edges()))
	return network.Position{Edge: e, Offset: w.net.Length[e] * measure.Distance(d.upTo(5)) / 4}
}

// rules draws a rig and what it wishes.
func (w *town) rules(d draws) Rules {
	r := Rules{Height: measure.Length(3400+d.upTo(1300)) * measure.Millimetre, Ferries: d.upTo(2) == 0}
	if d.upTo(2) == 0 {
		r.Top = measure.Speed(15+d.upTo(20)) * 1.3
	}
	r.Cost = func(p network.Piece, at Millis) (Millis, bool) {
		if w.shut[p.Arc] || w.tooLow(p, r.Height) || w.net.Class[p.Arc.Edge()].Water() && !r.Ferries {
			return 0, false
		}
		return Millis(w.net.Millis(p, r.Top)) + w.dear[p.Arc] + max(0, w.opens[p.Arc]-at), true
	}
	r.Timed = func(a network.Arc) bool { return w.opens[a] > 0 }
	if d.upTo(2) == 0 {
		r.EndsOnly = func(p network.Piece) bool { return w.local[p.Arc.Edge()] }
	}
	if d.upTo(2) == 0 {
		r.Aside = func(p network.Piece) bool { return w.used[p.Arc.Edge()] || p.Arc.Edge()%5 == 0 }
		r.Rejoin = Millis(d.upTo(100_000))
	}
	if d.upTo(2) == 0 {
		r.Turns, r.Charge = w.net.Turns(), func(q int32) Millis { return []Millis{0, 50_000, Infinite}[q%3] }
	}
	if d.upTo(2) == 0 {
		r.Turn = func(in, on network.Arc) Millis { // only where the core has a node: see network.Prepare
			if math.Abs(w.net.Deflection(in, on)) <= network.SharpTurn {
				return 0
			}
			return w.corner[[2]network.Arc{in, on}]
		}
	}
	for range d.upTo(3) {
		k := network.EdgeID(d.upTo(3))
		r.Uses = append(r.Uses, func(e network.EdgeID) bool { return w.used[e] && e%3 == k })
	}
	return r
}

// tooLow tells whether a piece passes under less than a height.
func (w *town) tooLow(p network.Piece, height measure.Length) bool {
	if low, ok := w.low[p.Arc]; !ok || low >= height {
		return false
	}
	for _, s := range w.net.Spots(p.Arc.Edge()) {
		if w.net.Covers(p, network.Position{Edge: s.Edge, Offset: s.Offset}) {
			return true
		}
	}
	return false
}

// check compares the engine with Dijkstra's search, and drives what it found.
func (w *town) check(
	t interface{ Fatalf(string, ...any) },
	e *Engine,
	from, to network.Position,
	r Rules,
) (found bool) {
	want, errWant := Plain(context.Background(), w.net, from, to, r)
	got, err := e.Route(context.Background(), from, to, r)
	if errors.Is(errWant, ErrNoRoute) != errors.Is(err, ErrNoRoute) || err == nil && got.Cost != want.Cost {
		t.Fatalf(
			"%v to %v: %d ms, %v by %v; Dijkstra says %d ms, %v by %v",
			from,
			to,
			got.Cost,
			err,
			got.Pieces,
			want.Cost,
			errWant,
			want.Pieces,
		)
	}
	if err != nil {
		return false
	}
	c := start()
	for i, p := range got.Pieces {
		var ok bool
		if i == len(got.Pieces)-1 {
			c, ok = r.arrive(c, p)
		} else {
			c, ok = r.drive(c, p)
		}
		if !ok || i > 0 && w.net.Tail(p.Arc) != w.net.Head(got.Pieces[i-1].Arc) {
			t.Fatalf("%v may not be driven, or does not go on: piece %d of %v", p, i, got.Pieces)
		}
	}
	if c.at != got.Cost || !r.done(c.layer) {
		t.Fatalf("%v costs %d, said to be %d", got.Pieces, c.at, got.Cost)
	}
	return true
}

// Whatever the rig and its wishes, the engine costs what Dijkstra's search does.
func TestEngineIsExact(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := byRapid{rt}
		w := drawTown(t, d, 2+d.upTo(14))
		e, err := New(context.Background(), w.net)
		if err != nil {
			rt.Fatal(err)
		}
		for range 3 {
			w.check(rt, e, w.position(d), w.position(d), w.rules(d))
		}
	})
}

// The same on towns that are too large for a search to see whole.
func TestEngineIsExactOnTowns(t *testing.T) {
	pairs := 200
	if needs.Long {
		pairs = 1000
	}
	found := 0
	for seed := range uint64(4) {
		d := bySeed{rand.New(rand.NewPCG(seed, 9))}
		w := drawTown(t, d, 400)
		e, err := New(context.Background(), w.net)
		if err != nil {
			t.Fatal(err)
		}
		for range pairs / 4 {
			if w.check(t, e, w.position(d), w.position(d), w.rules(d)) {
				found++
			}
		}
	}
	if found < pairs/10 {
		t.Errorf("only %d of %d pairs have a way: the towns are shut", found, pairs)
	}
}

// A higher rig never travels cheaper, and a slower one never sooner.
func TestLargerNeverCheaper(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := byRapid{rt}
		w := drawTown(t, d, 2+d.upTo(14))
		e, err := New(context.Background(), w.net)
		if err != nil {
			rt.Fatal(err)
		}
		from, to := w.position(d), w.position(d)
		last := Millis(0)
		for _, h := range heights {
			r := Rules{Height: h * measure.Millimetre}
			r.Cost = func(p network.Piece, _ Millis) (Millis, bool) {
				return Millis(w.net.Millis(p, 0)), !w.shut[p.Arc] && !w.tooLow(p, r.Height) && !w.net.Class[p.Arc.Edge()].Water()
			}
			found, err := e.Route(context.Background(), from, to, r)
			if err != nil {
				found.Cost = never
			}
			if found.Cost < last {
				rt.Fatalf("%v high: %d ms, a lower one takes %d", r.Height, found.Cost, last)
			}
			last = found.Cost
		}
	})
}

// Bounds are never above what a way costs.
func TestBoundsAreBelow(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := byRapid{rt}
		w := drawTown(t, d, 2+d.upTo(14))
		e, err := New(context.Background(), w.net)
		if err != nil {
			rt.Fatal(err)
		}
		at := []network.Position{w.position(d), w.position(d), w.position(d)}
		r := w.rules(d)
		for i, row := range e.Bounds(at, at, r) {
			for k, bound := range row {
				if found, err := e.Route(context.Background(), at[i], at[k], r); err == nil && bound > found.Cost {
					rt.Fatalf("%v to %v: bound %d, the way costs %d", at[i], at[k], bound, found.Cost)
				}
			}
		}
	})
}

// Many searches at once on one file, mapped, answer as one after the other does.
func TestEngineInParallel(t *testing.T) {
	d := bySeed{rand.New(rand.NewPCG(1, 9))}
	w := drawTown(t, d, 300)
	if err := w.net.Prepare(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "town.wayroads")
	if err := w.net.Save(context.Background(), path); err != nil {
		t.Fatal(err)
	}
	mapped, err := network.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer mapped.Close()
	e, err := New(context.Background(), mapped)
	if err != nil {
		t.Fatal(err)
	}
	type asked struct {
		from, to network.Position
		rules    Rules
		want     Millis
	}
	var all []asked
	for range 60 {
		q := asked{w.position(d), w.position(d), w.rules(d), Infinite}
		if q.rules.Turns != nil {
			q.rules.Turns = mapped.Turns()
		}
		if p, err := Plain(context.Background(), w.net, q.from, q.to, q.rules); err == nil {
			q.want = p.Cost
		}
		all = append(all, q)
	}
	var group sync.WaitGroup
	for i := range 4 {
		group.Go(func() {
			for k := range all {
				q := all[(k+15*i)%len(all)]
				got, err := e.Route(context.Background(), q.from, q.to, q.rules)
				if errors.Is(err, ErrNoRoute) {
					got.Cost, err = Infinite, nil
				}
				if err != nil || got.Cost != q.want {
					t.Errorf("%v to %v: %d ms, %v; want %d ms", q.from, q.to, got.Cost, err, q.want)
				}
			}
		})
	}
	group.Wait()
}

// A search that has used up its budget says that it was not finished, not that
// there is no way.
func TestEngineBudget(t *testing.T) {
	d := bySeed{rand.New(rand.NewPCG(2, 9))}
	w := drawTown(t, d, 300)
	e, err := New(context.Background(), w.net)
	if err != nil {
		t.Fatal(err)
	}
	stopped := 0
	for range 60 {
		from, to, r := w.position(d), w.position(d), w.rules(d)
		whole, err := e.Route(context.Background(), from, to, r)
		if err != nil || whole.Settled < 20 {
			continue
		}
		r.Budget = whole.Settled / 2
		if _, err := e.Route(context.Background(), from, to, r); !errors.Is(err, ErrNotFinished) {
			t.Errorf("with %d states of %d: %v", r.Budget, whole.Settled, err)
		}
		stopped++
	}
	if stopped == 0 {
		t.Error("no search was long enough to be stopped")
	}
}
