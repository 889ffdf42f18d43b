package rows

import (
	"fmt"
	"io"
)

// Each reads a CSV of the table and visits its records in order. A record is its
// caller's to keep. What is visited before an error may have been part of an
// unusable file: whoever takes all rows or none takes them back then. Ids that
// stand twice are the caller's to find. revision is that of the tables from which a
// line says that it was exported, 0 where it says none.
func (t Table[T]) Each(csv io.Reader, visit func(line, revision int, r Record) error) error {
	err := eachOf(csv, t.Columns, t.Optional, func(c *Cells) error {
		t.Read(c)
		t.strict(c)
		c.id()
		if c.Err != nil {
			return c.Err
		}
		return visit(c.Line, c.Revision, c.Record)
	})
	if err != nil {
		return fmt.Errorf("%s: %w", t.Name, err)
	}
	return nil
}

// Reader returns a func that reads records one by one. Its error names the id of a
// row that cannot be read.
func (t Table[T]) Reader() func(Record) (T, error) {
	head := newHead(t.Columns)
	return func(r Record) (T, error) {
		row, err := t.row(head, 1, r)
		if err != nil {
			return row, fmt.Errorf("%s: row %q: %w", t.Name, r[0], err)
		}
		return row, nil
	}
}
