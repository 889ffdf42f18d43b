package osm

import (
	"cmp"

	"github.com/paulmach/osm"
)

// drawn is a place or an address that a relation draws.
type drawn struct {
	tags    osm.Tags
	of      osm.FeatureID
	version int
	ways    []int64 // its outlines
}

// drawnBy keeps a relation that is an address or a place to stop at (OpenStreetMap wiki,
// Relation:multipolygon and Relation:site, 2025). Its holes are left out.
func (c *collector) drawnBy(r *osm.Relation) {
	d := drawn{tags: r.Tags, of: r.FeatureID(), version: r.Version}
	for _, m := range r.Members {
		if m.Type == osm.TypeWay && m.Role != "inner" {
			d.ways = append(d.ways, m.Ref)
		}
	}
	p, place := readPlace(r.Tags)
	if (place && !p.Kind.Settlement() || c.isAddress(r.Tags, d.of)) && len(d.ways) > 0 {
		c.drawn = append(c.drawn, d)
	}
}

// houses keeps which street the houses of a relation are on.
func (c *collector) houses(r *osm.Relation) {
	name := cmp.Or(r.Tags.Find("addr:street"), r.Tags.Find("name"))
	for _, m := range r.Members {
		if m.Role != "house" && m.Role != "address" {
			continue
		}
		of, err := m.Type.FeatureID(m.Ref)
		if known, ok := c.housesOf[of]; err == nil && (!ok || name < known) { // whichever extract comes first
			c.housesOf[of] = name
		}
	}
}

// settleDrawn makes places and addresses of what relations draw, once their ways are read.
func (c *collector) settleDrawn() {
	for _, d := range c.drawn {
		refs, met := []int64(nil), map[int64]bool{}
		for _, w := range d.ways {
			for _, ref := range c.lines[w].refs {
				if !met[ref] { // ways of one outline share their ends
					refs, met[ref] = append(refs, ref), true
				}
			}
		}
		if c.isAddress(d.tags, d.of) {
			a := c.addressOf(d.tags, d.of, d.version)
			a.corners = corners(refs)
			c.addresses = append(c.addresses, a)
		}
		if p, ok := readPlace(d.tags); ok && !p.Kind.Settlement() {
			p.OSM = d.of.Ref()
			c.places = append(c.places, place{p, d.of, d.version, refs, d.tags})
		}
	}
}
