package report

import (
	"cmp"
	"math"
	"slices"
	"strings"

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

// String lays the screen out.
func (s *screen) String() string {
	labels := s.labels()
	for !s.full && s.height(labels) > screenLines && s.leaveOut(labels) {
	}
	var b strings.Builder
	for _, p := range s.parts {
		for _, line := range p.lines(labels) {
			b.WriteString(strings.TrimRight(Printable(line), " ") + "\n")
		}
	}
	return b.String()
}

// labels is how wide the column of labels is.
func (s *screen) labels() (wide int) {
	for _, p := range s.parts {
		wide = max(wide, len([]rune(p.label)))
		for _, i := range p.items {
			wide = max(wide, len([]rune(i.label)))
		}
	}
	return min(wide, labelWidth) + 2
}

func (s *screen) height(labels int) (n int) {
	for _, p := range s.parts {
		n += len(p.lines(labels))
	}
	return n
}

// leaveOut makes the screen shorter: the part that takes most with what may be left
// out loses its last such item; where none takes more than two lines, blank lines go
// first. Once nothing may be left out, what stays is shortened. It reports whether
// there was anything to do.
func (s *screen) leaveOut(labels int) bool {
	longest := slices.MaxFunc(s.parts, func(a, b *part) int { return cmp.Compare(a.spare(labels), b.spare(labels)) })
	blank := slices.IndexFunc(s.parts, func(p *part) bool { return p.apart })
	switch n := longest.spare(labels); {
	case n <= 2 && blank >= 0:
		s.parts[blank].apart = false
	case n > 0:
		longest.leaveOut()
	default:
		return s.shorten(labels)
	}
	return true
}

// shorten takes a line off the longest item of which the beginning is enough, else off
// the longest of all.
func (s *screen) shorten(labels int) bool {
	return s.shortenLongest(labels, func(i item) bool { return i.most == briefLines }) ||
		s.shortenLongest(labels, func(item) bool { return true })
}

func (s *screen) shortenLongest(labels int, among func(item) bool) bool {
	var longest *item
	lines := 1
	for _, p := range s.parts {
		for i := range p.items {
			if n := len(p.folded(p.items[i], labels)); n > lines && among(p.items[i]) {
				longest, lines = &p.items[i], n
			}
		}
	}
	if longest != nil {
		longest.less++
	}
	return longest != nil
}

// spare is how many lines may be left out.
func (p *part) spare(labels int) (n int) {
	if p.whole {
		labels = 0
	}
	for _, i := range p.items {
		if !i.stays {
			n += len(p.folded(i, labels))
		}
	}
	return n
}

func (p *part) leaveOut() {
	last := len(p.items) - 1
	for p.items[last].stays {
		last--
	}
	p.items = slices.Delete(p.items, last, last+1)
	p.hidden++
}

// lines are the lines of a part; one without items has none.
func (p *part) lines(labels int) (out []string) {
	items := p.items
	if p.hidden > 0 {
		items = append(slices.Clone(items), item{text: p.in.Say(say.That("screen.more", "count", p.hidden))})
	}
	if p.apart && len(items) > 0 {
		out = append(out, "")
	}
	if p.whole {
		labels = 0
	}
	for n, i := range items {
		label := i.label
		if n == 0 {
			label = cmp.Or(label, p.label)
		}
		for k, line := range p.folded(i, labels) {
			if k > 0 {
				label = ""
			}
			out = append(out, beside(label, labels)+line)
		}
	}
	return out
}

// folded are the lines of an item beside the labels.
func (p *part) folded(i item, labels int) []string {
	room, most := screenWidth-labels, max(i.most-i.less, 1)
	if p.full {
		most = math.MaxInt
	}
	if i.cells == nil {
		return folded(i.text, room, most)
	}
	cells, wide := item.plain, p.columns(item.plain)
	if rich := p.columns(item.richly); p.rich() && total(rich) <= room {
		cells, wide = item.richly, rich
	}
	if p.full && total(wide) > room {
		return folded(p.spelled(i), room, most)
	}
	for total(wide) > room {
		wide[slices.Index(wide, slices.Max(wide))]--
	}
	line := ""
	for k, cell := range cells(i) {
		line += padded(cell, wide[k]) + "  "
	}
	return []string{strings.TrimRight(line, " ")}
}

// spelled is a row that its table has no room for: each cell with its column's name.
func (p *part) spelled(i item) string {
	var out []string
	for k, cell := range i.cells {
		if p.items[0].heads {
			cell = p.items[0].cells[k] + " " + cell
		}
		out = append(out, cell)
	}
	return strings.Join(out, "; ")
}

func (i item) plain() []string  { return i.cells }
func (i item) richly() []string { return i.rich }

// rich reports whether the rows of the table have more to say where there is room.
func (p *part) rich() bool {
	return !slices.ContainsFunc(p.items, func(i item) bool { return len(i.rich) != len(i.cells) })
}

// columns are the widths that the cells of a table need.
func (p *part) columns(cells func(item) []string) (wide []int) {
	for _, i := range p.items {
		for k, cell := range cells(i) {
			if k == len(wide) {
				wide = append(wide, 0)
			}
			wide[k] = max(wide[k], len([]rune(cell)))
		}
	}
	return wide
}

// total is how wide a table with such columns is.
func total(columns []int) int {
	n := -2
	for _, wide := range columns {
		n += wide + 2
	}
	return n
}

// folded breaks a text into lines of a width, the second and all after it with a
// hanging indent. What has more lines than it may ends with an ellipsis.
func folded(s string, width, most int) (out []string) {
	const hang = "  "
	current := ""
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		if most < math.MaxInt {
			word = clipped(word, width-len(hang))
		}
		switch {
		case current == "":
			current = word
		case len([]rune(current))+1+len([]rune(word)) > width:
			out, current = append(out, current), hang+word
		default:
			current += " " + word
		}
	}
	out = append(out, current)
	if len(out) > most {
		out = append(out[:most-1], clipped(out[most-1]+strings.Repeat(" ", width), width))
	}
	return out
}

// beside is a label with the gap behind it, nothing where labels take no room.
func beside(label string, labels int) string {
	if labels == 0 {
		return ""
	}
	return padded(label, labels-2) + "  "
}

// padded is a text with as many spaces as a column has room for.
func padded(s string, width int) string {
	s = clipped(s, width)
	return s + strings.Repeat(" ", width-len([]rune(s)))
}

// clipped is a text, or as much of it as there is room for and an ellipsis.
func clipped(s string, width int) string {
	all := []rune(s)
	if len(all) <= width {
		return s
	}
	return strings.TrimRight(string(all[:max(width-1, 0)]), " ,;") + "…"
}
