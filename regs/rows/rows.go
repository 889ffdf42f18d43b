// Package rows reads the tables of the project, from CSV and from a store: a
// fixed head line, all rows or none, and errors that name line, column and
// value.
package rows

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// CellError names the line, the column and the value that cannot be used.
type CellError struct {
	Line    int
	Column  string
	Value   string
	Problem say.Remark
	Fix     say.Remark
}

func (e *CellError) Error() string {
	return fmt.Sprintf("line %d, column %s: %q %s; %s", e.Line, e.Column, e.Value, e.Problem, e.Fix)
}

// Remark is all of it in one sentence.
func (e *CellError) Remark() say.Remark {
	return say.That("error.in_cell", "at", e.At(), "value", e.Value, "problem", e.Problem, "fix", e.Fix)
}

// At is the line and the column.
func (e *CellError) At() say.Remark {
	return say.That("error.cell", "line", e.Line, "column", e.Column)
}

// Record is one row as text, in the order of its table's columns.
type Record []string

// Cells are the values of one line by column, without white space around
// them. The first value that cannot be used stays in Err, so that a line is
// read in one go and checked once.
type Cells struct {
	Line   int
	Err    error
	Record Record
	// Revision is that of the tables from which the line was exported, 0 where it
	// names none.
	Revision int
	head     head
	asked    map[string]Column // of each column, while a table describes itself
}

// head says at which place each column stands.
type head map[string]int

func newHead(columns []string) head {
	h := make(head, len(columns))
	for i, name := range columns {
		h[name] = i
	}
	return h
}

// Each calls f for every line of a CSV whose head line must be columns. It
// stops at the first error that f returns or leaves in Err.
func Each(raw []byte, columns []string, f func(*Cells) error) error {
	return each(raw, columns, nil, f)
}

// each is Each with columns that a file may leave out, and that of the revision.
// A record has all of the columns, in order.
func each(raw []byte, columns, optional []string, f func(*Cells) error) error {
	return eachOf(bytes.NewReader(raw), columns, optional, f)
}

// eachOf is each as the text comes in.
func eachOf(in io.Reader, columns, optional []string, f func(*Cells) error) error {
	r, err := cellsOf(in)
	if err != nil {
		return err
	}
	first, err := r.Read()
	if err != nil {
		return noHead(err, columns, optional)
	}
	first = named(first)
	revision := slices.Index(first, RevisionColumn)
	present := slices.Clone(first)
	if revision >= 0 {
		present = slices.Delete(present, revision, revision+1)
	}
	if err := checkHead(present, columns, optional); err != nil {
		return err
	}
	head := newHead(columns)
	for {
		cells, err := r.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return unread(err)
		}
		line, _ := r.FieldPos(0)
		if blank(cells) {
			continue
		}
		c := &Cells{Line: line, Record: make(Record, len(columns)), head: head}
		if err := c.fill(cells, first, revision); err != nil {
			return err
		}
		c.readable(columns)
		if c.Err != nil {
			return c.Err
		}
		if err := f(c); err != nil {
			return err
		}
		if c.Err != nil {
			return c.Err
		}
	}
}

// readable notes the first cell that is no text: spreadsheets write other
// encodings than UTF-8, and a database would keep something else than was given.
func (c *Cells) readable(columns []string) {
	for i, cell := range c.Record {
		if strings.ContainsRune(cell, utf8.RuneError) || strings.ContainsRune(cell, 0) {
			c.Err = &CellError{
				Line: c.Line, Column: columns[i], Value: strings.ToValidUTF8(cell, "?"),
				Problem: say.That("error.not_written_in_utf"), Fix: say.That("fix.save_the_table_as"),
			}
			return
		}
		if strings.ContainsRune(cell, '\r') {
			c.Err = &CellError{
				Line: c.Line, Column: columns[i], Value: cell,
				Problem: say.That("error.a_carriage_return_which"), Fix: say.That("fix.end_lines_with_a"),
			}
			return
		}
	}
}

// DayOf is the calendar day of a moment on its own clock, as days of rows are
// kept.
func DayOf(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// Holds reports whether something that holds from one day to another, both
// included and zero where not stated, does so on some day of a stay, and on all.
func Holds(first, last, from, until time.Time) (some, all bool) {
	a, b := DayOf(from), DayOf(until)
	if b.Before(a) {
		b = a
	}
	some = (first.IsZero() || !b.Before(first)) && (last.IsZero() || !a.After(last))
	all = (first.IsZero() || !a.Before(first)) && (last.IsZero() || !b.After(last))
	return some, all
}

// RivalSuffix ends the id of the shipped version of a row that the user changed
// too. Both bind, and this one only tightens until the user verifies it or
// removes one of the two.
const RivalSuffix = "~shipped"

// IsRival reports whether a row is such a version that the user did not decide on.
func IsRival(id string, s finding.Status) bool {
	return s != finding.Verified && strings.HasSuffix(id, RivalSuffix)
}

// Stale reports whether a reading is too old on a day to clear anything: longer
// ago than the term, never, or only after that day.
func Stale(read, day time.Time, term time.Duration) bool {
	const zones = 24 * time.Hour // a date may be a day ahead of an instant
	return read.IsZero() || day.Sub(read) > term || read.Sub(day) > zones
}

// Get returns the value of a column, "" where it is empty.
func (c *Cells) Get(column string) string {
	i, ok := c.head[column]
	if !ok {
		panic("rows: no column " + column) // a slip of the program, found by the first row of any test
	}
	return strings.TrimSpace(c.Record[i])
}

// Fail notes that a value cannot be used and returns the error.
func (c *Cells) Fail(column string, problem, fix say.Remark) error {
	err := &CellError{Line: c.Line, Column: column, Value: c.Get(column), Problem: problem, Fix: fix}
	if c.Err == nil {
		c.Err = err
	}
	return err
}

// Need returns a value that must not be empty.
func (c *Cells) Need(column string) string {
	c.needs(column)
	if c.Get(column) == "" {
		c.Fail(column, say.That("error.empty"), say.That("fix.fill_it_in_it"))
	}
	return c.Get(column)
}

// codeForm is an ISO 3166-2 code, a country's own, or a municipality's name
// after its code. XA to XZ are left to users by ISO 3166-1, for invented ones.
var codeForm = regexp.MustCompile(`^(CA|US|X[A-Z]|(CA|US|X[A-Z])-[A-Z0-9]{1,3})(/\S.*)?$`)

// Code returns the code of a jurisdiction.
func (c *Cells) Code(column string) string {
	c.asks(column, Area)
	code := c.Need(column)
	if code != "" && !codeForm.MatchString(code) {
		c.Fail(column, say.That("error.no_code_of_a"), say.That("fix.write_it_like_ca"))
	}
	return code
}

// OneOf returns a value that must be one of those allowed.
func OneOf[T ~string](c *Cells, column string, allowed ...T) T {
	if c.asked != nil {
		among, needed := given(allowed)
		if c.asks(column, Word, among...); needed {
			c.needs(column)
		}
	}
	v := T(c.Get(column))
	if !slices.Contains(allowed, v) {
		c.Fail(column, say.That("error.not_known_here"), say.That("fix.one_of", "words", Texts(allowed)))
	}
	return v
}

// Texts are words as texts.
func Texts[T ~string](words []T) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = string(w)
	}
	return out
}

// Count returns a small whole number, 0 where the cell is empty.
func (c *Cells) Count(column string) int {
	c.asks(column, WholeNumber)
	if c.Get(column) == "" {
		return 0
	}
	n, err := strconv.Atoi(c.Get(column))
	if err != nil || n < 0 || n > 99 {
		c.Fail(column, say.That("error.no_count"), say.That("fix.it_must_be_a_whole"))
	}
	return n
}

// Number returns a whole number above 0, 0 where the cell is empty.
func (c *Cells) Number(column string) int64 {
	c.asks(column, WholeNumber)
	if c.Get(column) == "" {
		return 0
	}
	n, err := strconv.ParseInt(c.Get(column), 10, 64)
	if err != nil || n <= 0 {
		c.Fail(column, say.That("error.no_number"), say.That("fix.it_must_be_a_whole_number"))
	}
	return n
}

// Degrees returns a coordinate between -most and most.
func (c *Cells) Degrees(column string, most float64) float64 {
	c.asks(column, Degrees)
	v, err := strconv.ParseFloat(c.Get(column), 64)
	if err != nil || !(v >= -most && v <= most) {
		c.Fail(
			column,
			say.That("error.no_degrees", "bound", fmt.Sprintf("%g", most)),
			say.That("fix.like", "text", "45.42150"),
		)
	}
	return v
}

// Length returns a length, nil where the cell is empty.
func (c *Cells) Length(column string) *measure.Length {
	c.asks(column, LengthText)
	return read(c, column, measure.ParseLength)
}

// Mass returns a mass, nil where the cell is empty.
func (c *Cells) Mass(column string) *measure.Mass {
	c.asks(column, MassText)
	return read(c, column, measure.ParseMass)
}

func read[T any](c *Cells, column string, parse func(string) (T, error)) *T {
	if c.Get(column) == "" {
		return nil
	}
	v, err := parse(c.Get(column))
	if err != nil {
		c.Unusable(column, err)
		return nil
	}
	return &v
}

// Year returns a year, 0 where the cell is empty.
func (c *Cells) Year(column string) int {
	c.asks(column, CalendarYear)
	if c.Get(column) == "" {
		return 0
	}
	y, err := strconv.Atoi(c.Get(column))
	if err != nil || y < 1900 || y > 2200 {
		c.Fail(column, say.That("error.no_year"), say.That("fix.it_must_be_a"))
	}
	return y
}

// Unusable notes a value that a parser refused; a [*measure.ParseError] says
// problem and fix apart.
func (c *Cells) Unusable(column string, err error) {
	var refused *measure.ParseError
	if errors.As(err, &refused) {
		c.Fail(column, refused.Problem, refused.Fix)
		return
	}
	c.Fail(column, say.That("error.unusable", "why", say.Of(err)), say.That("fix.correct_it"))
}

// Yes returns whether the cell says yes; it may be empty.
func (c *Cells) Yes(column string) bool { return OneOf(c, column, "", "yes") == "yes" }

// Day returns a date, zero where the cell is empty.
func (c *Cells) Day(column string) time.Time {
	c.asks(column, Date)
	if c.Get(column) == "" {
		return time.Time{}
	}
	t, err := time.Parse(time.DateOnly, c.Get(column))
	if err != nil {
		c.Fail(column, say.That("error.no_day"), say.That("fix.it_must_be_a_day"))
	}
	return t
}
