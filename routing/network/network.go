package network

import (
	"slices"
	"strings"
	"sync/atomic"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
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

// Reverse reports whether the arc runs against the line of its edge.
func (a Arc) Reverse() bool { return a&1 == 1 }

// Back returns the other direction of the same edge.
func (a Arc) Back() Arc { return a ^ 1 }

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
	Controls   Fact = "traffic control" // signals, stop and give-way signs, crossings
	Notices    Fact = "works, closures" // what is shut at the time
	Addresses  Fact = "addresses"       // house numbers on streets
	TruckRoads Fact = "truck roads"     // designated for heavy goods vehicles
	Stopping   Fact = "truck parking"   // rest areas, services, parking for trucks
)

// Term names the kind of knowledge.
func (f Fact) Term() say.Code { return term("fact", string(f)) }

// term is the code of a name of ours.
func term(kind, name string) say.Code {
	return say.Code(kind + "." + strings.ReplaceAll(name, " ", "_"))
}

// AllFacts lists every Fact in the order of risk that reports use.
func AllFacts() []Fact {
	return []Fact{Structures, RoadLimits, OneWays, TurnRules, Grades, Owners, Lanes, Surfaces, Speeds, Controls,
		Notices, Addresses, TruckRoads, Stopping}
}

// About describes a network.
type About struct {
	Name        string
	Vintage     string // how old, in words
	Caution     string // shown first in every answer
	Attribution string
	Licence     string `json:",omitempty"`
	Carries     []Fact
	Lacks       []Fact
	Speeds      map[Class]measure.Speed // assumed when towing; a class without one has an unknown speed
	Assumptions []string
	Revision    string // of the bytes it was read from
}

// Network is a road graph. It is read-only once built and safe for use by many
// goroutines. Its columns may be a mapped file: they must not be written to,
// nor used after [Network.Close].
type Network struct {
	About About

	Node []orb.Point // longitude, latitude, WGS84

	From, To []NodeID           // ends of an edge
	Length   []measure.Distance // geodesic, WGS84
	Class    []Class
	speed    []measure.Speed // assumed towing speed, 0: not known
	road     []RoadID
	ref      []StringID // road numbers as the source writes them
	name     []StringID // street names
	set      []setID    // jurisdictions and time zone
	town     []StringID // municipality
	origin   []int64    // OSM way, 0: not from OSM
	grade    []Grade
	delay    []Delay // of arcs
	// edge e has shape[shapeStart[e]:shapeStart[e+1]] and
	// spots[spotStart[e]:spotStart[e+1]]
	shapeStart []uint32
	shape      []orb.Point
	spotStart  []uint32
	spots      []Spot

	arcStart []uint32 // node n has arcs[arcStart[n]:arcStart[n+1]]
	arcs     []Arc

	bans    []Ban
	banArcs []Arc

	uturns    []UTurn
	uturnArcs []Arc

	roads   blobs
	strings blobs
	sets    blobs
	places  []placeRow

	streets     []streetRow // by name and town
	streetEdges []EdgeID
	addresses   []addressRow
	ends        []NodeID // at which roads leave the data

	report   []byte // how it was made, JSON; empty where it was not imported
	tree     []box
	treeEdge []EdgeID

	prepared Prepared // for searches; empty where it was not prepared

	trucks bool // it carries TruckRoads
	turns  lazyTurns
	file   *mapping
	sealed atomic.Bool // it was verified as it is
}

// StringID, RoadID and setID index the tables of a Network.
type (
	StringID uint32
	RoadID   uint32
	setID    uint32
)

// Grade is how an edge climbs in the direction of its line.
type Grade struct {
	Ascent, Descent float32 // metres, both positive
	Steepest        float32 // rise over run of the steepest 100 m or so, signed
	Known           uint32  // 1 where the terrain was known along the whole edge
}

// Edges returns the number of edges.
func (n *Network) Edges() int { return len(n.From) }

// Shape returns the line of an edge in its own direction. The caller must not
// change it.
func (n *Network) Shape(e EdgeID) []orb.Point { return n.shape[n.shapeStart[e]:n.shapeStart[e+1]] }

// Jurisdictions returns the codes of the jurisdictions that an edge lies in,
// more than one where it crosses a border or cannot be told, none where none
// is known.
func (n *Network) Jurisdictions(e EdgeID) []string {
	codes, _, _ := strings.Cut(n.sets.text(uint32(n.set[e])), "|")
	return strings.Fields(codes)
}

// Zone returns the time zone of the first jurisdiction of an edge, "" where
// none is known.
func (n *Network) Zone(e EdgeID) string {
	_, zone, _ := strings.Cut(n.sets.text(uint32(n.set[e])), "|")
	return zone
}

// SameArea reports whether two edges lie in the same jurisdictions.
func (n *Network) SameArea(a, b EdgeID) bool { return n.set[a] == n.set[b] }

// Town returns the municipality of an edge as the source names it, "" where
// none is known.
func (n *Network) Town(e EdgeID) string { return n.Text(n.town[e]) }

// Ref returns the road numbers of an edge as the source writes them, "" where
// it gives none.
func (n *Network) Ref(e EdgeID) string { return n.Text(n.ref[e]) }

// Name returns the street name of an edge, "" where the source gives none.
func (n *Network) Name(e EdgeID) string { return n.Text(n.name[e]) }

// Text returns a string of the table.
func (n *Network) Text(id StringID) string { return n.strings.text(uint32(id)) }

// Origin returns the OSM way that an edge was made from; 0 is none.
func (n *Network) Origin(e EdgeID) int64 { return n.origin[e] }

// Grade returns how an arc climbs; ok is false where the terrain is not known.
func (n *Network) Grade(a Arc) (g Grade, ok bool) {
	g = n.grade[a.Edge()]
	if a.Reverse() {
		g.Ascent, g.Descent, g.Steepest = g.Descent, g.Ascent, -g.Steepest
	}
	return g, g.Known == 1
}

// Spots lists what stands at single places of an edge, in the order of its
// line.
func (n *Network) Spots(e EdgeID) []Spot { return n.spots[n.spotStart[e]:n.spotStart[e+1]] }

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
func (n *Network) Speed(e EdgeID) (v measure.Speed, ok bool) { return n.speed[e], n.speed[e] > 0 }

// Lacks reports whether the network states that it lacks a kind of fact.
func (n *Network) Lacks(f Fact) bool { return slices.Contains(n.About.Lacks, f) }

// Report returns how the network was made, as JSON; empty where it was not
// imported.
func (n *Network) Report() []byte { return n.report }

// RoadID returns which record of the table tells of an edge. Edges that say
// the same share one, so that a caller can judge it once.
func (n *Network) RoadID(e EdgeID) RoadID { return n.road[e] }

// Roads returns the number of records.
func (n *Network) Roads() int { return n.roads.len() }
