package network_test

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wayhouse/regs/measure"
	"wayhouse/routing/graph"
	"wayhouse/routing/network"
)

// The first bucket holds every rig; a rig without a top speed may be fast, and
// one of an unknown height, 0, may be low.
func TestBucketHolds(t *testing.T) {
	const kmh, mm = measure.KilometrePerHour, measure.Millimetre
	all := network.Bucket{Ferries: true, Others: network.Alike}
	slow, high := network.Bucket{Top: 90 * kmh}, network.Bucket{Floor: 4100 * mm}
	trucks := network.Bucket{Others: network.Preferred}
	for _, tc := range []struct {
		name    string
		bucket  network.Bucket
		top     measure.Speed
		height  measure.Length
		ferries bool
		others  network.Permille
		want    bool
	}{
		{"all, nothing known", all, 0, 0, false, 1000, true},
		{"all, by ferry", all, 0, 0, true, 1000, true},
		{"all, slow and high", all, 50 * kmh, 5000 * mm, true, 1000, true},
		{"no ferries, by ferry", network.Bucket{}, 0, 0, true, 1000, false},
		{"no ferries, by road", network.Bucket{}, 0, 0, false, 1000, true},
		{"slow, no top speed", slow, 0, 0, false, 1000, false},
		{"slow, as fast", slow, 90 * kmh, 0, false, 1000, true},
		{"slow, slower", slow, 80 * kmh, 0, false, 1000, true},
		{"slow, a little faster", slow, measure.Speed(math.Nextafter(float64(90*kmh), 99)), 0, false, 1000, false},
		{"high, height not known", high, 0, 0, false, 1000, false},
		{"high, as high", high, 0, 4100 * mm, false, 1000, true},
		{"high, higher", high, 0, 4200 * mm, false, 1000, true},
		{"trucks, all alike", trucks, 0, 0, false, 1000, false},
		{"trucks, a little less", trucks, 0, 0, false, 1299, false},
		{"trucks, as much", trucks, 0, 0, false, 1300, true},
		{"trucks, more", trucks, 0, 0, false, 2000, true},
		{"high, a little lower", high, 0, 4100*mm - 1, false, 1000, false},
	} {
		if got := tc.bucket.Holds(tc.top, tc.height, tc.ferries, tc.others); got != tc.want {
			t.Errorf("%s: %t, want %t", tc.name, got, tc.want)
		}
	}
}

// The buckets are part of the format. The widest comes first, so that the last
// that holds a rig is the tightest.
func TestBuckets(t *testing.T) {
	const kmh, mm = measure.KilometrePerHour, measure.Millimetre
	want := []network.Bucket{
		{Ferries: true, Others: 1000}, {Others: 1000},
		{Others: 1300}, {Floor: 3800 * mm, Others: 1300}, {Floor: 4100 * mm, Others: 1300}, {Floor: 4300 * mm, Others: 1300},
		{Top: 90 * kmh, Others: 1300}, {Top: 90 * kmh, Floor: 3800 * mm, Others: 1300},
		{Top: 90 * kmh, Floor: 4100 * mm, Others: 1300}, {Top: 90 * kmh, Floor: 4300 * mm, Others: 1300},
	}
	if diff := cmp.Diff(want, network.Buckets()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	weights := prepared(t, town(t)).Prepared().Weight
	for i, b := range network.Buckets() {
		if of := network.WeightOf(b); of < 0 || of >= len(weights) {
			t.Errorf("bucket %d has weights %d of %d", i, of, len(weights))
		}
		if b.Holds(0, 0, true, network.Alike) != (i == 0) {
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
		for a, w := range p.Weight[network.WeightOf(b)] {
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
				switch open := direct(p, i, tail, head) <= p.Weight[network.WeightOf(b)][a]; {
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

// The bridge between C and D is posted at 4.00 m one way and 4.10 m the other:
// what is higher than that goes round it, what is just as high does not.
func TestFloorsGoRoundALowBridge(t *testing.T) {
	n := prepared(t, town(t))
	p := n.Prepared()
	c, _, _ := p.Core.Where(townC)
	d, _, _ := p.Core.Where(townD)
	far := graph.NewPotential(&p.Order)
	for i, b := range network.Buckets() {
		straight := n.Price(n.Whole(network.MakeArc(edgeCD, false)), b.Top, b.Others)
		for _, tc := range []struct {
			name     string
			from, to uint32
			posted   measure.Length
		}{{"along", c, d, 4 * measure.Metre}, {"against", d, c, 4100 * measure.Millimetre}} {
			far.Aim(&p.Hierarchies[i], graph.Target{Node: tc.to})
			if got, want := far.Least(tc.from), b.Floor <= tc.posted; (got == straight) != want || got < straight || got == graph.Infinite {
				t.Errorf("bucket %d, floor %v, %s: %d ms, under the bridge %d, which is open: %t", i, b.Floor, tc.name, got, straight, want)
			}
		}
	}
}
