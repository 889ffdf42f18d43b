package draw

import (
	"strconv"
	"strings"
)

// text draws a view:
//
//  1. the lines across, then the shapes over them,
//  2. ground and wheels,
//  3. the centre of gravity, what sticks out and the tags,
//  4. dimension lines above, and the letters under the ground.
func (v view) text(s raster) string {
	whole, ok := v.bounds()
	if !ok {
		return ""
	}
	g := newGrid()
	for _, l := range v.levels {
		g.across(s.row(l.up), s.column(l.from), s.column(whole.right), dotted)
	}
	for _, c := range v.courses {
		g.course(c, s)
	}
	for _, sh := range v.shapes {
		g.shape(sh, s)
	}
	g.ground(s.column(whole.left), s.column(whole.right))
	g.wheels(v.wheels, s)
	if v.centre != nil {
		g.gravity(*v.centre, s)
	}
	for _, at := range v.strikes {
		g.signs[s.cell(at)] = '×'
	}
	for _, sh := range v.shapes {
		if sh.tag > 0 {
			g.tag(sh, s)
		}
	}
	for _, l := range v.levels {
		g.level(cell{s.column(whole.right) + 2, s.row(l.up)}, v.beside(l))
	}
	for i, a := range v.above {
		g.span(a, s.row(whole.top)+1+i, s)
	}
	g.letters(v.loads, s)
	return g.String()
}

// level writes the figure of a line across to the right of all that is drawn, in a row
// below where another stands there, apart from a tag that stands just before.
func (g *grid) level(at cell, words string) {
	if !g.free(cell{at.column - 1, at.row}, 1) {
		at.column++
	}
	for !g.free(at, len([]rune(words))) {
		at.row--
	}
	g.words(at, words)
}

// span draws a dimension line with its words on it where they fit.
func (g *grid) span(a span, row int, s raster) {
	from, to := s.column(a.from), s.column(a.to)
	g.across(row, from, to, light)
	g.arms(cell{from, row}, up|down, light)
	g.arms(cell{to, row}, up|down, light)
	if words := " " + a.words + " "; s.fits(a) {
		g.words(cell{(from + to - len([]rune(words))) / 2, row}, words)
	}
}

// beside is what stands at the end of a line across.
func (v view) beside(l level) string { return l.what + " " + v.in.Alone(l.up) }

var pens = map[style]pen{described: heavy, fitted: light, standing: dashed, sticking: dashed, unsure: dotted}

func (g *grid) shape(sh shape, s raster) {
	a, b := s.cell(spot{sh.left, sh.bottom}), s.cell(spot{sh.right, sh.top})
	solid := sh.style == described || sh.style == fitted
	g.box(a, b, pens[sh.style], solid, sh.open)
}

// course draws what joins both, which runs level or upright.
func (g *grid) course(c course, s raster) {
	for i, to := range c.through[1:] {
		a, b := s.cell(c.through[i]), s.cell(to)
		if a.row == b.row {
			g.across(a.row, min(a.column, b.column), max(a.column, b.column), dotted)
			continue
		}
		g.upward(b.column, min(a.row, b.row), max(a.row, b.row), dotted)
	}
}

// ground draws the ground where nothing stands on it.
func (g *grid) ground(from, to int) {
	for x := from; x <= to; x++ {
		if at := (cell{x, 0}); g.free(at, 1) {
			g.signs[at] = '═'
		}
	}
}

// wheels writes an O at the height of each middle.
func (g *grid) wheels(wheels []rect, s raster) {
	for _, w := range wheels {
		at := s.cell(w.middle())
		at.row = max(at.row, 1)
		g.signs[at] = 'O'
	}
}

// gravity writes the sign of the centre of gravity, and the ends between which it
// lies where they are in other cells. Without a height it is a line.
func (g *grid) gravity(c gravity, s raster) {
	x := s.column(c.x.likely)
	if c.up == nil {
		g.signs[cell{x, 1}] = '╎'
		g.signs[cell{x, 2}] = '╎'
		return
	}
	y := s.row(c.up.likely)
	g.words(cell{s.column(c.x.low), y}, strings.Repeat("─", s.column(c.x.high)-s.column(c.x.low)+1))
	for row := s.row(c.up.low); row <= s.row(c.up.high); row++ {
		g.signs[cell{x, row}] = '│'
	}
	g.signs[cell{x, y}] = '⊕'
}

// tag writes the number of a movable into its box where there is room, else beside
// it.
func (g *grid) tag(sh shape, s raster) {
	words := strconv.Itoa(sh.tag)
	a, b := s.cell(spot{sh.left, sh.bottom}), s.cell(spot{sh.right, sh.top})
	m := s.cell(sh.middle())
	for _, at := range []cell{m, {m.column + 2, m.row}, {b.column + 1, m.row}, {a.column - len(words), m.row},
		{m.column, b.row + 1}, {b.column + 1, b.row}, {a.column - len(words), b.row}} {
		if g.free(at, len(words)) {
			g.words(at, words)
			return
		}
	}
	g.words(m, words)
}

// letters writes an arrow and a letter under each place that carries something.
func (g *grid) letters(loads []load, s raster) {
	var at, widths []int
	for _, l := range loads {
		at, widths = append(at, s.column(l.at)), append(widths, 1)
	}
	for i, row := range rows(at, widths) {
		sign := '▼'
		if loads[i].coupling {
			sign = '▲'
		}
		g.signs[cell{at[i], -1}] = sign
		g.signs[cell{at[i], -2 - row}] = rune(letterOf(i)[0])
	}
}
