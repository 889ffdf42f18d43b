package network

import (
	"wayhouse/regs/measure"
	"wayhouse/routing/graph"
)

// Permille is how much roads cost that are no truck roads, in thousandths of what they
// would: a price, not a time.
type Permille uint32

// Alike prefers no road. Preferred is what a search takes where nothing else is asked for,
// and what hierarchies are built with: this project's choice, by what it does on the extract
// of Delaware (figures in the guide).
const (
	Alike     Permille = 1000
	Preferred Permille = 1300
)

// TruckRoad reports whether an arc is designated for heavy goods vehicles: by a sign, by
// a network of truck roads, or as a truck route. Where the network does not know of them
// no arc is.
func (n *Network) TruckRoad(a Arc) bool {
	if a.Reverse() {
		return n.Flags(a.Edge()).Has(TruckAgainst)
	}
	return n.Flags(a.Edge()).Has(TruckAlong)
}

// Price returns what a piece costs a search: its [Network.Millis], and on a road that is
// no truck road so many thousandths of that; a ferry is no road. Where the network does
// not know of truck roads all are alike.
func (n *Network) Price(p Piece, top measure.Speed, others Permille) uint32 {
	ms := n.Millis(p, top)
	if others <= Alike || !n.trucks || n.Class[p.Arc.Edge()].Water() || n.TruckRoad(p.Arc) {
		return ms
	}
	return uint32(min(uint64(ms)*uint64(others)/uint64(Alike), uint64(graph.Infinite-1)))
}
