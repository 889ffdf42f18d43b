package draw

import (
	"fmt"
	"strings"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// lettersAcross is how many sizes of the letters what is drawn is across: with
// margins and words beside it a picture 1200 px wide has letters of 11 to 13 px.
const lettersAcross = 72

// leastAcross keeps the letters readable where little is drawn.
const leastAcross = 9 * measure.Metre

// svg lays out the page:
//
//  1. the side view,
//  2. under it, at its left, the rear view, and to the right of that the list of
//     movables and the notes,
//  3. a key of the lines, the scale bar and the footer,
//  4. the title above all.
//
// Everything has the scale of the view box.
func (p plan) svg() string {
	font := p.fontSize()
	page := newCanvas(p.in, font)
	page.cover(point{})
	page.place(p.side.titled(font), point{})
	beside := p.second(page)
	page.place(beside, point{page.least.x - beside.least.x, page.most.y + 1.5*font - beside.least.y})
	page.foot(p)
	page.letters(point{page.least.x, page.least.y - 1.2*font}, start, p.title, 1.4)
	return page.document(p.title)
}

func (p plan) fontSize() mm {
	across := leastAcross
	for _, v := range []view{p.side, p.rear} {
		if b, ok := v.bounds(); ok {
			across = max(across, b.right-b.left)
		}
	}
	return toMM(across) / lettersAcross
}

// titled is a view with its heading.
func (v view) titled(font mm) *canvas {
	c := v.svg(font)
	c.cover(point{})
	if _, ok := v.bounds(); !ok {
		c.text(point{}, start, v.in.Say(say.That("draw.nothing")))
	}
	c.letters(point{c.least.x, c.least.y - 0.8*font}, start, v.heading, 1.15)
	return c
}

// second is the rear view with the words beside it.
func (p plan) second(page *canvas) *canvas {
	const least = 60 // letters in a line
	c := newCanvas(p.in, page.font)
	c.place(p.rear.titled(page.font), point{})
	at, right := point{c.most.x + 3*page.font, c.least.y + page.font}, c.least.x+page.most.x-page.least.x
	across := max(right-at.x, least*letter*page.font)
	c.paragraphs(at, int(across/(letter*page.font))-indent, p.paragraphs())
	return c
}

// letter is what a letter of a text takes on average, in sizes of the letters.
const letter = 0.56

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

// indent is how many letters the second line of a paragraph stands to the right.
const indent = 2

// paragraphs writes words from a point, in lines of so many letters.
func (c *canvas) paragraphs(at point, most int, all []string) {
	for _, p := range all {
		for i, line := range wrap(p, most) {
			c.text(point{at.x + mm(min(i, 1)*indent)*letter*c.font, at.y}, start, line)
			at.y += 1.35 * c.font
		}
		at.y += 0.25 * c.font
	}
}

// wrap breaks words into lines of at most so many letters, which must be above 0.
// A word that is longer is broken.
func wrap(words string, most int) []string {
	var out []string
	line := []rune{}
	for _, w := range strings.FieldsFunc(words, func(r rune) bool { return r == ' ' }) { // a no-break space is in a word
		word := []rune(w)
		if len(line) > 0 && len(line)+1+len(word) > most {
			out, line = append(out, string(line)), nil
		}
		if len(line) > 0 {
			line = append(line, ' ')
		}
		line = append(line, word...)
		for len(line) > most {
			out, line = append(out, string(line[:most])), append([]rune(nil), line[most:]...)
		}
	}
	return append(out, string(line))
}

// foot writes the footer, and above it the key of the lines and the scale bar if
// anything is drawn.
func (c *canvas) foot(p plan) {
	at := point{c.least.x, c.most.y + 2*c.font}
	if p.drawn() {
		at = c.key(at)
		c.scale(at)
		at.y += 3.4 * c.font
	}
	c.text(at, start, c.in.Say(say.That("draw.footer")))
}

// key writes what the lines mean and returns where the scale bar goes.
func (c *canvas) key(at point) point {
	left := at.x
	for _, k := range []struct {
		style style
		means say.Remark
	}{
		{described, say.That("draw.key_described")}, {fitted, say.That("draw.key_fitted")},
		{standing, say.That("draw.key_standing")}, {sticking, say.That("draw.key_sticking")},
		{unsure, say.That("draw.key_unsure")},
	} {
		words := c.in.Say(k.means)
		c.rect(at, point{at.x + 2*c.font, at.y - 0.9*c.font}, looks[k.style], words)
		c.text(point{at.x + 2.5*c.font, at.y}, start, words)
		at.x += 4*c.font + c.wide(words)
	}
	return point{left, at.y + 2.6*c.font}
}

// scale draws a bar of metres above a bar of feet.
func (c *canvas) scale(at point) {
	across := (c.most.x - c.least.x) / 4
	metres := steps(across, 1000, []int{1, 2, 5, 10, 20, 50})
	c.ruler(at, -0.5*c.font, 1000, metres, "m")
	foot := toMM(measure.Foot)
	c.ruler(at, 0.5*c.font, 5*foot, steps(across, 5*foot, []int{1, 2, 3, 4, 6, 10, 20, 30}), "ft")
}

// steps is the largest of some numbers of steps that fits, at least the first.
func steps(across, step mm, of []int) int {
	n := of[0]
	for _, k := range of {
		if mm(k)*step <= across {
			n = k
		}
	}
	return n
}

// ruler draws steps that are filled in turn, and the numbers at every end, above or
// under them by the sign of height.
func (c *canvas) ruler(at point, height, step mm, n int, unit string) {
	each := max(1, n/5)
	scale := 1
	if unit == "ft" {
		scale = 5
	}
	for i := range n {
		look := empty
		if i%2 == 0 {
			look = filled
		}
		c.rect(point{at.x + mm(i)*step, at.y}, point{at.x + mm(i+1)*step, at.y + height}, look, "")
	}
	foot := at.y + 1.4*height
	if height > 0 {
		foot += 0.8 * c.font
	}
	for i := 0; i <= n; i += each {
		words := fmt.Sprint(i * scale)
		if i+each > n {
			words += " " + unit
		}
		c.text(point{at.x + mm(i)*step, foot}, centre, words)
	}
}

// document is the whole of the SVG, on white.
func (c *canvas) document(title string) string {
	border := 1.5 * c.font
	a, w, h := point{c.least.x - border, c.least.y - border}, c.most.x-c.least.x+2*border, c.most.y-c.least.y+2*border
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="%s %s %s %s" role="img"`+
		` font-family="Helvetica, Arial, sans-serif">`+"\n",
		number(a.x), number(a.y), number(w), number(h))
	fmt.Fprintf(&b, "<title>%s</title>\n<desc>%s</desc>\n",
		escape(title), escape(c.in.Say(say.That("draw.unit_of_box"))))
	fmt.Fprintf(&b, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>`+"\n", number(a.x), number(a.y),
		number(w), number(h), paper)
	b.WriteString(c.shapes.String() + c.body() + "</svg>\n")
	return b.String()
}
