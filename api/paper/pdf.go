package paper

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"wayhouse/api/wire"
)

// Measures of a page, in millimetres; of letters, in points.
const (
	margin      = 14.0
	headHigh    = 13.0 // of the head of a page, below the margin
	footHigh    = 15.0 // of its foot
	gap         = 2.2  // between blocks
	pad         = 1.2  // within a cell, at each side
	millimetres = 25.4 / 72
	leading     = 1.28 // of a line, in the size of its letters

	small, plain, large = 7.8, 9.6, 13.0
)

// PDF writes papers as one PDF. The same papers give the same bytes.
//
// The library is told nothing of the structure of the text, so that a reader for the blind
// gets the words in their order and no more: HTML is for them.
func PDF(w io.Writer, on Size, at time.Time, docs []Doc) error {
	counted := layOut(on, at, docs, nil)
	return layOut(on, at, docs, counted.pages).file.Output(w)
}

// layOut puts papers on pages; counts are how many each has, nil where that is not known.
func layOut(on Size, at time.Time, docs []Doc, counts []int) *pages {
	p := &pages{file: fpdf.NewCustom(&fpdf.InitType{
		OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: on.Wide, Ht: on.High},
	}), on: on}
	f := p.file
	f.SetCatalogSort(true)
	f.SetCreationDate(at.UTC())
	f.SetModificationDate(at.UTC())
	f.SetCreator("Wayhouse", false)
	f.SetProducer("Wayhouse", false)
	if slices.ContainsFunc(docs, func(d Doc) bool { return d.Made }) {
		f.SetKeywords(wire.InventedMark, false) // for programs, which do not read pages
	}
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(margin, margin, margin)
	f.SetCellMargin(0)
	f.AddUTF8FontFromBytes("go", "", goregular.TTF)
	f.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	for i, d := range docs {
		f.SetLang(d.Lang)
		if i == 0 {
			f.SetTitle(d.Title+" "+d.About, true)
		}
		p.doc, p.number, p.count = d, 0, 0
		if counts != nil {
			p.count = counts[i]
		}
		p.paper()
		p.pages = append(p.pages, p.number)
	}
	return p
}

// pages puts blocks on pages.
type pages struct {
	file          *fpdf.Fpdf
	on            Size
	doc           Doc
	number, count int // of the page, within its paper
	pages         []int
}

func (p *pages) paper() {
	p.leaf()
	for i, b := range p.doc.Blocks {
		if h, ok := b.(Heading); ok && i+1 < len(p.doc.Blocks) {
			p.need(p.highOf(h) + p.leastOf(p.doc.Blocks[i+1]))
		}
		b.on(p)
	}
}

// size is that of the letters of the paper.
func (p *pages) size() float64 {
	if p.doc.Large {
		return large
	}
	return plain
}

// letters chooses those that follow, and returns how high a line of them is.
func (p *pages) letters(bold bool, size float64) float64 {
	style := ""
	if bold {
		style = "B"
	}
	p.file.SetFont("go", style, size)
	return size * millimetres * leading
}

func (p *pages) wide() float64   { return p.on.Wide - 2*margin }
func (p *pages) bottom() float64 { return p.on.High - margin - footHigh }
func (p *pages) room() float64   { return p.bottom() - p.file.GetY() }

// need begins a new page where less than so much is left of one.
func (p *pages) need(high float64) {
	if p.room() < high && p.file.GetY() > margin+headHigh+1 {
		p.leaf()
	}
}

// leaf begins a page, with its head and its foot.
func (p *pages) leaf() {
	p.file.AddPage()
	p.number++
	p.head()
	p.foot()
	p.file.SetXY(margin, margin+headHigh)
}

func (p *pages) head() {
	f := p.file
	high := p.letters(true, 14)
	f.SetXY(margin, margin)
	f.CellFormat(p.wide()/2, high, drawn(p.doc.Title), "", 0, "LB", false, 0, "")
	p.letters(true, 10)
	x := p.on.Wide - margin
	for _, m := range p.doc.Marks {
		w := f.GetStringWidth(drawn(m)) + 4
		x -= w + 1.5
		f.SetXY(x, margin+0.5)
		f.SetFillColor(0, 0, 0)
		f.SetTextColor(255, 255, 255)
		f.CellFormat(w, 5.5, drawn(m), "", 0, "CM", true, 0, "")
		f.SetTextColor(0, 0, 0)
	}
	f.SetXY(margin, margin+high+0.3)
	line := p.letters(false, plain)
	f.CellFormat(p.wide(), line, drawn(p.cut(p.doc.About, p.wide())), "", 0, "LM", false, 0, "")
	p.rule(margin + headHigh - 1.5)
}

func (p *pages) foot() {
	f := p.file
	y := p.bottom() + 2
	p.rule(y)
	high := p.letters(false, small)
	page := strings.Replace(p.doc.Page, "*", fmt.Sprint(p.number), 1)
	page = drawn(strings.Replace(page, "*", fmt.Sprint(p.count), 1))
	aside := f.GetStringWidth(page) + 3
	f.SetXY(p.on.Wide-margin-aside, y+1)
	f.CellFormat(aside, high, page, "", 0, "RM", false, 0, "")
	y++
	for _, s := range p.doc.Foot {
		for _, one := range p.folded(s, p.wide()-aside) {
			f.SetXY(margin, y)
			f.CellFormat(p.wide(), high, one, "", 0, "LM", false, 0, "")
			y += high
		}
	}
}

func (p *pages) rule(y float64) {
	p.file.SetLineWidth(0.2)
	p.file.SetDrawColor(0, 0, 0)
	p.file.Line(margin, y, p.on.Wide-margin, y)
}

// folded are the lines of a text in the letters that are chosen; a word that is wider than
// a line is broken.
func (p *pages) folded(says string, wide float64) (lines []string) {
	for _, paragraph := range strings.Split(drawn(says), "\n") {
		line := ""
		for _, word := range strings.Split(paragraph, " ") {
			with := word
			if line != "" {
				with = line + " " + word
			}
			if line != "" && p.file.GetStringWidth(with) > wide {
				lines, with = append(lines, line), word
			}
			for p.file.GetStringWidth(with) > wide && len([]rune(with)) > 1 {
				first := p.first(with, wide)
				lines, with = append(lines, first), with[len(first):]
			}
			line = with
		}
		lines = append(lines, line)
	}
	return lines
}

// first is what of a word is no wider than a line, one letter at the least.
func (p *pages) first(word string, wide float64) string {
	letters := []rune(word)
	n := 1
	for n < len(letters) && p.file.GetStringWidth(string(letters[:n+1])) <= wide {
		n++
	}
	return string(letters[:n])
}

// cut is a text in one line, with three points for what has no room.
func (p *pages) cut(says string, wide float64) string {
	if lines := p.folded(says, wide-4); len(lines) > 1 {
		return lines[0] + "…"
	}
	return says
}

// face is the font, to ask which letters it has.
var face = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		panic(err) // a test prints with it
	}
	return f
})

// drawn is a text in letters that the font has: "?" for each that it has not, and the
// no-break space that it has for the narrow one.
func drawn(s string) string {
	var buffer sfnt.Buffer
	return strings.Map(func(r rune) rune {
		switch r {
		case '\u202f':
			return '\u00a0'
		case '\n':
			return r
		}
		if i, err := face().GlyphIndex(&buffer, r); err != nil || i == 0 {
			return '?'
		}
		return r
	}, s)
}
