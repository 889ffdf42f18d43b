package limit

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/rows"
)

// Columns of limits.csv, in order.
var columns = []string{
	"id", "jurisdiction", "kind", "combination", "quantity", "axles", "published", "threshold", "beyond", "outcome", "tier",
	"permit", "escorts_any", "escorts_front", "escorts_rear", "height_pole", "survey", "hours", "when", "road",
	"condition", "note", "valid_from", "valid_to", "supersedes", "status", "source", "section", "source_year", "source_url", "read_on",
}

// Columns returns the columns of limits.csv, in order.
func Columns() []string { return slices.Clone(columns) }

// Record is one row as text, in the order of Columns.
type Record []string

// ReadCSV reads limits.csv. It takes all rows or none; errors name line and
// column. The records are what the rows were read from, for a store to keep.
func ReadCSV(raw []byte) ([]Row, []Record, error) {
	var out []Row
	var records []Record
	seen := map[string]bool{}
	err := rows.Each(raw, columns, func(c *rows.Cells) error {
		row := readRow(c)
		if seen[row.ID] {
			return c.Fail("id", "stands twice", "give each row an id of its own")
		}
		seen[row.ID] = true
		out, records = append(out, row), append(records, c.Record)
		return nil
	})
	if err != nil {
		return nil, nil, fmt.Errorf("limits: %w", err)
	}
	return out, records, nil
}

// WriteCSV writes records as ReadCSV reads them.
func WriteCSV(w io.Writer, records []Record) error {
	out := csv.NewWriter(w)
	if err := out.Write(columns); err != nil {
		return err
	}
	for _, r := range records {
		if err := out.Write(r); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// Row reads a record back; line is what an error calls it.
func (r Record) Row(line int) (Row, error) {
	if len(r) != len(columns) {
		return Row{}, fmt.Errorf("line %d has %d columns, want %d", line, len(r), len(columns))
	}
	c := rows.NewCells(line, columns, r)
	row := readRow(c)
	return row, c.Err
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
	err := rows.Each(raw, cols, func(c *rows.Cells) error {
		a := Authority{Jurisdiction: c.Need("jurisdiction"), Name: c.Need("authority"), Contact: c.Get("contact")}
		a.Source = strings.Join(slices.DeleteFunc([]string{c.Get("source"), c.Get("section"), c.Get("source_year")}, func(s string) bool { return s == "" }), ", ")
		out = append(out, a)
		return c.Err
	})
	if err != nil {
		return nil, fmt.Errorf("authorities: %w", err)
	}
	return out, nil
}

func readRow(c *rows.Cells) Row {
	r := Row{
		ID: c.Need("id"), Jurisdiction: c.Need("jurisdiction"),
		Kind:      rows.OneOf(c, "kind", append(UnitKinds(), All, CommercialUse, Building, FarmEquipment)...),
		Form:      rows.OneOf(c, "combination", AnyForm, Semitrailer, Trailer, SingleVehicle, Tractor),
		Quantity:  rows.OneOf(c, "quantity", Quantities()...),
		Axles:     c.Count("axles"),
		Published: c.Need("published"), Text: c.Need("threshold"),
		Inclusive: rows.OneOf(c, "beyond", "over", "at_or_over") == "at_or_over",
		Outcome:   rows.OneOf(c, "outcome", finding.Conditional, finding.Review, finding.Forbidden),
		Tier:      rows.OneOf(c, "tier", Legal, Beyond, Unsure),
		When:      c.Get("when"), Road: c.Get("road"), Condition: c.Get("condition"), Note: c.Get("note"),
		ValidFrom: c.Day("valid_from"), ValidTo: c.Day("valid_to"),
		Supersedes: strings.Fields(c.Get("supersedes")),
		Status:     rows.OneOf(c, "status", finding.Published, finding.Verified, finding.Secondary, finding.Memory, finding.Invented),
		Source:     c.Need("source"), Section: c.Get("section"), Year: c.Get("source_year"), URL: c.Get("source_url"),
		ReadOn: c.Day("read_on"),
	}
	r.Demands, r.EscortsSaid = readDemands(c)
	if !r.ValidFrom.IsZero() && !r.ValidTo.IsZero() && r.ValidTo.Before(r.ValidFrom) {
		c.Fail("valid_to", "is before valid_from", "check both days")
	}
	if c.Err == nil {
		amount, err := r.Quantity.Parse(r.Text)
		if err != nil {
			c.Unusable("threshold", err)
		}
		r.Threshold = amount
	}
	return r
}

// Permit names the permit of a jurisdiction in a demand.
func Permit(jurisdiction string) string { return "oversize or overweight permit of " + jurisdiction }

func readDemands(c *rows.Cells) (finding.Demands, bool) {
	d := finding.Demands{
		EscortsAny: c.Count("escorts_any"), EscortsFront: c.Count("escorts_front"), EscortsRear: c.Count("escorts_rear"),
		HeightPole: c.Yes("height_pole"), Survey: c.Yes("survey"),
	}
	if c.Yes("permit") {
		d.Permits = []string{Permit(c.Get("jurisdiction"))}
	}
	if h := c.Get("hours"); h != "" {
		d.Hours = []string{h}
	}
	return d, c.Get("escorts_any")+c.Get("escorts_front")+c.Get("escorts_rear") != ""
}
