package draw

import (
	"fmt"

	"wayhouse/api/draw/picture"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// lettersAcross is how many sizes of the letters what is drawn is across: with
// margins and words beside it a picture 1200 px wide has letters of 11 to 13 px.
const lettersAcross = 72

// leastAcross keeps the letters readable where little is drawn.
const leastAcross = 9 * measure.Metre

// picture lays out the page:
//
//  1. the side view,
//  2. under it, at its left, the rear view, and to the right of that the list of
//     movables and the notes,
//  3. a key of the lines and the scale bar of both,
//  4. the rig as it bends, and in a corner, each to a scale of its own,
//  5. the footer, and the title above all.
func (p plan) picture() *picture.Picture {
	letter := p.letterSize()
	page := newCanvas(p.in, letter)
	page.Cover(point{})
	page.place(p.side.titled(letter), point{}, 1)
	beside := p.second(page)
	page.place(beside, point{X: page.Least.X - beside.Least.X, Y: page.Most.Y + 1.5*letter - beside.Least.Y}, 1)
	if p.drawn() {
		at := page.key(p.styles(), point{X: page.Least.X, Y: page.Most.Y + 2*letter})
		page.scale(at, page.Wide()/3, 1, 1, 5)
	}
	page.turns(p)
	page.text(point{X: page.Least.X, Y: page.Most.Y + 2*letter}, picture.Start, p.in.Say(say.That("draw.footer")))
	page.letters(page.Least.Plus(0, -1.2*letter), picture.Start, p.title, 1.4)
	page.Title, page.About = p.title, p.in.Say(say.That("draw.unit_of_box"))
	return page.Picture
}

// views are the parts of the page as pictures of one scale and width, for pages that would
// make the letters of all in one too small: the side view, the rear view with the words
// beside it, and the rig as it bends and in a corner.
func (p plan) views() (out []*picture.Picture) {
	letter := p.letterSize()
	side := newCanvas(p.in, letter)
	side.Cover(point{})
	side.place(p.side.titled(letter), point{}, 1)
	rear, turns := p.second(side), newCanvas(p.in, letter)
	if p.drawn() {
		at := side.key(p.styles(), point{X: side.Least.X, Y: side.Most.Y + 2*letter})
		side.scale(at, side.Wide()/3, 1, 1, 5)
	}
	left, right := point{X: rear.Least.X}, point{X: rear.Least.X + side.Wide()}
	rear.Cover(right)
	right.X = rear.Most.X
	side.Cover(side.Least.Plus(rear.Wide(), 0))
	turns.Cover(left, right)
	turns.turns(p)
	for _, c := range []*canvas{side, rear, turns} {
		c.Title, c.About = p.title, p.in.Say(say.That("draw.unit_of_box"))
		out = append(out, c.Picture)
	}
	return out
}

func (p plan) letterSize() float64 {
	across := leastAcross
	for _, v := range []view{p.side, p.rear} {
		if b, ok := v.bounds(); ok {
			across = max(across, b.right-b.left)
		}
	}
	return toMM(across) / lettersAcross
}

// titled is a view with its heading.
func (v view) titled(letter float64) *canvas {
	c := v.drawing(letter)
	c.Cover(point{})
	if _, ok := v.bounds(); !ok {
		c.text(point{}, picture.Start, v.in.Say(say.That("draw.nothing")))
	}
	c.letters(c.Least.Plus(0, -0.8*letter), picture.Start, v.heading, 1.15)
	return c
}

// second is the rear view with the words beside it.
func (p plan) second(page *canvas) *canvas {
	const least = 34 // sizes of the letters in a line
	c := newCanvas(p.in, page.Letter)
	c.place(p.rear.titled(page.Letter), point{}, 1)
	at, right := point{X: c.Most.X + 3*page.Letter, Y: c.Least.Y + page.Letter}, c.Least.X+page.Wide()
	c.paragraphs(at, max((right-at.X)/page.Letter, least), p.paragraphs())
	return c
}

// paragraphs are the words beside the drawing.
func (p plan) paragraphs() []string {
	var out []string
	for i, m := range p.movables {
		out = append(out, fmt.Sprintf("%d  %s", i+1, m))
	}
	out = append(out, p.notes...)
	for _, v := range []view{p.side, p.rear} {
		for _, m := range v.missing {
			out = append(out, p.in.Say(say.That("draw.missing", "view", v.heading, "what", m)))
		}
	}
	return out
}

// indent is how far the second line of a paragraph stands to the right, in letters.
const indent = 2

// paragraphs writes words from a point, in lines of so many sizes of the letters.
func (c *canvas) paragraphs(at point, most float64, all []string) {
	for _, p := range all {
		for i, line := range picture.Wrap(p, most-indent/2) {
			c.text(at.Plus(float64(min(i, 1))*indent/2*c.Letter, 0), picture.Start, line)
			at.Y += 1.35 * c.Letter
		}
		at.Y += 0.25 * c.Letter
	}
}

// styles are those that the views are drawn in.
func (p plan) styles() map[style]bool {
	out := map[style]bool{}
	for _, v := range []view{p.side, p.rear} {
		for _, s := range v.shapes {
			out[s.style] = true
		}
		out[unsure] = out[unsure] || len(v.courses) > 0
	}
	return out
}

// key writes what the lines of some styles mean, in as many rows as it takes, and returns
// where the scale bar goes.
func (c *canvas) key(of map[style]bool, at point) point {
	left, right := at.X, c.Most.X
	for _, k := range []struct {
		style style
		means say.Remark
	}{
		{described, say.That("draw.key_described")}, {fitted, say.That("draw.key_fitted")},
		{standing, say.That("draw.key_standing")}, {sticking, say.That("draw.key_sticking")},
		{unsure, say.That("draw.key_unsure")},
	} {
		if !of[k.style] {
			continue
		}
		words := c.in.Say(k.means)
		if wide := 4*c.Letter + c.wide(words); at.X > left && at.X+wide > right {
			at = point{X: left, Y: at.Y + lineStep*c.Letter}
		}
		c.Box(looks[k.style], words, at, at.Plus(2*c.Letter, -0.9*c.Letter))
		c.text(at.Plus(2.5*c.Letter, 0), picture.Start, words)
		at.X += 4*c.Letter + c.wide(words)
	}
	return point{X: left, Y: at.Y + 2.6*c.Letter}
}
