package network_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"wayhouse/routing/graph"
	"wayhouse/routing/network"
)

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
