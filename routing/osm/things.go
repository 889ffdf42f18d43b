package osm

import (
	"math"
	"slices"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// layGrid makes everything that may hang over roads findable by place.
func (b *build) layGrid() {
	for k, o := range b.overs {
		if o.grade || o.wire || o.barrier {
			for _, ref := range o.refs {
				if b.uses[b.number(ref)] > 0 {
					b.meets[ref] = append(b.meets[ref], int32(k))
				}
			}
		}
		for i := 1; i < len(o.refs); i++ {
			na, nb := b.number(o.refs[i-1]), b.number(o.refs[i])
			if b.missing(na) || b.missing(nb) || na == nb {
				continue
			}
			b.grid.lay(int32(k), na, nb, b.point[na], b.point[nb])
		}
	}
}

// thing is something that stands on or over a stretch of road.
type thing struct {
	at    orb.Point
	node  bool // an OSM node
	id    int64
	kind  network.Kind
	road  network.RoadID
	name  string
	low   bool // no usable figure
	along bool // all along the edge
	own   bool // road is the record of the thing, not of the road under it
}

// things lists what stands on or over a stretch, in its order.
func (b *build) things(r *road, run []int32) (out []thing) {
	for i, n := range run {
		out = append(out, b.thingsAt(r, n, b.ids[n])...)
		for _, ref := range b.aliases[n] {
			out = append(out, b.thingsAt(r, n, ref)...)
		}
		if i+1 == len(run) {
			break
		}
		b.grid.crossing(n, run[i+1], b.point[n], b.point[run[i+1]], func(k int32, at orb.Point) {
			out = append(out, b.overThings(r, k, at)...)
		})
	}
	return out
}

// arms are the roads that meet at a node: how many ends of them, and the lowest
// class among them.
type arms struct {
	ends   int
	lowest network.Class
}

// countArms counts the roads at nodes on which something stands.
func (b *build) countArms() {
	for _, r := range b.roads {
		for i, ref := range r.refs {
			if _, ok := b.spots[ref]; !ok {
				continue
			}
			a := b.arms[ref]
			a.ends += 2
			if i == 0 || i == len(r.refs)-1 {
				a.ends--
			}
			a.lowest = max(a.lowest, r.class) // classes go from high to low
			b.arms[ref] = a
		}
	}
}

// thingsAt lists what stands at a node: what the node is, and what meets the
// road there.
func (b *build) thingsAt(r *road, n int32, ref int64) (out []thing) {
	// Mappers put a gate on the junction that it stands beside: of three roads or
	// more it binds the lowest, and may bind the others.
	t, ok := b.thingAt(ref)
	switch a := b.arms[ref]; {
	case !ok:
	case a.ends > 2 && r.class < a.lowest && !acrossAll(t.kind):
		if t.kind != network.LevelCrossing {
			out = append(out, thing{at: b.point[n], node: true, id: ref, kind: network.AtJunction, name: t.name})
		}
	default:
		out = append(out, thing{
			at: b.point[n], node: true, id: ref, kind: t.kind, road: t.record, name: t.name,
			low: !t.figure && !r.figure, own: true,
		})
		if t.height && !t.kind.Overhead() {
			out = append(out, thing{
				at: b.point[n], node: true, id: ref, kind: network.PostedHeight, road: t.record, name: t.name,
				low: !t.figure, own: true,
			})
		}
	}
	for _, k := range b.meets[ref] {
		out = append(out, b.overThings(r, k, b.point[n])...)
	}
	return out
}

// acrossAll reports whether what stands at a junction is a part of each road there.
func acrossAll(k network.Kind) bool {
	return k == network.Hump || k == network.MiniRoundabout || k == network.TurningCircle
}

// overThings lists what something above or across a road is to it at a place.
func (b *build) overThings(r *road, k int32, at orb.Point) (out []thing) {
	o := b.overs[k]
	if o.id == r.id || !o.barrier && !o.above(int(r.layer), r.flags) {
		return nil
	}
	found := thing{at: at, id: o.id, kind: o.kind, road: r.record, name: o.name, low: !r.figure}
	if o.barrier || o.height {
		found.road, found.low, found.own = o.record, !o.figure && !r.figure, true
	}
	out = append(out, found)
	if o.height && !o.kind.Overhead() {
		out = append(out, thing{
			at: at, id: o.id, kind: network.PostedHeight, road: o.record, name: o.name, low: !o.figure, own: true,
		})
	}
	return out
}

// whole adds what an edge is in or under along its whole length, at its
// middle: what its tags say, and its sign of height, whether or not anything
// known stands over it and whether or not the sign could be read.
func (b *build) whole(r *road, e network.EdgeID) {
	add := func(kind network.Kind) {
		b.spot(e, b.builder.Length(e)/2, thing{id: r.id, kind: kind, road: r.record, low: !r.figure, along: true})
	}
	for _, w := range []struct {
		flag network.Flags
		kind network.Kind
	}{
		{network.InTunnel, network.Tunnel}, {network.Covered, network.CoveredWay}, {network.ThroughBuilding, network.Passage},
		{network.TrolleyWire, network.ContactLine}, {network.Humped, network.Hump},
	} {
		if r.flags.Has(w.flag) {
			add(w.kind)
		}
	}
	if r.flags.Has(network.Calmed) && !r.flags.Has(network.Humped) {
		add(network.Calming)
	}
	if r.layer < 0 && !r.flags.Has(network.InTunnel) && !r.flags.Has(network.Covered) {
		add(network.Underpass)
	}
	if r.height {
		add(network.PostedHeight)
	}
}

// place adds the things of a stretch to the edge that they are on, and returns
// those that lie beyond it.
func (b *build) place(e network.EdgeID, line []orb.Point, things []thing, last bool) (rest []thing) {
	total := geodesic.Length(line)
	for i, t := range things {
		twice := func(o thing) bool {
			return o.id == t.id && o.kind == t.kind && o.node == t.node && geodesic.Between(o.at, t.at) < 1
		}
		if slices.ContainsFunc(things[:i], twice) {
			continue // something that meets the road at a vertex is met by both segments
		}
		offset, off := locate(line, t.at)
		if !last && off > 1 {
			rest = append(rest, t)
			continue
		}
		b.spot(e, min(offset, total), t)
	}
	return rest
}

// spot adds one thing.
func (b *build) spot(e network.EdgeID, offset measure.Distance, t thing) {
	s := network.Spot{Offset: offset, OSM: t.id, Edge: e, Road: t.road, Name: b.builder.Text(t.name), Kind: t.kind}
	if t.node {
		s.OnNode = 1
	}
	if t.own {
		s.Own = 1
	}
	if t.along {
		s.Along = 1
	}
	b.builder.Spot(s)
	switch kind := t.kind.String(); {
	case t.kind == network.PostedHeight: // a sign is counted as one
	case !t.kind.Overhead():
		b.report.Barriers[kind]++
	default:
		b.report.Structures[kind]++
		if t.low {
			b.report.Unmeasured[kind]++
		}
	}
}

// locate finds how far along a line a point on it lies, and how far off.
func locate(line []orb.Point, p orb.Point) (offset, off measure.Distance) {
	target := toS2(p)
	best, found := s2.Point{}, 0
	angle := math.Inf(1)
	for i := 1; i < len(line); i++ {
		at := s2.Project(target, toS2(line[i-1]), toS2(line[i]))
		if d := float64(at.Distance(target)); d < angle {
			angle, best, found = d, at, i
		}
	}
	ll := s2.LatLngFromPoint(best)
	at := orb.Point{ll.Lng.Degrees(), ll.Lat.Degrees()}
	return geodesic.Length(line[:found]) + geodesic.Between(line[found-1], at),
		measure.Distance(angle) * network.EarthRadius
}
