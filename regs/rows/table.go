package rows

import (
	"encoding/csv"
	"fmt"
	"io"
	"iter"
	"slices"
	"strconv"
	"strings"

	"wayhouse/regs/say"
)

// Table is how the rows of one table are read. The first column is "id".
type Table[T any] struct {
	Name    string // plural, as it stands in addresses and errors: "limits"
	Columns []string
	// Optional are columns that a CSV may leave out.
	Optional []string
	// Read reads one row; what it cannot use it notes in the cells.
	Read func(*Cells) T
	// Strict notes what a row that is taken in must not say, though one that is kept
	// already stays readable; nil for nothing.
	Strict func(*Cells)
}

// TableName returns the name.
func (t Table[T]) TableName() string { return t.Name }

// ColumnNames returns the columns, in order. They are not to be changed.
func (t Table[T]) ColumnNames() []string { return t.Columns }

// ReadCSV reads a CSV of the table. It takes all rows or none; errors name
// line and column. The records are what the rows were read from.
func (t Table[T]) ReadCSV(raw []byte) ([]T, []Record, error) {
	var out []T
	var records []Record
	seen := map[string]bool{}
	err := each(raw, t.Columns, t.Optional, func(c *Cells) error {
		row := t.Read(c)
		t.strict(c)
		id := c.id()
		if seen[id] {
			return c.Fail("id", say.That("error.stands_twice"), say.That("fix.give_each_row_an"))
		}
		seen[id] = true
		out, records = append(out, row), append(records, c.Record)
		return nil
	})
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", t.Name, err)
	}
	return out, records, nil
}

// Records are those of a CSV, for those who keep rows and do not use them.
func (t Table[T]) Records(raw []byte) ([]Record, error) {
	_, records, err := t.ReadCSV(raw)
	return records, err
}

func (t Table[T]) strict(c *Cells) {
	if t.Strict != nil && c.Err == nil {
		t.Strict(c)
	}
}

// Row reads one record; line is what an error calls it.
func (t Table[T]) Row(line int, r Record) (T, error) { return t.row(newHead(t.Columns), line, r) }

// Rows reads records in order. The error names the id of a row that cannot be
// read.
func (t Table[T]) Rows(records []Record) ([]T, error) {
	head := newHead(t.Columns)
	out := make([]T, 0, len(records))
	for i, r := range records {
		row, err := t.row(head, i+1, r)
		if err != nil {
			return nil, fmt.Errorf("%s: row %q: %w", t.Name, r[0], err)
		}
		out = append(out, row)
	}
	return out, nil
}

// Check reports whether a record can be taken in. It asks more than Row: what is
// kept already stays readable.
func (t Table[T]) Check(r Record) error {
	if len(r) != len(t.Columns) {
		return fmt.Errorf("a row of %d columns, want %d", len(r), len(t.Columns))
	}
	c := &Cells{Line: 1, Record: r, head: newHead(t.Columns)}
	if c.readable(t.Columns); c.Err == nil {
		t.Read(c)
		t.strict(c)
		c.id()
	}
	return c.Err
}

func (t Table[T]) row(head head, line int, r Record) (row T, err error) {
	if len(r) != len(t.Columns) {
		return row, fmt.Errorf("line %d has %d columns, want %d", line, len(r), len(t.Columns))
	}
	c := &Cells{Line: line, Record: r, head: head}
	row = t.Read(c)
	return row, c.Err
}

// id returns the id of a row. It is a key: white space around it would make
// another row of the same name.
func (c *Cells) id() string {
	id := c.Need("id")
	if id != c.Record[c.head["id"]] {
		c.Fail("id", say.That("error.white_space_around_it"), say.That("fix.take_it_away"))
	}
	if strings.Contains(id, "/") {
		c.Fail("id", say.That("error.a_slash_in_it"), say.That("fix.write_it_without_such"))
	}
	return id
}

// WriteCSV writes records as ReadCSV reads them.
func (t Table[T]) WriteCSV(w io.Writer, records []Record) error {
	return writeCSV(csv.NewWriter(w), t.Columns, slices.Values(records))
}

// WriteSheet writes records with the revision that they were exported from.
func (t Table[T]) WriteSheet(w io.Writer, s Sheet) error {
	revision := ""
	if s.Revision > 0 {
		revision = strconv.Itoa(s.Revision)
	}
	lines := func(yield func(Record) bool) {
		for _, r := range s.Records {
			if !yield(append(r[:len(r):len(r)], revision)) {
				return
			}
		}
	}
	return writeCSV(csv.NewWriter(w), append(slices.Clone(t.Columns), RevisionColumn), lines)
}

// WriteCSV writes a head line and records that are no table's, with the ends of lines of
// RFC 4180.
func WriteCSV(w io.Writer, columns []string, records []Record) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	return writeCSV(out, columns, slices.Values(records))
}

// writeCSV writes cells that a spreadsheet would run so that it does not; [Each] takes
// that back.
func writeCSV(out *csv.Writer, columns []string, records iter.Seq[Record]) error {
	if err := out.Write(columns); err != nil {
		return err
	}
	line := make([]string, len(columns))
	for r := range records {
		for i, cell := range r {
			line[i] = neutral(cell)
		}
		if err := out.Write(line); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
