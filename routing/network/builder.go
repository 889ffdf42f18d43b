package network

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
)

// Builder makes a network: nodes first, edges between them, then what stands
// on the edges, which turns are banned and which places there are.
type Builder struct {
	net     *Network
	strings *interner
	roads   *interner
	sets    *interner
	spots   []Spot
	places  []placeRow
	marked  map[marking]RoadID

	addresses []addressed
	ends      []NodeID
	local     []StringID // municipality of each edge, as streets are named by
}

// NewBuilder returns a builder of an empty network.
func NewBuilder() *Builder {
	return &Builder{
		net: &Network{shapeStart: []uint32{0}}, strings: newInterner(""),
		roads: newInterner(string(Record{}.encode())), sets: newInterner("|"),
		marked: map[marking]RoadID{},
	}
}

// Node adds a node.
func (b *Builder) Node(p orb.Point) NodeID {
	b.net.Node = append(b.net.Node, p)
	return NodeID(len(b.net.Node) - 1)
}

// Text puts a string into the table.
func (b *Builder) Text(s string) StringID { return StringID(b.strings.id(s)) }

// Record puts what a source says into the table.
func (b *Builder) Record(r Record) RoadID { return RoadID(b.roads.id(string(r.encode()))) }

// Edge is an edge to add. Its line runs from the node From to the node To.
type Edge struct {
	From, To      NodeID
	Line          []orb.Point // two points or more
	Class         Class
	Speed         measure.Speed // when towing; 0: not known
	Road          RoadID
	Ref, Name     string
	Jurisdictions []string
	Zone          string // IANA time zone of the first jurisdiction
	Town          string
	Local         string // municipality by which people name the street; only for [Network.Streets]
	Origin        int64  // OSM way
	Grade         Grade
}

// maxEdges keeps an arc within an int32.
const maxEdges = math.MaxInt32 / 2

// Edge adds an edge. The error says that the network grew beyond what its
// numbers can count.
func (b *Builder) Edge(e Edge) (EdgeID, error) {
	n := b.net
	if len(n.From) >= maxEdges || len(n.shape)+len(e.Line) > math.MaxUint32 {
		return 0, fmt.Errorf("the network is too large: more than %d edges or %d points", maxEdges, math.MaxUint32)
	}
	n.From, n.To = append(n.From, e.From), append(n.To, e.To)
	n.Length = append(n.Length, geodesic.Length(e.Line))
	n.Class, n.speed, n.road = append(n.Class, e.Class), append(n.speed, e.Speed), append(n.road, e.Road)
	n.ref, n.name, n.town = append(n.ref, b.Text(e.Ref)), append(n.name, b.Text(e.Name)), append(n.town, b.Text(e.Town))
	n.set = append(n.set, b.area(e.Jurisdictions, e.Zone))
	b.local = append(b.local, b.Text(e.Local))
	n.origin, n.grade = append(n.origin, e.Origin), append(n.grade, e.Grade)
	n.shape = append(n.shape, e.Line...)
	n.shapeStart = append(n.shapeStart, uint32(len(n.shape)))
	return EdgeID(len(n.From) - 1), nil
}

// area puts a set of jurisdictions and a time zone into the table, as
// "CA-ON CA-QC|America/Toronto".
func (b *Builder) area(codes []string, zone string) setID {
	text := ""
	for i, c := range codes {
		if i > 0 {
			text += " "
		}
		text += c
	}
	return setID(b.sets.id(text + "|" + zone))
}

// Records returns the number of records so far.
func (b *Builder) Records() int { return b.roads.len() }

// Spot adds what stands at one place of an edge.
func (b *Builder) Spot(s Spot) { b.spots = append(b.spots, s) }

// Ban adds a forbidden sequence of two arcs or more, each starting where the
// one before ends.
func (b *Builder) Ban(arcs []Arc, ban Ban) {
	ban.Start = uint32(len(b.net.banArcs))
	b.net.banArcs = append(b.net.banArcs, arcs...)
	ban.End = uint32(len(b.net.banArcs))
	b.net.bans = append(b.net.bans, ban)
}

// Length returns the length of an edge that was added.
func (b *Builder) Length(e EdgeID) measure.Distance { return b.net.Length[e] }

// Graph completes the edges and returns the network as far as it is: nodes,
// edges, arcs and records. No edge may be added afterwards.
func (b *Builder) Graph() *Network {
	if b.net.arcStart == nil {
		b.net.link()
	}
	b.net.roads = b.roads.blobs
	return b.net
}

// Finish completes the network. Nothing may be added afterwards.
func (b *Builder) Finish(about About, report []byte) (*Network, error) {
	n := b.net
	b.nameStreets()
	if b.strings.full || b.roads.full || b.sets.full {
		return nil, fmt.Errorf("the network is too large: a table holds more than 4 GiB")
	}
	n.strings, n.roads, n.sets = b.strings.blobs, b.roads.blobs, b.sets.blobs
	n.About, n.report, n.places = about, report, b.places
	if err := n.About.complete(); err != nil {
		return nil, err
	}
	n.trucks = !n.Lacks(TruckRoads)
	b.Graph()
	b.endRoads()
	n.setSpots(b.spots)
	n.findUTurns()
	n.plant()
	return n, n.stamp()
}

// stamp names the revision after the contents, where the maker named none.
func (n *Network) stamp() error {
	if n.About.Revision != "" {
		return nil
	}
	h := sha256.New()
	about, err := json.Marshal(n.About)
	if err != nil {
		return err
	}
	for _, s := range n.roadSections(about) { // what is prepared of them changes nothing
		h.Write(s.bytes)
	}
	n.About.Revision = hex.EncodeToString(h.Sum(nil)[:6])
	return nil
}

// link fills the arcs by node, which nothing delays yet, once the edges are complete.
func (n *Network) link() {
	n.arcStart = make([]uint32, len(n.Node)+1)
	for e := range n.From {
		n.arcStart[n.From[e]+1]++
		n.arcStart[n.To[e]+1]++
	}
	for i := 1; i < len(n.arcStart); i++ {
		n.arcStart[i] += n.arcStart[i-1]
	}
	n.arcs, n.delay = make([]Arc, 2*len(n.From)), make([]Delay, 2*len(n.From))
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

// setSpots sorts the spots by edge and place.
func (n *Network) setSpots(spots []Spot) {
	slices.SortStableFunc(spots, func(a, b Spot) int {
		return cmp.Or(cmp.Compare(a.Edge, b.Edge), cmp.Compare(a.Offset, b.Offset), cmp.Compare(a.Kind, b.Kind),
			cmp.Compare(a.OSM, b.OSM))
	})
	n.spots = spots
	n.spotStart = make([]uint32, len(n.From)+1)
	for _, s := range spots {
		n.spotStart[s.Edge+1]++
	}
	for i := 1; i < len(n.spotStart); i++ {
		n.spotStart[i] += n.spotStart[i-1]
	}
}
