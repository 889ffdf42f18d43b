package draw

import (
	"strings"
	"testing"
)

func TestGrid(t *testing.T) {
	for name, tc := range map[string]struct {
		draw func(*grid)
		want string
	}{
		"nothing":  {func(*grid) {}, ""},
		"a box":    {func(g *grid) { g.box(cell{0, 0}, cell{3, 2}, heavy, true, false) }, "┏━━┓\n┃  ┃\n┗━━┛\n"},
		"open":     {func(g *grid) { g.box(cell{0, 0}, cell{3, 2}, dotted, false, true) }, "┌┈┈┐\n┊  ┊\n╵  ╵\n"},
		"one cell": {func(g *grid) { g.box(cell{4, 4}, cell{4, 4}, light, true, false) }, "▫\n"},
		"two meet": {func(g *grid) {
			g.box(cell{0, 0}, cell{2, 2}, light, true, false)
			g.box(cell{2, 0}, cell{4, 1}, light, true, false)
		}, "┌─┐\n│ ├─┐\n└─┴─┘\n"},
		"in front": {func(g *grid) {
			g.box(cell{0, 0}, cell{4, 3}, light, true, false)
			g.box(cell{2, 1}, cell{6, 2}, heavy, true, false)
		}, "┌───┐\n│ ┏━┻━┓\n│ ┗━┳━┛\n└───┘\n"},
		"see-through": {func(g *grid) {
			g.box(cell{0, 0}, cell{4, 2}, light, true, false)
			g.box(cell{2, 1}, cell{6, 3}, dashed, false, false)
		}, "  ┌┄┄┄┐\n┌─┼─┐ ┆\n│ └┄┼┄┘\n└───┘\n"},
		"words": {func(g *grid) { g.across(0, 0, 6, light); g.words(cell{2, 0}, "4 m") }, "╶─4 m─╴\n"},
	} {
		g := newGrid()
		tc.draw(g)
		if got := g.String(); got != tc.want {
			t.Errorf("%s:\n%swant\n%s", name, got, tc.want)
		}
	}
}

// Each pen has a sign for every way in which lines meet, and the arms are the same
// in all: only the weight differs.
func TestGlyphs(t *testing.T) {
	for p, signs := range glyphs {
		if len(signs) != 16 {
			t.Errorf("pen %d has %d signs", p, len(signs))
		}
	}
	for arms, want := range map[int]string{left | right: "┈┄─━", up | down: "┊┆│┃", down | right: "┌┌┌┏", up | left: "┘┘┘┛", up | down | right: "├├├┣"} {
		var got strings.Builder
		for _, signs := range glyphs {
			got.WriteRune(signs[arms])
		}
		if got.String() != want {
			t.Errorf("arms %d: %s, want %s", arms, got.String(), want)
		}
	}
}
