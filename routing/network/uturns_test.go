package network_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/routing/network"
)

// drawing builds a network of roads drawn in metres east and north of a place in Delaware, the points of a road from
// its first to its last. Ends at the same point are one node.
func drawing(t *testing.T, roads ...drawn) *network.Network {
	t.Helper()
	b := network.NewBuilder()
	at := orb.Point{-75.5, 39}
	nodes := map[orb.Point]network.NodeID{}
	place := func(p orb.Point) orb.Point {
		const degree = 111_195
		return orb.Point{at[0] + p[0]/degree/math.Cos(at[1]*math.Pi/180), at[1] + p[1]/degree}
	}
	node := func(p orb.Point) network.NodeID {
		id, ok := nodes[p]
		if !ok {
			id = b.Node(place(p))
			nodes[p] = id
		}
		return id
	}
	for _, r := range roads {
		e := network.Edge{
			From: node(r.line[0]), To: node(r.line[len(r.line)-1]), Class: network.Primary, Name: r.name, Origin: r.way,
			Road: b.Record(network.Record{Road: network.Road{Flags: r.flags}}),
		}
		for _, p := range r.line {
			e.Line = append(e.Line, place(p))
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

// drawn is a road to build.
type drawn struct {
	line  []orb.Point
	flags network.Flags
	name  string
	way   int64
}

// divided is a road of two carriageways so far apart, with a link between them that is entered at the start.
func divided(apart float64, link network.Flags) []drawn {
	const one = network.OnewayAlong
	return []drawn{
		{line: []orb.Point{{-200, 0}, {0, 0}}, flags: one, name: "Coastal Highway"},
		{line: []orb.Point{{0, 0}, {200, 0}}, flags: one, name: "Coastal Highway"},
		{line: []orb.Point{{200, apart}, {0, apart}}, flags: one, name: "Coastal Highway"},
		{line: []orb.Point{{0, apart}, {-200, apart}}, flags: one, name: "Coastal Highway"},
		{line: []orb.Point{{0, 0}, {0, apart}}, flags: link},
	}
}

// circle is one carriageway that comes to a circle of one way, drawn in two halves, and one that leaves it.
func circle(in, out string) []drawn {
	const one = network.OnewayAlong
	const ring = one | network.Roundabout
	return []drawn{
		{line: []orb.Point{{-200, -6}, {-12, -6}, {-6, -8}}, flags: one, name: in, way: 1},
		{line: []orb.Point{{-6, 8}, {-12, 6}, {-200, 6}}, flags: one, name: out, way: 2},
		{line: []orb.Point{{-6, -8}, {0, -10}, {6, -8}, {10, 0}}, flags: ring, way: 3},
		{line: []orb.Point{{10, 0}, {6, 8}, {0, 10}, {-6, 8}}, flags: ring, way: 3},
		{line: []orb.Point{{10, 0}, {200, 0}}, name: "Main Street", way: 4},
		{line: []orb.Point{{-6, 8}, {-10, 0}, {-6, -8}}, flags: ring, way: 3},
	}
}

func TestUTurns(t *testing.T) {
	const one = network.OnewayAlong
	hairpin := []orb.Point{{-100, 0}, {-20, 0}, {0, 5}, {5, 10}}
	back := []orb.Point{{5, 10}, {0, 15}, {-20, 20}, {-100, 20}}
	for _, tc := range []struct {
		name   string
		roads  []drawn
		want   [][]int // edges, in any order
		across float64
	}{
		{"a break in the median", divided(20, 0), [][]int{{0, 4, 3}, {2, 4, 1}}, 20},
		{"a break that is one-way", divided(20, one), [][]int{{0, 4, 3}}, 20},
		{"carriageways too far apart", divided(60, 0), nil, 0},
		{"an aisle of parking between them", divided(20, network.AtEnds), nil, 0},
		{"carriageways that meet", []drawn{
			{line: []orb.Point{{-200, 8}, {0, 0}}, flags: one, name: "Route 9"},
			{line: []orb.Point{{0, 0}, {-200, -8}}, flags: one, name: "Route 9"},
			{line: []orb.Point{{0, 0}, {200, 0}}, name: "Route 9"},
		}, [][]int{{0, 1}}, 2.4},
		{"the end of a divided road", []drawn{
			{line: []orb.Point{{-200, 8}, {0, 0}}, flags: one, name: "Route 9"},
			{line: []orb.Point{{0, 0}, {-200, -8}}, flags: one, name: "Route 9"},
		}, [][]int{{0, 1}}, 2.4},
		{"a loop at the end of a street", []drawn{
			{line: []orb.Point{{-200, 0}, {0, 0}}, name: "Court"},
			{line: []orb.Point{{0, 0}, {6, 6}, {12, 0}, {6, -6}, {0, 0}}, name: "Court"},
		}, [][]int{{0, 1, 0}, {0, 1, 0}}, 12},
		{"a hairpin beside which a track begins", []drawn{
			{line: hairpin, name: "Pass Road", way: 1}, {line: back, name: "Pass Road", way: 1},
			{line: []orb.Point{{5, 10}, {100, 10}}, name: "Forest Track", way: 2},
		}, nil, 0},
		{"carriageways that meet at the end of their road, where another begins", []drawn{
			{line: []orb.Point{{-200, 20}, {0, 0}}, flags: one, name: "Route 9", way: 1},
			{line: []orb.Point{{0, 0}, {-200, -20}}, flags: one, name: "Route 9", way: 2},
			{line: []orb.Point{{0, 0}, {200, 0}}, name: "Other Street", way: 3},
		}, [][]int{{0, 1}}, 6},
		{"carriageways joined by a circle that turns a little at a time", circle("Route 9", "Route 9"), [][]int{{0, 2, 3, 1}}, 20},
		{"a circle between roads of two names", circle("Route 9", "Other Street"), nil, 0},
		{"a one-way road that winds past a driveway", []drawn{
			{line: hairpin, flags: one, name: "Loop", way: 1}, {line: back, flags: one, name: "Loop", way: 1},
			{line: []orb.Point{{5, 10}, {100, 10}}, name: "Driveway", way: 2},
		}, nil, 0},
		{"a junction of roads at right angles", []drawn{
			{line: []orb.Point{{-100, 0}, {0, 0}}, name: "A"}, {line: []orb.Point{{0, 0}, {100, 0}}, name: "A"},
			{line: []orb.Point{{0, -100}, {0, 0}}, name: "B"}, {line: []orb.Point{{0, 0}, {0, 100}}, name: "B"},
		}, nil, 0},
	} {
		n := drawing(t, tc.roads...)
		var got [][]int
		for i := range n.UTurns() {
			u, arcs := n.UTurn(i)
			var edges []int
			for _, a := range arcs {
				edges = append(edges, int(a.Edge()))
			}
			got = append(got, edges)
			if math.Abs(float64(u.Across)-tc.across) > 0.5 {
				t.Errorf("%s: %v m across, want %v", tc.name, u.Across, tc.across)
			}
		}
		slices.SortFunc(got, slices.Compare)
		if !slices.EqualFunc(got, tc.want, slices.Equal) {
			t.Errorf("%s: U-turns by edges %v, want %v", tc.name, got, tc.want)
		}
	}
}
