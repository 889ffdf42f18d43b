package network_test

import (
	"context"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// The town is invented. Something is special about each road between A, B, C and
// D, and R, S and T are a ring that no road leads to:
//
//	A - i1 - i2 - B  a freeway; behind i2 a dead end with t1, t2 and t3
//	B - C            a one-way street
//	C - D            below a bridge of 4.00 m, back of 4.10 m
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
		{Subject: network.MaxHeight, Bound: network.Against, State: network.Known, Value: int64(4100 * measure.Millimetre)},
	}})
	b.Spot(network.Spot{Edge: edgeCD, Offset: b.Length(edgeCD) / 2, OSM: 1, Road: low, Kind: network.RailBridge})
	b.Spot(network.Spot{Edge: edgeKD, Offset: b.Length(edgeKD) / 2, OSM: 2, Kind: network.Blocked, OnNode: 1, Own: 1})
	// What closes nothing and nobody: a sign without a figure, one on a post, and
	// what a thing at the road says of the road and not of itself.
	blank := b.Record(network.Record{Signs: []network.Sign{
		{Subject: network.MaxHeight, State: network.NoFigure, Value: 1}, {Subject: network.Access, For: network.Everyone, Word: network.Refused},
	}})
	b.Spot(network.Spot{Edge: edgeAC, Offset: 10, OSM: 3, Road: blank, Kind: network.RoadBridge})
	b.Spot(network.Spot{Edge: edgeAC, Offset: 20, OSM: 4, Road: low, Kind: network.SignPost, OnNode: 1, Own: 1})
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
