package paper

// Heights of what is written in several places.
const (
	fillHigh = 7.5 // mm, of a line to fill by hand
	boxWide  = 4.0 // mm, of a box to tick
)

// highOf is how high a heading is.
func (p *pages) highOf(h Heading) float64 {
	line := p.letters(true, p.size()+2)
	return float64(len(p.folded(string(h), p.wide())))*line + 2*gap
}

// leastOf is how much of a block must stand below its heading.
func (p *pages) leastOf(b Block) float64 {
	line := p.letters(false, p.size())
	switch b := b.(type) {
	case Table:
		high := p.heads(b, false)
		if len(b.Rows) > 0 {
			high += p.high(b, b.Rows[0])
		}
		return min(high, p.bottom()/2)
	case List:
		return 3 * line
	case Fields:
		return 2 * fillHigh
	case Picture:
		return p.highOfPicture(b)
	default:
		return 2 * line
	}
}

func (p *pages) heading(h Heading) {
	p.need(p.highOf(h))
	p.file.SetY(p.file.GetY() + gap)
	p.paragraph(string(h), true, p.size()+2)
}

func (p *pages) text(t Text) {
	size := p.size()
	if t.Small {
		size = small
	}
	p.paragraph(t.Says, t.Loud, size)
}

func (p *pages) paragraph(says string, bold bool, size float64) {
	p.lines(says, bold, size, margin, p.wide())
	p.file.SetY(p.file.GetY() + gap/2)
}

// lines writes a text from a place on, over pages where it must.
func (p *pages) lines(says string, bold bool, size, x, wide float64) {
	line := p.letters(bold, size)
	for _, s := range p.folded(says, wide) {
		p.need(line)
		p.letters(bold, size)
		p.file.SetX(x)
		p.file.CellFormat(wide, line, s, "", 1, "LM", false, 0, "")
	}
}

func (p *pages) list(l List) {
	for _, item := range l.Items {
		line := p.letters(false, p.size())
		in := 4.0
		if l.Checks {
			in = boxWide + 3
		}
		p.need(min(float64(len(p.folded(item, p.wide()-in)))*line+gap, p.bottom()/3))
		y := p.file.GetY()
		if l.Checks {
			p.file.SetLineWidth(0.3)
			p.file.Rect(margin, y+(line-boxWide)/2, boxWide, boxWide, "D")
		} else {
			p.file.SetFillColor(0, 0, 0)
			p.file.Circle(margin+1.4, y+line/2, 0.6, "F")
		}
		p.lines(item, false, p.size(), margin+in, p.wide()-in)
		p.file.SetY(p.file.GetY() + gap/2)
	}
	p.file.SetY(p.file.GetY() + gap/2)
}

func (p *pages) fields(all Fields) {
	f := p.file
	label := p.wide() * 0.36
	for _, one := range all {
		line := p.letters(false, p.size())
		names := p.folded(one.Label, label-2)
		p.letters(true, p.size())
		values := p.folded(one.Value, p.wide()-label)
		high := float64(max(len(names), len(values))) * line
		if one.Value == "" {
			high = max(high, fillHigh)
		}
		p.need(high)
		y := f.GetY()
		p.letters(false, p.size())
		if one.Value == "" { // its label stands on the line
			p.column(margin, y+high-0.6-float64(len(names))*line, label, line, names)
			f.SetLineWidth(0.25)
			f.Line(margin+label, y+high-1, p.on.Wide-margin, y+high-1)
		} else {
			p.column(margin, y, label, line, names)
			p.letters(true, p.size())
			p.column(margin+label, y, p.wide()-label, line, values)
		}
		f.SetY(y + high + 0.6)
	}
	f.SetY(f.GetY() + gap)
}

// column writes lines one below the other.
func (p *pages) column(x, y, wide, line float64, says []string) {
	for i, s := range says {
		p.file.SetXY(x, y+float64(i)*line)
		p.file.CellFormat(wide, line, s, "", 0, "LM", false, 0, "")
	}
}

func (p *pages) table(t Table) {
	p.need(p.leastOf(t))
	p.heads(t, true)
	for _, r := range t.Rows {
		if high := p.high(t, r); p.room() < high {
			p.leaf()
			p.heads(t, true)
		}
		p.row(t, r)
	}
	p.file.SetY(p.file.GetY() + gap)
}

// heads writes the heads of a table, or only tells how high they are.
func (p *pages) heads(t Table, write bool) float64 {
	heads := Row{Cells: t.Heads, Loud: true}
	if write {
		y, high := p.file.GetY(), p.high(t, heads)
		p.file.SetFillColor(225, 225, 225)
		p.file.Rect(margin, y, p.wide(), high, "F")
		p.row(t, heads)
	}
	return p.high(t, heads)
}

// high is how high a row is.
func (p *pages) high(t Table, r Row) float64 {
	line := p.letters(r.Loud, p.size())
	high := line
	shares := t.shares(r)
	for i, cell := range r.Cells {
		if cell == "" {
			high = max(high, fillHigh-2*pad)
		}
		high = max(high, float64(len(p.folded(cell, shares[i]*p.wide()-2*pad)))*line)
	}
	if r.Picture != nil {
		_, wide, up := r.Picture.Page()
		high = max(high, (t.Shares[len(r.Cells)]*p.wide()-2*pad)*up/wide)
	}
	return high + 2*pad
}

// row writes a row; one that is higher than a page goes on on the next.
func (p *pages) row(t Table, r Row) {
	line := p.letters(r.Loud, p.size())
	var cells [][]string
	most := 1
	shares := t.shares(r)
	for i, cell := range r.Cells {
		cells = append(cells, p.folded(cell, shares[i]*p.wide()-2*pad))
		most = max(most, len(cells[i]))
	}
	high := p.high(t, r)
	p.rowPicture(t, r, high)
	for from := 0; from < most; {
		n := min(most-from, max(1, int((p.room()-2*pad)/line)))
		if from > 0 || n < most {
			high = float64(n)*line + 2*pad
		}
		p.part(shares, cells, from, from+n, line, high, r.Loud)
		if from += n; from < most {
			p.leaf()
		}
	}
}

// rowPicture draws the picture of a row, if it has one, at its right end.
func (p *pages) rowPicture(t Table, r Row, high float64) {
	if r.Picture == nil {
		return
	}
	y, wide := p.file.GetY(), t.Shares[len(r.Cells)]*p.wide()
	left := p.on.Wide - margin - wide
	p.file.SetLineWidth(0.15)
	p.file.Rect(left, y, wide, high, "D")
	p.draw(r.Picture, left+pad, y+pad, wide-2*pad)
	p.file.SetXY(margin, y)
}

// part writes some lines of the cells of a row.
func (p *pages) part(shares []float64, cells [][]string, from, until int, line, high float64, loud bool) {
	x, y := margin, p.file.GetY()
	p.file.SetLineWidth(0.15)
	for i, cell := range cells {
		wide := shares[i] * p.wide()
		p.file.Rect(x, y, wide, high, "D")
		p.letters(loud, p.size())
		p.column(x+pad, y+pad, wide-2*pad, line, cell[min(from, len(cell)):min(until, len(cell))])
		x += wide
	}
	p.file.SetXY(margin, y+high)
}
