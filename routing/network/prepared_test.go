package network_test

import (
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"wayhouse/routing/graph"
	"wayhouse/routing/network"
)

// searchRows are the sections that searches work on: from "buckets" on all.
func searchRows(raw []byte) []fileRow {
	rows := rowsOf(raw)
	return rows[slices.IndexFunc(rows, func(r fileRow) bool { return r.name == "buckets" }) : len(rows)-2]
}

// numbers views a section as what it is but for hops, which are two numbers.
func numbers(t testing.TB, raw []byte, section string) []uint32 {
	t.Helper()
	_, r := rowOf(t, raw, section)
	out := make([]uint32, r.size/4)
	if _, err := binary.Decode(raw[r.offset:r.offset+r.size], binary.LittleEndian, out); err != nil {
		t.Fatal(err)
	}
	return out
}

// withNumber returns a copy of a file in which one number is another, under
// checksums that are right.
func withNumber(t testing.TB, raw []byte, section string, at int, value uint32) []byte {
	t.Helper()
	bad := slices.Clone(raw)
	binary.LittleEndian.PutUint32(bad[offsetOf(t, raw, section)+4*at:], value)
	repair(bad)
	return bad
}

// A network that was not prepared says for which rigs it could be, and nothing
// else; one that was has something to say in every section.
func TestSectionsForSearches(t *testing.T) {
	bare, full := write(t, town(t)), write(t, prepared(t, town(t)))
	for i, r := range searchRows(bare) {
		if want := r.name == "buckets"; (r.size > 0) != want {
			t.Errorf("not prepared, section %q has %d bytes", r.name, r.size)
		}
		if other := searchRows(full)[i]; other.size == 0 {
			t.Errorf("prepared, section %q of the town is empty", other.name)
		}
	}
	if n := readFile(t, bare); n.Prepared() != nil || verify(n) != nil {
		t.Errorf("not prepared, it reads as %v", n.Prepared())
	}
}

// Many may write and verify one network at a time, prepared or not.
func TestWriteToByMany(t *testing.T) {
	for name, n := range map[string]*network.Network{"prepared": prepared(t, town(t)), "not prepared": town(t)} {
		var group sync.WaitGroup
		for range 4 {
			group.Go(func() {
				if _, err := n.WriteTo(io.Discard); err != nil || verify(n) != nil {
					t.Errorf("%s: %v", name, err)
				}
			})
		}
		group.Wait()
	}
}

// A network without a node or without a road that anyone may drive can be
// prepared as any other: nothing leads anywhere.
func TestPrepareOfNothing(t *testing.T) {
	empty, err := network.NewBuilder().Finish(lacking(), nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, n := range map[string]*network.Network{"empty": empty, "one street": crossing(t)} {
		raw := write(t, prepared(t, n))
		back := readFile(t, raw)
		sameNetwork(t, back, n)
		if err := verify(back); err != nil || back.Prepared() == nil || back.Prepared().Core.Arcs() != 0 {
			t.Errorf("%s: %v, prepared as %+v", name, err, back.Prepared())
		}
		walk(back)
	}
}

// Numbers that a core and its hierarchies must not have, each said to be wrong
// by the check that is meant for it.
func TestVerifyRefusesWhatSearchesCannotUse(t *testing.T) {
	n := prepared(t, town(t))
	raw := write(t, n)
	core := &n.Prepared().Core
	const tag = 30 // bits of a number in "node in core"; above it stands what it is
	const inner, tree = uint32(1) << tag, uint32(2) << tag
	arc := func(e network.EdgeID, reverse bool) uint32 { return uint32(network.MakeArc(e, reverse)) }
	a, _, _ := core.Where(townA)
	b, _, _ := core.Where(townB)
	_, link, _ := core.Where(townI1)
	blocked := core.Place[edgeBK]
	for _, tc := range []struct {
		name, section string
		at            int
		value         uint32
		want          string // in the error
	}{
		{"a start too low", "core starts", 1, 0, "does not leave node"},
		{"a start beyond", "core starts", 1, 1 << 20, "out of order"},
		{"not from 0", "core starts", 0, 1, "out of order"},
		{"arcs in by another node", "core in starts", 1, 0, "does not reach node"},
		{"a chain without a link", "chain starts", 1, 0, "is empty"},
		{"a chain that ends early", "chain starts", 1, 1, "does not run between core nodes"},
		{"a head that is not there", "core heads", 0, math.MaxUint32, "points nowhere"},
		{"another head", "core heads", 0, a, "does not drive its chain"},
		{"another tail", "core tails", 0, b, "does not leave node"},
		{"a chain that is not there", "core chains", 0, 1 << 20, "points nowhere"},
		{"the chain driven backward", "core chains", 0, core.Chain[0] ^ 1, "does not drive its chain"},
		{"an arc in that is not there", "core in", 0, math.MaxUint32, "does not reach node"},
		{"an arc in twice", "core in", 1, core.In[0], "or twice"},
		{"a link that is no arc", "chain arcs", 0, 2 * townEdges, "no part of chain"},
		{"a link driven backward", "chain arcs", int(link), core.Links[link] ^ 1, "does not go on"},
		{"a link of another chain", "chain arcs", 0, core.Links[blocked], "no part of chain"},
		{"a core node that is not there", "node in core", townA, 99, "not where the core says"},
		{"two nodes at once", "node in core", townB, a, "not where the core says"},
		{"inside a chain, and a core node", "node in core", townI1, a, "does not go on"},
		{"inside another chain", "node in core", townK, inner | link, "does not go on"},
		{"where a chain begins", "node in core", townB, inner | blocked, "does not run between core nodes"},
		{"a link that is not there", "node in core", townI1, inner | 1<<20, "does not go on"},
		{"out of a tree by a chain", "node in core", townT1, tree | arc(edgeI1I2, false), "not where the core says"},
		{"out of a tree by no arc", "node in core", townT1, tree | 2*townEdges, "not where the core says"},
		{"a tree that goes round", "node in core", townT1, tree | arc(edgeT1T2, false), "does not end"},
		{"of no kind", "node in core", townT1, 3<<tag | arc(edgeI2T1, true), "not where the core says"},
		{"an edge of another chain", "edge in core", edgeBC, core.Place[edgeAC], "no part of chain"},
		{"an edge that is in no chain", "edge in core", edgeBC, graph.None, "no part of chain"},
		{"a tree in a chain", "edge in core", edgeT1T2, 0, "not where the core says"},
		{"a rank twice", "ranks", 0, n.Prepared().Order.Rank[1], "rank of another"},
		{"a rank that is not there", "ranks", 0, math.MaxUint32, "rank of another"},
		{"a ranked node that is not there", "ranked", 0, math.MaxUint32, "rank of another"},
		{"a quicker road", "weight 0", 0, n.Prepared().Weight[0][0] - 1, "does not weigh"},
		{"an endless road", "weight 1", 1, graph.Infinite, "does not weigh"},
		{"hops of another rank", "up starts 0", 1, 1 << 20, "do not fit the core"},
		{"hops of another rank", "down starts 8", 1, 1 << 20, "do not fit the core"},
		{"a hop to itself", "up 0", 0, 0, "up to 0"},
		{"a hop to nowhere", "up 0", 0, math.MaxUint32, "hierarchy 0"},
		{"a lighter hop", "up 1", 1, 1, "hierarchy 1"},
		{"a heavier hop", "down 2", 1, math.MaxUint32, "hierarchy 2"},
		{"a hop by itself", "up via 3", 0, 0, "hierarchy 3"},
		{"a hop by a rank that is not there", "down via 4", 0, 1<<31 - 1, "hierarchy 4"},
		{"a hop by an arc that is not there", "up via 5", 0, math.MaxUint32, "hierarchy 5"},
		{"a hop by another arc", "down via 6", 0, 1<<31 | (numbers(t, raw, "down via 6")[0]+1)&(1<<31-1), "hierarchy 6"},
	} {
		name := fmt.Sprintf("%s: %s at %d", tc.name, tc.section, tc.at)
		if numbers(t, raw, tc.section)[tc.at] == tc.value {
			t.Fatalf("%s: %d stands there anyway", name, tc.value)
		}
		err := verify(readFile(t, withNumber(t, raw, tc.section, tc.at, tc.value)))
		wantRefusal(t, name, err)
		if err != nil && !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: %v, want %q", name, err, tc.want)
		}
	}
}

// No number that searches work on can be another: it is refused whatever stands
// there instead. Only which way round a loop is listed says nothing.
func TestVerifyRefusesEveryNumberOfSearches(t *testing.T) {
	t.Parallel()
	n := prepared(t, town(t))
	raw, loop := write(t, n), int(n.Prepared().Core.Place[edgeLoop])
	for _, r := range searchRows(raw)[1:] { // the buckets are compared as a whole
		for at, v := range numbers(t, raw, r.name) {
			for _, other := range []uint32{0, 1, v + 1, v - 1, v ^ 1, v ^ 1<<30, v ^ 1<<31, math.MaxUint32} {
				if other == v || r.name == "chain arcs" && at == loop && other == v^1 {
					continue
				}
				if useAnything(t, withNumber(t, raw, r.name, at, other)) {
					t.Errorf("%s at %d: %d for %d was accepted", r.name, at, other, v)
				}
			}
		}
	}
}

// What is prepared for other rigs than those of this program is refused before
// anything else is read.
func TestReadRefusesOtherBuckets(t *testing.T) {
	raw := write(t, prepared(t, town(t)))
	_, r := rowOf(t, raw, "buckets")
	bad := slices.Clone(raw)
	copy(bad[r.offset:], strings.Replace(string(raw[r.offset:r.offset+r.size]), "3800", "3900", 1))
	repair(bad)
	_, err := network.Read(bad)
	wantRefusal(t, "other buckets", err)
	if err == nil || !strings.Contains(err.Error(), "other rigs") {
		t.Errorf("%v does not say that it was prepared for other rigs", err)
	}
}

// useHierarchy asks a hierarchy for the ways between some nodes.
func useHierarchy(core *graph.Core, order *graph.Order, h *graph.Hierarchy, weight []uint32) {
	far := graph.NewPotential(order)
	step := uint32(core.Nodes()/8 + 1)
	for to := uint32(0); to < uint32(core.Nodes()); to += step {
		far.Aim(h, graph.Target{Node: to})
		for from := uint32(0); from < uint32(core.Nodes()); from += step {
			if far.Least(from) < graph.Infinite {
				arcs, _ := far.Way(from, nil)
				for _, a := range arcs {
					_ = weight[a]
				}
			}
		}
	}
}

// usePrepared uses all that searches work on, as they do.
func usePrepared(n *network.Network) {
	p := n.Prepared()
	if p == nil {
		return
	}
	core := &p.Core
	for a := range uint32(core.Arcs()) {
		core.Drive(a, func(road uint32) bool { n.Whole(network.Arc(road)); return true })
	}
	for v := range uint32(len(n.Node)) {
		comeOut(n, core, v)
	}
	search := graph.NewSearch(core, &p.Order)
	for i, b := range network.Buckets() {
		weight := p.Weight[network.WeightOf(b)]
		useHierarchy(core, &p.Order, &p.Hierarchies[i], weight)
		if last := uint32(core.Nodes()) - 1; core.Nodes() > 0 {
			// Every other arc costs more, so that the way of the hierarchy is not the answer.
			rules := graph.Rules{Pay: func(_ int, arc, _ uint32) uint32 { return arc & 1 }, Budget: 1000}
			goal := graph.Goal{Node: last, Finish: func(uint32, int, uint32) uint32 { return 0 }}
			_, _ = search.Find(context.Background(), &p.Hierarchies[i], weight, rules, []graph.Seed{{}}, []graph.Goal{goal})
		}
	}
}

// comeOut walks from a node out of its tree to a chain, and along that both ways
// to core nodes, whose arcs it lists.
func comeOut(n *network.Network, core *graph.Core, v uint32) {
	at, link, out := core.Where(v)
	for out != graph.None {
		at, link, out = core.Where(uint32(n.Head(network.Arc(out))))
	}
	if link == graph.None {
		_ = core.Head[core.First[at]:core.First[at+1]]
		return
	}
	chain := core.ChainOf(link)
	_ = core.Links[link-1] // a node inside a chain has a link before it
	links := core.Links[core.ChainFirst[chain]:core.ChainFirst[chain+1]]
	for _, end := range []network.NodeID{n.Tail(network.Arc(links[0])), n.Head(network.Arc(links[len(links)-1]))} {
		at, _, _ = core.Where(uint32(end))
		_ = core.Head[core.First[at]:core.First[at+1]]
	}
}
