package picture

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"io"
	"math"

	"git.sr.ht/~sbinet/gg"
	"golang.org/x/image/font"
)

// Pixels is how wide pictures are where nothing else is asked for: letters of a rig are
// then 16 to 20 pixels high.
const Pixels = 1600

// most is how many pixels high a picture may be: one that would be higher is narrower.
const most = 8000

// PNG writes the picture so many pixels wide, in the Go font. Letters that it lacks
// print as boxes. The title is in it as a text. Errors are those of w.
func (p *Picture) PNG(w io.Writer, pixels int) error {
	corner, wide, high := p.Page()
	scale := min(float64(pixels)/wide, most/high)
	c := &painter{
		gg.NewContext(int(math.Ceil(wide*scale)), int(math.Ceil(high*scale))), corner, scale, p.Letter * scale,
		map[float64]font.Face{},
	}
	c.SetHexColor(paper)
	c.Clear()
	for _, m := range p.Marks {
		if m.Kind != Words {
			c.shape(m)
		}
	}
	for _, m := range p.Marks {
		if m.Kind == Words {
			c.words(m)
		}
	}
	var b bytes.Buffer
	if err := c.EncodePNG(&b); err != nil {
		return err
	}
	_, err := w.Write(told(b.Bytes(), "Title", p.Title))
	return err
}

// head is what every PNG begins with: its signature and the chunk of its size, 13 bytes
// with their length, name and check.
const head = 8 + 4 + 4 + 13 + 4

// told is a PNG that says something beside its pixels: an international text of the PNG
// Specification (W3C, third edition, section 11.3.3.4), not compressed, right behind its
// head.
func told(of []byte, keyword, text string) []byte {
	chunk := append([]byte("iTXt"+keyword), 0, 0, 0, 0, 0)
	chunk = append(chunk, text...)
	out := binary.BigEndian.AppendUint32(bytes.Clone(of[:head]), uint32(len(chunk)-len("iTXt")))
	out = append(out, chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	return append(out, of[head:]...)
}

type painter struct {
	*gg.Context
	corner Point
	scale  float64
	letter float64 // in pixels
	faces  map[float64]font.Face
}

func (c *painter) at(p Point) (x, y float64) {
	return (p.X - c.corner.X) * c.scale, (p.Y - c.corner.Y) * c.scale
}

func (c *painter) shape(m Mark) {
	c.path(m)
	if m.Look.Fill != "" {
		c.SetHexColor(m.Look.Fill)
		c.FillPreserve()
	}
	if m.Look.Stroke == "" {
		c.ClearPath()
		return
	}
	c.SetHexColor(m.Look.Stroke)
	c.SetLineWidth(max(m.Look.Width*c.letter, 1))
	var dash []float64
	for _, d := range m.Look.Dash {
		dash = append(dash, d*c.letter)
	}
	c.SetDash(dash...)
	c.Stroke()
}

func (c *painter) path(m Mark) {
	switch m.Kind {
	case Box:
		x, y := c.at(m.At[0])
		right, foot := c.at(m.At[1])
		c.DrawRectangle(x, y, right-x, foot-y)
	case Disc:
		x, y := c.at(m.At[0])
		c.DrawCircle(x, y, m.Radius*c.scale)
	default:
		for i, p := range m.At {
			if x, y := c.at(p); i == 0 {
				c.MoveTo(x, y)
			} else {
				c.LineTo(x, y)
			}
		}
		if m.Kind == Area {
			c.ClosePath()
		}
	}
}

// words writes words over their white rim, which are the same words in a ring around.
func (c *painter) words(m Mark) {
	size := c.letter * m.Size
	if c.faces[size] == nil {
		c.faces[size] = face(size)
	}
	c.SetFontFace(c.faces[size])
	x, y := c.at(m.At[0])
	switch wide := WideAs(m.Text) * size; m.Anchor {
	case Middle:
		x -= wide / 2
	case End:
		x -= wide
	}
	const around = 12
	c.SetHexColor(paper)
	for i := range around {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / around)
		c.DrawString(m.Text, x+cos*rim/2*c.letter, y+sin*rim/2*c.letter)
	}
	c.SetHexColor(ink)
	c.DrawString(m.Text, x, y)
}
