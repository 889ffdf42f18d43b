package report

import (
	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// What one screen holds, in lines and columns.
const (
	screenLines = 40
	screenWidth = 100
)

// How much of them one thing may take.
const (
	labelWidth = 16 // columns of the labels at the left, at most
	itemLines  = 3  // lines of one item, at most
	briefLines = 2  // of one of which the beginning is enough
	nameWidth  = 40 // columns of a name that somebody gave
)

// A screen is an answer of one screen: parts one below the other, each with its label
// at the left. What decides stands in any case; of the rest, what does not fit is
// counted and never silently left out. A full one is as long as it needs to be.
type screen struct {
	in    *phrase.Language
	full  bool
	most  int // lines; 0: screenLines
	parts []*part
	shown []finding.Finding // what it speaks of
}

// A part is a label and what stands beside it.
type part struct {
	in     *phrase.Language
	full   bool // of a full screen
	label  string
	items  []item
	apart  bool // a blank line stands before it
	whole  bool // it takes the whole width and has no label
	hidden int  // things that are not on the screen
}

// An item is one thing that is told, or one row of a table.
type item struct {
	label string // of a row; "" where the part's stands
	text  string
	cells []string // of a row
	heads bool     // it names the columns
	rich  []string // the cells with more in them, for all rows of a table or for none
	stays bool     // it is never left out
	most  int      // how many lines it takes at most
	less  int      // by how many it was shortened
}

// part begins a part.
func (s *screen) part(label say.Remark) *part {
	p := &part{in: s.in, full: s.full, label: s.in.Say(label)}
	s.parts = append(s.parts, p)
	return p
}

// apart begins a part with a blank line before it.
func (s *screen) apart(label say.Remark) *part {
	p := s.part(label)
	p.apart = true
	return p
}

// whole begins a part that takes the whole width of the screen.
func (s *screen) whole() *part {
	p := s.part(say.Remark{})
	p.whole = true
	return p
}

// some is how many of things are candidates for the screen: no more than a number, all
// for a full one.
func (s *screen) some(most, of int) int {
	if s.full {
		return of
	}
	return min(most, of)
}

// clip is a text that somebody else wrote, as much of it as a screen has room for.
func (s *screen) clip(text string) string {
	if s.full {
		return text
	}
	return clipped(text, nameWidth)
}

// speaksOf notes findings that the screen shows, so that their rows can be printed.
func (s *screen) speaksOf(f ...finding.Finding) { s.shown = append(s.shown, f...) }

// tells adds an item for each remark that says anything. It may be left out.
func (p *part) tells(remarks ...say.Remark) { p.add(item{most: itemLines}, remarks) }

// keeps adds items as tells does, which stay.
func (p *part) keeps(remarks ...say.Remark) { p.add(item{stays: true, most: itemLines}, remarks) }

// inWhole adds items of which nothing is shortened, such as what would keep a date.
func (p *part) inWhole(remarks ...say.Remark) { p.add(item{stays: true}, remarks) }

// briefly adds items that stay, and of which only the beginning is shown.
func (p *part) briefly(remarks ...say.Remark) { p.add(item{stays: true, most: briefLines}, remarks) }

// hints adds items of which the beginning is enough, and which may be left out.
func (p *part) hints(remarks ...say.Remark) { p.add(item{most: briefLines}, remarks) }

func (p *part) add(i item, remarks []say.Remark) {
	for _, text := range p.in.Each(remarks) {
		i.text = text
		p.items = append(p.items, i)
	}
}

// hides counts things that are not even candidates for the screen.
func (p *part) hides(n int) { p.hidden += max(n, 0) }

// row adds a row of a table. The rows of one part share their columns.
func (p *part) row(stays bool, label string, cells ...string) {
	p.items = append(p.items, item{label: label, cells: cells, stays: stays})
}

// tallRow adds a row that stays, of which only the first line does.
func (p *part) tallRow(lines int, cells ...string) {
	p.items = append(p.items, item{cells: cells, stays: true, most: lines})
}

// richRow adds a row of which the cells have more in them where the table has room for it.
func (p *part) richRow(stays bool, label string, cells, rich []string) {
	p.items = append(p.items, item{label: label, cells: cells, rich: rich, stays: stays})
}

// head adds the row of a table that names its columns, under the part's label.
func (p *part) head(names ...say.Remark) {
	var cells []string
	for _, n := range names {
		cells = append(cells, p.in.Say(n))
	}
	p.items = append(p.items, item{label: p.label, cells: cells, rich: cells, heads: true, stays: true})
}
