package osm

import (
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"

	"wayhouse/routing/network"
)

// address is a house number on a street, at a node or in the middle of corners of a
// building. There are as many as all else together: texts are numbers in a pool.
type address struct {
	id                   int64
	version              int
	point                orb.Point
	number, street, city uint32
	onNode               bool
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

// isAddress reports whether tags are an address on a street (OpenStreetMap wiki,
// Key:addr:*, 2025). One of a place without streets (addr:place) is none.
func isAddress(tags osm.Tags) bool {
	return tags.Find("addr:housenumber") != "" && tags.Find("addr:street") != ""
}

func (c *collector) addressOf(tags osm.Tags, id int64, version int) address {
	return address{
		id: id, version: version, number: c.texts.number(tags.Find("addr:housenumber")),
		street: c.texts.number(tags.Find("addr:street")), city: c.texts.number(tags.Find("addr:city")),
	}
}

// addressedWay keeps the address of a building.
func (c *collector) addressedWay(w *osm.Way) {
	if !isAddress(w.Tags) || len(w.Nodes) == 0 {
		return
	}
	a := c.addressOf(w.Tags, int64(w.ID), w.Version)
	nodes := w.Nodes
	if n := len(nodes); n > 1 && nodes[0].ID == nodes[n-1].ID {
		nodes = nodes[:n-1] // the corner that closes an area is one corner
	}
	most := min(len(nodes), maxCorners)
	for i := range most {
		a.corners[i] = int64(nodes[i*len(nodes)/most].ID)
	}
	c.addresses = append(c.addresses, a)
}

// addressedNode keeps the address of a node.
func (c *collector) addressedNode(n *osm.Node, p orb.Point) {
	if isAddress(n.Tags) {
		a := c.addressOf(n.Tags, int64(n.ID), n.Version)
		a.onNode, a.point = true, p
		c.addresses = append(c.addresses, a)
	}
}

// settleAddresses drops addresses that came twice. Whether an element that another extract
// knows better still is one is not looked for: an address stands in nobody's way.
func (c *collector) settleAddresses() {
	c.addresses = newest(c.addresses, func(a address) int64 { // of nodes and ways apart
		if a.onNode {
			return a.id * 2
		}
		return a.id*2 + 1
	}, func(a address) int { return a.version })
}

// putAddresses adds the addresses, each of several numbers of one element by itself.
func (b *build) putAddresses() {
	for _, a := range b.addresses {
		if !a.onNode && !b.between(&a) {
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
