package graph

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"wayhouse/testdata/cities"
	"wayhouse/testdata/needs"
)

// world is an invented network with everything that the benchmarks ask of it.
// Speeds are those of a towed house, never above 90 km/h.
type world struct {
	plain  *plain // uncompressed
	core   *Core
	weight []uint32 // of a core arc
	edges  *Edges
	arcs   []uint32 // of the plain graph, by arc of the edges
	order  *Order
	free   *Hierarchy
	nodes  []uint32 // plain nodes that are core nodes
	limit  []uint32 // of an arc of the plain graph: clear height in cm, Infinite none
	least  []uint32 // the same of a core arc
	built  time.Duration
	again  time.Duration
	peak   uint64 // bytes of heap at the most while the first hierarchy was built
	roads  *cities.Roads
}

const towingKMH = 90

func newWorld(t testing.TB, p cities.Plan) *world {
	r := cities.Build(p)
	w := &world{roads: r}
	g := &Graph{First: r.First, Head: r.Head, Weight: r.Capped(towingKMH)}
	w.plain = newPlain(g)
	w.edges, w.arcs = edgesOf(g)
	w.edges.Joint = func(in, on uint32) bool { return w.deflection(w.arcs[in], w.arcs[on]) > sharp }
	var err error
	if w.core, err = Compress(w.edges); err != nil {
		t.Fatal(err)
	}
	if w.weight, err = w.core.Sum(func(road uint32) uint32 { return g.Weight[w.arcs[road]] }); err != nil {
		t.Fatal(err)
	}
	w.nodes = make([]uint32, w.core.Nodes())
	for v := range uint32(g.Nodes()) {
		if c, _, _ := w.core.Where(v); c != None {
			w.nodes[c] = v
		}
	}
	return w
}

// build makes the first hierarchy and notes what it took.
func (w *world) build(t testing.TB) *world {
	var err error
	peak := watchHeap()
	began := time.Now()
	w.order, w.free, err = Build(context.Background(), w.core, w.weight, nil)
	w.built = time.Since(began)
	w.peak = peak()
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// watchHeap measures the heap until it is asked, and returns its peak.
func watchHeap() func() uint64 {
	runtime.GC()
	done, most := make(chan struct{}), make(chan uint64)
	go func() {
		var stats runtime.MemStats
		peak := uint64(0)
		for {
			runtime.ReadMemStats(&stats)
			peak = max(peak, stats.HeapAlloc)
			select {
			case <-done:
				most <- peak
				return
			case <-time.After(50 * time.Millisecond):
			}
		}
	}()
	return func() uint64 { close(done); return <-most }
}

// heights are those that limits are drawn from, in cm: five of seven are too low
// for a rig of 430 cm, as in the design notes.
var heights = []uint32{360, 380, 390, 410, 420, 430, 450}

const rigHeight = 430

// restrict gives a share of all roads a clear height, the same in both
// directions.
func (w *world) restrict(share float64, seed uint64) {
	random := rand.New(rand.NewPCG(seed, 1))
	w.limit = make([]uint32, w.plain.g.Arcs())
	for i := range w.limit {
		w.limit[i] = Infinite
	}
	for e := range len(w.edges.From) {
		if random.Float64() >= share {
			continue
		}
		h := heights[random.IntN(len(heights))]
		for _, arc := range w.arcs[2*e : 2*e+2] {
			if arc != None {
				w.limit[arc] = h
			}
		}
	}
	w.least = make([]uint32, w.core.Arcs())
	for a := range w.least {
		w.least[a] = Infinite
		w.core.Drive(uint32(a), func(road uint32) bool {
			w.least[a] = min(w.least[a], w.limit[w.arcs[road]])
			return true
		})
	}
}

// floor makes the hierarchy of rigs at least so high.
func (w *world) floor(t testing.TB, height uint32) *Hierarchy {
	weight := slices.Clone(w.weight)
	for a, least := range w.least {
		if least <= height {
			weight[a] = Infinite
		}
	}
	began := time.Now()
	h, err := Rebuild(context.Background(), w.core, weight, w.order, nil)
	w.again = time.Since(began)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// rules are those of a rig of a height.
func (w *world) rules(height uint32) Rules {
	return Rules{Pay: func(_ int, arc, _ uint32) uint32 {
		if w.least[arc] <= height {
			return Infinite
		}
		return 0
	}}
}

// pay is the same on the plain graph.
func (w *world) pay(height uint32) func(arc uint32) uint32 {
	return func(arc uint32) uint32 {
		if w.limit[arc] <= height {
			return Infinite
		}
		return 0
	}
}

// pairs draws core nodes.
func (w *world) pairs(n int, seed uint64) [][2]uint32 {
	random := rand.New(rand.NewPCG(seed, 2))
	out := make([][2]uint32, n)
	for i := range out {
		out[i] = [2]uint32{random.Uint32N(uint32(w.core.Nodes())), random.Uint32N(uint32(w.core.Nodes()))}
	}
	return out
}

func atOnce(uint32, int, uint32) uint32 { return 0 }

// times are how long single runs took.
type times []time.Duration

func (t times) mean() time.Duration {
	sum := time.Duration(0)
	for _, d := range t {
		sum += d
	}
	return sum / time.Duration(len(t))
}

// part returns the time that a share of the runs stayed below.
func (t times) part(share float64) time.Duration {
	sorted := slices.Clone(t)
	slices.Sort(sorted)
	return sorted[int(share*float64(len(sorted)-1))]
}

func (t times) String() string {
	return fmt.Sprintf("mean %v, p50 %v, p99 %v", t.mean(), t.part(0.5), t.part(0.99))
}

func clock(run func()) time.Duration {
	began := time.Now()
	run()
	return time.Since(began)
}

// compare runs a restricted search and the bidirectional Dijkstra beside each
// other, pair by pair in one run, and wants equal answers.
func (w *world) compare(
	t testing.TB,
	h *Hierarchy,
	height uint32,
	pairs [][2]uint32,
) (fast, slow times, perNode [2]float64) {
	s := NewSearch(w.core, w.order)
	rules, pay := w.rules(height), w.pay(height)
	settled, spent := [2]int{}, [2]time.Duration{}
	goals, seeds := make([]Goal, 1), make([]Seed, 1)
	for i, p := range pairs {
		from, to := w.nodes[p[0]], w.nodes[p[1]]
		var want, got uint32
		bi := clock(func() { want = w.plain.bidirectional(from, to, pay) })
		settled[1], spent[1] = settled[1]+w.plain.settled, spent[1]+bi
		if i%20 == 0 {
			var one uint32
			d := clock(func() { one = w.plain.dijkstra(from, to, pay) })
			settled[0], spent[0] = settled[0]+w.plain.settled, spent[0]+d
			if one != want {
				t.Fatalf("%v: Dijkstra says %d, from both ends %d", p, one, want)
			}
		}
		seeds[0], goals[0] = Seed{State: p[0]}, Goal{Node: p[1], Finish: atOnce}
		fast, slow = append(fast, clock(func() {
			way, err := s.Find(context.Background(), h, w.weight, rules, seeds, goals)
			if got = way.Price; errors.Is(err, ErrNoWay) {
				got = Infinite
			}
		})), append(slow, bi)
		if got != want {
			t.Fatalf("%v: %d, Dijkstra says %d", p, got, want)
		}
	}
	for i := range perNode {
		perNode[i] = float64(spent[i].Nanoseconds()) / float64(max(settled[i], 1))
	}
	return fast, slow, perNode
}

// plans are the networks of the figures in data/guide/figures.md.
var plans = []struct {
	name string
	plan cities.Plan
}{
	{"100k", cities.Plan{Nodes: 100_000, Seed: 1}},
	{"1M", cities.Plan{Nodes: 1_000_000, Seed: 1}},
	{"hard", cities.Plan{Nodes: 1_000_000, Seed: 1, Hard: true}},
	{"5M", cities.Plan{Nodes: 5_000_000, Seed: 1}},
}

// TestFigures measures what data/guide/figures.md states, each ratio within one run, and
// prints it. The networks are named by WAYHOUSE_FIGURES, such as "1M,hard"; the
// long form takes all but 5M. It compares every answer with Dijkstra's.
func TestFigures(t *testing.T) {
	names := os.Getenv("WAYHOUSE_FIGURES")
	if names == "" && needs.Long {
		names = "100k,1M,hard"
	}
	if names == "" {
		names = "100k"
	}
	for _, p := range plans {
		if slices.Contains(strings.Split(names, ","), p.name) {
			t.Run(p.name, func(t *testing.T) { figures(t, newWorld(t, p.plan).build(t)) })
		}
	}
}

func figures(t *testing.T, w *world) {
	n := 200
	switch {
	case w.plain.g.Nodes() > 2_000_000:
		n = 60
	case needs.Long:
		n = 1000
	}
	t.Logf(
		"%d nodes, %d arcs; core %d nodes, %d arcs; hops a node and direction %.2f",
		w.plain.g.Nodes(),
		w.plain.g.Arcs(),
		w.core.Nodes(),
		w.core.Arcs(),
		float64(len(w.free.Up)+len(w.free.Down))/2/float64(w.core.Nodes()),
	)
	pairs := w.pairs(n, 7)
	w.restrict(0.0005, 3)
	fast, slow, node := w.compare(t, w.free, rigHeight, pairs)
	again := w.floor(t, 0)
	t.Logf(
		"first hierarchy %v, heap at most %d MB; a further one %.2f of that (%d hops for %d)",
		w.built.Round(time.Millisecond),
		w.peak>>20,
		float64(w.again)/float64(w.built),
		len(again.Up),
		len(w.free.Up),
	)
	t.Logf("a settled node: Dijkstra %.0f ns, from both ends %.0f ns, %.2f times", node[0], node[1], node[1]/node[0])
	t.Logf(
		"0.05 %% limited: %v; Dijkstra from both ends %v: %.0f times",
		fast,
		slow.mean(),
		float64(slow.mean())/float64(fast.mean()),
	)
	w.unrestricted(t, pairs, fast)
	w.restrict(0.005, 4)
	fast, slow, _ = w.compare(t, w.floor(t, 410), rigHeight, pairs)
	t.Logf(
		"0.5 %% limited, with a floor: %v; Dijkstra from both ends %v: %.0f times",
		fast,
		slow.mean(),
		float64(slow.mean())/float64(fast.mean()),
	)
	w.turnFigures(t, pairs)
	w.walled(t)
	w.cores(t, pairs)
	if w.plain.g.Nodes() < 2_000_000 { // on more it takes longer than all else
		w.ladder(t, pairs)
	}
}

// unrestricted compares the query of the hierarchy alone.
func (w *world) unrestricted(t *testing.T, pairs [][2]uint32, restricted times) {
	p := NewPotential(w.order)
	var plain times
	var arcs []uint32
	for _, pair := range pairs {
		plain = append(plain, clock(func() {
			p.Aim(w.free, Target{Node: pair[1]})
			p.Least(pair[0])
			arcs, _ = p.Way(pair[0], arcs[:0])
		}))
	}
	t.Logf(
		"hierarchy alone, with its way: %v; restricted search %.1f times that",
		plain,
		float64(restricted.mean())/float64(plain.mean()),
	)
}

// sharp is the change of heading, in degrees, from which driving on is a turn.
const sharp = 45

// deflection returns by how many degrees the heading changes from one arc of the
// plain graph to the next, 0 where only two roads meet or one of the arcs is not
// there.
func (w *world) deflection(in, on uint32) float64 {
	if in == None || on == None {
		return 0
	}
	g := w.plain.g
	at := g.Head[in]
	if g.First[at+1]-g.First[at] <= 2 {
		return 0
	}
	heading := func(from, to uint32) float64 {
		east := float64(w.roads.Lon[to]-w.roads.Lon[from]) * math.Cos(45*math.Pi/180)
		return math.Atan2(east, float64(w.roads.Lat[to]-w.roads.Lat[from])) * 180 / math.Pi
	}
	return math.Abs(math.Remainder(heading(at, g.Head[on])-heading(w.tail(in), at), 360))
}

// tail returns the node that an arc of the plain graph leaves.
func (w *world) tail(arc uint32) uint32 {
	i, found := slices.BinarySearch(w.plain.g.First, arc)
	if !found {
		return uint32(i - 1)
	}
	for w.plain.g.First[i+1] == arc {
		i++
	}
	return uint32(i)
}

// cornering charges 4 to 8 s for a turn and bans 2.3 % of all turns; nobody turns
// round, and driving straight on is free. Prices are kept by pair of arcs.
type cornering struct {
	c     *Core
	price []uint8 // seconds, 255 banned; of the arcs after an arc, by first
	first []uint32
}

func (w *world) cornering() cornering {
	t := cornering{c: w.core, first: make([]uint32, w.core.Arcs()+1)}
	random := rand.New(rand.NewPCG(6, 6))
	for a := range uint32(w.core.Arcs()) {
		v := w.core.Head[a]
		for b := w.core.First[v]; b < w.core.First[v+1]; b++ {
			t.price = append(t.price, w.corner(a, b, random))
		}
		t.first[a+1] = uint32(len(t.price))
	}
	return t
}

func (w *world) corner(a, b uint32, random *rand.Rand) uint8 {
	_, last := w.ends(a)
	first, _ := w.ends(b)
	switch {
	case w.core.Chain[a] == w.core.Chain[b]^1:
		return 255
	case w.deflection(w.arcs[last], w.arcs[first]) <= sharp:
		return 0
	case random.Float64() < 0.023:
		return 255
	default:
		return uint8(4 + random.IntN(5))
	}
}

// ends returns the first and the last arc of the edges that a core arc drives.
func (w *world) ends(a uint32) (first, last uint32) {
	first = None
	w.core.Drive(a, func(road uint32) bool {
		if first == None {
			first = road
		}
		last = road
		return true
	})
	return first, last
}

func (t cornering) States() int             { return t.c.Arcs() }
func (t cornering) Arc(state uint32) uint32 { return state }
func (t cornering) Next(state, arc uint32) (next, price uint32) {
	p := t.price[t.first[state]+arc-t.c.First[t.c.Head[state]]]
	if p == 255 {
		return arc, Infinite
	}
	return arc, uint32(p) * 1000
}

// turnFigures compares the search by arc with Dijkstra's by arc on the same core.
func (w *world) turnFigures(t *testing.T, pairs [][2]uint32) {
	s := NewSearch(w.core, w.order)
	w.restrict(0.0005, 3)
	rules := w.rules(rigHeight)
	rules.Turns = w.cornering()
	blind := newBlind(w.core, w.weight)
	var fast, slow times
	for _, p := range pairs[:min(len(pairs), 40)] {
		if w.core.First[p[0]] == w.core.First[p[0]+1] {
			continue
		}
		seeds, goals := []Seed{{State: w.core.First[p[0]]}}, []Goal{{Node: p[1], Finish: atOnce}}
		var want uint32
		var way Way
		var err error
		slow = append(slow, clock(func() { want = blind.find(rules, seeds[0].State, p[1]) }))
		fast = append(fast, clock(func() { way, err = s.Find(context.Background(), w.free, w.weight, rules, seeds, goals) }))
		if got := way.Price; err == nil && got != want || err != nil && want != Infinite {
			t.Fatalf("%v: %d, %v; Dijkstra by arc says %d", p, got, err, want)
		}
	}
	t.Logf("turns: %v; Dijkstra by arc %v: %.0f times", fast, slow.mean(), float64(slow.mean())/float64(fast.mean()))
}

// blind is Dijkstra's search by arc.
type blind struct {
	core   *Core
	weight []uint32
	side   plainSide
}

func newBlind(c *Core, weight []uint32) *blind {
	return &blind{core: c, weight: weight, side: plainSide{states: make([]place, c.Arcs())}}
}

func (b *blind) find(rules Rules, from, to uint32) uint32 {
	s := &b.side
	s.start(from)
	for len(s.queue) > 0 {
		d, state := s.queue.pop()
		if d > s.states[state].distance {
			continue
		}
		v := b.core.Head[state]
		if v == to {
			return d
		}
		for a := b.core.First[v]; a < b.core.First[v+1]; a++ {
			next, price := rules.Turns.Next(state, a)
			more := rules.Pay(0, a, d)
			if price != Infinite && more != Infinite {
				s.reach(next, d+price+more+b.weight[a])
			}
		}
	}
	return Infinite
}

// walled compares the answer that a place is walled off with exhausting the
// graph to find that out.
func (w *world) walled(t *testing.T) {
	s := NewSearch(w.core, w.order)
	random := rand.New(rand.NewPCG(5, 5))
	var fast, slow times
	blind := newBlindNodes(w.core, w.weight)
	for range 10 {
		yard := w.yard(random.Uint32N(uint32(w.core.Nodes())), 60)
		pay := func(_ int, arc, _ uint32) uint32 {
			if yard[w.core.Head[arc]] && !yard[w.core.Tail[arc]] {
				return Infinite
			}
			return 0
		}
		from, to := random.Uint32N(uint32(w.core.Nodes())), None
		for v := range yard {
			to = min(to, v)
		}
		if yard[from] {
			continue
		}
		var err error
		fast = append(fast, clock(func() {
			_, err = s.Find(
				context.Background(),
				w.free,
				w.weight,
				Rules{Pay: pay},
				[]Seed{{State: from}},
				[]Goal{{Node: to, Finish: atOnce}},
			)
		}))
		slow = append(slow, clock(func() { blind.find(from, to, pay) }))
		if !errors.Is(err, ErrNoWay) {
			t.Fatalf("from %d into the yard of %d: %v", from, to, err)
		}
	}
	t.Logf(
		"walled off: %v; exhausting the core %v: %.0f times",
		fast,
		slow.mean(),
		float64(slow.mean())/float64(fast.mean()),
	)
}

// yard is a set of nodes around one.
func (w *world) yard(v uint32, size int) map[uint32]bool {
	out, queue := map[uint32]bool{v: true}, []uint32{v}
	for len(queue) > 0 && len(out) < size {
		v := queue[0]
		queue = queue[1:]
		for a := w.core.First[v]; a < w.core.First[v+1]; a++ {
			if h := w.core.Head[a]; !out[h] {
				out[h] = true
				queue = append(queue, h)
			}
		}
	}
	return out
}

// blindNodes is Dijkstra's search by node on a core.
type blindNodes struct {
	core   *Core
	weight []uint32
	side   plainSide
}

func newBlindNodes(c *Core, weight []uint32) *blindNodes {
	return &blindNodes{core: c, weight: weight, side: plainSide{states: make([]place, c.Nodes())}}
}

func (b *blindNodes) find(from, to uint32, pay func(layer int, arc, at uint32) uint32) uint32 {
	s := &b.side
	s.start(from)
	for len(s.queue) > 0 {
		d, v := s.queue.pop()
		if d > s.states[v].distance {
			continue
		}
		if v == to {
			return d
		}
		for a := b.core.First[v]; a < b.core.First[v+1]; a++ {
			if more := pay(0, a, d); more != Infinite {
				s.reach(b.core.Head[a], d+more+b.weight[a])
			}
		}
	}
	return Infinite
}

// cores compares two goroutines on one hierarchy with one, each at its best of
// some runs, because others use the machine too.
func (w *world) cores(t *testing.T, pairs [][2]uint32) {
	rules := w.rules(rigHeight)
	searches := [2]*Search{NewSearch(w.core, w.order), NewSearch(w.core, w.order)}
	run := func(s *Search, part [][2]uint32) {
		seeds, goals := make([]Seed, 1), make([]Goal, 1)
		for _, p := range part {
			seeds[0], goals[0] = Seed{State: p[0]}, Goal{Node: p[1], Finish: atOnce}
			if _, err := s.Find(context.Background(), w.free, w.weight, rules, seeds, goals); err != nil &&
				!errors.Is(err, ErrNoWay) {
				t.Error(err)
			}
		}
	}
	half := [2][][2]uint32{}
	for i, p := range pairs { // in turn, so that both have as much to do
		half[i%2] = append(half[i%2], p)
	}
	one, two := time.Hour, time.Hour
	for range 7 {
		one = min(one, clock(func() { run(searches[0], half[0]); run(searches[0], half[1]) }))
		two = min(two, clock(func() {
			var both sync.WaitGroup
			for i, s := range searches {
				both.Go(func() { run(s, half[i]) })
			}
			both.Wait()
		}))
	}
	t.Logf("two cores against one: %.2f times", float64(one)/float64(two))
}

// ladder climbs ways from the free one to the tallest, each a search that must
// be higher than the last, and compares that with as many searches for heights
// known beforehand, none of them with the target of the one before.
func (w *world) ladder(t *testing.T, pairs [][2]uint32) {
	w.many(40)
	s := NewSearch(w.core, w.order)
	pairs = slices.DeleteFunc(
		slices.Clone(pairs[:min(len(pairs), 100)]),
		func(p [2]uint32) bool { return len(w.climb(t, s, p)) < 12 },
	)
	var climbed, separate time.Duration
	var floors [][]uint32
	steps := 0
	for _, p := range pairs {
		climbed += clock(func() { floors = append(floors, w.climb(t, s, p)) })
		steps += len(floors[len(floors)-1])
	}
	for step := range 40 {
		for i, p := range pairs {
			if step < len(floors[i]) {
				separate += clock(func() { w.once(t, s, p, floors[i][step]) })
			}
		}
	}
	t.Logf(
		"%d ladders of %.1f steps: %v each; as many separate searches: %.2f times those",
		len(pairs),
		float64(steps)/float64(len(pairs)),
		climbed/time.Duration(max(len(pairs), 1)),
		float64(climbed)/float64(separate),
	)
}

// many gives a share of all roads one of so many heights.
func (w *world) many(n int) {
	random := rand.New(rand.NewPCG(8, 8))
	w.restrict(0.03, 4)
	for a := range w.least {
		if w.least[a] != Infinite {
			w.least[a] = 360 + 5*random.Uint32N(uint32(n))
		}
	}
}

// climb returns the height that each step had to be above, Infinite at the end.
func (w *world) climb(t *testing.T, s *Search, p [2]uint32) (floors []uint32) {
	for h := uint32(0); ; {
		way, ok := w.once(t, s, p, h)
		floors = append(floors, h)
		if !ok {
			return floors
		}
		least := Infinite
		for _, a := range way.Arcs {
			least = min(least, w.least[a])
		}
		if least == Infinite {
			return floors
		}
		h = least
	}
}

func (w *world) once(t *testing.T, s *Search, p [2]uint32, height uint32) (Way, bool) {
	way, err := s.Find(
		context.Background(),
		w.free,
		w.weight,
		w.rules(height),
		[]Seed{{State: p[0]}},
		[]Goal{{Node: p[1], Finish: atOnce}},
	)
	if err != nil && !errors.Is(err, ErrNoWay) {
		t.Fatal(err)
	}
	return way, err == nil
}

// BenchmarkFind is a restricted search on the smallest network, warm.
func BenchmarkFind(b *testing.B) {
	w := newWorld(b, plans[0].plan).build(b)
	w.restrict(0.0005, 3)
	pairs, rules := w.pairs(500, 7), w.rules(rigHeight)
	s := NewSearch(w.core, w.order)
	seeds, goals := make([]Seed, 1), make([]Goal, 1)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		p := pairs[i%len(pairs)]
		seeds[0], goals[0] = Seed{State: p[0]}, Goal{Node: p[1], Finish: atOnce}
		if _, err := s.Find(context.Background(), w.free, w.weight, rules, seeds, goals); err != nil &&
			!errors.Is(err, ErrNoWay) {
			b.Fatal(err)
		}
	}
}
