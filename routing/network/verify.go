package network

import (
	"cmp"
	"context"
	"fmt"
	"hash/crc32"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
)

// Verify reads a network that was opened from a file: every checksum, and that
// every number in it points to something that is there. progress hears how
// many bytes of how many are checked; nil hears nothing. The error is a
// [*FileError] or that of the context.
func (n *Network) Verify(ctx context.Context, progress func(done, total int64)) error {
	if n.file != nil {
		if err := cmp.Or(n.file.checkPadding(), n.file.checkSums(ctx, n.file.table, progress)); err != nil {
			return err
		}
	}
	for _, check := range []func() error{n.checkTables, n.checkStreets, n.checkEdges, n.checkArcs, n.checkSpots,
		n.checkSequences, n.checkTree, n.checkEnds, n.checkPrepared} {
		if err := cmp.Or(ctx.Err(), check()); err != nil {
			return err
		}
	}
	if n.file != nil {
		if err := n.file.checkPages(); err != nil {
			return err
		}
	}
	n.sealed.Store(true)
	return nil
}

func (m *mapping) checkSums(ctx context.Context, table []entry, progress func(done, total int64)) error {
	const piece = 16 << 20
	var done, total int64
	for _, e := range table {
		total += int64(e.Size)
	}
	for _, e := range table {
		raw, sum := m.raw[e.Offset:e.Offset+e.Size], uint32(0)
		for len(raw) > 0 {
			if err := ctx.Err(); err != nil {
				return err
			}
			part := raw[:min(piece, len(raw))]
			sum, raw = crc32.Update(sum, castagnoli, part), raw[len(part):]
			done += int64(len(part))
			if progress != nil {
				progress(done, total)
			}
		}
		if sum != e.Sum {
			return damaged("section %q is damaged: its checksum is %08x, not %08x", e.name(), sum, e.Sum)
		}
	}
	return nil
}

// checkPadding wants zeros between the sections.
func (m *mapping) checkPadding() error {
	at := uint64(headerSize + len(m.table)*entrySize)
	for _, e := range m.table {
		for _, b := range m.raw[at:e.Offset] {
			if b != 0 {
				return damaged("something stands before section %q", e.name())
			}
		}
		at = e.Offset + e.Size
	}
	if at != uint64(len(m.raw)) {
		return damaged("something stands behind the last section")
	}
	return nil
}

func (n *Network) checkTables() error {
	for _, t := range []struct {
		name string
		blobs
	}{{"roads", n.roads}, {"strings", n.strings}, {"areas", n.sets}} {
		if err := t.check(); err != nil {
			return damaged("table %q: %v", t.name, err)
		}
	}
	for i := range n.roads.len() {
		r, err := decodeRecord(n.roads.at(uint32(i)))
		if err != nil {
			return damaged("road record %d: %v", i, err)
		}
		for _, id := range r.texts() {
			if int(id) >= n.strings.len() {
				return damaged("road record %d names string %d of %d", i, id, n.strings.len())
			}
		}
	}
	for i, p := range n.places {
		lost := slices.ContainsFunc(p.texts(), func(id StringID) bool { return int(id) >= n.strings.len() })
		if !onEarth(p.point()) || lost || int(p.Set) >= n.sets.len() || int(p.Road) >= n.roads.len() ||
			p.Kind >= placeKinds {
			return damaged("place %d is out of range", i)
		}
	}
	return nil
}

// texts lists the strings that a record names.
func (r Record) texts() []StringID {
	out := []StringID{r.Surface, r.Smoothness, r.Tracktype, r.Incline, r.Operator, r.Ownership, r.Signed}
	for _, s := range r.Signs {
		out = append(out, s.Text, s.When)
	}
	return out
}

func onEarth(p orb.Point) bool {
	return p.Lat() >= -90 && p.Lat() <= 90 && p.Lon() >= -180 && p.Lon() <= 180
}

func (n *Network) checkEdges() error {
	for _, p := range n.Node {
		if !onEarth(p) {
			return damaged("node at %v", p)
		}
	}
	for _, p := range n.shape {
		if !onEarth(p) {
			return damaged("a line runs through %v", p)
		}
	}
	if err := ascending(n.shapeStart, len(n.shape), n.Edges()); err != nil {
		return damaged("shape %v", err)
	}
	for e := range n.From {
		if problem := n.edgeProblem(EdgeID(e)); problem != "" {
			return damaged("edge %d: %s", e, problem)
		}
	}
	return nil
}

func (n *Network) edgeProblem(e EdgeID) string {
	node := func(id NodeID) bool { return id >= 0 && int(id) < len(n.Node) }
	text := func(id StringID) bool { return int(id) < n.strings.len() }
	finite := func(v float64) bool { return v >= 0 && !math.IsInf(v, 1) }
	g := n.grade[e]
	switch l, v, s := float64(n.Length[e]), float64(n.speed[e]), n.Shape(e); {
	case !node(n.From[e]) || !node(n.To[e]):
		return "ends at no node"
	case len(s) < 2 || s[0] != n.Node[n.From[e]] || s[len(s)-1] != n.Node[n.To[e]]:
		return "its line does not run from its first node to its last"
	case !finite(l) || !finite(v):
		return fmt.Sprintf("%v m long, %v m/s", l, v)
	case g.Known > 1 || !finite(float64(g.Ascent)) || !finite(float64(g.Descent)) ||
		!finite(math.Abs(float64(g.Steepest))):
		return fmt.Sprintf("it climbs %+v", g)
	case n.Class[e] >= classes || int(n.road[e]) >= n.roads.len() || int(n.set[e]) >= n.sets.len():
		return "its class, record or area is not there"
	case !text(n.ref[e]) || !text(n.name[e]) || !text(n.town[e]):
		return "its names are not there"
	default:
		return ""
	}
}

func (n *Network) checkArcs() error {
	if err := ascending(n.arcStart, len(n.arcs), len(n.Node)); err != nil {
		return damaged("arc %v", err)
	}
	seen := make([]bool, len(n.arcs))
	for id := range n.Node {
		for _, a := range n.Out(NodeID(id)) {
			if !n.arc(a) || n.Tail(a) != NodeID(id) || seen[a] {
				return damaged("arc %d does not leave node %d, or twice", a, id)
			}
			seen[a] = true // as many as there are arcs, none twice: each is there
		}
	}
	return nil
}

func (n *Network) arc(a Arc) bool { return a >= 0 && int(a.Edge()) < n.Edges() }

func (n *Network) checkSpots() error {
	if err := ascending(n.spotStart, len(n.spots), n.Edges()); err != nil {
		return damaged("spot %v", err)
	}
	for e := range n.From {
		last := measure.Distance(0)
		for _, s := range n.Spots(EdgeID(e)) {
			if s.Edge != EdgeID(e) || !(s.Offset >= 0 && s.Offset <= n.Length[e]) || s.Kind >= kinds || s.OnNode > 1 ||
				s.Along > 1 || s.Own > 1 ||
				int(s.Road) >= n.roads.len() || int(s.Name) >= n.strings.len() {
				return damaged("a spot of edge %d is out of range: %+v", e, s)
			}
			if s.Offset < last {
				return damaged("the spots of edge %d are out of order", e)
			}
			last = s.Offset
		}
	}
	return nil
}

func (n *Network) checkSequences() error {
	at := uint32(0)
	for i, b := range n.bans {
		if int(b.When) >= n.strings.len() || b.For >= modes || !n.sequence(&at, b.Start, b.End, n.banArcs) {
			return damaged("ban %d is out of range, or no way through the network", i)
		}
	}
	if int(at) != len(n.banArcs) {
		return damaged("%d arcs of bans, %d used", len(n.banArcs), at)
	}
	at = 0
	for i, u := range n.uturns {
		if !(u.Across >= 0) || !n.sequence(&at, u.Start, u.End, n.uturnArcs) {
			return damaged("U-turn %d is out of range, or no way through the network", i)
		}
	}
	if int(at) != len(n.uturnArcs) {
		return damaged("%d arcs of U-turns, %d used", len(n.uturnArcs), at)
	}
	return nil
}

// sequence reports whether arcs from start to end follow those before them and each other. at is moved behind them.
func (n *Network) sequence(at *uint32, start, end uint32, arcs []Arc) bool {
	if start != *at || end < start+2 || int(end) > len(arcs) {
		return false
	}
	*at = end
	for k := start; k < end; k++ {
		if !n.arc(arcs[k]) || k > start && n.Head(arcs[k-1]) != n.Tail(arcs[k]) {
			return false
		}
	}
	return true
}

// checkTree wants every edge once, and every box to hold what is below it: a
// road outside its box would never be found.
func (n *Network) checkTree() error {
	seen := make([]bool, n.Edges())
	for _, e := range n.treeEdge {
		if e < 0 || int(e) >= len(seen) || seen[e] {
			return damaged("the tree names edge %d twice, or it is not there", e)
		}
		seen[e] = true
	}
	for i, e := range n.treeEdge {
		if !n.tree[i].holds(boxOf(edgeBound(n.Shape(e)))) {
			return damaged("box %d does not hold edge %d", i, e)
		}
	}
	start := 0
	for size := n.Edges(); size > 1; size = (size + branching - 1) / branching {
		for i := range size {
			if !n.tree[start+size+i/branching].holds(n.tree[start+i]) {
				return damaged("box %d does not lie in the one above it", start+i)
			}
		}
		start += size
	}
	return nil
}
