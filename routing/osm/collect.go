package osm

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// collector holds what the extracts say of roads, and nothing else of them.
type collector struct {
	builder *network.Builder
	report  *Report

	roads      []road
	overs      []over
	boundaries []boundary
	lines      map[int64]line // ways of boundaries
	turns      []restriction
	routes     []route
	drawn      []drawn
	housesOf   map[osm.FeatureID]string // streets of houses that relations name
	trucks     map[int64]network.Flags  // ways of truck routes, and in which directions
	signed     map[int64][]string       // networks of numbered roads, by way
	places     []place
	addresses  []address
	texts      pool // of addresses

	// Nodes that something above is made of, by id.
	ids      []int64
	point    []orb.Point // NaN: in no extract
	version  []int32
	uses     []uint8 // how often roads name it, 2 for more; only junctions and ends are nodes of the network
	spots    map[int64]nodeThing
	controls map[int64]control // of nodes on roads: what delays traffic there

	header, newest time.Time
	boxes          []orb.Bound // of the extracts that state one
}

// road is a way that vehicles use.
type road struct {
	id      int64
	version int
	refs    []int64
	tags    osm.Tags // until they are read
	class   network.Class
	record  network.RoadID
	flags   network.Flags
	speed   measure.Speed
	ferry   float64
	layer   int8
	figure  bool // it states a usable clear height
	height  bool // it has a sign of height, usable or not
	trucks  bool // it is a truck road in some direction
	ref     string
	name    string
	first   int // number of its first edge
	edges   int
}

type line struct {
	version int
	refs    []int64
}

// nodeThing is what a node on a road is to a vehicle.
type nodeThing struct {
	kind   network.Kind
	tags   osm.Tags // until they are read
	record network.RoadID
	figure bool
	height bool
	name   string
}

// place is a settlement or something to stop at.
type place struct {
	network.Place
	of      osm.FeatureID
	version int
	refs    []int64  // of an area, whose middle it is
	tags    osm.Tags // of what drivers stop at, until they are read
}

// collect reads the extracts:
//
//  1. relations: boundaries, turn restrictions, numbered routes, places and
//     addresses drawn as areas with holes, houses of streets;
//  2. ways: roads, what may hang over them, lines of boundaries, places drawn
//     as areas, addresses of buildings;
//  3. nodes: where all of that lies, what stands on roads, places, addresses.
func (c *collector) collect(ctx context.Context, paths []string, progress Progress) error {
	if err := checkExtracts(ctx, paths, progress); err != nil {
		return err
	}
	relations := &pass{
		name: "relations", relations: true, relation: c.relation, progress: progress, headerTimestamp: &c.header,
		newest: &c.newest, boxes: &c.boxes,
	}
	if err := relations.run(ctx, paths); err != nil {
		return err
	}
	if err := c.settleRelations(ctx, paths); err != nil {
		return err
	}
	ways := &pass{name: "ways", ways: true, way: c.way, progress: progress, newest: &c.newest}
	if err := ways.run(ctx, paths); err != nil {
		return err
	}
	if err := c.settleWays(ctx, paths); err != nil {
		return err
	}
	nodes := &pass{name: "nodes", nodes: true, keep: c.wants, node: c.node, progress: progress, newest: &c.newest}
	if err := nodes.run(ctx, paths); err != nil {
		return err
	}
	c.settleAddresses()
	return c.settlePlaces(ctx, paths)
}

// route is a numbered route, of which roads are members.
type route struct {
	id      int64
	version int
	name    string // "" where it bears no number
	truck   bool   // for trucks
	ways    []int64
	roles   []string // of each way
}

func (c *collector) relation(r *osm.Relation) {
	c.report.Elements["relations"]++
	if b, ok := readBoundary(r); ok {
		c.boundaries = append(c.boundaries, b)
	}
	c.drawnBy(r)
	switch kind := strings.ToLower(r.Tags.Find("type")); {
	case kind == "associatedstreet" || kind == "street":
		c.houses(r)
	case kind == "restriction" || strings.HasPrefix(kind, "restriction:"):
		c.turns = append(c.turns, readRestriction(r))
	case kind == "route":
		c.route(r)
	}
}

// route keeps a numbered route, or one for trucks.
func (c *collector) route(r *osm.Relation) {
	found := route{id: int64(r.ID), version: r.Version, truck: isTruckRoute(r.Tags)}
	if of := r.Tags.Find("network"); of != "" {
		found.name = strings.TrimSpace(of + " " + r.Tags.Find("ref"))
	}
	if r.Tags.Find("route") != "road" || found.name == "" && !found.truck {
		return
	}
	for _, m := range r.Members {
		if m.Type == osm.TypeWay {
			found.ways, found.roles = append(found.ways, m.Ref), append(found.roles, m.Role)
		}
	}
	c.routes = append(c.routes, found)
}

// counted are the tags whose ways the report counts, so that it can be
// compared with other readers of the extract.
var counted = []string{"highway", "bridge", "tunnel", "maxheight", "maxheight:physical", "maxweight", "maxwidth", "hgv"}

func (c *collector) way(w *osm.Way) {
	c.report.Elements["ways"]++
	for _, key := range counted {
		if w.Tags.HasTag(key) {
			c.report.Tagged[key]++
		}
	}
	if w.Tags.Find("tunnel") == "culvert" {
		c.report.Tagged["tunnel=culvert"]++
	}
	if l, ok := c.lines[int64(w.ID)]; ok && w.Version >= l.version {
		c.lines[int64(w.ID)] = line{w.Version, refsOf(w)}
	}
	if class, ok := roadClass(w.Tags); ok && len(w.Nodes) > 1 {
		c.roads = append(c.roads, road{id: int64(w.ID), version: w.Version, refs: refsOf(w), tags: w.Tags, class: class})
	}
	if o, ok := overWay(w.Tags); ok && len(w.Nodes) > 1 {
		o.id, o.version, o.refs = int64(w.ID), w.Version, refsOf(w)
		c.overs = append(c.overs, o)
	}
	if p, ok := readPlace(w.Tags); ok && !p.Kind.Settlement() && len(w.Nodes) > 0 {
		p.OSM = int64(w.ID)
		c.places = append(c.places, place{p, w.FeatureID(), w.Version, refsOf(w), w.Tags})
	}
	c.addressedWay(w)
}

// refsOf lists the nodes of a way.
func refsOf(w *osm.Way) []int64 {
	out := make([]int64, len(w.Nodes))
	for i, n := range w.Nodes {
		out[i] = int64(n.ID)
	}
	return out
}

// hasFigure reports whether a record states a usable clear height.
func hasFigure(r network.Record) bool {
	return slices.ContainsFunc(r.Signs, func(s network.Sign) bool {
		return s.Subject.Height() && s.State == network.Known && s.When == 0
	})
}

// hasHeight reports whether a record has a sign of height that says more than that
// there is none.
func hasHeight(r network.Record) bool {
	return slices.ContainsFunc(r.Signs, func(s network.Sign) bool {
		return s.Subject.Height() && s.State != network.NoFigure
	})
}

func (c *collector) malformed(kind string, id int64) func(Malformed) {
	return func(m Malformed) {
		m.Type, m.ID = kind, id
		c.report.Malformed = append(c.report.Malformed, m)
	}
}

// wants reports whether a node is looked for; it only reads.
func (c *collector) wants(n *osm.Node) bool {
	if _, ok := slices.BinarySearch(c.ids, int64(n.ID)); ok {
		return true
	}
	_, ok := readPlace(n.Tags)
	return ok || c.isAddress(n.Tags, n.FeatureID())
}

// degree is the unit in which OpenStreetMap keeps coordinates. Readers of
// different formats give the last bits differently.
const degree = 1e7

func (c *collector) node(n *osm.Node) {
	if !(math.Abs(n.Lat) <= 90 && math.Abs(n.Lon) <= 180) { // it is missing then, which is counted
		c.malformed("node", int64(n.ID))(Malformed{Key: "lat, lon", Value: fmt.Sprintf("%v, %v", n.Lat, n.Lon)})
		return
	}
	p := orb.Point{math.Round(n.Lon*degree) / degree, math.Round(n.Lat*degree) / degree}
	if i, ok := slices.BinarySearch(c.ids, int64(n.ID)); ok &&
		(int32(n.Version) > c.version[i] || math.IsNaN(c.point[i][0])) {
		if math.IsNaN(c.point[i][0]) {
			c.report.Elements["nodes kept"]++
		}
		c.point[i], c.version[i] = p, int32(n.Version)
		delete(c.spots, int64(n.ID))
		delete(c.controls, int64(n.ID))
		if found, ok := readControl(n.Tags); ok && c.uses[i] > 0 {
			c.controls[int64(n.ID)] = found
		}
		if kind, ok := nodeSpot(n.Tags); ok && c.uses[i] > 0 {
			c.spots[int64(n.ID)] = nodeThing{kind: kind, tags: n.Tags, name: n.Tags.Find("name")}
		}
	}
	if found, ok := readPlace(n.Tags); ok {
		found.OSM, found.OnNode, found.Point = int64(n.ID), true, p
		p := place{Place: found, of: n.FeatureID(), version: n.Version}
		if !p.Kind.Settlement() {
			p.tags = n.Tags
		}
		c.places = append(c.places, p)
	}
	c.addressedNode(n, p)
}
