package osm

import (
	"github.com/paulmach/orb"
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
