// Package network holds the road graph as flat arrays indexed by small
// integers: nodes where lines meet, edges between them, and for every edge two
// arcs, one a direction. It says what the data carries and what it lacks, so
// that nothing absent is taken for clear.
package network

import (
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
)

// NodeID and EdgeID index the arrays of a Network.
type (
	NodeID int32
	EdgeID int32
)

// Arc is one direction of an edge: twice its id, plus one when travelled
// against the direction of its line.
type Arc int32

// MakeArc returns the arc of an edge.
func MakeArc(e EdgeID, reverse bool) Arc {
	if reverse {
		return Arc(e<<1 | 1)
	}
	return Arc(e << 1)
}

// Edge returns the edge of an arc.
func (a Arc) Edge() EdgeID { return EdgeID(a >> 1) }

// Reverse tells whether the arc runs against the line of its edge.
func (a Arc) Reverse() bool { return a&1 == 1 }

// Class is the class of a road in the source.
type Class string

// The classes, highest first. PossibleFerry is a line that the source does not
// explain and that crosses water.
const (
	Freeway       Class = "freeway"
	Primary       Class = "primary"
	Secondary     Class = "secondary"
	Local         Class = "local connector"
	PossibleFerry Class = "possible ferry"
)

// Fact is a kind of knowledge that a network carries or lacks.
type Fact string

// Every kind of knowledge that a plan looks for. A network must place each in
// its Carries or its Lacks.
const (
	Structures Fact = "structures"      // bridges, wires, tunnels and their clearances
	RoadLimits Fact = "posted limits"   // signs of height, width, length, mass
	OneWays    Fact = "one-ways"        // directions of travel
	TurnRules  Fact = "turn rules"      // forbidden turns
	Grades     Fact = "grades"          // climbs and descents
	Owners     Fact = "road owners"     // whose rules bind the road
	Lanes      Fact = "lanes"           // number and width of lanes
	Surfaces   Fact = "surfaces"        // paved or not
	Speeds     Fact = "speed limits"    // posted speeds
	Notices    Fact = "works, closures" // what is shut at the time
)

// AllFacts lists every Fact in the order of risk that reports use.
func AllFacts() []Fact {
	return []Fact{Structures, RoadLimits, OneWays, TurnRules, Grades, Owners, Lanes, Surfaces, Speeds, Notices}
}

// About describes a network.
type About struct {
	Name        string
	Vintage     string // how old, in words
	Caution     string // shown first in every answer
	Attribution string
	Carries     []Fact
	Lacks       []Fact
	Speeds      map[Class]measure.Speed // assumed when towing; a class without one has an unknown speed
	Assumptions []string
	Revision    string // of the bytes it was read from
}

// Network is a road graph. It is read-only once built and safe for use by many
// goroutines.
type Network struct {
	About About

	Node []orb.Point // longitude, latitude, WGS84

	From, To   []NodeID           // ends of an edge
	Length     []measure.Distance // geodesic, WGS84
	Class      []Class
	Ref        []string // road numbers as the source writes them, "" where it gives none
	Areas      []uint16 // index into AreaSets
	shapeStart []int32  // edge e has shape[shapeStart[e]:shapeStart[e+1]]
	shape      []orb.Point

	AreaSets [][]string // jurisdictions of an edge, more than one where it crosses or cannot be told

	arcStart []int32 // node n has arcs[arcStart[n]:arcStart[n+1]]
	arcs     []Arc
}

// Edges returns the number of edges.
func (n *Network) Edges() int { return len(n.From) }

// Shape returns the line of an edge in its own direction. The caller must not
// change it.
func (n *Network) Shape(e EdgeID) []orb.Point { return n.shape[n.shapeStart[e]:n.shapeStart[e+1]] }

// Jurisdictions returns the codes of the jurisdictions that an edge lies in.
func (n *Network) Jurisdictions(e EdgeID) []string { return n.AreaSets[n.Areas[e]] }

// Out returns the arcs that leave a node.
func (n *Network) Out(id NodeID) []Arc { return n.arcs[n.arcStart[id]:n.arcStart[id+1]] }

// Tail and Head return the nodes that an arc leaves and reaches.
func (n *Network) Tail(a Arc) NodeID {
	if a.Reverse() {
		return n.To[a.Edge()]
	}
	return n.From[a.Edge()]
}

// Head returns the node that an arc reaches.
func (n *Network) Head(a Arc) NodeID {
	if a.Reverse() {
		return n.From[a.Edge()]
	}
	return n.To[a.Edge()]
}

// Speed returns the assumed towing speed of an edge; ok is false where none is
// known.
func (n *Network) Speed(e EdgeID) (v measure.Speed, ok bool) {
	v, ok = n.About.Speeds[n.Class[e]]
	return v, ok
}

// Lacks tells whether the network states that it lacks a kind of fact.
func (n *Network) Lacks(f Fact) bool { return slices.Contains(n.About.Lacks, f) }

// link fills the arcs by node once the edges are complete.
func (n *Network) link() {
	n.arcStart = make([]int32, len(n.Node)+1)
	for e := range n.From {
		n.arcStart[n.From[e]+1]++
		n.arcStart[n.To[e]+1]++
	}
	for i := 1; i < len(n.arcStart); i++ {
		n.arcStart[i] += n.arcStart[i-1]
	}
	n.arcs = make([]Arc, 2*len(n.From))
	next := slices.Clone(n.arcStart)
	place := func(id NodeID, a Arc) {
		n.arcs[next[id]] = a
		next[id]++
	}
	for e := range n.From {
		place(n.From[e], MakeArc(EdgeID(e), false))
		place(n.To[e], MakeArc(EdgeID(e), true))
	}
}
