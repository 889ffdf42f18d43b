package limit

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"wayhouse/regs/finding"
)

// Columns of limits.csv, in order.
var columns = []string{
	"id", "jurisdiction", "kind", "combination", "quantity", "axles", "published", "threshold", "beyond", "outcome", "tier",
	"permit", "escorts_any", "escorts_front", "escorts_rear", "height_pole", "survey", "hours", "when", "road",
	"condition", "note", "valid_from", "valid_to", "supersedes", "status", "source", "section", "source_year", "source_url", "read_on",
}

// Columns returns the columns of limits.csv, in order.
func Columns() []string { return slices.Clone(columns) }

// CellError names the line, the column and the value that cannot be used.
type CellError struct {
	Line   int
	Column string
	Value  string
	Fix    string
}

func (e *CellError) Error() string {
	return fmt.Sprintf("line %d, column %s: %q %s", e.Line, e.Column, e.Value, e.Fix)
}

// Record is one row as text, in the order of Columns.
type Record []string

// ReadCSV reads limits.csv. It takes all rows or none; errors name line and
// column. The records are what the rows were read from, for a store to keep.
func ReadCSV(raw []byte) ([]Row, []Record, error) {
	var rows []Row
	var records []Record
	seen := map[string]bool{}
	err := eachRecord(raw, columns, func(c *cells) error {
		row := c.row()
		if c.err != nil {
			return c.err
		}
		if seen[row.ID] {
			return c.fail("id", "stands twice; give each row an id of its own")
		}
		seen[row.ID] = true
		rows, records = append(rows, row), append(records, c.record)
		return nil
	})
	if err != nil {
		return nil, nil, fmt.Errorf("limits: %w", err)
	}
	return rows, records, nil
}

// Row reads a record back; line is what an error calls it.
func (r Record) Row(line int) (Row, error) {
	c := newCells(line, columns, r)
	row := c.row()
	return row, c.err
}

// Authority is the office that gives permits in a jurisdiction.
type Authority struct {
	Jurisdiction string
	Name         string
	Contact      string
	Source       string
}

// String prints the office and how to reach it.
func (a Authority) String() string {
	if a.Contact == "" {
		return a.Name
	}
	return a.Name + " (" + a.Contact + ")"
}

// ReadAuthorities reads authorities.csv.
func ReadAuthorities(raw []byte) ([]Authority, error) {
	var out []Authority
	cols := []string{"jurisdiction", "authority", "contact", "source", "section", "source_year", "read_on"}
	err := eachRecord(raw, cols, func(c *cells) error {
		a := Authority{Jurisdiction: c.need("jurisdiction"), Name: c.need("authority"), Contact: c.get("contact")}
		a.Source = strings.Join(slices.DeleteFunc([]string{c.get("source"), c.get("section"), c.get("source_year")}, func(s string) bool { return s == "" }), ", ")
		out = append(out, a)
		return c.err
	})
	if err != nil {
		return nil, fmt.Errorf("authorities: %w", err)
	}
	return out, nil
}

// cells are the values of one line by column; the first value that cannot be
// used stays in err.
type cells struct {
	line   int
	err    error
	record Record
	values map[string]string
}

func newCells(line int, cols []string, record []string) *cells {
	c := &cells{line: line, record: record, values: map[string]string{}}
	for i, name := range cols {
		c.values[name] = strings.TrimSpace(record[i])
	}
	return c
}

// eachRecord calls f for every line of a CSV whose head must be cols.
func eachRecord(raw []byte, cols []string, f func(*cells) error) error {
	r := csv.NewReader(bytes.NewReader(raw))
	head, err := r.Read()
	if err != nil {
		return fmt.Errorf("no head line: %w", err)
	}
	if !slices.Equal(head, cols) {
		return fmt.Errorf("the head line must be %s", strings.Join(cols, ","))
	}
	for {
		rec, err := r.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		line, _ := r.FieldPos(0)
		if err := f(newCells(line, cols, rec)); err != nil {
			return err
		}
	}
}

func (c *cells) get(col string) string { return c.values[col] }

func (c *cells) fail(col, fix string) error {
	err := &CellError{Line: c.line, Column: col, Value: c.values[col], Fix: fix}
	if c.err == nil {
		c.err = err
	}
	return err
}

func (c *cells) need(col string) string {
	if c.values[col] == "" {
		c.fail(col, "must not be empty")
	}
	return c.values[col]
}

func oneOf[T ~string](c *cells, col string, allowed ...T) T {
	v := T(c.values[col])
	if !slices.Contains(allowed, v) {
		c.fail(col, fmt.Sprintf("must be one of %v", allowed))
	}
	return v
}

func (c *cells) count(col string) int {
	if c.values[col] == "" {
		return 0
	}
	n, err := strconv.Atoi(c.values[col])
	if err != nil || n < 0 || n > 99 {
		c.fail(col, "must be a whole number from 0 to 99, or empty")
	}
	return n
}

func (c *cells) yes(col string) bool { return oneOf(c, col, "", "yes") == "yes" }

func (c *cells) day(col string) time.Time {
	if c.values[col] == "" {
		return time.Time{}
	}
	t, err := time.Parse(time.DateOnly, c.values[col])
	if err != nil {
		c.fail(col, "must be a day like 2026-11-25, or empty")
	}
	return t
}

func (c *cells) row() Row {
	r := Row{
		ID: c.need("id"), Jurisdiction: c.need("jurisdiction"),
		Kind:      oneOf(c, "kind", append(UnitKinds(), All, CommercialUse, Building, FarmEquipment)...),
		Form:      oneOf(c, "combination", AnyForm, Semitrailer, Trailer, SingleVehicle, Tractor),
		Quantity:  oneOf(c, "quantity", Quantities()...),
		Axles:     c.count("axles"),
		Published: c.need("published"), Text: c.need("threshold"),
		Inclusive: oneOf(c, "beyond", "over", "at_or_over") == "at_or_over",
		Outcome:   oneOf(c, "outcome", finding.Conditional, finding.Review, finding.Forbidden),
		Tier:      oneOf(c, "tier", Legal, Beyond, Unsure),
		When:      c.get("when"), Road: c.get("road"), Condition: c.get("condition"), Note: c.get("note"),
		ValidFrom: c.day("valid_from"), ValidTo: c.day("valid_to"),
		Supersedes: strings.Fields(c.get("supersedes")),
		Status:     oneOf(c, "status", finding.Published, finding.Verified, finding.Secondary, finding.Memory, finding.Invented),
		Source:     c.need("source"), Section: c.get("section"), Year: c.get("source_year"), URL: c.get("source_url"),
		ReadOn: c.day("read_on"),
	}
	r.Demands, r.EscortsSaid = c.demands()
	if c.err == nil {
		amount, err := r.Quantity.Parse(r.Text)
		if err != nil {
			c.fail("threshold", "cannot be used: "+err.Error())
		}
		r.Threshold = amount
	}
	return r
}

func (c *cells) demands() (finding.Demands, bool) {
	d := finding.Demands{
		EscortsAny: c.count("escorts_any"), EscortsFront: c.count("escorts_front"), EscortsRear: c.count("escorts_rear"),
		HeightPole: c.yes("height_pole"), Survey: c.yes("survey"),
	}
	if c.yes("permit") {
		d.Permits = []string{"oversize or overweight permit of " + c.get("jurisdiction")}
	}
	if h := c.get("hours"); h != "" {
		d.Hours = []string{h}
	}
	return d, c.get("escorts_any")+c.get("escorts_front")+c.get("escorts_rear") != ""
}
