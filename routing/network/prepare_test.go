package network_test

import (
	"context"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/graph"
	"wayhouse/routing/network"
)

func TestBucketHolds(t *testing.T) {
	const kmh = measure.KilometrePerHour
	for _, tc := range []struct {
		bucket  network.Bucket
		top     measure.Speed
		height  measure.Length
		ferries bool
		want    bool
	}{
		{network.Bucket{Ferries: true}, 0, 0, true, true},
		{network.Bucket{Ferries: true}, 80 * kmh, 5 * measure.Metre, false, true},
		{network.Bucket{}, 0, 0, true, false}, // it may need a ferry that the bucket leaves out
		{network.Bucket{Top: 90 * kmh}, 0, 0, false, false},
		{network.Bucket{Top: 90 * kmh}, 100 * kmh, 0, false, false},
		{network.Bucket{Top: 90 * kmh}, 90 * kmh, 0, false, true},
		{network.Bucket{Top: 90 * kmh}, 50 * kmh, 0, false, true},
		{network.Bucket{Floor: 4 * measure.Metre}, 0, 4*measure.Metre - 1, false, false},
		{network.Bucket{Floor: 4 * measure.Metre}, 0, 4 * measure.Metre, false, true},
	} {
		if got := tc.bucket.Holds(tc.top, tc.height, tc.ferries); got != tc.want {
			t.Errorf("%+v holds %v, %v, ferries %v: %v, want %v", tc.bucket, tc.top, tc.height, tc.ferries, got, tc.want)
		}
	}
	if first := network.Buckets()[0]; !first.Holds(0, 0, true) {
		t.Errorf("the first bucket, %+v, does not hold every rig", first)
	}
}

func TestPrepareIsDeterministic(t *testing.T) {
	n := small(t)
	first := *n.Prepared()
	if err := n.Prepare(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(first, *n.Prepared()); diff != "" {
		t.Error(diff)
	}
}

func TestPrepareCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := grid(t, 20_000).Prepare(ctx, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// A core arc is left out of a bucket only where no rig of it may drive all of it:
// at a ferry, or under less than the bucket's floor. Everything else is in the
// hierarchy, at what it weighs.
func TestBucketsCloseNothingElse(t *testing.T) {
	n := yard(t)
	p := n.Prepared()
	for i, b := range network.Buckets() {
		potential := graph.NewPotential(&p.Order)
		for a := range uint32(p.Core.Arcs()) {
			why := false
			p.Core.Drive(a, func(road uint32) bool {
				why = why || !b.Ferries && n.Class[road>>1].Water() || b.Floor > 3900*measure.Millimetre && n.Ref(network.EdgeID(road>>1)) == "low" && road&1 == 0
				return true
			})
			potential.Aim(&p.Hierarchies[i], graph.Target{Node: p.Core.Head[a]})
			if least := potential.Least(p.Core.Tail[a]); !why && least > p.Weight[network.TopOf(b)][a] {
				t.Errorf("bucket %+v: %d ms along arc %d, which takes %d", b, least, a, p.Weight[network.TopOf(b)][a])
			}
		}
	}
}

// yard is a square with a way across by ferry and one under a bridge that is
// posted 3.9 m along the line of the edge and nothing against it.
func yard(t testing.TB) *network.Network {
	b := network.NewBuilder()
	at := []orb.Point{{-75, 45}, {-74.99, 45}, {-74.99, 45.01}, {-75, 45.01}, {-74.98, 45.02}}
	for _, p := range at {
		b.Node(p)
	}
	low := b.Record(network.Record{Signs: []network.Sign{{Subject: network.MaxHeight, Bound: network.Along, State: network.Known, Value: int64(3900 * measure.Millimetre)}}})
	edge := func(from, to int, e network.Edge) network.EdgeID {
		e.From, e.To, e.Line, e.Speed = network.NodeID(from), network.NodeID(to), []orb.Point{at[from], at[to]}, 20
		id, err := b.Edge(e)
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	edge(0, 1, network.Edge{Class: network.Primary})
	edge(1, 2, network.Edge{Class: network.Primary})
	edge(2, 3, network.Edge{Class: network.Primary})
	edge(3, 0, network.Edge{Class: network.Primary})
	edge(0, 2, network.Edge{Class: network.Ferry})
	under := edge(1, 3, network.Edge{Class: network.Primary, Road: low, Ref: "low"})
	edge(2, 4, network.Edge{Class: network.Service})
	b.Spot(network.Spot{Edge: under, Offset: 10, Road: low, Kind: network.RailBridge})
	n, err := b.Finish(lacking(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := n.Prepare(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	return n
}

func TestDeflection(t *testing.T) {
	n := yard(t)
	arc := network.MakeArc
	for _, tc := range []struct {
		name   string
		in, on network.Arc
		want   float64
	}{
		{"round the corner", arc(0, false), arc(1, false), 90},
		{"back again", arc(0, false), arc(0, true), 180},
		{"half left under the bridge", arc(0, false), arc(5, false), 125},
	} {
		if got := n.Deflection(tc.in, tc.on); got < tc.want-1 || got > tc.want+1 {
			t.Errorf("%s: %v degrees, want about %v", tc.name, got, tc.want)
		}
	}
	bend := grid(t, 4)
	for _, in := range bend.Out(0) {
		for _, on := range bend.Out(0) {
			if got := bend.Deflection(in.Back(), on); len(bend.Out(0)) == 2 && got != 0 {
				t.Errorf("%v degrees where a road only bends", got)
			}
		}
	}
}
