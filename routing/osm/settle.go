package osm

import (
	"cmp"
	"context"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"

	"wayhouse/routing/network"
)

// settlePlaces drops places that came twice, or are none any more.
func (c *collector) settlePlaces(ctx context.Context, paths []string) error {
	key := func(p place) int64 { return int64(p.of) } // of nodes, ways and relations apart
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
	c.readGround()
	return nil
}

// newest keeps of elements of one id the one edited last, in the order of ids,
// so that the order of the extracts does not matter.
func newest[T any](all []T, id func(T) int64, version func(T) int) []T {
	slices.SortStableFunc(all, func(a, b T) int {
		return cmp.Or(cmp.Compare(id(a), id(b)), cmp.Compare(version(b), version(a)))
	})
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
	p := &pass{
		name: "versions", nodes: kind == osm.TypeNode, ways: kind == osm.TypeWay,
		relations: kind == osm.TypeRelation,
	}
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

// settleRelations drops what came twice, or is not so any more.
func (c *collector) settleRelations(ctx context.Context, paths []string) error {
	boundaryID, boundaryVersion := func(b boundary) int64 { return b.id }, func(b boundary) int { return b.version }
	turnID, turnVersion := func(r restriction) int64 { return r.id }, func(r restriction) int { return r.version }
	routeID, routeVersion := func(r route) int64 { return r.id }, func(r route) int { return r.version }
	c.boundaries = newest(c.boundaries, boundaryID, boundaryVersion)
	c.turns = newest(c.turns, turnID, turnVersion)
	c.routes = newest(c.routes, routeID, routeVersion)
	drawnID, drawnVersion := func(d drawn) int64 { return d.of.Ref() }, func(d drawn) int { return d.version }
	c.drawn = newest(c.drawn, drawnID, drawnVersion)
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
	for _, d := range c.drawn {
		versions[d.of.Ref()] = d.version
	}
	if err := latest(ctx, paths, osm.TypeRelation, versions); err != nil {
		return err
	}
	c.boundaries = current(c.boundaries, versions, boundaryID, boundaryVersion)
	c.turns = current(c.turns, versions, turnID, turnVersion)
	c.routes = current(c.routes, versions, routeID, routeVersion)
	c.drawn = current(c.drawn, versions, drawnID, drawnVersion)
	for _, d := range c.drawn {
		for _, w := range d.ways {
			c.lines[w] = line{}
		}
	}
	for _, r := range c.routes {
		for i, w := range r.ways {
			if r.name != "" {
				c.signed[w] = append(c.signed[w], r.name)
			}
			if r.truck {
				c.trucks[w] |= directions(r.roles[i])
			}
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
		trucks := truckRoad(r.tags, c.trucks[r.id])
		said.record.Flags |= trucks
		r.trucks = trucks != 0
		r.record, r.flags, r.figure = c.builder.Record(said.record), said.record.Flags, hasFigure(said.record)
		r.height = hasHeight(said.record)
		r.speed, r.ferry, r.layer, r.ref, r.name = said.speed, said.ferry, int8(said.layer), said.ref, said.name
		r.tags = nil
	}
}

// readBarriers reads the tags of ways that stand across roads, or over them with
// signs of their own.
func (c *collector) readBarriers() {
	for i := range c.overs {
		if o := &c.overs[i]; o.tags != nil {
			r := c.ownRecord(o.tags, "way", o.id)
			o.record, o.figure, o.height, o.tags = c.builder.Record(r), hasFigure(r), hasHeight(r), nil
		}
	}
}

// ownRecord reads the signs of something that stands on or across a road.
func (c *collector) ownRecord(tags osm.Tags, kind string, id int64) network.Record {
	r := network.Record{Signs: signs(tags, c.builder.Text, c.malformed(kind, id))}
	if tags.Find("locked") == "yes" {
		r.Signs = append(r.Signs, network.Sign{
			Subject: network.Access, Word: network.Permission, Text: c.builder.Text("locked=yes"),
		})
	}
	return r
}

// settleWays drops what came twice or is not so any more, reads the tags of
// the roads and lists the nodes to look for.
func (c *collector) settleWays(ctx context.Context, paths []string) error {
	roadID, roadVersion := func(r road) int64 { return r.id }, func(r road) int { return r.version }
	overID, overVersion := func(o over) int64 { return o.id }, func(o over) int { return o.version }
	before := len(c.roads)
	// Of one version the longer counts: extracts clip roads at their edge.
	slices.SortStableFunc(c.roads, func(a, b road) int {
		return cmp.Or(cmp.Compare(len(b.refs), len(a.refs)), cmp.Compare(len(b.tags), len(a.tags)))
	})
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
	c.settleDrawn()
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
	for _, a := range c.addresses {
		for _, ref := range a.corners {
			if ref != 0 {
				c.ids = append(c.ids, ref)
			}
		}
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

// thingAt returns what stands on a road at a node, its tags read at the first
// call.
func (c *collector) thingAt(id int64) (nodeThing, bool) {
	t, ok := c.spots[id]
	if !ok || t.tags == nil {
		return t, ok
	}
	r := c.ownRecord(t.tags, "node", id)
	if t.kind == network.MiniRoundabout || t.kind == network.TurningCircle {
		r.Width = ReadLength(t.tags.Find("diameter")).Value
	}
	t.record, t.figure, t.height, t.tags = c.builder.Record(r), hasFigure(r), hasHeight(r), nil
	c.spots[id] = t
	return t, true
}
