package draw

import (
	"fmt"
	"strconv"

	"wayhouse/regs/say"
)

// gravity draws the quartered circle; bars under it and to its right go from end to
// end of where it may be.
func (c *canvas) gravity(g *gravity, whole rect) {
	if g == nil {
		return
	}
	if g.up == nil {
		words := c.in.Say(say.That("draw.centre_no_height"))
		c.line(axis, words, on(g.x.likely, 0), on(g.x.likely, whole.top))
		c.text(point{toMM(g.x.likely) + 0.4*c.font, -toMM(whole.top) / 2}, start, words)
		return
	}
	m, radius := on(g.x.likely, g.up.likely), 0.6*c.font
	c.circle(m, radius, empty)
	for _, side := range []mm{1, -1} {
		c.quarter(m, side*radius)
	}
	under, right := m.y+1.2*c.font, m.x+1.2*c.font
	c.bar(point{toMM(g.x.low), under}, point{toMM(g.x.high), under}, point{0, 0.3 * c.font})
	c.bar(point{right, -toMM(g.up.low)}, point{right, -toMM(g.up.high)}, point{0.3 * c.font, 0})
}

// bar draws a line with a stroke square to it at both ends.
func (c *canvas) bar(a, b, stroke point) {
	c.line(strong, "", a, b)
	for _, p := range []point{a, b} {
		c.line(strong, "", point{p.x - stroke.x, p.y - stroke.y}, point{p.x + stroke.x, p.y + stroke.y})
	}
}

func (c *canvas) strike(s spot) {
	m, r := on(s.x, s.up), 0.45*c.font
	c.line(cross, c.in.Say(say.That("draw.key_sticking")), point{m.x - r, m.y - r}, point{m.x + r, m.y + r})
	c.line(cross, "", point{m.x - r, m.y + r}, point{m.x + r, m.y - r})
}

// tags writes the number of each movable near it, to the right of its middle where
// another tag or the centre of gravity is there already.
func (c *canvas) tags(v view) {
	const radius = 0.6
	var taken []point
	if g := v.centre; g != nil && g.up != nil {
		taken = append(taken, on(g.x.likely, g.up.likely))
	}
	for _, s := range v.strikes {
		taken = append(taken, on(s.x, s.up))
	}
	for _, s := range v.shapes {
		if s.tag == 0 {
			continue
		}
		at := clearOf(taken, on(s.middle().x, s.middle().up), 2.2*radius*c.font)
		taken = append(taken, at)
		c.circle(at, radius*c.font, tagLook)
		c.letters(point{at.x, at.y + 0.28*c.font}, centre, strconv.Itoa(s.tag), 0.8)
	}
}

// clearOf moves a point to the right until it is so far from all others.
func clearOf(taken []point, p point, apart mm) point {
	for moved := true; moved; {
		moved = false
		for _, t := range taken {
			dx, dy := p.x-t.x, p.y-t.y
			if dx*dx+dy*dy < apart*apart-1 { // 1 mm2 for rounding
				p.x, moved = t.x+apart, true
			}
		}
	}
	return p
}

// quarter fills a quarter of a circle, to the upper right of its middle, or with a
// radius below 0 to the lower left.
func (c *canvas) quarter(m point, radius mm) {
	fmt.Fprintf(&c.shapes, `<path d="M%s %s v%s a%s %s 0 0 1 %s %s z" %s/>`+"\n", number(m.x), number(m.y),
		number(-radius),
		number(max(radius, -radius)), number(max(radius, -radius)), number(radius), number(radius), c.attributes(filled))
}
