package draw

import (
	"wayhouse/api/phrase"
	"wayhouse/regs/say"
)

// Restrained colours. Kinds of lines differ in width and dashes as well, for print
// in black and white.
const (
	ink   = "#1a1a1a"
	grey  = "#5a5a5a"
	blue  = "#2f5573"
	red   = "#a3281e"
	paper = "#ffffff"
	wall  = "#ece8de"
	part  = "#f8f6f0"
	none  = "none"
)

var looks = map[style]look{
	described: {fill: wall, stroke: ink, width: 0.16},
	fitted:    {fill: part, stroke: ink, width: 0.08},
	standing:  {fill: none, stroke: blue, width: 0.1, dash: []float64{0.5, 0.3}},
	sticking:  {fill: none, stroke: red, width: 0.16, dash: []float64{0.5, 0.3}},
	unsure:    {fill: none, stroke: grey, width: 0.12, dash: []float64{0.12, 0.3}},
}

var (
	ground  = look{fill: none, stroke: ink, width: 0.2}
	thin    = look{fill: none, stroke: grey, width: 0.05}
	axis    = look{fill: none, stroke: grey, width: 0.06, dash: []float64{1, 0.25, 0.2, 0.25}}
	strong  = look{fill: none, stroke: ink, width: 0.12}
	cross   = look{fill: none, stroke: red, width: 0.2}
	filled  = look{fill: ink, stroke: ink, width: 0.05}
	empty   = look{fill: paper, stroke: ink, width: 0.1}
	tagLook = look{fill: paper, stroke: ink, width: 0.06}
)

// lineStep is from one row of words or dimension lines to the next, in sizes of
// the letters.
const lineStep = 1.7

// svg draws a view:
//
//  1. what travels, wheels, and in front what is only there while the unit
//     stands,
//  2. ground, lines across and the centre of gravity,
//  3. dimension lines above, then under the ground,
//  4. under those what each axle carries,
//  5. tags, where there is room.
func (v view) svg(font mm) *canvas {
	c := newCanvas(v.in, font)
	whole, ok := v.bounds()
	if !ok {
		return c
	}
	c.bodies(v)
	c.line(
		ground,
		c.in.Say(say.That("draw.ground")),
		point{toMM(whole.left) - 2*font, 0},
		point{toMM(whole.right) + 2*font, 0},
	)
	for _, l := range v.levels {
		c.level(l)
	}
	c.gravity(v.centre, whole)
	c.above(v.above, whole)
	c.under(v)
	for _, s := range v.strikes {
		c.strike(s)
	}
	c.tags(v)
	return c
}

func (c *canvas) bodies(v view) {
	var stand []shape
	for _, s := range v.shapes {
		if s.style == standing || s.style == sticking {
			stand = append(stand, s)
			continue
		}
		c.shape(s)
	}
	for _, w := range v.wheels {
		c.wheel(w, v.round)
	}
	for _, s := range stand {
		c.shape(s)
	}
}

func (c *canvas) shape(s shape) {
	a, b := on(s.left, s.top), on(s.right, s.bottom)
	if s.open { // its lower side is not drawn
		c.line(looks[s.style], s.name, point{a.x, b.y}, a, point{b.x, a.y}, b)
		return
	}
	c.rect(a, b, looks[s.style], s.name)
}

func (c *canvas) wheel(w rect, round bool) {
	a, b := on(w.left, w.top), on(w.right, w.bottom)
	if !round {
		c.rect(a, b, empty, c.in.Say(say.That("draw.wheels_named")))
		return
	}
	m := point{(a.x + b.x) / 2, (a.y + b.y) / 2}
	c.circle(m, (b.x-a.x)/2, empty)
	c.circle(m, (b.x-a.x)/12, filled)
}

// level draws a line across; what it is stands at its right end, on two lines
// above and under it.
func (c *canvas) level(l level) {
	a, b := on(l.from, l.up), on(l.to, l.up)
	look := axis
	if l.main {
		look = strong
		look.dash = axis.dash
	}
	b.x += 2 * c.font
	a.x -= c.font
	c.line(look, l.what, a, b)
	words := c.in.Say(say.That("draw.level", "what", l.what, "up", l.up))
	c.text(point{b.x + 0.4*c.font, b.y + 0.35*c.font}, start, words)
}

// above draws dimension lines over all that is drawn.
func (c *canvas) above(spans []span, whole rect) {
	y := -toMM(whole.top)
	for _, s := range spans {
		y -= lineStep * c.font
		c.span(s, y, -toMM(whole.top))
	}
}

// span draws a dimension line with its words on it, or behind it where they are
// longer, and lines from its ends toward what it measures.
func (c *canvas) span(s span, y, from mm) {
	a, b := point{toMM(s.from), y}, point{toMM(s.to), y}
	for _, p := range []point{a, b} {
		past := 0.4 * c.font
		if from > y {
			past = -past
		}
		c.line(thin, "", point{p.x, from}, point{p.x, y + past})
		c.line(strong, "", point{p.x - 0.3*c.font, y + 0.3*c.font}, point{p.x + 0.3*c.font, y - 0.3*c.font})
	}
	c.line(thin, "", a, b)
	if c.wide(s.words) > b.x-a.x-c.font {
		c.text(point{b.x + 0.7*c.font, y + 0.35*c.font}, start, s.words)
		return
	}
	c.text(point{(a.x + b.x) / 2, y - 0.25*c.font}, centre, s.words)
}

// under draws what stands under the ground: dimension lines, then an arrow down to
// what each axle carries.
func (c *canvas) under(v view) {
	y := mm(0)
	for _, s := range v.below {
		y += lineStep * c.font
		c.span(s, y, 0)
	}
	var at, widths []mm
	for _, l := range v.loads {
		at, widths = append(at, toMM(l.at)), append(widths, c.wide(l.words(c.in))+1.6*c.font)
	}
	for i, row := range rows(at, widths) {
		c.load(v.loads[i], y+mm(row+1)*lineStep*c.font)
	}
}

func (l load) words(in *phrase.Language) string {
	return in.Say(say.That("named", "name", l.what, "says", l.carries))
}

// load draws an arrow down from the ground, or from a triangle under the coupling
// point, and what comes down there.
func (c *canvas) load(l load, y mm) {
	x, h := toMM(l.at), 0.5*c.font
	top := mm(0)
	if l.coupling {
		top = 0.9 * c.font
		c.line(
			empty,
			c.in.Say(say.That("draw.coupling_point")),
			point{x, 0},
			point{x - h, top},
			point{x + h, top},
			point{x, 0},
		)
		c.line(axis, c.in.Say(say.That("draw.coupling_no_height")), point{x, 0}, point{x, -1.1 * toMM(2*wheelRadius)})
	}
	c.line(strong, "", point{x, top}, point{x, y})
	c.line(filled, "", point{x, y}, point{x - h/2, y - h}, point{x + h/2, y - h}, point{x, y})
	c.text(point{x + 0.7*c.font, y}, start, l.words(c.in))
}
