package network_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/graph"
	"wayhouse/routing/network"
)

// The town is invented; north is up, and nothing is drawn to scale. R, S and T
// are a ring that no road leads to. X marks what is closed to everyone.
//
//	        t2  t3
//	          \ /
//	           t1
//	           |
//	A ---i1----i2----- B      R
//	|               / | \    / \
//	|             /   |  k  S - T
//	|           /     |   X
//	D ~~~~~~~ C ------+---- D is drawn once more: k leads there
//
// A to B is a freeway, B to C a one-way street, C to D runs under a bridge of
// 4.00 m, D to A is a road, A to C a street, B to D a ferry, B to k to D has a
// block, C to D has a private road beside it, and C a loop.
const (
	townA = iota
	townB
	townC
	townD
	townI1
	townI2
	townT1
	townT2
	townT3
	townK
	townR
	townS
	townT
	townNodes
)

// The edges of the town.
const (
	edgeAI1 = iota
	edgeI1I2
	edgeI2B
	edgeBC     // one-way
	edgeCD     // below a bridge
	edgeDA     // driven first in a ban
	edgeAC     // driven second
	edgeBD     // the ferry
	edgeBK     // open as far as k
	edgeKD     // blocked in the middle
	edgeClosed // from C to D, closed to everyone
	edgeLoop   // at C
	edgeI2T1
	edgeT1T2
	edgeT1T3
	edgeRS
	edgeST
	edgeTR
	townEdges
)

// townPoints are where the nodes lie, in thousandths of a degree from 45 N 75 W.
var townPoints = [townNodes]orb.Point{
	townA: {0, 0}, townI1: {3, 0}, townI2: {6, 0}, townB: {9, 0}, townC: {7, -6}, townD: {0, -6},
	townT1: {6, 2}, townT2: {5, 3}, townT3: {8, 3}, townK: {12, -3}, townR: {20, 0}, townS: {19, -2}, townT: {22, -2},
}

// townRoads says what is special of the edges; others are streets of 10 m/s.
func townRoads(b *network.Builder) [townEdges]network.Edge {
	bare := func(from, to network.NodeID) network.Edge {
		return network.Edge{From: from, To: to, Class: network.Residential, Speed: 10, Jurisdictions: []string{"CA-ON"}}
	}
	with := func(e network.Edge, change func(e *network.Edge)) network.Edge { change(&e); return e }
	freeway := func(e *network.Edge) { e.Class, e.Speed = network.Freeway, 30 }
	oneway := b.Record(network.Record{Road: network.Road{Flags: network.OnewayAlong}})
	shut := b.Record(network.Record{Signs: []network.Sign{{Subject: network.Access, For: network.Everyone, Word: network.Refused}}})
	return [townEdges]network.Edge{
		edgeAI1: with(bare(townA, townI1), freeway), edgeI1I2: with(bare(townI2, townI1), freeway), edgeI2B: with(bare(townI2, townB), freeway),
		edgeBC: with(bare(townB, townC), func(e *network.Edge) { e.Road = oneway }),
		edgeCD: bare(townC, townD), edgeDA: bare(townD, townA), edgeAC: bare(townA, townC),
		edgeBD: with(bare(townB, townD), func(e *network.Edge) { e.Class, e.Speed = network.Ferry, 4 }),
		edgeBK: bare(townB, townK), edgeKD: bare(townK, townD),
		edgeClosed: with(bare(townC, townD), func(e *network.Edge) { e.Road, e.Line = shut, []orb.Point{{-74.996, 44.992}} }),
		edgeLoop:   with(bare(townC, townC), func(e *network.Edge) { e.Line = []orb.Point{{-74.992, 44.992}, {-74.991, 44.993}} }),
		edgeI2T1:   bare(townI2, townT1), edgeT1T2: bare(townT1, townT2), edgeT1T3: bare(townT3, townT1),
		edgeRS: bare(townR, townS), edgeST: bare(townS, townT), edgeTR: bare(townT, townR),
	}
}

// town builds the town, not prepared yet. Between where the ferry lands and the
// road beside it, every edge is straight.
func town(t testing.TB) *network.Network {
	t.Helper()
	b := network.NewBuilder()
	at := townPoints
	for i, p := range at {
		at[i] = orb.Point{-75 + p[0]/1000, 45 + p[1]/1000}
		b.Node(at[i])
	}
	for _, e := range townRoads(b) {
		e.Line = append(append([]orb.Point{at[e.From]}, e.Line...), at[e.To])
		if _, err := b.Edge(e); err != nil {
			t.Fatal(err)
		}
	}
	low := b.Record(network.Record{Signs: []network.Sign{{Subject: network.MaxHeight, State: network.Known, Value: int64(4 * measure.Metre)}}})
	b.Spot(network.Spot{Edge: edgeCD, Offset: b.Length(edgeCD) / 2, OSM: 1, Road: low, Kind: network.RailBridge})
	b.Spot(network.Spot{Edge: edgeKD, Offset: b.Length(edgeKD) / 2, OSM: 2, Kind: network.Blocked, OnNode: 1, Own: 1})
	b.Ban([]network.Arc{network.MakeArc(edgeDA, false), network.MakeArc(edgeAC, false)}, network.Ban{OSM: 1, For: network.Vehicles})
	n, err := b.Finish(lacking(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// prepared prepares a network.
func prepared(t testing.TB, n *network.Network) *network.Network {
	t.Helper()
	if err := n.Prepare(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	return n
}

// Junctions are core nodes, and so is one node of a ring. Nodes in between are
// inside a chain, also where nobody may drive all of it, and dead ends lead out
// by the road that they hang on.
func TestPrepareCompresses(t *testing.T) {
	core := &prepared(t, town(t)).Prepared().Core
	for node, want := range [townNodes]string{
		townA: "core", townB: "core", townC: "core", townD: "core", townI1: "inner", townI2: "inner", townK: "inner",
		townT1: fmt.Sprint("out by ", network.MakeArc(edgeI2T1, true)), townT2: fmt.Sprint("out by ", network.MakeArc(edgeT1T2, true)),
		townT3: fmt.Sprint("out by ", network.MakeArc(edgeT1T3, false)), townR: "core", townS: "inner", townT: "inner",
	} {
		got := "core"
		switch _, link, out := core.Where(uint32(node)); {
		case link != graph.None:
			got = "inner"
		case out != graph.None:
			got = fmt.Sprint("out by ", network.Arc(out))
		}
		if got != want {
			t.Errorf("node %d: %s, want %s", node, got, want)
		}
	}
}

// driven lists the edges that each core arc drives, as words.
func driven(core *graph.Core) []string {
	var out []string
	for a := range uint32(core.Arcs()) {
		way := []network.Arc{}
		core.Drive(a, func(road uint32) bool { way = append(way, network.Arc(road)); return true })
		out = append(out, fmt.Sprint(way))
	}
	slices.Sort(out)
	return out
}

// There is an arc for each direction in which all of a chain may be driven:
// none along the block, none along the closed road, one along the one-way.
func TestPrepareKeepsWhatIsOpen(t *testing.T) {
	along, against := func(e network.EdgeID) network.Arc { return network.MakeArc(e, false) }, func(e network.EdgeID) network.Arc { return network.MakeArc(e, true) }
	var want []string
	for _, way := range [][]network.Arc{
		{along(edgeAI1), against(edgeI1I2), along(edgeI2B)}, {against(edgeI2B), along(edgeI1I2), against(edgeAI1)},
		{along(edgeBC)}, {along(edgeCD)}, {against(edgeCD)}, {along(edgeDA)}, {against(edgeDA)}, {along(edgeAC)}, {against(edgeAC)},
		{along(edgeBD)}, {against(edgeBD)}, {along(edgeLoop)}, {against(edgeLoop)},
		{along(edgeRS), along(edgeST), along(edgeTR)}, {against(edgeTR), against(edgeST), against(edgeRS)},
	} {
		want = append(want, fmt.Sprint(way))
	}
	slices.Sort(want)
	if diff := cmp.Diff(want, driven(&prepared(t, town(t)).Prepared().Core)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// The first bucket holds every rig; a rig without a top speed may be fast, and
// one of an unknown height, 0, may be low.
func TestBucketHolds(t *testing.T) {
	const kmh, mm = measure.KilometrePerHour, measure.Millimetre
	all := network.Bucket{Ferries: true}
	slow, high := network.Bucket{Top: 90 * kmh}, network.Bucket{Floor: 4100 * mm}
	for _, tc := range []struct {
		name    string
		bucket  network.Bucket
		top     measure.Speed
		height  measure.Length
		ferries bool
		want    bool
	}{
		{"all, nothing known", all, 0, 0, false, true},
		{"all, by ferry", all, 0, 0, true, true},
		{"all, slow and high", all, 50 * kmh, 5000 * mm, true, true},
		{"no ferries, by ferry", network.Bucket{}, 0, 0, true, false},
		{"no ferries, by road", network.Bucket{}, 0, 0, false, true},
		{"slow, no top speed", slow, 0, 0, false, false},
		{"slow, as fast", slow, 90 * kmh, 0, false, true},
		{"slow, slower", slow, 80 * kmh, 0, false, true},
		{"slow, a little faster", slow, math.Nextafter(float64(90*kmh), 99), 0, false, false},
		{"high, height not known", high, 0, 0, false, false},
		{"high, as high", high, 0, 4100 * mm, false, true},
		{"high, higher", high, 0, 4200 * mm, false, true},
		{"high, a little lower", high, 0, 4100*mm - 1, false, false},
	} {
		if got := tc.bucket.Holds(tc.top, tc.height, tc.ferries); got != tc.want {
			t.Errorf("%s: %t, want %t", tc.name, got, tc.want)
		}
	}
}

// The buckets are part of the format. The widest comes first, so that the last
// that holds a rig is the tightest.
func TestBuckets(t *testing.T) {
	const kmh, mm = measure.KilometrePerHour, measure.Millimetre
	want := []network.Bucket{
		{Ferries: true},
		{}, {Floor: 3800 * mm}, {Floor: 4100 * mm}, {Floor: 4300 * mm},
		{Top: 90 * kmh}, {Top: 90 * kmh, Floor: 3800 * mm}, {Top: 90 * kmh, Floor: 4100 * mm}, {Top: 90 * kmh, Floor: 4300 * mm},
	}
	if diff := cmp.Diff(want, network.Buckets()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	weights := prepared(t, town(t)).Prepared().Weight
	for i, b := range network.Buckets() {
		if top := network.TopOf(b); top < 0 || top >= len(weights) {
			t.Errorf("bucket %d has weights %d of %d", i, top, len(weights))
		}
		if b.Holds(0, 0, true) != (i == 0) {
			t.Errorf("bucket %d holds a rig of which nothing is known", i)
		}
	}
}

// lowOver returns the least height that is stated over an arc, looked up here
// once more and in another way than Prepare does.
func lowOver(n *network.Network, a network.Arc) measure.Length {
	least := measure.Length(math.MaxInt64)
	for _, s := range n.Spots(a.Edge()) {
		for _, sign := range n.Record(s.Road).Signs {
			bound := sign.Bound == network.BothWays || a.Reverse() == (sign.Bound == network.Against)
			if s.Kind.Overhead() && sign.Subject.Height() && sign.State == network.Known && bound {
				least = min(least, measure.Length(sign.Value))
			}
		}
	}
	return least
}

// mayNot tells whether a core arc has a ferry that the rigs of a bucket do not
// take, or something over it that is lower than all of them.
func mayNot(n *network.Network, b network.Bucket, arc uint32) (not bool) {
	n.Prepared().Core.Drive(arc, func(road uint32) bool {
		a := network.Arc(road)
		not = not || n.Class[a.Edge()].Water() && !b.Ferries || lowOver(n, a) < b.Floor
		return true
	})
	return not
}

// direct returns what a hierarchy says that it takes to drive from one core node
// to another without one of a higher rank between, Infinite where it cannot be.
func direct(p *network.Prepared, bucket int, from, to uint32) uint32 {
	h, r, s := &p.Hierarchies[bucket], p.Order.Rank[from], p.Order.Rank[to]
	hops := h.Up[h.UpFirst[r]:h.UpFirst[r+1]]
	if r > s {
		hops, s = h.Down[h.DownFirst[s]:h.DownFirst[s+1]], r
	}
	for _, hop := range hops {
		if hop.To == s {
			return hop.Weight
		}
	}
	return graph.Infinite
}

// wayThrough adds up the arcs of a core that a bucket may drive, by Dijkstra's
// rule and without a queue: from one node to all.
func wayThrough(n *network.Network, b network.Bucket, from uint32) []uint32 {
	p := n.Prepared()
	out := slices.Repeat([]uint32{graph.Infinite}, p.Core.Nodes())
	out[from] = 0
	for again := true; again; {
		again = false
		for a, w := range p.Weight[network.TopOf(b)] {
			tail, head := p.Core.Tail[a], p.Core.Head[a]
			if out[tail] < graph.Infinite && out[tail]+w < out[head] && !mayNot(n, b, uint32(a)) {
				out[head], again = out[tail]+w, true
			}
		}
	}
	return out
}

// No bucket closes an arc that one of its rigs may drive, or a search would miss
// a way; and each closes what none of its rigs may drive, for it would be of
// little use. Between any two nodes, what a hierarchy says is what the arcs that
// may be driven take.
func TestBucketsCloseWhatNobodyMayDrive(t *testing.T) {
	for name, n := range map[string]*network.Network{"town": prepared(t, town(t)), "small": small(t)} {
		p := n.Prepared()
		far := graph.NewPotential(&p.Order)
		for i, b := range network.Buckets() {
			closed := 0
			for a := range uint32(p.Core.Arcs()) {
				tail, head := p.Core.Tail[a], p.Core.Head[a]
				switch open := direct(p, i, tail, head) <= p.Weight[network.TopOf(b)][a]; {
				case mayNot(n, b, a):
					closed++
				case tail != head && !open:
					t.Errorf("%s, bucket %d: arc %d is closed, though it may be driven", name, i, a)
				}
			}
			if want := i > 0; (closed > 0) != want {
				t.Errorf("%s, bucket %d: %d arcs are closed, this test wants some where there are no ferries", name, i, closed)
			}
			for to := range uint32(p.Core.Nodes()) {
				far.Aim(&p.Hierarchies[i], graph.Target{Node: to})
				for from := range uint32(p.Core.Nodes()) {
					if got, want := far.Least(from), wayThrough(n, b, from)[to]; got != want {
						t.Errorf("%s, bucket %d: %d to %d takes %d ms, want %d", name, i, from, to, got, want)
					}
				}
			}
		}
	}
}

// The floors tell the low bridge of 4.00 m apart: what is higher goes by A, a
// street of 1.3 times the length.
func TestFloorsGoRoundALowBridge(t *testing.T) {
	p := prepared(t, town(t)).Prepared()
	c, _, _ := p.Core.Where(townC)
	d, _, _ := p.Core.Where(townD)
	for i, b := range network.Buckets() {
		got := direct(p, i, c, d)
		below := slices.Contains(p.Weight[network.TopOf(b)], got) && got < graph.Infinite
		if want := b.Floor <= 4*measure.Metre; below != want {
			t.Errorf("bucket %d, floor %s: C to D takes %d ms, one arc: %t, want %t", i, b.Floor, got, below, want)
		}
	}
}

// The same network prepared again gives the same bytes, and so does one that was
// prepared before; a revision does not hang on it.
func TestPrepareIsReproducible(t *testing.T) {
	for name, make := range map[string]func() *network.Network{
		"town": func() *network.Network { return town(t) }, "grid": func() *network.Network { return grid(t, 400) },
	} {
		bare := make()
		n := prepared(t, make())
		first := write(t, n)
		dirtyHeap()
		if again := write(t, prepared(t, make())); !bytes.Equal(again, first) {
			t.Errorf("%s: prepared again, the file has other bytes", name)
		}
		if again := write(t, prepared(t, n)); !bytes.Equal(again, first) {
			t.Errorf("%s: prepared twice, the file has other bytes", name)
		}
		if again := write(t, prepared(t, readFile(t, write(t, bare)))); !bytes.Equal(again, first) {
			t.Errorf("%s: read and then prepared, the file has other bytes", name)
		}
		if n.About.Revision != bare.About.Revision {
			t.Errorf("%s: prepared, it has revision %s, not %s", name, n.About.Revision, bare.About.Revision)
		}
	}
}

// Who cancels gets a network that is as it was, wherever it stopped.
func TestPrepareCancelled(t *testing.T) {
	n := grid(t, 12_000) // so many nodes that the context is asked within a hierarchy, too
	places := 0
	for left := 0; ; left += 1 + left/2 { // closer together at the beginning
		ctx := &expiring{Context: context.Background(), left: left}
		err := n.Prepare(ctx, nil)
		if err == nil {
			break
		}
		if places++; !errors.Is(err, context.Canceled) {
			t.Errorf("after %d checks of the context: %v", left, err)
		}
		if n.Prepared() != nil {
			t.Fatalf("after %d checks of the context, it is prepared", left)
		}
	}
	if places < 3 || n.Prepared() == nil {
		t.Errorf("cancelled at %d places", places)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for name, n := range samples(t) {
		before := n.Prepared()
		if err := n.Prepare(ctx, nil); !errors.Is(err, context.Canceled) || n.Prepared() != before {
			t.Errorf("%s: %v, want it cancelled and the network as it was", name, err)
		}
	}
}

// Progress never falls and ends at no more than all.
func TestPrepareProgress(t *testing.T) {
	last, total, heard := int64(0), int64(0), 0
	err := grid(t, 12_000).Prepare(context.Background(), func(done, all int64) {
		if heard++; done < last || done > all || total != 0 && all != total {
			t.Errorf("%d of %d after %d of %d", done, all, last, total)
		}
		last, total = done, all
	})
	if err != nil || heard < len(network.Buckets()) || last < total/2 {
		t.Errorf("heard %d times, the last %d of %d: %v", heard, last, total, err)
	}
}

// A road that takes longer than a search can count, 24.8 days, is an error and
// no short road.
func TestPrepareRefusesWhatTakesTooLong(t *testing.T) {
	b := network.NewBuilder()
	from, to := orb.Point{-75, 45}, orb.Point{-75.01, 45}
	b.Node(from)
	b.Node(to)
	for range 2 { // two, or they would be a dead end, which has no weight
		if _, err := b.Edge(network.Edge{From: 0, To: 1, Line: []orb.Point{from, {-75, 45.01}, to}, Class: network.Ferry, Speed: 1e-4}); err != nil {
			t.Fatal(err)
		}
	}
	b.Edge(network.Edge{From: 0, To: 0, Line: []orb.Point{from, to, from}, Class: network.Residential})
	n, err := b.Finish(lacking(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := n.Prepare(context.Background(), nil); err != nil {
		t.Errorf("one edge is cut off at the greatest time, not refused: %v", err)
	}
}

func TestMillis(t *testing.T) {
	n := small(t)
	const kmh = measure.KilometrePerHour
	for _, tc := range []struct {
		name string
		edge network.EdgeID
		top  measure.Speed
		want float64 // m/s
	}{
		{"as fast as the road", 2, 0, 25},
		{"slower than the road", 2, 10, 10},
		{"faster than the road", 2, 90 * kmh, 25},
		{"no speed known", 1, 0, 10 / 3.6},
		{"no speed known, slower still", 1, 1, 1},
		{"a ferry", 4, 0, 3},
	} {
		piece := n.Whole(network.MakeArc(tc.edge, true))
		want := uint32(1000 * float64(n.Length[tc.edge]) / tc.want)
		if got := n.Millis(piece, tc.top); got != want || want == 0 {
			t.Errorf("%s: %d ms, want %d", tc.name, got, want)
		}
		piece.Start = piece.End / 2
		if got := n.Millis(piece, tc.top); got < want/2-1 || got > want/2+1 {
			t.Errorf("%s: half of it takes %d ms, the whole %d", tc.name, got, want)
		}
	}
}

// crossing builds a junction at the origin: one road from the south, and others
// that leave it in directions given in degrees from north, clockwise. At 30 N a
// degree of longitude is shorter, which must not show.
func crossing(t *testing.T, directions ...float64) *network.Network {
	t.Helper()
	b := network.NewBuilder()
	at := orb.Point{179.9995, 30}
	b.Node(at)
	for i, d := range append([]float64{180}, directions...) {
		const far = 0.001
		to := orb.Point{at[0] + far*math.Sin(d*math.Pi/180)/math.Cos(30*math.Pi/180), at[1] + far*math.Cos(d*math.Pi/180)}
		if to[0] > 180 {
			to[0] -= 360
		}
		node := b.Node(to)
		e := network.Edge{From: 0, To: node, Line: []orb.Point{at, to}, Class: network.Residential, Speed: 10}
		if i%2 == 0 { // lines run either way
			e.From, e.To, e.Line = node, 0, []orb.Point{to, at}
		}
		if _, err := b.Edge(e); err != nil {
			t.Fatal(err)
		}
	}
	n, err := b.Finish(lacking(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func TestDeflection(t *testing.T) {
	for _, tc := range []struct {
		name       string
		directions []float64 // of the roads but the one from the south; the first is taken
		want       float64
	}{
		{"straight on", []float64{0, 90}, 0},
		{"right", []float64{90, 0}, 90},
		{"left", []float64{270, 0}, 90},
		{"half left", []float64{315, 0}, 45},
		{"back, beside where it came from", []float64{180, 0}, 180},
		{"nearly back, on the right", []float64{170, 0}, 170},
		{"nearly back, on the left", []float64{190, 0}, 170},
		{"a bend of one road", []float64{90}, 0},
		{"a hairpin of one road", []float64{180}, 0},
	} {
		n := crossing(t, tc.directions...)
		leaving := func(e network.EdgeID) network.Arc { return network.MakeArc(e, n.From[e] != 0) }
		in, on := leaving(0).Back(), leaving(1)
		if got := n.Deflection(in, on); math.Abs(got-tc.want) > 0.1 {
			t.Errorf("%s: %.2f degrees, want %.0f", tc.name, got, tc.want)
		}
		if got, back := n.Deflection(in, on), n.Deflection(on.Back(), in.Back()); math.Abs(got-back) > 1e-9 {
			t.Errorf("%s: %v degrees, driven the other way %v", tc.name, got, back)
		}
		if got := n.Deflection(in, in.Back()); len(tc.directions) > 1 && math.Abs(got-180) > 1e-9 {
			t.Errorf("%s: turning round is %v degrees", tc.name, got)
		}
	}
}

func BenchmarkPrepare(b *testing.B) {
	for _, edges := range gridSizes[:2] {
		b.Run(fmt.Sprint(edges), func(b *testing.B) {
			n := grid(b, edges)
			b.ReportAllocs()
			for b.Loop() {
				prepared(b, n)
			}
		})
	}
}
