package draw

import (
	"math"
	"strconv"

	"wayhouse/api/draw/picture"
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
		c.Line(axis, words, on(g.x.likely, 0), on(g.x.likely, whole.top))
		c.beside(point{X: toMM(g.x.likely) + 0.4*c.Letter, Y: -toMM(whole.top) / 2}, picture.Start, words)
		return
	}
	m, radius := on(g.x.likely, g.up.likely), 0.6*c.Letter
	c.keep(m, 1.5*c.Letter)
	c.Disc(empty, c.in.Say(say.That("draw.centre_sign")), m, radius)
	c.quarter(m, radius, 0)
	c.quarter(m, radius, math.Pi)
	under, right := m.Y+1.2*c.Letter, m.X+1.2*c.Letter
	c.bar(point{X: toMM(g.x.low), Y: under}, point{X: toMM(g.x.high), Y: under}, point{Y: 0.3 * c.Letter})
	c.bar(point{X: right, Y: -toMM(g.up.low)}, point{X: right, Y: -toMM(g.up.high)}, point{X: 0.3 * c.Letter})
}

// quarter fills a quarter of a circle from an angle on.
func (c *canvas) quarter(m point, radius, from float64) {
	corners := []point{m}
	for i := range 10 {
		sin, cos := math.Sincos(from + float64(i)*math.Pi/18)
		corners = append(corners, m.Plus(radius*cos, -radius*sin))
	}
	c.Area(filled, "", corners...)
}

// bar draws a line with a stroke square to it at both ends.
func (c *canvas) bar(a, b, stroke point) {
	c.Line(strong, "", a, b)
	for _, p := range []point{a, b} {
		c.Line(strong, "", p.Plus(-stroke.X, -stroke.Y), p.Plus(stroke.X, stroke.Y))
	}
}

func (c *canvas) strike(m point, name string) {
	r := 0.45 * c.Letter
	c.Line(cross, name, m.Plus(-r, -r), m.Plus(r, r))
	c.Line(cross, "", m.Plus(-r, r), m.Plus(r, -r))
	c.keep(m, r)
}

// tagSize is the radius of the circle around the number of a movable, in sizes of the
// letters.
const tagSize = 0.6

// tags writes the number of each movable near it, to the right of its middle where
// another tag or a sign is there already.
func (c *canvas) tags(v view) {
	for _, s := range v.shapes {
		if s.tag == 0 {
			continue
		}
		at, r := on(s.middle().x, s.middle().up), tagSize*c.Letter
		room := 1.2 * r // circles that touch read as one sign
		for !c.free(picture.Label{Left: at.X - room, Right: at.X + room, Top: at.Y - room, Foot: at.Y + room}) {
			at.X += r / 2
		}
		c.keep(at, room)
		c.Disc(tagLook, s.name, at, r)
		c.Words(at.Plus(0, 0.28*c.Letter), picture.Middle, 0.8, strconv.Itoa(s.tag))
	}
}
