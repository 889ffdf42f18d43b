package rows

import "slices"

// Form is what a column takes.
type Form string

// The forms.
const (
	Words        Form = "text"
	Word         Form = "word" // one of a list
	Area         Form = "jurisdiction"
	WholeNumber  Form = "whole_number"
	Degrees      Form = "degrees"
	LengthText   Form = "length" // with its unit
	MassText     Form = "mass"   // with its unit
	Date         Form = "date"
	CalendarYear Form = "year"
)

// Forms lists the forms.
func Forms() []Form {
	return []Form{Words, Word, Area, WholeNumber, Degrees, LengthText, MassText, Date, CalendarYear}
}

// Column is what a table says of one of its columns, as far as it reads it alone: what
// a cell may say beside others the reader of the row decides.
type Column struct {
	Name   string
	Form   Form
	Among  []string // of a word; "" is left out
	Needed bool     // it must not be empty
}

// Described returns the columns in order. It lets the table read a row of nothing and
// watches what it asks of each cell, so that it says what is read.
func (t Table[T]) Described() []Column {
	c := &Cells{Record: make(Record, len(t.Columns)), head: newHead(t.Columns), asked: map[string]Column{}}
	t.Read(c)
	c.id()
	out := make([]Column, len(t.Columns))
	for i, name := range t.Columns {
		out[i] = c.asked[name]
		out[i].Name = name
		if out[i].Form == "" {
			out[i].Form = Words
		}
	}
	return out
}

// asks notes what is asked of a cell, where anybody watches.
func (c *Cells) asks(column string, form Form, among ...string) {
	if c.asked == nil {
		return
	}
	known := c.asked[column]
	if form != "" {
		known.Form, known.Among = form, among
	}
	c.asked[column] = known
}

// needs notes that a cell must not be empty, where anybody watches.
func (c *Cells) needs(column string) {
	if c.asked != nil {
		known := c.asked[column]
		known.Needed = true
		c.asked[column] = known
	}
}

// given are words as text, without the empty one; needed reports that there was none.
func given[T ~string](words []T) (out []string, needed bool) {
	for _, w := range words {
		if w != "" {
			out = append(out, string(w))
		}
	}
	return out, !slices.Contains(words, "")
}
