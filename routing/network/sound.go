package network

import (
	"cmp"
	"slices"
	"sync/atomic"
)

// smallSections are those that are read whole when a file is opened, whatever it holds.
var smallSections = []string{"about", "bans", "ban arcs", "buckets", "page sums", "seal"}

func (m *mapping) small() []entry {
	return slices.DeleteFunc(
		slices.Clone(m.table),
		func(e entry) bool { return !slices.Contains(smallSections, e.name()) },
	)
}

// lazily lets pages be checked when they are used.
func (n *Network) lazily() {
	m := n.file
	m.good, m.columns, m.named = make([]atomic.Uint32, len(m.sums)/32+1), n.edgeColumns(), map[string]entry{}
	for _, e := range m.table {
		m.named[e.name()] = e
	}
	m.lazily = true
}

// Sound wants what a file says of the roads of a way to be what was verified: where a
// stamp let the file be opened unread, the pages that hold it are held against their sums,
// and the pieces must hang together. It is asked before a way is answered, so that a bit
// that the disk turned over reaches no answer; one in what only guides the search leads it
// astray or to no way, but to no road that is not as it says. The error is a [*FileError].
func (n *Network) Sound(pieces []Piece) error {
	if n.file == nil || !n.file.lazily {
		return nil
	}
	for i, p := range pieces {
		if i > 0 && p.Arc != pieces[i-1].Arc && n.Tail(p.Arc) != n.Head(pieces[i-1].Arc) {
			return damaged("arcs %d and %d of a way do not meet", pieces[i-1].Arc, p.Arc)
		}
		if err := n.soundEdge(p.Arc.Edge()); err != nil {
			return err
		}
	}
	return nil
}

// edgeColumn is a column of so many bytes an edge.
type edgeColumn struct{ offset, width, bytes uint64 }

// edgeColumns lists the columns that have a row an edge, or two, or one more where rows
// say where something begins.
func (n *Network) edgeColumns() []edgeColumn {
	var out []edgeColumn
	edges := uint64(n.Edges())
	for _, e := range n.file.table {
		width := uint64(e.Width)
		switch e.Size / width {
		case edges:
			out = append(out, edgeColumn{e.Offset, width, width})
		case edges + 1:
			out = append(out, edgeColumn{e.Offset, width, 2 * width})
		case 2 * edges:
			out = append(out, edgeColumn{e.Offset, 2 * width, 2 * width})
		}
	}
	return out
}

// soundEdge checks every column of edges, and then what they point to.
func (n *Network) soundEdge(e EdgeID) error {
	for _, c := range n.file.columns {
		from := c.offset + uint64(e)*c.width
		if err := n.file.rightPages(from, from+c.bytes); err != nil {
			return err
		}
	}
	texts := []StringID{n.ref[e], n.name[e], n.town[e]}
	err := cmp.Or(
		n.soundRows("shape", uint64(n.shapeStart[e]), uint64(n.shapeStart[e+1])),
		n.soundRows("spots", uint64(n.spotStart[e]), uint64(n.spotStart[e+1])),
		n.soundBlob("area", n.sets, uint32(n.set[e])), n.soundRecord(n.road[e]),
	)
	if err != nil {
		return err
	}
	for _, s := range n.Spots(e) {
		texts = append(texts, s.Name)
		if err := n.soundRecord(s.Road); err != nil {
			return err
		}
	}
	return n.soundTexts(texts)
}

func (n *Network) soundRecord(id RoadID) error {
	if err := n.soundBlob("road", n.roads, uint32(id)); err != nil {
		return err
	}
	return n.soundTexts(n.Record(id).texts())
}

func (n *Network) soundTexts(ids []StringID) error {
	for _, id := range ids {
		if err := n.soundBlob("string", n.strings, uint32(id)); err != nil {
			return err
		}
	}
	return nil
}

// soundBlob checks one entry of a table, whose sections are named after what it holds.
func (n *Network) soundBlob(what string, b blobs, id uint32) error {
	if err := n.soundRows(what+" starts", uint64(id), uint64(id)+2); err != nil {
		return err
	}
	return n.soundRows(what+"s", uint64(b.start[id]), uint64(b.start[id+1]))
}

// soundRows checks some rows of a section.
func (n *Network) soundRows(name string, from, until uint64) error {
	e := n.file.named[name]
	return n.file.rightPages(e.Offset+from*uint64(e.Width), e.Offset+until*uint64(e.Width))
}
