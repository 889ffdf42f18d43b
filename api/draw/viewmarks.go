package draw

import (
	"wayhouse/api/draw/picture"
	"wayhouse/api/phrase"
	"wayhouse/regs/say"
)

// Restrained colours. Kinds of lines differ in width and dashes as well, for print
// in black and white.
const (
	ink   = "#1a1a1a"
	grey  = "#5a5a5a"
	pale  = "#c9c4b8"
	blue  = "#2f5573"
	red   = "#a3281e"
	paper = "#ffffff"
	wall  = "#ece8de"
	part  = "#f8f6f0"
)

var looks = map[style]picture.Look{
	described: {Fill: wall, Stroke: ink, Width: 0.16},
	fitted:    {Fill: part, Stroke: ink, Width: 0.08},
	standing:  {Stroke: blue, Width: 0.1, Dash: []float64{0.5, 0.3}},
	sticking:  {Stroke: red, Width: 0.16, Dash: []float64{0.5, 0.3}},
	unsure:    {Stroke: grey, Width: 0.12, Dash: []float64{0.12, 0.3}},
}

var (
	ground  = picture.Look{Stroke: ink, Width: 0.2}
	thin    = picture.Look{Stroke: grey, Width: 0.05}
	axis    = picture.Look{Stroke: grey, Width: 0.06, Dash: []float64{1, 0.25, 0.2, 0.25}}
	strong  = picture.Look{Stroke: ink, Width: 0.12}
	cross   = picture.Look{Stroke: red, Width: 0.2}
	filled  = picture.Look{Fill: ink, Stroke: ink, Width: 0.05}
	empty   = picture.Look{Fill: paper, Stroke: ink, Width: 0.1}
	tagLook = picture.Look{Fill: paper, Stroke: ink, Width: 0.06}
)

// lineStep is from one row of words or dimension lines to the next, in sizes of
// the letters.
const lineStep = 1.7

// drawing draws a view:
//
//  1. what travels, wheels, and in front what is only there while the unit
//     stands,
//  2. ground, centre of gravity, what sticks out and the tags,
//  3. dimension lines above, then under the ground, and under those what each axle
//     carries,
//  4. lines across, with what they are at the right of all that is drawn.
func (v view) drawing(letter float64) *canvas {
	c := newCanvas(v.in, letter)
	whole, ok := v.bounds()
	if !ok {
		return c
	}
	c.bodies(v)
	c.Line(ground, c.in.Say(say.That("draw.ground")), on(whole.left, 0).Plus(-2*letter, 0),
		on(whole.right, 0).Plus(2*letter, 0))
	c.gravity(v.centre, whole)
	for _, s := range v.strikes {
		c.strike(on(s.x, s.up), c.in.Say(say.That("draw.key_sticking")))
	}
	c.tags(v)
	c.above(v.above, whole)
	c.under(v)
	for _, l := range v.levels {
		c.level(l, whole)
	}
	return c
}

func (c *canvas) bodies(v view) {
	var stand []shape
	for _, t := range v.courses {
		c.join(t)
	}
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

// join draws a line of what joins a unit to its tow vehicle.
func (c *canvas) join(t course) {
	var at []point
	for _, s := range t.through {
		at = append(at, on(s.x, s.up))
	}
	c.Line(looks[unsure], t.name, at...)
}

func (c *canvas) shape(s shape) {
	a, b := on(s.left, s.top), on(s.right, s.bottom)
	if s.open { // its lower side is not drawn
		c.Line(looks[s.style], s.name, point{X: a.X, Y: b.Y}, a, point{X: b.X, Y: a.Y}, b)
		return
	}
	c.Box(looks[s.style], s.name, a, b)
}

func (c *canvas) wheel(w rect, round bool) {
	a, b := on(w.left, w.top), on(w.right, w.bottom)
	name := c.in.Say(say.That("draw.wheels_named"))
	if !round {
		c.Box(empty, name, a, b)
		return
	}
	m := point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
	c.Disc(empty, name, m, (b.X-a.X)/2)
	c.Disc(filled, "", m, (b.X-a.X)/12)
}

// level draws a line across, and what it is to the right of all that is drawn.
func (c *canvas) level(l level, whole rect) {
	look := axis
	if l.main {
		look = strong
		look.Dash = axis.Dash
	}
	a, b := on(l.from, l.up), on(whole.right, l.up)
	a.X -= c.Letter
	b.X += 2 * c.Letter
	words := c.in.Say(say.That("draw.level", "what", l.what, "up", l.up))
	at := c.beside(b.Plus(0.4*c.Letter, 0.3*c.Letter), picture.Start, words)
	c.Line(look, l.what, a, b, at.Plus(-0.4*c.Letter, -0.3*c.Letter))
}

// above draws dimension lines over all that is drawn.
func (c *canvas) above(spans []span, whole rect) {
	y := -toMM(whole.top)
	for _, s := range spans {
		y -= lineStep * c.Letter
		c.span(s, y, -toMM(whole.top))
	}
}

// span draws a dimension line with its words on it, or behind it where they are
// longer, and lines from its ends toward what it measures.
func (c *canvas) span(s span, y, from float64) {
	a, b := point{X: toMM(s.from), Y: y}, point{X: toMM(s.to), Y: y}
	for _, p := range []point{a, b} {
		past := 0.4 * c.Letter
		if from > y {
			past = -past
		}
		c.Line(thin, "", point{X: p.X, Y: from}, p.Plus(0, past))
		c.Line(strong, "", p.Plus(-0.3*c.Letter, 0.3*c.Letter), p.Plus(0.3*c.Letter, -0.3*c.Letter))
	}
	c.Line(thin, "", a, b)
	if c.wide(s.words) > b.X-a.X-c.Letter {
		c.text(b.Plus(0.7*c.Letter, 0.3*c.Letter), picture.Start, s.words)
		return
	}
	c.text(point{X: (a.X + b.X) / 2, Y: y - 0.25*c.Letter}, picture.Middle, s.words)
}

// under draws what stands under the ground: dimension lines, then an arrow down to
// what each axle carries.
func (c *canvas) under(v view) {
	y := 0.0
	for _, s := range v.below {
		y += lineStep * c.Letter
		c.span(s, y, 0)
	}
	var at, widths []float64
	for _, l := range v.loads {
		at, widths = append(at, toMM(l.at)), append(widths, c.wide(l.words(c.in))+1.6*c.Letter)
	}
	for i, row := range rows(at, widths) {
		c.load(v.loads[i], y+float64(row+1)*lineStep*c.Letter)
	}
}

func (l load) words(in *phrase.Language) string {
	return in.Say(say.That("named", "name", l.what, "says", l.carries))
}

// load draws an arrow down from the ground, or from a triangle under the coupling
// point, and what comes down there.
func (c *canvas) load(l load, y float64) {
	foot, h, top := point{X: toMM(l.at), Y: y}, 0.5*c.Letter, point{X: toMM(l.at)}
	if l.coupling {
		point := c.in.Say(say.That("draw.coupling_point"))
		down := top.Plus(0, 0.9*c.Letter)
		c.Area(empty, point, top, down.Plus(-h, 0), down.Plus(h, 0))
		c.Line(axis, point, top, top.Plus(0, -1.1*toMM(2*wheelRadius)))
		top = down
	}
	c.Line(strong, "", top, foot)
	c.Area(filled, "", foot, foot.Plus(-h/2, -h), foot.Plus(h/2, -h))
	c.text(foot.Plus(0.7*c.Letter, 0), picture.Start, l.words(c.in))
}
