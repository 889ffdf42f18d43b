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
	"wayhouse/regs/rates"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/trucks"
	"wayhouse/regs/window"
)

// Table is one table that the store keeps.
type Table interface {
	TableName() string
	ColumnNames() []string
	Described() []rows.Column
	Check(rows.Record) error
	Records(csv []byte) ([]rows.Record, error)
	Each(csv io.Reader, visit func(line, revision int, r rows.Record) error) error
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
	return nil, &measure.FieldError{
		Field: "table", Value: name, Problem: say.That("error.no_table"), Fix: say.That("fix.one_of", "words", names),
	}
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
		&held[trucks.Row]{table: trucks.Table()},
		&held[rates.Rate]{table: rates.Table()},
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
		Trucks:     rowsOf[trucks.Row](all),
		Rates:      rowsOf[rates.Rate](all),
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

// shippedRows lists the rows that come with the program, as entries. A test reads them
// as strictly as those of an import.
func shippedRows() ([]entry, error) {
	var out []entry
	for _, t := range Tables() {
		raw, err := data.Files.ReadFile("tables/" + t.TableName() + ".csv")
		if err != nil {
			continue // not every table ships rows
		}
		if err := rows.Each(raw, t.ColumnNames(), func(c *rows.Cells) error {
			out = append(out, entry{table: t.TableName(), id: c.Record[0], record: c.Record, shipped: true})
			return nil
		}); err != nil {
			return nil, fmt.Errorf("%s: %w", t.TableName(), err)
		}
	}
	return out, nil
}

// holder is the content of one table at one revision, immutable.
type holder interface {
	kept() Table
	name() string
	// merger takes changes to the content.
	merger() merger
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

// merger makes the content after changes, which are by id, each id once.
type merger interface {
	add(entry) error
	done() holder
}

// merging is a merger. Rows that do not change are shared.
type merging[T any] struct {
	from, out *held[T]
	taken     int // of the rows of from
	read      func(rows.Record) (T, error)
}

func (h *held[T]) merger() merger { return &merging[T]{from: h} }

func (m *merging[T]) add(e entry) error {
	if m.out == nil {
		m.out = &held[T]{table: m.from.table, total: m.from.total}
		m.read = m.from.table.Reader()
	}
	from := m.from
	for m.taken < len(from.ids) && from.ids[m.taken] < e.id {
		m.keep()
	}
	if m.taken < len(from.ids) && from.ids[m.taken] == e.id {
		m.out.total -= from.sums[m.taken]
		m.taken++
	}
	if e.removed {
		return nil
	}
	row, err := m.read(e.record)
	if err != nil {
		return err
	}
	sum := e.sum()
	m.out.total += sum
	m.put(e.id, sum, &row)
	return nil
}

// done is from itself where nothing changed.
func (m *merging[T]) done() holder {
	if m.out == nil {
		return m.from
	}
	for m.taken < len(m.from.ids) {
		m.keep()
	}
	return m.out
}

// keep takes the next row as it was.
func (m *merging[T]) keep() {
	i := m.taken
	m.put(m.from.ids[i], m.from.sums[i], m.from.rows[i])
	m.taken++
}

func (m *merging[T]) put(id string, sum uint64, row *T) {
	m.out.ids, m.out.sums, m.out.rows = append(m.out.ids, id), append(m.out.sums, sum), append(m.out.rows, row)
}

// columnsByTable returns the columns of every table.
func columnsByTable() map[string][]string {
	out := map[string][]string{}
	for _, t := range Tables() {
		out[t.TableName()] = t.ColumnNames()
	}
	return out
}
