package report

import (
	"strings"
	"unicode/utf8"
)

// entry is one row of a table, with sentences below it.
type entry struct {
	invented bool // it rests on invented data
	cells    []string
	below    []string
}

// table writes entries in columns under heads. Cells are not folded: they are
// short. Sentences below a row are, and carry its mark.
func (t *text) table(heads []string, entries []entry) {
	widths := make([]int, len(heads))
	gap := "" // where the mark of others stands
	for _, e := range append([]entry{{cells: heads}}, entries...) {
		for i, cell := range e.cells {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
		if e.invented {
			gap = strings.Repeat(" ", len(marked(true)))
		}
	}
	t.cells(gap, heads, widths)
	for _, e := range entries {
		before := gap
		if e.invented {
			before = marked(true)
		}
		t.cells(before, e.cells, widths)
		for _, s := range e.below {
			t.line("    %s%s", marked(e.invented), s)
		}
	}
}

func (t *text) cells(before string, cells []string, widths []int) {
	line := "  " + before
	for i, cell := range cells {
		line += cell + strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell)+2)
	}
	t.b.WriteString(Printable(strings.TrimRight(line, " ")) + "\n")
}
