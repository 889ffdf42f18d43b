// Package paper makes what is printed of an answer: what a driver has in the cab, what an
// office is asked with, what a customer signs. A paper is made once, as blocks, and two
// writers put it on pages: HTML for a browser to print, and PDF.
//
// What is not known is a line to fill by hand, and never blank space.
package paper

import (
	"io"
	"slices"
	"time"

	"wayhouse/api/draw/picture"
	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Kind is what a paper is for.
type Kind string

// The kinds.
const (
	RouteSheet      Kind = "route-sheet"
	Checklist       Kind = "checklist"
	PermitWorksheet Kind = "permit-worksheet"
	DesignReport    Kind = "design-report"
	Quote           Kind = "quote"
)

// Kinds lists those of a trip in the order in which they are printed; a quote is of its own.
func Kinds() []Kind { return []Kind{RouteSheet, Checklist, PermitWorksheet, DesignReport} }

// Term is the code of the title of such a paper.
func (k Kind) Term() say.Code { return say.Word("paper", string(k)) }

// Print is how papers are printed.
type Print struct {
	In *phrase.Language
	On Size
	At time.Time // when they are printed
}

// Doc is one paper.
type Doc struct {
	Kind   Kind
	Of     string   // of which it is, where there are several of its kind: a jurisdiction
	Lang   string   // a language tag
	Title  string   // what it is
	About  string   // what it is of
	Marks  []string // loud, on every page
	Made   bool     // it rests on invented data
	Foot   []string // on every page: for what rig it is, what it rests on, until when it holds
	Page   string   // the words of a page number, with a star each for the number and the count
	Large  bool     // to be read at arm's length
	Blocks []Block
}

// Name is that of its file, without the ending.
func (d Doc) Name() string {
	if d.Of == "" {
		return string(d.Kind)
	}
	return string(d.Kind) + "-" + d.Of
}

// Of are those papers of some kinds; all of them where none is named.
func Of(all []Doc, kinds []Kind) (out []Doc) {
	for _, d := range all {
		if len(kinds) == 0 || slices.Contains(kinds, d.Kind) {
			out = append(out, d)
		}
	}
	return out
}

// Block is a part of a paper, one below the other.
type Block interface{ on(s sheet) }

// sheet is what a writer puts blocks on.
type sheet interface {
	heading(Heading)
	text(Text)
	fields(Fields)
	table(Table)
	list(List)
	picture(Picture)
	leaf()
}

// Heading heads what follows, and stays with it.
type Heading string

// Text is a paragraph.
type Text struct {
	Says  string
	Loud  bool
	Small bool // such as whose data it is
}

// Fields are values with their labels; a value that is "" is a line to fill.
type Fields []Field

// Field is one of them.
type Field struct{ Label, Value string }

// Table has rows below heads; a cell that is "" is to be filled. Where its rows have
// pictures, the last column is theirs.
type Table struct {
	Heads  []string
	Shares []float64 // of the width, a column each
	Rows   []Row
}

// Row is one of a table. Where it has fewer cells than the table columns and no picture,
// its last cell is as wide as what is left.
type Row struct {
	Cells   []string
	Loud    bool
	Picture *picture.Picture // nil: none
	Says    string           // what it shows
}

// shares are those of the cells of a row.
func (t Table) shares(r Row) []float64 {
	n := len(r.Cells)
	out := slices.Clone(t.Shares[:n])
	if r.Picture == nil {
		for _, left := range t.Shares[n:] {
			out[n-1] += left
		}
	}
	return out
}

// List has items, each with a box to tick where it is a list of checks.
type List struct {
	Items  []string
	Checks bool
}

// Picture is a drawing, with what it shows for whom does not see it.
type Picture struct {
	Of   *picture.Picture
	Says string
}

// Leaf begins a new page.
type Leaf struct{}

func (b Heading) on(s sheet) { s.heading(b) }
func (b Text) on(s sheet)    { s.text(b) }
func (b Fields) on(s sheet)  { s.fields(b) }
func (b Table) on(s sheet)   { s.table(b) }
func (b List) on(s sheet)    { s.list(b) }
func (b Picture) on(s sheet) { s.picture(b) }
func (b Leaf) on(s sheet)    { s.leaf() }

// Size is that of a sheet of paper.
type Size struct {
	Name       string
	Wide, High float64 // mm
}

// Sizes lists the sizes that can be asked for. The first is what is printed on where
// nothing is asked: all jurisdictions here are in North America.
//
// Sources: ANSI/ASME Y14.1, size A; ISO 216, A4.
func Sizes() []Size { return []Size{{"letter", 215.9, 279.4}, {"a4", 210, 297}} }

// SizeNames are the names of the sizes.
func SizeNames() (out []string) {
	for _, s := range Sizes() {
		out = append(out, s.Name)
	}
	return out
}

// SizeNamed is the size of a name; "" is the first. The error is a [*measure.FieldError].
func SizeNamed(name string) (Size, error) {
	for _, s := range Sizes() {
		if name == "" || s.Name == name {
			return s, nil
		}
	}
	return Size{}, &measure.FieldError{Field: "paper", Value: name, Problem: say.That("error.no_paper"),
		Fix: say.That("fix.one_of", "words", SizeNames())}
}

// Write writes papers one after the other.
type Write func(w io.Writer, on Size, at time.Time, docs []Doc) error
