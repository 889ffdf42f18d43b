package paper

import (
	"strconv"

	"codeberg.org/go-pdf/fpdf"

	"wayhouse/api/draw/picture"
)

// rim is the white around words on a picture, in sizes of its letters.
const rim = 0.2

// picture draws a picture in the middle of the page.
func (p *pages) picture(b Picture) {
	high := p.highOfPicture(b)
	_, across, up := b.Of.Page()
	p.need(high)
	y, wide := p.file.GetY(), high*across/up
	p.draw(b.Of, margin+(p.wide()-wide)/2, y, wide)
	p.file.SetXY(margin, y+high+gap)
}

// draw draws the marks of a picture from a place on and as wide as is said, so that it is
// as sharp as the paper and its words are words.
func (p *pages) draw(of *picture.Picture, left, top, wide float64) {
	corner, across, _ := of.Page()
	scale := wide / across
	d := &drawing{Fpdf: p.file, corner: corner, scale: scale, letter: of.Letter * scale, left: left, top: top}
	for _, m := range of.Marks {
		if m.Kind != picture.Words {
			d.shape(m)
		}
	}
	p.file.SetDashPattern(nil, 0)
	for _, m := range of.Marks {
		if m.Kind == picture.Words {
			d.words(m)
		}
	}
	p.file.SetDrawColor(0, 0, 0)
}

// highOfPicture is how high a picture is that is as wide as the page, or as high as one.
func (p *pages) highOfPicture(b Picture) float64 {
	_, wide, high := b.Of.Page()
	return min(p.wide()*high/wide, p.bottom()-margin-headHigh-2*gap-10)
}

// drawing puts a picture on a page.
type drawing struct {
	*fpdf.Fpdf
	corner    picture.Point
	left, top float64 // of the corner, mm on the page
	scale     float64 // mm on the page in one unit of the picture
	letter    float64 // mm
}

func (d *drawing) at(p picture.Point) (x, y float64) {
	return d.left + (p.X-d.corner.X)*d.scale, d.top + (p.Y-d.corner.Y)*d.scale
}

func (d *drawing) shape(m picture.Mark) {
	style := ""
	if m.Look.Stroke != "" {
		style += "D"
		d.SetDrawColor(colour(m.Look.Stroke))
		d.SetLineWidth(max(m.Look.Width*d.letter, 0.05))
		var dash []float64
		for _, length := range m.Look.Dash {
			dash = append(dash, length*d.letter)
		}
		d.SetDashPattern(dash, 0)
	}
	if m.Look.Fill != "" && m.Kind != picture.Line {
		style = "F" + style
		d.SetFillColor(colour(m.Look.Fill))
	}
	if style == "" {
		return
	}
	x, y := d.at(m.At[0])
	switch m.Kind {
	case picture.Box:
		right, foot := d.at(m.At[1])
		d.Rect(x, y, right-x, foot-y, style)
	case picture.Disc:
		d.Circle(x, y, m.Radius*d.scale, style)
	default:
		d.MoveTo(x, y)
		for _, p := range m.At[1:] {
			d.LineTo(d.at(p))
		}
		if m.Kind == picture.Area {
			d.ClosePath()
		}
		d.DrawPath(style)
	}
}

// words writes words over a white rim.
func (d *drawing) words(m picture.Mark) {
	size := d.letter * m.Size
	d.SetFont("go", "", size/millimetres)
	x, y := d.at(m.At[0])
	text := drawn(m.Text)
	switch wide := picture.WideAs(m.Text) * size; m.Anchor {
	case picture.Middle:
		x -= wide / 2
	case picture.End:
		x -= wide
	}
	d.SetDrawColor(255, 255, 255)
	d.SetLineWidth(rim * d.letter)
	d.SetTextRenderingMode(1)
	d.Text(x, y, text)
	d.SetTextRenderingMode(0)
	d.Text(x, y, text)
}

// colour reads #rrggbb.
func colour(hex string) (r, g, b int) {
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		return 0, 0, 0
	}
	return int(v >> 16), int(v >> 8 & 255), int(v & 255)
}
