package report

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"wayhouse/regs/say"
)

// String lays the screen out.
func (s *screen) String() string {
	labels := s.labels()
	for !s.full && s.height(labels) > cmp.Or(s.most, screenLines) && s.leaveOut(labels) {
	}
	labels = s.labels() // of what is left
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
// first. Once nothing may be left out, what stays is shortened, and in the end the part
// that has most keeps no more than the first of it. It reports whether there was
// anything to do.
func (s *screen) leaveOut(labels int) bool {
	longest := slices.MaxFunc(s.parts, func(a, b *part) int { return cmp.Compare(a.spare(labels), b.spare(labels)) })
	blank := slices.IndexFunc(s.parts, func(p *part) bool { return p.apart })
	switch n := longest.spare(labels); {
	case n <= 2 && blank >= 0:
		s.parts[blank].apart = false
	case n > 0:
		longest.leaveOut()
	case s.shorten(labels):
	default:
		return s.giveUp()
	}
	return true
}

// giveUp counts the last thing of the part that has most, for where more decides than a
// screen holds.
func (s *screen) giveUp() bool {
	most := slices.MaxFunc(s.parts, func(a, b *part) int { return cmp.Compare(len(a.items), len(b.items)) })
	last := len(most.items) - 1
	if last < 2 {
		return false
	}
	most.items = most.items[:last]
	most.hidden++
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
			if n := len(p.folded(p.items[i], labels)); n > lines && p.items[i].most > 0 && among(p.items[i]) {
				longest, lines = &p.items[i], n
			}
		}
	}
	if longest != nil {
		longest.less++
	}
	return longest != nil
}

// spare is by how many lines a part can be made shorter by what may be left out, with
// the line that counts it.
func (p *part) spare(labels int) (n int) {
	if p.whole {
		labels = 0
	}
	for _, i := range p.items {
		if !i.stays {
			n += len(p.folded(i, labels))
		}
	}
	if n > 0 && p.hidden == 0 {
		n--
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
	if p.full || i.most == 0 && i.cells == nil {
		most = math.MaxInt
	}
	if i.cells == nil {
		return folded(i.text, room, most)
	}
	cells, wide := item.plain, p.columns(item.plain)
	if rich := p.columns(item.richly); p.rich() && total(rich) <= room {
		cells, wide = item.richly, rich
	}
	narrow := total(wide) > room
	for total(wide) > room {
		wide[slices.Index(wide, slices.Max(wide))]--
	}
	row := cells(i)
	if p.full && narrow {
		row = wrapped(row, wide)
	}
	lines := beneath(row, wide)
	if i.most > 0 {
		lines = lines[:min(most, len(lines))]
	}
	return lines
}

// beneath are the lines of a row: a cell may have more than one.
func beneath(cells []string, wide []int) (out []string) {
	for n, more := 0, true; more; n++ {
		line := ""
		more = false
		for k, cell := range cells {
			lines := strings.Split(cell, "\n")
			more = more || n+1 < len(lines)
			line += padded(strings.Join(lines[min(n, len(lines)):min(n+1, len(lines))], ""), wide[k]) + "  "
		}
		out = append(out, strings.TrimRight(line, " "))
	}
	return out
}

// wrapped are the cells of a row, each broken into lines of its column's width, so that
// nothing of them is left out. A word that is longer is broken too.
func wrapped(cells []string, wide []int) []string {
	out := make([]string, len(cells))
	for k, cell := range cells {
		var words []string
		for word := range strings.FieldsSeq(cell) {
			for piece := range slices.Chunk([]rune(word), max(wide[k]-2, 1)) {
				words = append(words, string(piece))
			}
		}
		out[k] = strings.Join(folded(strings.Join(words, " "), wide[k], math.MaxInt), "\n")
	}
	return out
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
			for line := range strings.SplitSeq(cell, "\n") {
				wide[k] = max(wide[k], len([]rune(line)))
			}
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
