package osm

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
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
	signed     map[int64][]string // networks of numbered roads, by way
	places     []place

	// Nodes that something above is made of, by id.
	ids     []int64
	point   []orb.Point // NaN: in no extract
	version []int32
	uses    []uint8 // how often roads name it, 2 for more; only junctions and ends are nodes of the network
	spots   map[int64]nodeThing

	header, newest time.Time
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
	version int
	refs    []int64 // of an area, whose middle it is
}

// collect reads the extracts:
//
//  1. relations: boundaries, turn restrictions, numbered routes;
//  2. ways: roads, what may hang over them, lines of boundaries, places drawn
//     as areas;
//  3. nodes: where all of that lies, what stands on roads, places.
func (c *collector) collect(ctx context.Context, paths []string, progress Progress) error {
	relations := &pass{name: "relations", relations: true, relation: c.relation, progress: progress, headerTimestamp: &c.header, newest: &c.newest}
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
	return c.settlePlaces(ctx, paths)
}

// settlePlaces drops places that came twice, or are none any more.
func (c *collector) settlePlaces(ctx context.Context, paths []string) error {
	key := func(p place) int64 { // of nodes and ways apart
		if p.OnNode {
			return p.OSM * 2
		}
		return p.OSM*2 + 1
	}
	version := func(p place) int { return p.version }
	c.places = newest(c.places, key, version)
	versions := map[int64]int{}
	for _, p := range c.places {
		if p.OnNode {
			versions[p.OSM] = p.version
		}
	}
	if err := latest(ctx, paths, osm.TypeNode, versions); err != nil {
		return err
	}
	c.places = slices.DeleteFunc(c.places, func(p place) bool { return p.OnNode && versions[p.OSM] > p.version })
	return nil
}

// newest keeps of elements of one id the one edited last, in the order of ids,
// so that the order of the extracts does not matter.
func newest[T any](all []T, id func(T) int64, version func(T) int) []T {
	slices.SortStableFunc(all, func(a, b T) int { return cmp.Or(cmp.Compare(id(a), id(b)), cmp.Compare(version(b), version(a))) })
	return slices.CompactFunc(all, func(a, b T) bool { return id(a) == id(b) })
}

// latest finds the last version of each of the given elements. An element may
// have been kept in one extract and not in another that knows it better: a road
// that is none any more. Of one extract there is nothing to find.
func latest(ctx context.Context, paths []string, kind osm.Type, versions map[int64]int) error {
	if len(paths) < 2 {
		return nil
	}
	see := func(id int64, version int) {
		if known, ok := versions[id]; ok && version > known {
			versions[id] = version
		}
	}
	p := &pass{name: "versions", nodes: kind == osm.TypeNode, ways: kind == osm.TypeWay, relations: kind == osm.TypeRelation}
	ids := slices.Sorted(maps.Keys(versions)) // keep is called while the map changes
	p.keep = func(n *osm.Node) bool { _, ok := slices.BinarySearch(ids, int64(n.ID)); return ok }
	p.node = func(n *osm.Node) { see(int64(n.ID), n.Version) }
	p.way = func(w *osm.Way) { see(int64(w.ID), w.Version) }
	p.relation = func(r *osm.Relation) { see(int64(r.ID), r.Version) }
	return p.run(ctx, paths)
}

// current drops the elements of which a later version is known.
func current[T any](all []T, versions map[int64]int, id func(T) int64, version func(T) int) []T {
	return slices.DeleteFunc(all, func(e T) bool { return versions[id(e)] > version(e) })
}

// route is a numbered route, of which roads are members.
type route struct {
	id      int64
	version int
	name    string
	ways    []int64
}

func (c *collector) relation(r *osm.Relation) {
	c.report.Elements["relations"]++
	if b, ok := readBoundary(r); ok {
		c.boundaries = append(c.boundaries, b)
	}
	switch r.Tags.Find("type") {
	case "restriction":
		c.turns = append(c.turns, readRestriction(r))
	case "route":
		if r.Tags.Find("route") != "road" || r.Tags.Find("network") == "" {
			return
		}
		found := route{id: int64(r.ID), version: r.Version, name: strings.TrimSpace(r.Tags.Find("network") + " " + r.Tags.Find("ref"))}
		for _, m := range r.Members {
			if m.Type == osm.TypeWay {
				found.ways = append(found.ways, m.Ref)
			}
		}
		c.routes = append(c.routes, found)
	}
}

// settleRelations drops what came twice, or is not so any more.
func (c *collector) settleRelations(ctx context.Context, paths []string) error {
	boundaryID, boundaryVersion := func(b boundary) int64 { return b.id }, func(b boundary) int { return b.version }
	turnID, turnVersion := func(r restriction) int64 { return r.id }, func(r restriction) int { return r.version }
	routeID, routeVersion := func(r route) int64 { return r.id }, func(r route) int { return r.version }
	c.boundaries = newest(c.boundaries, boundaryID, boundaryVersion)
	c.turns = newest(c.turns, turnID, turnVersion)
	c.routes = newest(c.routes, routeID, routeVersion)
	versions := map[int64]int{}
	for _, b := range c.boundaries {
		versions[b.id] = b.version
	}
	for _, r := range c.turns {
		versions[r.id] = r.version
	}
	for _, r := range c.routes {
		versions[r.id] = r.version
	}
	if err := latest(ctx, paths, osm.TypeRelation, versions); err != nil {
		return err
	}
	c.boundaries = current(c.boundaries, versions, boundaryID, boundaryVersion)
	c.turns = current(c.turns, versions, turnID, turnVersion)
	c.routes = current(c.routes, versions, routeID, routeVersion)
	for _, r := range c.routes {
		for _, w := range r.ways {
			c.signed[w] = append(c.signed[w], r.name)
		}
	}
	for _, b := range c.boundaries {
		for _, w := range b.ways {
			c.lines[w] = line{}
		}
	}
	for id, names := range c.signed {
		slices.Sort(names)
		c.signed[id] = slices.Compact(names)
	}
	return nil
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
	refs := func() []int64 {
		out := make([]int64, len(w.Nodes))
		for i, n := range w.Nodes {
			out[i] = int64(n.ID)
		}
		return out
	}
	if l, ok := c.lines[int64(w.ID)]; ok && w.Version >= l.version {
		c.lines[int64(w.ID)] = line{w.Version, refs()}
	}
	if class, ok := roadClass(w.Tags); ok && len(w.Nodes) > 1 {
		c.roads = append(c.roads, road{id: int64(w.ID), version: w.Version, refs: refs(), tags: w.Tags, class: class})
	}
	if o, ok := overWay(w.Tags); ok && len(w.Nodes) > 1 {
		o.id, o.version, o.refs = int64(w.ID), w.Version, refs()
		c.overs = append(c.overs, o)
	}
	if p, ok := readPlace(w.Tags); ok && !p.Kind.Settlement() && len(w.Nodes) > 0 {
		p.OSM = int64(w.ID)
		c.places = append(c.places, place{p, w.Version, refs()})
	}
}

// readRoads reads the tags of every road. It comes after those that came twice
// are dropped, in the order of ids, so that the network's tables do not hang on
// the order of the extracts.
func (c *collector) readRoads() {
	for i := range c.roads {
		r := &c.roads[i]
		if names := c.signed[r.id]; len(names) > 0 {
			r.tags = slices.DeleteFunc(slices.Clone(r.tags), func(t osm.Tag) bool { return t.Key == "network" })
			r.tags = append(r.tags, osm.Tag{Key: "network", Value: strings.Join(names, ";")})
		}
		said := readWay(r.tags, r.class, c.builder.Text, c.malformed("way", r.id))
		r.record, r.flags, r.figure = c.builder.Record(said.record), said.record.Flags, hasFigure(said.record)
		r.height = hasHeight(said.record)
		r.speed, r.ferry, r.layer, r.ref, r.name = said.speed, said.ferry, int8(said.layer), said.ref, said.name
		r.tags = nil
	}
}

// hasFigure tells whether a record states a usable clear height.
func hasFigure(r network.Record) bool {
	return slices.ContainsFunc(r.Signs, func(s network.Sign) bool {
		return s.Subject.Height() && s.State == network.Known && s.When == 0
	})
}

// hasHeight tells whether a record has a sign of height that says more than that
// there is none.
func hasHeight(r network.Record) bool {
	return slices.ContainsFunc(r.Signs, func(s network.Sign) bool { return s.Subject.Height() && s.State != network.NoFigure })
}

// readBarriers reads the tags of ways that stand across roads.
func (c *collector) readBarriers() {
	for i := range c.overs {
		if o := &c.overs[i]; o.barrier {
			r := network.Record{Signs: signs(o.tags, c.builder.Text, c.malformed("way", o.id))}
			o.record, o.figure, o.tags = c.builder.Record(r), hasFigure(r), nil
		}
	}
}

func (c *collector) malformed(kind string, id int64) func(Malformed) {
	return func(m Malformed) {
		m.Type, m.ID = kind, id
		c.report.Malformed = append(c.report.Malformed, m)
	}
}

// settleWays drops what came twice or is not so any more, reads the tags of
// the roads and lists the nodes to look for.
func (c *collector) settleWays(ctx context.Context, paths []string) error {
	roadID, roadVersion := func(r road) int64 { return r.id }, func(r road) int { return r.version }
	overID, overVersion := func(o over) int64 { return o.id }, func(o over) int { return o.version }
	before := len(c.roads)
	c.roads = newest(c.roads, roadID, roadVersion)
	c.report.JoinedTwice = before - len(c.roads)
	c.overs = newest(c.overs, overID, overVersion)
	versions := map[int64]int{}
	if len(paths) > 1 {
		for _, o := range c.overs {
			versions[o.id] = o.version
		}
		for _, r := range c.roads {
			versions[r.id] = max(r.version, versions[r.id])
		}
		for _, p := range c.places {
			versions[p.OSM] = max(p.version, versions[p.OSM])
		}
	}
	if err := latest(ctx, paths, osm.TypeWay, versions); err != nil {
		return err
	}
	c.roads = current(c.roads, versions, roadID, roadVersion)
	c.overs = current(c.overs, versions, overID, overVersion)
	c.places = current(c.places, versions, func(p place) int64 { return p.OSM }, func(p place) int { return p.version })
	c.readRoads()
	c.readBarriers()
	c.listNodes()
	return nil
}

// listNodes lists the nodes to look for, and which of them join roads.
func (c *collector) listNodes() {
	for _, r := range c.roads {
		c.ids = append(c.ids, r.refs...)
	}
	for _, o := range c.overs {
		c.ids = append(c.ids, o.refs...)
	}
	for _, l := range c.lines {
		c.ids = append(c.ids, l.refs...)
	}
	for _, p := range c.places {
		c.ids = append(c.ids, p.refs...)
	}
	slices.Sort(c.ids)
	c.ids = slices.Clip(slices.Compact(c.ids))
	c.point = make([]orb.Point, len(c.ids))
	for i := range c.point {
		c.point[i] = orb.Point{math.NaN(), math.NaN()}
	}
	c.version = make([]int32, len(c.ids))
	c.uses = make([]uint8, len(c.ids))
	for _, r := range c.roads {
		for i, ref := range r.refs {
			n, _ := slices.BinarySearch(c.ids, ref)
			if c.uses[n]++; i == 0 || i == len(r.refs)-1 || c.uses[n] > 2 {
				c.uses[n] = 2
			}
		}
	}
}

// wants tells whether a node is looked for; it only reads.
func (c *collector) wants(n *osm.Node) bool {
	if _, ok := slices.BinarySearch(c.ids, int64(n.ID)); ok {
		return true
	}
	_, ok := readPlace(n.Tags)
	return ok
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
	if i, ok := slices.BinarySearch(c.ids, int64(n.ID)); ok && (int32(n.Version) > c.version[i] || math.IsNaN(c.point[i][0])) {
		if math.IsNaN(c.point[i][0]) {
			c.report.Elements["nodes kept"]++
		}
		c.point[i], c.version[i] = p, int32(n.Version)
		delete(c.spots, int64(n.ID))
		if kind, ok := nodeSpot(n.Tags); ok && c.uses[i] > 0 {
			c.spots[int64(n.ID)] = nodeThing{kind: kind, tags: n.Tags, name: n.Tags.Find("name")}
		}
	}
	if found, ok := readPlace(n.Tags); ok {
		found.OSM, found.OnNode, found.Point = int64(n.ID), true, p
		c.places = append(c.places, place{Place: found, version: n.Version})
	}
}

// thingAt returns what stands on a road at a node, its tags read at the first
// call.
func (c *collector) thingAt(id int64) (nodeThing, bool) {
	t, ok := c.spots[id]
	if !ok || t.tags == nil {
		return t, ok
	}
	r := network.Record{Signs: signs(t.tags, c.builder.Text, c.malformed("node", id))}
	if t.tags.Find("locked") == "yes" {
		r.Signs = append(r.Signs, network.Sign{Subject: network.Access, Word: network.Permission, Text: c.builder.Text("locked=yes")})
	}
	t.record, t.figure, t.height, t.tags = c.builder.Record(r), hasFigure(r), hasHeight(r), nil
	c.spots[id] = t
	return t, true
}

// readPlace reads settlements and what drivers stop at (OpenStreetMap wiki, Map
// features, 2025).
func readPlace(tags osm.Tags) (p network.Place, ok bool) {
	if len(tags) == 0 {
		return p, false
	}
	p.Name = tags.Find("name")
	if n, err := strconv.ParseUint(tags.Find("population"), 10, 32); err == nil {
		p.Population = uint32(n)
	}
	hgv := func() bool { v := tags.Find("hgv"); return v == "yes" || v == "designated" || v == "only" }
	switch {
	case tags.Find("place") == "city":
		p.Kind = network.City
	case tags.Find("place") == "town":
		p.Kind = network.TownPlace
	case tags.Find("place") == "village":
		p.Kind = network.Village
	case tags.Find("place") == "hamlet":
		p.Kind = network.Hamlet
	case tags.Find("highway") == "rest_area":
		p.Kind = network.RestArea
	case tags.Find("highway") == "services":
		p.Kind = network.ServiceArea
	case tags.Find("amenity") == "parking" && hgv(), tags.Find("amenity") == "truck_parking":
		p.Kind = network.TruckParking
	case tags.Find("amenity") == "fuel":
		p.Kind = network.FuelStation
	case tags.Find("amenity") == "weighbridge", tags.Find("highway") == "weigh_station":
		p.Kind = network.WeighStation
	default:
		return p, false
	}
	return p, p.Name != "" || !p.Kind.Settlement()
}
