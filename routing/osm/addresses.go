package osm

import (
	"cmp"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"

	"wayhouse/routing/network"
)

// address is a house number on a street, at a node or in the middle of corners of a
// building or of an area with holes. There are as many as all else together: texts are numbers in a pool.
type address struct {
	of                   osm.FeatureID
	version              int
	point                orb.Point
	number, street, city uint32
	corners              [maxCorners]int64 // of a building, 0: no more
}

// maxCorners is how many corners of a building are looked for, so far from each other as
// its outline lets them be.
const maxCorners = 4

// pool numbers texts.
type pool struct {
	known map[string]uint32
	texts []string
}

func (p *pool) number(text string) uint32 {
	if n, ok := p.known[text]; ok {
		return n
	}
	if p.known == nil {
		p.known = map[string]uint32{}
	}
	n := uint32(len(p.texts))
	text = strings.Clone(text) // not the block of the extract that it is part of
	p.known[text], p.texts = n, append(p.texts, text)
	return n
}

// streetOf names the street of an address (OpenStreetMap wiki, Key:addr:*,
// Relation:associatedStreet and Relation:street, 2025): as its own tags say, else the
// place whose houses are numbered as one, else the street whose relation it is in.
// It only reads.
func (c *collector) streetOf(tags osm.Tags, of osm.FeatureID) string {
	return cmp.Or(tags.Find("addr:street"), tags.Find("addr:place"), c.housesOf[of])
}

// isAddress reports whether an element is an address; it only reads.
func (c *collector) isAddress(tags osm.Tags, of osm.FeatureID) bool {
	return tags.Find("addr:housenumber") != "" && c.streetOf(tags, of) != ""
}

func (c *collector) addressOf(tags osm.Tags, of osm.FeatureID, version int) address {
	return address{
		of: of, version: version, number: c.texts.number(tags.Find("addr:housenumber")),
		street: c.texts.number(c.streetOf(tags, of)), city: c.texts.number(tags.Find("addr:city")),
	}
}

// addressedWay keeps the address of a building.
func (c *collector) addressedWay(w *osm.Way) {
	if c.isAddress(w.Tags, w.FeatureID()) && len(w.Nodes) > 0 {
		a := c.addressOf(w.Tags, w.FeatureID(), w.Version)
		a.corners = corners(refsOf(w))
		c.addresses = append(c.addresses, a)
	}
}

// corners picks some corners of an outline, as far from each other along it as may be.
func corners(refs []int64) (out [maxCorners]int64) {
	if n := len(refs); n > 1 && refs[0] == refs[n-1] {
		refs = refs[:n-1] // the corner that closes an area is one corner
	}
	most := min(len(refs), maxCorners)
	for i := range most {
		out[i] = refs[i*len(refs)/most]
	}
	return out
}

// addressedNode keeps the address of a node.
func (c *collector) addressedNode(n *osm.Node, p orb.Point) {
	if c.isAddress(n.Tags, n.FeatureID()) {
		a := c.addressOf(n.Tags, n.FeatureID(), n.Version)
		a.point = p
		c.addresses = append(c.addresses, a)
	}
}

// settleAddresses drops addresses that came twice. Whether an element that another extract
// knows better still is one is not looked for: an address stands in nobody's way.
func (c *collector) settleAddresses() {
	id := func(a address) int64 { return int64(a.of) } // of nodes, ways and relations apart
	c.addresses = newest(c.addresses, id, func(a address) int { return a.version })
}

// putAddresses adds the addresses, each of several numbers of one element by itself.
func (b *build) putAddresses() {
	for _, a := range b.addresses {
		if a.of.Type() != osm.TypeNode && !b.between(&a) {
			continue
		}
		codes := b.borders.at(a.point)
		town := b.texts.texts[a.city]
		if town == "" {
			town = codes.local
		}
		several := func(r rune) bool { return r == ';' || r == ',' }
		for number := range strings.FieldsFuncSeq(b.texts.texts[a.number], several) {
			if number = strings.TrimSpace(number); number == "" {
				continue
			}
			b.report.Addresses++
			b.builder.Address(network.Address{
				Number: number, Street: b.texts.texts[a.street], Town: town, Jurisdictions: codes.codes, Point: a.point,
			})
		}
	}
}

// between puts the address of a building between those of its corners that are there;
// ok is false where none is.
func (b *build) between(a *address) (ok bool) {
	n := 0.0
	var sum orb.Point
	for _, ref := range a.corners {
		if i := b.number(ref); ref != 0 && !b.missing(i) {
			sum[0], sum[1], n = sum[0]+b.point[i][0], sum[1]+b.point[i][1], n+1
		}
	}
	a.point = orb.Point{sum[0] / n, sum[1] / n}
	return n > 0
}
