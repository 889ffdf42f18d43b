package draw

import (
	"math"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// raster turns lengths into columns and rows: a character is twice as high as it
// is wide.
type raster struct{ across measure.Length }

// Room beside and above a text drawing.
const (
	margin   = 16 // columns at the right, for the figures of lines across, if these need no more
	mostRows = 70
)

// rasterFor is the finest raster, of 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6 or 8 times a
// power of ten, with which all views fit into columns.
func rasterFor(columns int, views ...view) raster {
	for unit := measure.Centimetre; ; unit *= 10 {
		for _, tenths := range []measure.Length{10, 12, 15, 20, 25, 30, 40, 50, 60, 80} {
			s := raster{unit * tenths / 10}
			fits := true
			for _, v := range views {
				if b, ok := v.bounds(); ok {
					fits = fits && s.column(b.right)-s.column(b.left)+1+v.margin() <= columns &&
						s.row(b.top)-s.row(b.bottom) <= mostRows
				}
			}
			if fits {
				return s
			}
		}
	}
}

// margin is how many columns the figures of lines across need.
func (v view) margin() int {
	most := margin
	for _, l := range v.levels {
		most = max(most, 3+len([]rune(v.beside(l))))
	}
	return most
}

func (s raster) column(x measure.Length) int {
	return int(math.Round(float64(x) / float64(s.across)))
}

func (s raster) row(up measure.Length) int {
	return int(math.Round(float64(up) / float64(2*s.across)))
}

func (s raster) cell(at spot) cell { return cell{s.column(at.x), s.row(at.up)} }

// words say what one character stands for.
func (s raster) words() say.Remark {
	return say.That("draw.scale", "across", s.across, "up", 2*s.across)
}

// fits reports whether the words of a dimension line have room on it.
func (s raster) fits(a span) bool {
	return len([]rune(a.words))+4 <= s.column(a.to)-s.column(a.from)
}
