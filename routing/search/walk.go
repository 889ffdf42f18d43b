package search

import (
	"slices"

	"wayhouse/routing/graph"
	"wayhouse/routing/network"
)

// walk is a way out from a position that has no choice: out of a dead-end tree,
// or to the end of a chain.
type walk struct {
	pieces []network.Piece
	end    uint32 // the core node that it comes to, None where it comes to none
}

// walks returns the ways out from a position: two where it lies in a chain or in
// a tree beside one, and what leads deeper into a tree.
func (e *Engine) walks(p network.Position) []walk {
	var out []walk
	for _, a := range arcs(p.Edge) {
		piece := network.Piece{Arc: a, Start: e.net.Along(p, a), End: e.net.Length[p.Edge]}
		out = append(out, e.on(walk{pieces: []network.Piece{piece}})...)
	}
	return out
}

// on follows a walk to its end, and splits it where it comes out of a tree into
// the middle of a chain.
func (e *Engine) on(w walk) []walk {
	core := &e.prepared.Core
	last := w.pieces[len(w.pieces)-1].Arc
	for {
		node, link, out := core.Where(uint32(e.net.Head(last)))
		switch {
		case node != graph.None:
			w.end = node
			return []walk{w}
		case link != graph.None:
			return e.along(w, link)
		case network.Arc(out) == last.Back(): // deeper into the tree
			w.end = graph.None
			return []walk{w}
		}
		last = network.Arc(out)
		w.pieces = append(w.pieces, e.net.Whole(last))
	}
}

// along follows a chain to its ends, forward from a link and backward from the
// one before it; a walk that is on the chain already goes on one way only.
func (e *Engine) along(w walk, link uint32) []walk {
	core := &e.prepared.Core
	chain := core.ChainOf(link)
	first, end := core.ChainFirst[chain], core.ChainFirst[chain+1]
	last := uint32(w.pieces[len(w.pieces)-1].Arc)
	var out []walk
	if core.Links[link] != last^1 { // not where it came from
		ahead := walk{pieces: slices.Clone(w.pieces)}
		for i := link; i < end; i++ {
			ahead.pieces = append(ahead.pieces, e.net.Whole(network.Arc(core.Links[i])))
		}
		out = append(out, e.ended(ahead))
	}
	if core.Links[link-1] != last {
		back := walk{pieces: slices.Clone(w.pieces)}
		for i := link; i > first; i-- {
			back.pieces = append(back.pieces, e.net.Whole(network.Arc(core.Links[i-1]^1)))
		}
		out = append(out, e.ended(back))
	}
	return out
}

// ended notes the core node that a walk has come to.
func (e *Engine) ended(w walk) walk {
	last := w.pieces[len(w.pieces)-1].Arc
	w.end, _, _ = e.prepared.Core.Where(uint32(e.net.Head(last)))
	return w
}

// backward returns the pieces of a walk from a position as they are driven to it.
func (e *Engine) backward(pieces []network.Piece, to network.Position) []network.Piece {
	out := make([]network.Piece, len(pieces))
	for i, p := range pieces {
		out[len(out)-1-i] = e.net.Whole(p.Arc.Back())
	}
	last := &out[len(out)-1]
	last.End = e.net.Along(to, last.Arc)
	return out
}
