package anchors

import "math"

// group is all fasteners as one, places measured from their middle. The spreads
// are sums of squared distances over all fasteners, in m2.
type group struct {
	n             float64 // fasteners
	along, across float64 // of the middle, m
	ux, uy        float64 // direction in which they spread most, of length 1
	long, wide    float64 // spread in that direction and square to it; 0: none
	polar         float64 // spread in both; 0: one place
}

// What counts as no spread, this project's choice: less than a centimetre from the
// middle, in the root mean square, or a width below a thousandth of the length. The
// forces of a narrower layout would rest on how its coordinates are rounded.
const (
	onePlace = 0.01 // m
	oneLine  = 1e-3
)

// groupOf returns the middle of the fasteners and how they spread about it. The
// spreads are summed along the axes where they are greatest and least, because
// their difference would lose the small one.
func groupOf(anchors []Anchor) group {
	var g group
	for _, a := range anchors {
		n := float64(a.Count)
		g.n += n
		g.along += n * float64(a.Along)
		g.across += n * float64(a.Across)
	}
	g.along, g.across = g.along/g.n, g.across/g.n
	g.uy, g.ux = math.Sincos(g.axis(anchors))
	for _, a := range anchors {
		x, y := g.arm(a)
		s, t := x*g.ux+y*g.uy, y*g.ux-x*g.uy
		g.long += float64(a.Count) * s * s
		g.wide += float64(a.Count) * t * t
	}
	g.polar = g.long + g.wide
	none := g.n * onePlace * onePlace
	if g.polar <= none {
		g.long, g.polar = 0, 0
	}
	if g.wide <= max(none, g.long*oneLine*oneLine) {
		g.wide = 0
	}
	return g
}

// axis returns the angle of the greatest spread, in radians from the axis along.
func (g group) axis(anchors []Anchor) float64 {
	var difference, product float64
	for _, a := range anchors {
		x, y := g.arm(a)
		difference += float64(a.Count) * (x*x - y*y)
		product += float64(a.Count) * x * y
	}
	return math.Atan2(2*product, difference) / 2
}

// arm returns the place of an anchor from the middle, in metres.
func (g group) arm(a Anchor) (x, y float64) {
	return float64(a.Along) - g.along, float64(a.Across) - g.across
}

// pull is the upward force on one fastener, in newtons, over its place.
type pull struct{ even, along, across float64 }

// at returns the pull at a place from the middle, negative where the house presses.
func (p pull) at(x, y float64) float64 { return p.even + p.along*x + p.across*y }

// pull shares out a load: over all fasteners the pulls t add up to the force up,
// t y to the moment about x and t x to that about -y. It is false where the layout
// cannot carry the moment.
func (g group) pull(l load) (pull, bool) {
	mx, my := -l.moment.y, l.moment.x
	s, long := slope(mx*g.ux+my*g.uy, g.long, l.rounding)
	t, wide := slope(my*g.ux-mx*g.uy, g.wide, l.rounding)
	return pull{l.force.z / g.n, s*g.ux - t*g.uy, s*g.uy + t*g.ux}, long && wide
}

// push is the level force on one fastener, in newtons, over its place: an even one
// and, for a twist, one that turns about the middle.
type push struct{ x, y, twist float64 }

// at returns the push at a place from the middle.
func (p push) at(x, y float64) float64 { return math.Hypot(p.parts(x, y)) }

func (p push) parts(x, y float64) (along, across float64) {
	return p.x - p.twist*y, p.y + p.twist*x
}

// push shares out a load, false where the layout cannot carry the twist.
func (g group) push(l load) (push, bool) {
	twist, ok := slope(l.moment.z, g.polar, l.rounding)
	return push{l.force.x / g.n, l.force.y / g.n, twist}, ok
}

// slope returns how fast the force on a fastener grows with the distance, in N/m,
// so that the forces make up a moment. Without spread there is no moment to carry
// it with.
func slope(moment, spread, rounding float64) (float64, bool) {
	if spread == 0 {
		return 0, math.Abs(moment) <= rounding
	}
	return moment / spread, true
}
