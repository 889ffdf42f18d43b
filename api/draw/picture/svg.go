package picture

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// Colours of the page and of words.
const (
	paper = "#ffffff"
	ink   = "#1a1a1a"
)

// rim is how wide the white around words is, in sizes of the letters.
const rim = 0.25

// border is the white around all that is drawn, in sizes of the letters.
const border = 1.5

// Page is the corner of the picture, how wide and how high it is, with a border.
func (p *Picture) Page() (corner Point, wide, high float64) {
	by := border * p.Letter
	return p.Least.Plus(-by, -by), p.Most.X - p.Least.X + 2*by, p.Most.Y - p.Least.Y + 2*by
}

// SVG writes the picture as one document, on white. The same picture gives the same
// bytes. Words are set to the width that they were laid out with, whatever letters the
// reader has. Errors are those of w.
func (p *Picture) SVG(w io.Writer) error {
	var b strings.Builder
	at, wide, high := p.Page()
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="%s %s %s %s" role="img"`+
		` font-family="Helvetica, Arial, sans-serif">`+"\n", number(at.X), number(at.Y), number(wide), number(high))
	fmt.Fprintf(&b, "<title>%s</title>\n<desc>%s</desc>\n", escape(p.Title), escape(p.About))
	fmt.Fprintf(&b, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>`+"\n", number(at.X), number(at.Y),
		number(wide), number(high), paper)
	for _, m := range p.Marks {
		if m.Kind != Words {
			b.WriteString(m.shape(p.Letter))
		}
	}
	fmt.Fprintf(&b, `<g fill="%s" stroke="%s" stroke-width="%s" paint-order="stroke" stroke-linejoin="round">`+"\n",
		ink, paper, number(rim*p.Letter))
	for _, m := range p.Marks {
		if m.Kind == Words {
			b.WriteString(m.words(p.Letter))
		}
	}
	b.WriteString("</g>\n</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func (m Mark) shape(letter float64) string {
	var b strings.Builder
	tag := "polyline"
	switch m.Kind {
	case Box:
		tag = "rect"
		a, z := m.At[0], m.At[1]
		fmt.Fprintf(&b, `<rect x="%s" y="%s" width="%s" height="%s"`, number(a.X), number(a.Y), number(z.X-a.X),
			number(z.Y-a.Y))
	case Disc:
		tag = "circle"
		fmt.Fprintf(&b, `<circle cx="%s" cy="%s" r="%s"`, number(m.At[0].X), number(m.At[0].Y), number(m.Radius))
	default:
		if m.Kind == Area {
			tag = "polygon"
		}
		var at []string
		for _, p := range m.At {
			at = append(at, number(p.X)+","+number(p.Y))
		}
		fmt.Fprintf(&b, `<%s points="%s"`, tag, strings.Join(at, " "))
	}
	b.WriteString(" " + m.Look.attributes(letter))
	if m.Name == "" {
		return b.String() + "/>\n"
	}
	return b.String() + "><title>" + escape(m.Name) + "</title></" + tag + ">\n"
}

func (m Mark) words(letter float64) string {
	size := letter * m.Size
	return fmt.Sprintf(`<text x="%s" y="%s" text-anchor="%s" font-size="%s" textLength="%s" lengthAdjust=`+
		`"spacingAndGlyphs">%s</text>`+"\n", number(m.At[0].X), number(m.At[0].Y), m.Anchor, number(size),
		number(WideAs(m.Text)*size), escape(m.Text))
}

func (l Look) attributes(letter float64) string {
	fill := l.Fill
	if fill == "" {
		fill = "none"
	}
	out := fmt.Sprintf(`fill="%s"`, fill)
	if l.Stroke == "" {
		return out
	}
	out += fmt.Sprintf(` stroke="%s" stroke-width="%s"`, l.Stroke, number(l.Width*letter))
	if l.Dash != nil {
		var parts []string
		for _, d := range l.Dash {
			parts = append(parts, number(d*letter))
		}
		out += fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(parts, " "))
	}
	return out
}

// number prints to a tenth of a unit, so that a rounding error of the machine does not
// show.
func number(v float64) string {
	s := strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64)
	if s == "-0" {
		return "0"
	}
	return s
}

// escape makes any words safe within XML.
func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(Plain(s))) // a Builder has no errors
	return b.String()
}
