package draw

import "strings"

// cell is a place on the grid: a column and, up from the ground, a row.
type cell struct{ column, row int }

// Arms of a line that goes through a cell.
const (
	up = 1 << iota
	down
	left
	right
)

// pen is how a line is drawn.
type pen int

const (
	dotted pen = iota
	dashed
	light
	heavy
)

// glyphs of each pen by the arms that meet in a cell. A single character for a
// whole small box is the one without arms.
var glyphs = [...][]rune{
	dotted: []rune("·╵╷┊╴┘┐┤╶└┌├┈┴┬┼"),
	dashed: []rune("▫╵╷┆╴┘┐┤╶└┌├┄┴┬┼"),
	light:  []rune("▫╵╷│╴┘┐┤╶└┌├─┴┬┼"),
	heavy:  []rune("▪╹╻┃╸┛┓┫╺┗┏┣━┻┳╋"),
}

// stroke is what lines left in a cell: the strongest pen counts.
type stroke struct {
	arms int
	pen  pen
}

// grid is a drawing of characters. Words and signs lie above lines.
type grid struct {
	lines map[cell]stroke
	signs map[cell]rune
}

func newGrid() *grid { return &grid{lines: map[cell]stroke{}, signs: map[cell]rune{}} }

func (g *grid) arms(at cell, arms int, p pen) {
	was, ok := g.lines[at]
	if ok {
		arms, p = arms|was.arms, max(p, was.pen)
	}
	g.lines[at] = stroke{arms, p}
}

// across draws a line from a column to one to its right.
func (g *grid) across(row, from, to int, p pen) {
	for x := from; x < to; x++ {
		g.arms(cell{x, row}, right, p)
		g.arms(cell{x + 1, row}, left, p)
	}
}

// upward draws a line from a row to one above it.
func (g *grid) upward(column, from, to int, p pen) {
	for y := from; y < to; y++ {
		g.arms(cell{column, y}, up, p)
		g.arms(cell{column, y + 1}, down, p)
	}
}

// box draws a rectangle between its lower left and its upper right cell. What was
// within it is hidden by it if solid.
func (g *grid) box(a, b cell, p pen, solid, open bool) {
	if solid {
		for at := range g.lines {
			if a.column <= at.column && at.column <= b.column && a.row <= at.row && at.row <= b.row {
				g.hide(at, a, b)
			}
		}
	}
	if !open {
		g.across(a.row, a.column, b.column, p)
	}
	g.across(b.row, a.column, b.column, p)
	g.upward(a.column, a.row, b.row, p)
	g.upward(b.column, a.row, b.row, p)
	if a == b {
		g.arms(a, 0, p)
	}
}

// hide takes away what of a line lies within a box; on its rim the arms that go
// inward.
func (g *grid) hide(at, a, b cell) {
	s := g.lines[at]
	inward := up | down | left | right
	if at.column == a.column {
		inward &^= left
	}
	if at.column == b.column {
		inward &^= right
	}
	if at.row == a.row {
		inward &^= down
	}
	if at.row == b.row {
		inward &^= up
	}
	if s.arms &^= inward; s.arms == 0 {
		delete(g.lines, at)
		return
	}
	g.lines[at] = s
}

// words writes from a cell to the right.
func (g *grid) words(at cell, s string) {
	for _, r := range s {
		g.signs[at] = r
		at.column++
	}
}

// free reports whether cells from one to the right are empty.
func (g *grid) free(at cell, n int) bool {
	for i := range n {
		c := cell{at.column + i, at.row}
		_, line := g.lines[c]
		_, sign := g.signs[c]
		if line || sign {
			return false
		}
	}
	return true
}

func (g *grid) at(c cell) rune {
	if r, ok := g.signs[c]; ok {
		return r
	}
	if s, ok := g.lines[c]; ok {
		return glyphs[s.pen][s.arms]
	}
	return ' '
}

// String prints the rows from the top, without spaces at their ends, the leftmost
// column first.
func (g *grid) String() string {
	low, high, ok := g.corners()
	if !ok {
		return ""
	}
	var b strings.Builder
	for y := high.row; y >= low.row; y-- {
		var line strings.Builder
		for x := low.column; x <= high.column; x++ {
			line.WriteRune(g.at(cell{x, y}))
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	return b.String()
}

func (g *grid) corners() (low, high cell, ok bool) {
	cover := func(c cell) {
		if !ok {
			low, high, ok = c, c, true
		}
		low = cell{min(low.column, c.column), min(low.row, c.row)}
		high = cell{max(high.column, c.column), max(high.row, c.row)}
	}
	for c := range g.lines {
		cover(c)
	}
	for c := range g.signs {
		cover(c)
	}
	return low, high, ok
}
