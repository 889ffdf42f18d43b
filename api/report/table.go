package report

import (
	"strings"
	"unicode/utf8"
)

// entry is one row of a table, with sentences below it.
type entry struct {
	cells []string
	below []string
}

// table writes entries in columns under heads. Cells are not folded: they are
// short. Sentences below a row are.
func (t *text) table(heads []string, entries []entry) {
	widths := make([]int, len(heads))
	for _, e := range append([]entry{{cells: heads}}, entries...) {
		for i, cell := range e.cells {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	t.cells(heads, widths)
	for _, e := range entries {
		t.cells(e.cells, widths)
		for _, s := range e.below {
			t.line("    %s", s)
		}
	}
}

func (t *text) cells(cells []string, widths []int) {
	line := "  "
	for i, cell := range cells {
		line += cell + strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell)+2)
	}
	t.b.WriteString(Printable(strings.TrimRight(line, " ")) + "\n")
}
