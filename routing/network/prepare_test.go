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

// The town is invented. Something is special about each road between A, B, C and
// D, and R, S and T are a ring that no road leads to:
//
//	A - i1 - i2 - B  a freeway; behind i2 a dead end with t1, t2 and t3
//	B - C            a one-way street
//	C - D            below a bridge of 4.00 m, back of 4.20 m
//	C - D            a private road beside it, closed to everyone
//	D - A - C        two streets that must not be driven one after the other
//	B - D            a ferry
//	B - k - D        with a block behind k
//	C - C            a loop
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

// town builds the town, not prepared yet.
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
	low := b.Record(network.Record{Signs: []network.Sign{
		{Subject: network.MaxHeight, Bound: network.Along, State: network.Known, Value: int64(4 * measure.Metre)},
		{Subject: network.MaxHeight, Bound: network.Against, State: network.Known, Value: int64(4200 * measure.Millimetre)},
	}})
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

// street is what TestPrepareKeepsJunctions builds: a square of roads 0-1-2-3 with
// one across from 0 to 2, and beside node 1 whatever a case adds.
type street struct {
	straight bool // node 1 lies between 0 and 2, not at a corner
	border   bool // another jurisdiction begins at node 1
	ban      bool // nobody may drive from 0 by 1 to 2
	side     bool // a dead end leaves node 1
	closed   bool // it is closed to everyone
}

func (s street) build(t testing.TB) *network.Network {
	t.Helper()
	b := network.NewBuilder()
	at := []orb.Point{{-75, 45}, {-75, 45.01}, {-74.99, 45.01}, {-74.99, 45}, {-75.01, 45.02}}
	if s.straight {
		at[1] = orb.Point{-74.995, 45.006}
	}
	for _, p := range at {
		b.Node(p)
	}
	area := "CA-ON"
	if s.border {
		area = "CA-QC"
	}
	roads := []network.Edge{{From: 0, To: 1}, {From: 1, To: 2, Jurisdictions: []string{area}}, {From: 2, To: 3}, {From: 3, To: 0}, {From: 0, To: 2}}
	if s.side {
		side := network.Edge{From: 1, To: 4}
		if s.closed {
			side.Road = b.Record(network.Record{Signs: []network.Sign{{Subject: network.Access, For: network.MotorVehicles, Word: network.Refused}}})
		}
		roads = append(roads, side)
	}
	for _, e := range roads {
		if e.Jurisdictions == nil {
			e.Jurisdictions = []string{"CA-ON"}
		}
		e.Class, e.Speed, e.Line = network.Residential, 10, []orb.Point{at[e.From], at[e.To]}
		if _, err := b.Edge(e); err != nil {
			t.Fatal(err)
		}
	}
	if s.ban {
		b.Ban([]network.Arc{network.MakeArc(0, false), network.MakeArc(1, false)}, network.Ban{OSM: 1, For: network.Vehicles})
	}
	n, err := b.Finish(lacking(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return prepared(t, n)
}

// A node with two roads that can be driven stays one where a rule of turning
// holds, at a border, and where driving on is a turn at a junction, also one with
// a road that nobody may drive. A bend alone is none.
func TestPrepareKeepsJunctions(t *testing.T) {
	for _, tc := range []struct {
		name string
		street
		want bool
	}{
		{"a bend", street{}, false},
		{"straight", street{straight: true}, false},
		{"a ban", street{straight: true, ban: true}, true},
		{"a border", street{straight: true, border: true}, true},
		{"a turn at a dead end", street{side: true}, true},
		{"a turn at a closed road", street{side: true, closed: true}, true},
		{"straight on past a dead end", street{straight: true, side: true}, false},
	} {
		core, _, _ := tc.build(t).Prepared().Core.Where(1)
		if got := core != graph.None; got != tc.want {
			t.Errorf("%s: the node stays: %t, want %t", tc.name, got, tc.want)
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
		{"slow, a little faster", slow, measure.Speed(math.Nextafter(float64(90*kmh), 99)), 0, false, false},
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

// The bridge between C and D is posted at 4.00 m one way and 4.20 m the other:
// what is higher than that goes round it.
func TestFloorsGoRoundALowBridge(t *testing.T) {
	n := prepared(t, town(t))
	p := n.Prepared()
	c, _, _ := p.Core.Where(townC)
	d, _, _ := p.Core.Where(townD)
	far := graph.NewPotential(&p.Order)
	for i, b := range network.Buckets() {
		straight := n.Millis(n.Whole(network.MakeArc(edgeCD, false)), b.Top)
		for _, tc := range []struct {
			name     string
			from, to uint32
			posted   measure.Length
		}{{"along", c, d, 4 * measure.Metre}, {"against", d, c, 4200 * measure.Millimetre}} {
			far.Aim(&p.Hierarchies[i], graph.Target{Node: tc.to})
			if got, want := far.Least(tc.from), b.Floor <= tc.posted; (got == straight) != want || got < straight || got == graph.Infinite {
				t.Errorf("bucket %d, floor %v, %s: %d ms, under the bridge %d, which is open: %t", i, b.Floor, tc.name, got, straight, want)
			}
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

// many builds a network of so many nodes that the context is asked, and progress
// heard, within every hierarchy.
func many(t testing.TB) *network.Network { return grid(t, 8_600) }

// Who cancels gets a network that is as it was, wherever it stopped.
func TestPrepareCancelled(t *testing.T) {
	n := many(t)
	for _, left := range []int{0, 1, 2, 4} { // before the first hierarchy and within it
		err := n.Prepare(&expiring{Context: context.Background(), left: left}, nil)
		if !errors.Is(err, context.Canceled) || n.Prepared() != nil {
			t.Errorf("after %d checks of the context: %v, want it cancelled and not prepared", left, err)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for name, n := range samples(t) {
		raw := write(t, n)
		if err := n.Prepare(ctx, nil); !errors.Is(err, context.Canceled) || !bytes.Equal(write(t, n), raw) {
			t.Errorf("%s: %v, want it cancelled and the network as it was", name, err)
		}
	}
}

// Progress is heard of every hierarchy and never falls.
func TestPrepareProgress(t *testing.T) {
	last, total, parts := int64(0), int64(0), map[int64]bool{}
	buckets := int64(len(network.Buckets()))
	err := many(t).Prepare(context.Background(), func(done, all int64) {
		if done < last || done > all || total != 0 && all != total {
			t.Errorf("%d of %d after %d of %d", done, all, last, total)
		}
		last, total = done, all
		parts[done*buckets/all] = true
	})
	if err != nil || len(parts) != int(buckets) {
		t.Errorf("heard of the parts %v of %d: %v", parts, buckets, err)
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
		if got, back := n.Deflection(in, on), n.Deflection(on.Back(), in.Back()); math.Abs(got-back) > 0.01 { // a flat map differs a little from end to end
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
