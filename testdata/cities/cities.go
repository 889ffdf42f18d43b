// Package cities invents road networks for benchmarks: cities of many sizes on
// a square of countryside, joined by motorways, arterials and collectors, with
// one-way streets, dead ends and bends. The same plan gives the same network, on
// processors of one kind: others may round a length differently.
//
// Nothing in it is a real place. The shares of dead ends, bends and junctions
// follow the project's own design notes and no survey of real roads.
package cities

import (
	"math"
	"math/rand/v2"
)

// Class is the class of a road, the fastest first.
type Class uint8

const (
	Motorway Class = iota
	Arterial
	Collector
	Street
)

// none stands for a node that is not there.
const none = ^uint32(0)

// Plan says what network is wanted.
type Plan struct {
	Nodes int    // about so many, within a tenth from 50,000 on
	Hard  bool   // dense, with little difference in speed: hard to search
	Seed  uint64 // another seed, another network
}

// Roads is an invented network. Every node can be reached from every other, two
// nodes are joined by one road at most, and nodes with near numbers are near
// each other. The arcs of a node are sorted by head.
type Roads struct {
	First    []uint32  // node v is left by the arcs First[v] up to First[v+1]
	Head     []uint32  // of an arc: the node it reaches
	Weight   []uint32  // of an arc: ms at the speed of the road
	Lat, Lon []float32 // of a node, degrees; they lie in the open Atlantic
	Class    []Class   // of an arc
	Metres   []float32 // of an arc, no shorter than the straight line on the flat plan
}

// Build invents a network.
//
//  1. Found cities on a square that grows with the nodes wanted.
//  2. Draw a lattice of lines over it and delete steps of them, most where no
//     city is.
//  3. Walk each line and make roads between the places where it meets another.
//  4. Keep what is strongly connected, and number it along a curve.
func Build(p Plan) *Roads {
	m := mannerOf(p.Hard)
	rng := rand.New(rand.NewPCG(p.Seed, 0))
	l := newLand(m, p.Nodes, rng)
	l.found()
	l.draw()
	return newBuilder(l, p.Nodes).build().roads()
}

// Capped returns the weights, in ms, for who drives no faster than kmh, above 0,
// anywhere. None is below the weight of the arc.
func (r *Roads) Capped(kmh float64) []uint32 {
	weight := make([]uint32, len(r.Head))
	for a, metres := range r.Metres {
		weight[a] = max(r.Weight[a], milliseconds(metres, kmh))
	}
	return weight
}

// milliseconds returns the time to drive so far, at least 1 so that no two nodes
// are at distance 0.
func milliseconds(metres float32, kmh float64) uint32 {
	return uint32(max(1, math.Round(float64(metres)*3600/kmh)))
}
