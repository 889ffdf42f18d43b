package store

import (
	"fmt"
	"io"

	"wayhouse/data"
	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/duty"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/rows"
	"wayhouse/regs/window"
)

// Table is one table that the store keeps.
type Table interface {
	TableName() string
	ColumnNames() []string
	Check(rows.Record) error
	Records(csv []byte) ([]rows.Record, error)
	Sheet(csv []byte) (rows.Sheet, error)
	WriteSheet(io.Writer, rows.Sheet) error
}

// Tables lists what the store keeps, in the order in which it is shown.
func Tables() []Table {
	var out []Table
	for _, h := range contents() {
		out = append(out, h.kept())
	}
	return out
}

// TableNamed finds a table by its name. The error names those there are.
func TableNamed(name string) (Table, error) {
	var names []string
	for _, t := range Tables() {
		if t.TableName() == name {
			return t, nil
		}
		names = append(names, t.TableName())
	}
	return nil, &measure.FieldError{Field: "table", Value: name, Problem: "is no table", Fix: fmt.Sprintf("use one of %v", names)}
}

// contents returns every table, empty.
func contents() []holder {
	return []holder{
		&held[limit.Row]{table: limit.Table()},
		&held[window.Hours]{table: window.HoursTable()},
		&held[window.Holiday]{table: window.Holidays()},
		&held[permit.Permit]{table: permit.Permits()},
		&held[permit.Office]{table: permit.Offices()},
		&held[permit.Contact]{table: permit.Contacts()},
		&held[clearance.Structure]{table: clearance.Structures()},
		&held[clearance.Letter]{table: clearance.Letters()},
		&held[clearance.Notice]{table: clearance.Notices()},
		&held[duty.Row]{table: duty.Table()},
	}
}

// typed gathers the rows of every table.
func typed(all []holder) regs.Rows {
	return regs.Rows{
		Limits:     rowsOf[limit.Row](all),
		Hours:      rowsOf[window.Hours](all),
		Holidays:   rowsOf[window.Holiday](all),
		Permits:    rowsOf[permit.Permit](all),
		Offices:    rowsOf[permit.Office](all),
		Contacts:   rowsOf[permit.Contact](all),
		Clearances: rowsOf[clearance.Structure](all),
		Letters:    rowsOf[clearance.Letter](all),
		Notices:    rowsOf[clearance.Notice](all),
		Duty:       rowsOf[duty.Row](all),
	}
}

// rowsOf returns the rows of the table of one type.
func rowsOf[T any](all []holder) []*T {
	for _, h := range all {
		if h, ok := h.(*held[T]); ok {
			return h.rows
		}
	}
	return nil
}

// shippedRows reads the rows that come with the program, as entries.
func shippedRows() ([]entry, error) {
	var out []entry
	for _, t := range Tables() {
		raw, err := data.Files.ReadFile("tables/" + t.TableName() + ".csv")
		if err != nil {
			continue // not every table ships rows
		}
		records, err := t.Records(raw)
		if err != nil {
			return nil, err
		}
		for _, r := range records {
			out = append(out, entry{table: t.TableName(), id: r[0], record: r, shipped: true})
		}
	}
	return out, nil
}

// holder is the content of one table at one revision, immutable.
type holder interface {
	kept() Table
	name() string
	// with returns the content after changes, which are by id, each id once.
	with(changes []entry) (holder, error)
	sum() uint64
}

// held is a holder. The slices are by id and of one length.
type held[T any] struct {
	table rows.Table[T]
	ids   []string
	sums  []uint64 // of each row's cells
	rows  []*T
	total uint64
}

func (h *held[T]) kept() Table  { return h.table }
func (h *held[T]) name() string { return h.table.Name }
func (h *held[T]) sum() uint64  { return h.total }

// with merges changes into the rows. Rows that do not change are shared.
func (h *held[T]) with(changes []entry) (holder, error) {
	read, err := h.read(changes)
	if err != nil {
		return nil, err
	}
	n := len(h.ids) + len(changes)
	out := &held[T]{table: h.table, ids: make([]string, 0, n), sums: make([]uint64, 0, n), rows: make([]*T, 0, n), total: h.total}
	put := func(id string, sum uint64, row *T) {
		out.ids, out.sums, out.rows = append(out.ids, id), append(out.sums, sum), append(out.rows, row)
	}
	i := 0
	for k, e := range changes {
		for ; i < len(h.ids) && h.ids[i] < e.id; i++ {
			put(h.ids[i], h.sums[i], h.rows[i])
		}
		if i < len(h.ids) && h.ids[i] == e.id {
			out.total -= h.sums[i]
			i++
		}
		if !e.removed {
			sum := e.sum()
			out.total += sum
			put(e.id, sum, read[k])
		}
	}
	for ; i < len(h.ids); i++ {
		put(h.ids[i], h.sums[i], h.rows[i])
	}
	return out, nil
}

// read reads the rows of changes; those removed have none.
func (h *held[T]) read(changes []entry) ([]*T, error) {
	var records []rows.Record
	for _, e := range changes {
		if !e.removed {
			records = append(records, e.record)
		}
	}
	values, err := h.table.Rows(records)
	if err != nil {
		return nil, err
	}
	out := make([]*T, len(changes))
	for i, k := 0, 0; i < len(changes); i++ {
		if !changes[i].removed {
			out[i] = &values[k]
			k++
		}
	}
	return out, nil
}

// columnsByTable returns the columns of every table.
func columnsByTable() map[string][]string {
	out := map[string][]string{}
	for _, t := range Tables() {
		out[t.TableName()] = t.ColumnNames()
	}
	return out
}
