package osm

import (
	"cmp"
	"slices"
	"strconv"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// putPlaces adds settlements and what drivers stop at; an area lies in the
// middle of its corners.
func (b *build) putPlaces() {
	for _, p := range b.places {
		if !p.OnNode && !b.middle(&p) {
			continue
		}
		p.Jurisdictions = b.borders.at(p.Point).codes
		b.report.Places[p.Kind.String()]++
		if p.Kind.Stands() {
			b.report.Stopping++
		}
		b.builder.Place(p.Place)
	}
}

func (b *build) middle(p *place) bool {
	n := 0.0
	var sum orb.Point
	refs := p.refs
	if len(refs) > 1 && refs[0] == refs[len(refs)-1] {
		refs = refs[1:] // the corner that closes an area is one corner
	}
	for _, ref := range refs {
		if i := b.number(ref); !b.missing(i) {
			sum[0], sum[1], n = sum[0]+b.point[i][0], sum[1]+b.point[i][1], n+1
		}
	}
	if n == 0 {
		return false
	}
	p.Point = orb.Point{sum[0] / n, sum[1] / n}
	return true
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
	case tags.Find("amenity") == "parking" && forTrucks(tags), tags.Find("amenity") == "truck_parking",
		tags.Find("amenity") == "truck_stop":
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

// forTrucks reports whether parking is for trucks too.
func forTrucks(tags osm.Tags) bool {
	lots, ok := truckLots(tags)
	return slices.Contains([]string{"yes", "designated", "only", "permissive", "official"}, tags.Find("hgv")) ||
		ok && lots > 0
}

// truckLots reads for how many trucks there is room; ok is false where nobody says.
func truckLots(tags osm.Tags) (lots int, ok bool) {
	text := tags.Find("capacity:hgv")
	if of := tags.Find("amenity"); text == "" && (of == "truck_parking" || tags.Find("hgv") == "only") {
		text = tags.Find("capacity")
	}
	if text == "no" {
		return 0, true
	}
	n, err := strconv.ParseUint(text, 10, 16)
	return int(n), err == nil
}

// readGround reads what is said of each place to stop at, in the order of ids.
func (c *collector) readGround() {
	for i := range c.places {
		p := &c.places[i]
		if p.tags == nil {
			continue
		}
		signs := slices.DeleteFunc(slices.Clone(p.tags), func(t osm.Tag) bool { return t.Key == "opening_hours" })
		p.Ground = network.Ground{
			Signs: c.builder.Record(c.ownRecord(signs, string(p.of.Type()), p.OSM)), Hours: p.tags.Find("opening_hours"),
			Stay: cmp.Or(
				p.tags.Find("maxstay:hgv"),
				p.tags.Find("maxstay"),
			), Fee: p.tags.Find("fee"), Toilets: p.tags.Find("toilets"),
		}
		if lots, ok := truckLots(p.tags); ok {
			p.Trucks = measure.Exactly(lots)
		}
		p.tags = nil
	}
}
