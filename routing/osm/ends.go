package osm

import (
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/routing/network"
)

// endData says where the extracts are cut off: beside nodes that are in none of them, and
// where a road ends outside the box that every extract states. What was cut along a line
// with whole roads kept shows neither; there the network takes the dead ends of roads that
// lead on for ends.
func (b *build) endData(extracts int) {
	for _, i := range b.cutOff {
		if b.nodeOf[i] >= 0 {
			b.builder.DataEnd(b.nodeOf[i])
		}
	}
	if len(b.boxes) < extracts {
		return
	}
	for id, p := range b.graph.Node {
		within := slices.ContainsFunc(b.boxes, func(box orb.Bound) bool { return box.Contains(p) })
		if !within && len(b.graph.Out(network.NodeID(id))) == 1 {
			b.builder.DataEnd(network.NodeID(id))
		}
	}
}
