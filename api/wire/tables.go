package wire

import (
	"time"

	"wayhouse/regs/rows"
	"wayhouse/regs/store"
)

// Difference is how one row differs. Before is left out for a row that was
// added, after for one that was removed.
type Difference struct {
	Table  string            `json:"table"`
	ID     string            `json:"id"`
	Before map[string]string `json:"before,omitempty"`
	After  map[string]string `json:"after,omitempty"`
}

// NewDifferences writes how rows differ as it stands in JSON.
func NewDifferences(in []store.Difference) []Difference { return each(in, rowDifference) }

func rowDifference(d store.Difference) Difference {
	return Difference{d.Table, d.ID, cells(d.Table, d.Before), cells(d.Table, d.After)}
}

// Revisions is the history of the tables.
type Revisions struct {
	Revisions []Revision `json:"revisions"`
}

// NewRevisions writes a history as it stands in JSON.
func NewRevisions(history []store.Revision) Revisions {
	return Revisions{each(history, NewRevision)}
}

// Revision is one change.
type Revision struct {
	Number int    `json:"tables_revision"`
	MadeAt string `json:"made_at"`
	Who    string `json:"who"`
	Why    string `json:"why"`
}

// Compared is what differs between two revisions.
type Compared struct {
	Differences []Difference `json:"differences"`
}

// KeptRow is a row as it is kept.
type KeptRow struct {
	Table    string            `json:"table"`
	ID       string            `json:"id"`
	Revision int               `json:"tables_revision" doc:"That wrote it; in quotes it is the ETag"`
	Cells    map[string]string `json:"cells" doc:"By column, as text; empty ones are left out"`
}

// NewKept writes a row as it stands in JSON.
func NewKept(k store.Kept) KeptRow {
	return KeptRow{Table: k.Table, ID: k.ID(), Revision: k.Revision, Cells: cells(k.Table, k.Record)}
}

// RowVersions is what became of a row, the newest first.
type RowVersions struct {
	Versions []RowVersion `json:"versions"`

	Table string `json:"-"`
	ID    string `json:"-"`
}

// RowVersion is what one revision made of a row.
type RowVersion struct {
	Revision
	Removed bool              `json:"removed,omitempty" doc:"The revision removed the row; cells are the last there were"`
	Cells   map[string]string `json:"cells" doc:"By column, as text; empty ones are left out"`
}

// NewRowVersions writes what became of a row as it stands in JSON.
func NewRowVersions(table, id string, in []store.Version) RowVersions {
	return RowVersions{Table: table, ID: id, Versions: each(in, func(v store.Version) RowVersion {
		return RowVersion{NewRevision(v.Revision), v.Removed, cells(table, v.Record)}
	})}
}

// NewRevision writes a change as it stands in JSON.
func NewRevision(r store.Revision) Revision {
	return Revision{r.Number, r.MadeAt.Format(time.RFC3339), r.Who, r.Why}
}

func cells(table string, r rows.Record) map[string]string {
	if r == nil {
		return nil
	}
	out := map[string]string{}
	t, err := store.TableNamed(table)
	if err != nil {
		return out
	}
	for i, name := range t.ColumnNames() {
		if r[i] != "" {
			out[name] = r[i]
		}
	}
	return out
}

// TableList is the tables there are.
type TableList struct {
	Edition
	Tables []TableInfo `json:"tables"`
}

// TableInfo is one table.
type TableInfo struct {
	Name    string        `json:"name"`
	Columns []TableColumn `json:"columns" doc:"In order"`
}

// TableColumn is one column of a table.
type TableColumn struct {
	Name   string    `json:"name" example:"threshold"`
	Form   rows.Form `json:"form" doc:"What a cell takes; lengths and masses are texts with a unit"`
	Among  []string  `json:"among,omitempty" doc:"The words that a cell of the form word takes"`
	Needed bool      `json:"needed" doc:"A cell must not be empty"`
}

// NewTableInfo writes what a table is as it stands in JSON.
func NewTableInfo(t store.Table) TableInfo {
	return TableInfo{t.TableName(), each(t.Described(), func(c rows.Column) TableColumn { return TableColumn(c) })}
}

// Upgraded is what an upgrade changed or would change.
type Upgraded struct {
	Made
	Conflicts []UpgradeConflict `json:"conflicts"`
}

// UpgradeConflict is a row that the user changed and that is shipped changed.
type UpgradeConflict struct {
	Table string `json:"table"`
	ID    string `json:"id"`
	Rival string `json:"rival,omitempty" doc:"The id under which the shipped version comes in; left out where it is no longer shipped"`
}

// RowList is a part of a table.
type RowList struct {
	Revision int       `json:"tables_revision" doc:"Of the tables, as they were read; ask for the next page at the same"`
	Rows     []KeptRow `json:"rows"`
	After    string    `json:"after,omitempty" doc:"Where it goes on: ask again with after"`

	All int `json:"-"` // how many rows the table has; 0: not counted
}

// NewRowList writes rows of a table at a revision as they stand in JSON.
func NewRowList(revision int, kept []store.Kept) RowList {
	return RowList{Revision: revision, Rows: each(kept, NewKept)}
}

// Made is a change that was made.
type Made struct {
	Revision    int          `json:"tables_revision" doc:"That was made, or for which it was worked out"`
	MadeAt      string       `json:"made_at,omitempty"`
	CannotClear []string     `json:"cannot_clear,omitempty" doc:"Why a row that was verified still cannot clear"`
	Differences []Difference `json:"differences,omitempty" doc:"The first thousand"`
	Counts
}

// Counts are how many rows a change added, changed and removed.
type Counts struct {
	Added   int `json:"added,omitempty"`
	Changed int `json:"changed,omitempty"`
	Removed int `json:"removed,omitempty"`
	LeftOut int `json:"differences_left_out,omitempty" doc:"How many differences are counted and not listed"`
}

// mostDifferences is how many differences an answer lists.
const mostDifferences = 1000

// Note counts a difference and lists it while there is room.
func (m *Made) Note(d store.Difference) {
	switch {
	case d.Before == nil:
		m.Added++
	case d.After == nil:
		m.Removed++
	default:
		m.Changed++
	}
	if len(m.Differences) == mostDifferences {
		m.LeftOut++
		return
	}
	m.Differences = append(m.Differences, rowDifference(d))
}
