package network_test

import (
	"slices"
	"testing"

	"wayhouse/routing/graph"
)

// cliqueOf returns the core of a graph in which every node has a road to every
// other, or, with near, to the next one only; and the order of its numbers.
func cliqueOf(t testing.TB, nodes uint32, near bool) (*graph.Core, *graph.Order) {
	t.Helper()
	e := &graph.Edges{Nodes: int(nodes), Open: func(uint32) bool { return true }, Keep: func(uint32) bool { return true }}
	for from := range nodes {
		for to := from + 1; to < nodes && !(near && to > from+1); to++ {
			e.From, e.To = append(e.From, from), append(e.To, to)
		}
	}
	core, err := graph.Compress(e)
	if err != nil || core.Nodes() != int(nodes) {
		t.Fatalf("%d core nodes of %d: %v", core.Nodes(), nodes, err)
	}
	order := &graph.Order{}
	for v := range nodes {
		order.Rank, order.Node = append(order.Rank, v), append(order.Node, v)
	}
	return core, order
}

// climbing returns a hierarchy with a hop for every core arc, by the order of
// numbers. via says what the hop between two ranks stands for.
func climbing(core *graph.Core, weight []uint32, via func(arc uint32) uint32) *graph.Hierarchy {
	h := &graph.Hierarchy{UpFirst: []uint32{0}, DownFirst: []uint32{0}}
	for r := range uint32(core.Nodes()) {
		for a := core.First[r]; a < core.First[r+1]; a++ {
			if to := core.Head[a]; to > r {
				h.Up, h.UpVia = append(h.Up, graph.Hop{To: to, Weight: weight[a]}), append(h.UpVia, via(a))
			}
		}
		for _, a := range core.In[core.InFirst[r]:core.InFirst[r+1]] {
			if from := core.Tail[a]; from > r {
				h.Down, h.DownVia = append(h.Down, graph.Hop{To: from, Weight: weight[a]}), append(h.DownVia, via(a))
			}
		}
		h.UpFirst, h.DownFirst = append(h.UpFirst, uint32(len(h.Up))), append(h.DownFirst, uint32(len(h.Down)))
	}
	return h
}

const viaArc = uint32(1) << 31

// A search calls itself for every hop that it climbs. A hierarchy that climbs as
// far as one may can be searched, and one that climbs farther is refused: a stack
// that is full ends the program.
func TestCheckRefusesToClimbTooFar(t *testing.T) {
	const most = 1 << 16
	for hops, want := range map[uint32]bool{1: true, most: true, most + 1: false, most + 2: false} {
		core, order := cliqueOf(t, hops+1, true)
		weight := slices.Repeat([]uint32{7}, core.Arcs())
		h := climbing(core, weight, func(a uint32) uint32 { return viaArc | a })
		if err := h.Check(core, order, weight); (err == nil) != want {
			t.Errorf("%d hops that follow one another: %v, want it accepted: %t", hops, err, want)
		}
		if !want {
			continue
		}
		p := graph.NewPotential(order)
		p.Aim(h, graph.Target{Node: hops})
		if arcs, end := p.Way(0, nil); p.Least(0) != 7*hops || len(arcs) != int(hops) || end != hops {
			t.Errorf("%d hops: %d ms by %d arcs to node %d", hops, p.Least(0), len(arcs), end)
		}
	}
}

// Roads of no length weigh nothing, so that hops may each be made of two that are
// made of two, and so on, without ever weighing too much: what doubles at every
// rank would never be unpacked. One that stands for more arcs than there are is
// refused.
func TestCheckRefusesHopsThatDouble(t *testing.T) {
	const nodes = 40
	core, order := cliqueOf(t, nodes, false)
	weight := make([]uint32, core.Arcs())
	plain := func(a uint32) uint32 { return viaArc | a }
	doubled := func(from uint32) func(a uint32) uint32 {
		return func(a uint32) uint32 {
			if low := min(core.Tail[a], core.Head[a]); low >= from {
				return low - 1
			}
			return viaArc | a
		}
	}
	for _, tc := range []struct {
		name string
		via  func(arc uint32) uint32
		want bool
	}{
		{"each its own arc", plain, true},
		{"the last by the one before", doubled(nodes - 2), true},
		{"the last eight, 2 to the power of 8", doubled(nodes - 9), true},
		{"the last sixteen, 2 to the power of 16", doubled(nodes - 17), false},
		{"all of them, 2 to the power of 38", doubled(1), false},
	} {
		h := climbing(core, weight, tc.via)
		if err := h.Check(core, order, weight); (err == nil) != tc.want {
			t.Errorf("%s: %v, want it accepted: %t", tc.name, err, tc.want)
		}
		if tc.want {
			useHierarchy(core, order, h, weight)
		}
	}
}

// Hops must lead to higher ranks in their order, one to each, and weigh less than
// what counts as endless.
func TestCheckRefusesHops(t *testing.T) {
	core, order := cliqueOf(t, 3, false)
	half := graph.Infinite/2 + 1
	weight := slices.Repeat([]uint32{half}, core.Arcs())
	arc := func(from, to uint32) uint32 {
		for a := core.First[from]; a < core.First[from+1]; a++ {
			if core.Head[a] == to {
				return a
			}
		}
		return graph.None
	}
	for name, change := range map[string]func(h *graph.Hierarchy){
		"as it should be": nil,
		"out of order": func(h *graph.Hierarchy) {
			h.Up[0], h.Up[1] = h.Up[1], h.Up[0]
			h.UpVia[0], h.UpVia[1] = h.UpVia[1], h.UpVia[0]
		},
		"one twice":      func(h *graph.Hierarchy) { h.Up[1], h.UpVia[1] = h.Up[0], h.UpVia[0] },
		"too heavy":      func(h *graph.Hierarchy) { h.Up[2] = graph.Hop{To: 2, Weight: 2 * half}; h.UpVia[2] = 0 },
		"no way back":    func(h *graph.Hierarchy) { h.Up[2] = graph.Hop{To: 2, Weight: half}; h.UpVia[2] = viaArc | arc(2, 1) },
		"a column short": func(h *graph.Hierarchy) { h.UpVia = h.UpVia[1:] },
	} {
		h := climbing(core, weight, func(a uint32) uint32 { return viaArc | a })
		if change != nil {
			change(h)
		}
		if err := h.Check(core, order, weight); (err == nil) != (change == nil) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
