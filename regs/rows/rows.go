// Package rows reads the CSV tables of the project: a fixed head line, all
// rows or none, and errors that name line, column and value.
package rows

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"wayhouse/regs/measure"
)

// CellError names the line, the column and the value that cannot be used.
type CellError struct {
	Line    int
	Column  string
	Value   string
	Problem string
	Fix     string
}

func (e *CellError) Error() string {
	return fmt.Sprintf("line %d, column %s: %q %s; %s", e.Line, e.Column, e.Value, e.Problem, e.Fix)
}

// Cells are the values of one line by column, without white space around
// them. The first value that cannot be used stays in Err, so that a line is
// read in one go and checked once.
type Cells struct {
	Line   int
	Err    error
	Record []string
	values map[string]string
}

// NewCells names the values of one record; line is what an error calls it.
func NewCells(line int, columns, record []string) *Cells {
	c := &Cells{Line: line, Record: record, values: map[string]string{}}
	for i, name := range columns {
		c.values[name] = strings.TrimSpace(record[i])
	}
	return c
}

// Each calls f for every line of a CSV whose head line must be columns. It
// stops at the first error that f returns or leaves in Err.
func Each(raw []byte, columns []string, f func(*Cells) error) error {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(raw, []byte("\ufeff")))) // spreadsheets write the mark
	head, err := r.Read()
	if err != nil {
		return fmt.Errorf("no head line: %w", err)
	}
	if !slices.Equal(head, columns) {
		return fmt.Errorf("the head line must be %s", strings.Join(columns, ","))
	}
	for {
		record, err := r.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		line, _ := r.FieldPos(0)
		c := NewCells(line, columns, record)
		if err := f(c); err != nil {
			return err
		}
		if c.Err != nil {
			return c.Err
		}
	}
}

// Stale tells whether a reading is too old on a day to clear anything: longer
// ago than the term, never, or only after that day.
func Stale(read, day time.Time, term time.Duration) bool {
	const zones = 24 * time.Hour // a date may be a day ahead of an instant
	return read.IsZero() || day.Sub(read) > term || read.Sub(day) > zones
}

// Get returns the value of a column, "" where it is empty.
func (c *Cells) Get(column string) string { return c.values[column] }

// Fail notes that a value cannot be used and returns the error.
func (c *Cells) Fail(column, problem, fix string) error {
	err := &CellError{Line: c.Line, Column: column, Value: c.values[column], Problem: problem, Fix: fix}
	if c.Err == nil {
		c.Err = err
	}
	return err
}

// Need returns a value that must not be empty.
func (c *Cells) Need(column string) string {
	if c.values[column] == "" {
		c.Fail(column, "is empty", "fill it in: it must not be empty")
	}
	return c.values[column]
}

// OneOf returns a value that must be one of those allowed.
func OneOf[T ~string](c *Cells, column string, allowed ...T) T {
	v := T(c.values[column])
	if !slices.Contains(allowed, v) {
		c.Fail(column, "is not known here", fmt.Sprintf("it must be one of %q", allowed))
	}
	return v
}

// Count returns a small whole number, 0 where the cell is empty.
func (c *Cells) Count(column string) int {
	if c.values[column] == "" {
		return 0
	}
	n, err := strconv.Atoi(c.values[column])
	if err != nil || n < 0 || n > 99 {
		c.Fail(column, "is no count", "it must be a whole number from 0 to 99, or empty")
	}
	return n
}

// Degrees returns a coordinate between -most and most.
func (c *Cells) Degrees(column string, most float64) float64 {
	v, err := strconv.ParseFloat(c.values[column], 64)
	if err != nil || !(v >= -most && v <= most) {
		c.Fail(column, fmt.Sprintf("is no number of degrees from -%g to %g", most, most), "write it like 45.42150")
	}
	return v
}

// Unusable notes a value that a parser refused; a [*measure.ParseError] says
// problem and fix apart.
func (c *Cells) Unusable(column string, err error) {
	var refused *measure.ParseError
	if errors.As(err, &refused) {
		c.Fail(column, refused.Problem, refused.Fix)
		return
	}
	c.Fail(column, "cannot be used: "+err.Error(), "correct it")
}

// Yes returns whether the cell says yes; it may be empty.
func (c *Cells) Yes(column string) bool { return OneOf(c, column, "", "yes") == "yes" }

// Day returns a date, zero where the cell is empty.
func (c *Cells) Day(column string) time.Time {
	if c.values[column] == "" {
		return time.Time{}
	}
	t, err := time.Parse(time.DateOnly, c.values[column])
	if err != nil {
		c.Fail(column, "is no day", "it must be a day like 2026-11-25, or empty")
	}
	return t
}
