package draw

import (
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
)

// mm is a length on the canvas, in millimetres of the rig.
type mm float64

func toMM(l measure.Length) mm { return mm(l.Metres() * 1000) }

// point is on the canvas: y counts down.
type point struct{ x, y mm }

// on puts a place of a view on the canvas.
func on(x, up measure.Length) point { return point{toMM(x), -toMM(up)} }

// look is how a line or an area is drawn. Widths and dashes are parts of the size
// of the letters.
type look struct {
	fill, stroke string
	width        float64
	dash         []float64
}

// canvas collects shapes and the words above them. Words have a white rim, so that
// a line behind them does not cross them out.
type canvas struct {
	in            *phrase.Language
	font          mm
	shapes, words strings.Builder
	least, most   point // of all that was drawn
	used          bool
}

func newCanvas(in *phrase.Language, font mm) *canvas { return &canvas{in: in, font: font} }

func (c *canvas) cover(points ...point) {
	for _, p := range points {
		if !c.used {
			c.least, c.most, c.used = p, p, true
		}
		c.least = point{min(c.least.x, p.x), min(c.least.y, p.y)}
		c.most = point{max(c.most.x, p.x), max(c.most.y, p.y)}
	}
}

// number prints to a tenth of a millimetre, so that a rounding error of the
// machine does not show.
func number(v mm) string {
	s := strconv.FormatFloat(math.Round(float64(v)*10)/10, 'f', -1, 64)
	if s == "-0" {
		return "0"
	}
	return s
}

// escape makes any words safe within XML.
func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(plain(s))) // a Builder has no errors
	return b.String()
}

func (c *canvas) attributes(l look) string {
	out := fmt.Sprintf(`fill="%s"`, l.fill)
	if l.stroke == "" {
		return out
	}
	out += fmt.Sprintf(` stroke="%s" stroke-width="%s"`, l.stroke, number(mm(l.width)*c.font))
	if l.dash != nil {
		var parts []string
		for _, d := range l.dash {
			parts = append(parts, number(mm(d)*c.font))
		}
		out += fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(parts, " "))
	}
	return out
}

// rect draws a rectangle; name, if any, is shown where a pointer rests on it.
func (c *canvas) rect(a, b point, l look, name string) {
	c.cover(a, b)
	fmt.Fprintf(&c.shapes, `<rect x="%s" y="%s" width="%s" height="%s" %s>%s</rect>`+"\n",
		number(min(a.x, b.x)), number(min(a.y, b.y)), number(max(a.x-b.x, b.x-a.x)), number(max(a.y-b.y, b.y-a.y)),
		c.attributes(l), named(name))
}

// line draws a line through points.
func (c *canvas) line(l look, name string, points ...point) {
	c.cover(points...)
	var at []string
	for _, p := range points {
		at = append(at, number(p.x)+","+number(p.y))
	}
	fmt.Fprintf(&c.shapes, `<polyline points="%s" %s>%s</polyline>`+"\n", strings.Join(at, " "), c.attributes(l),
		named(name))
}

func (c *canvas) circle(middle point, radius mm, l look) {
	c.cover(point{middle.x - radius, middle.y - radius}, point{middle.x + radius, middle.y + radius})
	fmt.Fprintf(&c.shapes, `<circle cx="%s" cy="%s" r="%s" %s/>`+"\n", number(middle.x), number(middle.y),
		number(radius), c.attributes(l))
}

func named(name string) string {
	if name == "" {
		return ""
	}
	return "<title>" + escape(name) + "</title>"
}

// anchor is which end of words a point is.
type anchor string

const (
	start  anchor = "start"
	centre anchor = "middle"
	end    anchor = "end"
)

// text writes words on one line at their foot.
func (c *canvas) text(at point, a anchor, words string) { c.letters(at, a, words, 1) }

// letters writes words so many times larger than others.
func (c *canvas) letters(at point, a anchor, words string, size float64) {
	w := c.wide(words) * mm(size)
	left := at.x
	switch a {
	case centre:
		left -= w / 2
	case end:
		left -= w
	}
	c.cover(point{left, at.y - c.font*mm(size)}, point{left + w, at.y + 0.3*c.font})
	fmt.Fprintf(&c.words, `<text x="%s" y="%s" text-anchor="%s" font-size="%s">%s</text>`+"\n", number(at.x),
		number(at.y), a, number(c.font*mm(size)), escape(words))
}

// wide is about how wide words are, rather too much than too little: the letters
// that a reader has are not known. 0.6 of their size a letter is more than Arial or
// Helvetica take for figures and small letters (0.56, from memory).
func (c *canvas) wide(words string) mm {
	var w mm
	for _, r := range words {
		if r < 0x1100 {
			w += 0.6
		} else {
			w++ // Chinese, Japanese and Korean letters are square
		}
	}
	return w * c.font
}

// place puts another canvas on this one, moved by a distance.
func (c *canvas) place(o *canvas, by point) {
	if !o.used {
		return
	}
	c.cover(point{o.least.x + by.x, o.least.y + by.y}, point{o.most.x + by.x, o.most.y + by.y})
	fmt.Fprintf(&c.shapes, `<g transform="translate(%s %s)">`+"\n%s%s</g>\n",
		number(by.x), number(by.y), o.shapes.String(), o.body())
}

// body is the group of all words.
func (c *canvas) body() string {
	return `<g fill="#1a1a1a" stroke="#ffffff" stroke-width="` + number(c.font/4) +
		`" paint-order="stroke" stroke-linejoin="round">` + "\n" + c.words.String() + "</g>\n"
}
