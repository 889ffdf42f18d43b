package osm

import (
	"cmp"
	"context"
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
	signed     map[int64][]string // networks of numbered roads, by way
	places     []place

	// Nodes that something above is made of, by id.
	ids   []int64
	point []orb.Point // NaN: in no extract
	uses  []uint8     // how often roads name it, 2 for more; only junctions and ends are nodes of the network
	spots map[int64][]nodeThing

	header, newest time.Time
}

// road is a way that vehicles use.
type road struct {
	id      int64
	version int
	refs    []int64
	class   network.Class
	record  network.RoadID
	flags   network.Flags
	speed   measure.Speed
	ferry   float64
	layer   int8
	figure  bool // it states a usable clear height
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
	version int
	kind    network.Kind
	record  network.RoadID
	figure  bool
	name    string
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
	c.settleRelations()
	ways := &pass{name: "ways", ways: true, way: c.way, progress: progress, newest: &c.newest}
	if err := ways.run(ctx, paths); err != nil {
		return err
	}
	c.settleWays()
	nodes := &pass{name: "nodes", nodes: true, keep: c.wants, node: c.node, progress: progress, newest: &c.newest}
	return nodes.run(ctx, paths)
}

// newest keeps of elements of one id the one edited last, in the order of ids,
// so that the order of the extracts does not matter.
func newest[T any](all []T, id func(T) int64, version func(T) int) []T {
	slices.SortStableFunc(all, func(a, b T) int { return cmp.Or(cmp.Compare(id(a), id(b)), cmp.Compare(version(b), version(a))) })
	return slices.CompactFunc(all, func(a, b T) bool { return id(a) == id(b) })
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
		name := strings.TrimSpace(r.Tags.Find("network") + " " + r.Tags.Find("ref"))
		for _, m := range r.Members {
			if m.Type == osm.TypeWay {
				c.signed[m.Ref] = append(c.signed[m.Ref], name)
			}
		}
	}
}

func (c *collector) settleRelations() {
	c.boundaries = newest(c.boundaries, func(b boundary) int64 { return b.id }, func(b boundary) int { return b.version })
	c.turns = newest(c.turns, func(r restriction) int64 { return r.id }, func(r restriction) int { return r.version })
	for _, b := range c.boundaries {
		for _, w := range b.ways {
			c.lines[w] = line{}
		}
	}
	for id, names := range c.signed {
		slices.Sort(names)
		c.signed[id] = slices.Compact(names)
	}
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
		c.road(w, class, refs())
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

func (c *collector) road(w *osm.Way, class network.Class, refs []int64) {
	tags := w.Tags
	if names := c.signed[int64(w.ID)]; len(names) > 0 {
		tags = append(slices.Clone(tags), osm.Tag{Key: "network", Value: strings.Join(names, ";")})
		tags = slices.DeleteFunc(tags, func(t osm.Tag) bool { return t.Key == "network" && t.Value != strings.Join(names, ";") })
	}
	said := readWay(tags, class, c.builder.Text, c.malformed("way", int64(w.ID)))
	c.roads = append(c.roads, road{
		id: int64(w.ID), version: w.Version, refs: refs, class: class, record: c.builder.Record(said.record), flags: said.record.Flags,
		speed: said.speed, ferry: said.ferry, layer: int8(said.layer), figure: hasFigure(said.record), ref: said.ref, name: said.name,
	})
}

// hasFigure tells whether a record states a usable clear height.
func hasFigure(r network.Record) bool {
	return slices.ContainsFunc(r.Signs, func(s network.Sign) bool {
		return s.Subject.Height() && s.State == network.Known && s.When == 0
	})
}

func (c *collector) malformed(kind string, id int64) func(Malformed) {
	return func(m Malformed) {
		m.Type, m.ID = kind, id
		c.report.Malformed = append(c.report.Malformed, m)
	}
}

// settleWays drops what came twice and lists the nodes to look for.
func (c *collector) settleWays() {
	before := len(c.roads)
	c.roads = newest(c.roads, func(r road) int64 { return r.id }, func(r road) int { return r.version })
	c.report.JoinedTwice = before - len(c.roads)
	c.overs = newest(c.overs, func(o over) int64 { return o.id }, func(o over) int { return o.version })
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

func (c *collector) node(n *osm.Node) {
	p := orb.Point{n.Lon, n.Lat}
	if i, ok := slices.BinarySearch(c.ids, int64(n.ID)); ok {
		c.report.Elements["nodes kept"]++
		c.point[i] = p
		if kind, ok := nodeSpot(n.Tags); ok && c.uses[i] > 0 {
			c.thing(n, kind)
		}
	}
	if found, ok := readPlace(n.Tags); ok {
		found.OSM, found.OnNode, found.Point = int64(n.ID), true, p
		c.places = append(c.places, place{Place: found, version: n.Version})
	}
}

// thing keeps what stands on a road at a node.
func (c *collector) thing(n *osm.Node, kind network.Kind) {
	id := int64(n.ID)
	if known := c.spots[id]; len(known) > 0 && known[0].version >= n.Version {
		return
	}
	r := network.Record{Signs: signs(n.Tags, c.builder.Text, c.malformed("node", id))}
	if v := n.Tags.Find("locked"); v == "yes" {
		r.Signs = append(r.Signs, network.Sign{Subject: network.Access, Word: network.Permission, Text: c.builder.Text("locked=yes")})
	}
	c.spots[id] = []nodeThing{{n.Version, kind, c.builder.Record(r), hasFigure(r), n.Tags.Find("name")}}
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
