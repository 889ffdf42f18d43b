// Package picture holds drawings as marks: lines, areas, discs and words, which it
// writes as SVG and as PNG. Whoever lays out pages can go through the marks instead.
//
// A picture has units of its own, in which y counts down; whoever draws says what one is.
// They are to be small: places are written to a tenth of one. Lines are as wide, and
// words as large, as the letters say, whatever the scale of what is drawn.
package picture

import "slices"

// Point is a place.
type Point struct{ X, Y float64 }

// Plus moves a point.
func (p Point) Plus(x, y float64) Point { return Point{p.X + x, p.Y + y} }

// Look is how a line or an area is drawn. Colours are those of SVG of the form #rrggbb,
// "" for none; widths and dashes are in sizes of the letters.
type Look struct {
	Fill, Stroke string
	Width        float64
	Dash         []float64
}

// Kind is what a mark is.
type Kind int

// The kinds.
const (
	Line  Kind = iota // through all points
	Area              // with its corners
	Box               // between two corners
	Disc              // with its middle and radius
	Words             // at their foot
)

// Anchor is which end of words a point is.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Mark is one thing that is drawn.
type Mark struct {
	Kind   Kind
	At     []Point
	Radius float64 // of a disc
	Look   Look
	Name   string // of a shape: shown where a pointer rests on it
	Text   string
	Anchor Anchor
	Size   float64 // of words, in sizes of the letters
}

// Picture is a drawing. What has no words is drawn first, in the order of the marks;
// words lie above it with a white rim, so that a line behind them does not cross them
// out.
type Picture struct {
	Title, About string
	Letter       float64 // the size of its letters
	Marks        []Mark

	Least, Most Point // of all that was drawn
	Drawn       bool  // anything was
}

// New is an empty picture with letters of a size.
func New(letter float64) *Picture { return &Picture{Letter: letter} }

// Cover takes places into the picture.
func (p *Picture) Cover(points ...Point) {
	for _, at := range points {
		if !p.Drawn {
			p.Least, p.Most, p.Drawn = at, at, true
		}
		p.Least = Point{min(p.Least.X, at.X), min(p.Least.Y, at.Y)}
		p.Most = Point{max(p.Most.X, at.X), max(p.Most.Y, at.Y)}
	}
}

// Bare reports whether there is nothing but words on the picture.
func (p *Picture) Bare() bool {
	return !slices.ContainsFunc(p.Marks, func(m Mark) bool { return m.Kind != Words })
}

// Wide is how wide the picture is.
func (p *Picture) Wide() float64 { return p.Most.X - p.Least.X }

func (p *Picture) add(m Mark) {
	p.Marks = append(p.Marks, m)
	p.Cover(m.bounds(p.Letter)...)
}

// bounds are two corners around a mark and more points of it.
func (m Mark) bounds(letter float64) []Point {
	switch m.Kind {
	case Disc:
		return []Point{m.At[0].Plus(-m.Radius, -m.Radius), m.At[0].Plus(m.Radius, m.Radius)}
	case Words:
		l := m.label(letter)
		return []Point{{l.Left, l.Top}, {l.Right, l.Foot}}
	default:
		return m.At
	}
}

// Line draws a line; name, if any, is what it is.
func (p *Picture) Line(l Look, name string, points ...Point) {
	p.add(Mark{Kind: Line, At: points, Look: l, Name: name})
}

// Area draws a closed line with what is within it.
func (p *Picture) Area(l Look, name string, corners ...Point) {
	p.add(Mark{Kind: Area, At: corners, Look: l, Name: name})
}

// Box draws a rectangle between two corners.
func (p *Picture) Box(l Look, name string, a, b Point) {
	low, high := Point{min(a.X, b.X), min(a.Y, b.Y)}, Point{max(a.X, b.X), max(a.Y, b.Y)}
	p.add(Mark{Kind: Box, At: []Point{low, high}, Look: l, Name: name})
}

// Disc draws a circle.
func (p *Picture) Disc(l Look, name string, middle Point, radius float64) {
	p.add(Mark{Kind: Disc, At: []Point{middle}, Radius: radius, Look: l, Name: name})
}

// Words writes words on one line, so many times as large as others. What would turn
// a line around or drive a terminal is left out of them: names come from users.
func (p *Picture) Words(at Point, a Anchor, size float64, words string) {
	p.add(Mark{Kind: Words, At: []Point{at}, Anchor: a, Size: size, Text: lettered(words)})
}

// Place lays another picture on this one, scaled and then moved. Its letters have the
// size of this one's.
func (p *Picture) Place(o *Picture, by Point, scale float64) {
	for _, m := range o.Marks {
		at := make([]Point, len(m.At))
		for i, from := range m.At {
			at[i] = Point{from.X*scale + by.X, from.Y*scale + by.Y}
		}
		m.At, m.Radius = at, m.Radius*scale
		p.add(m)
	}
}
