package draw

import (
	"wayhouse/api/draw/picture"
	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
)

// point is on the canvas: y counts down.
type point = picture.Point

// toMM is a length on the canvas, in millimetres of what is drawn.
func toMM(l measure.Length) float64 { return l.Metres() * 1000 }

// on puts a place of a view on the canvas.
func on(x, up measure.Length) point { return point{X: toMM(x), Y: -toMM(up)} }

// canvas is a picture on which words keep off one another.
type canvas struct {
	*picture.Picture
	in    *phrase.Language
	taken []picture.Label // rooms that no words may lie in
}

func newCanvas(in *phrase.Language, letter float64) *canvas {
	return &canvas{Picture: picture.New(letter), in: in}
}

// text writes words on one line at their foot, wherever that is.
func (c *canvas) text(at point, a picture.Anchor, words string) { c.letters(at, a, words, 1) }

// letters writes words so many times larger than others.
func (c *canvas) letters(at point, a picture.Anchor, words string, size float64) {
	c.taken = append(c.taken, c.LabelOf(at, a, size, words))
	c.Words(at, a, size, words)
}

// keep takes the room of a sign, so that no words lie on it.
func (c *canvas) keep(middle point, radius float64) {
	c.taken = append(c.taken, picture.Label{
		Left: middle.X - radius, Right: middle.X + radius, Top: middle.Y - radius, Foot: middle.Y + radius,
	})
}

// free reports whether nothing is written or drawn for good in a room.
func (c *canvas) free(l picture.Label) bool {
	for _, t := range c.taken {
		if t.Meets(l) {
			return false
		}
	}
	return true
}

// beside writes words at a place, or as little under it as keeps them off all others.
// It returns where they stand.
func (c *canvas) beside(at point, a picture.Anchor, words string) point {
	const rows = 200
	for range rows {
		if c.free(c.LabelOf(at, a, 1, words)) {
			break
		}
		at.Y += 0.2 * c.Letter
	}
	c.text(at, a, words)
	return at
}

// wide is how wide words are.
func (c *canvas) wide(words string) float64 { return c.WideOf(words) }

// place puts another canvas on this one, scaled and then moved.
func (c *canvas) place(o *canvas, by point, scale float64) {
	c.Place(o.Picture, by, scale)
	c.taken = append(c.taken, c.Labels()...)
}
