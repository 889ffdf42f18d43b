package store

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"

	"wayhouse/regs/rows"
)

// UnnamedError says that a file would change rows and does not name the revision
// that it was exported from, so that nobody can tell whether it undoes a change
// that was made since.
type UnnamedError struct {
	Table, ID string // the first such row
	Newest    int
}

func (e *UnnamedError) Error() string {
	return fmt.Sprintf("%s: row %q would be changed, and the file does not say for which revision of these tables it was made; the newest is %d", e.Table, e.ID, e.Newest)
}

// ProposeSheet says what a sheet that was exported from a revision changes in the
// tables as they are: what was changed in the sheet, and nothing that was changed
// in the tables since. A row that both changed, each in its own way, is a
// [*ConflictError]; a sheet of no revision may only add rows ([*UnnamedError]).
func (s *Store) ProposeSheet(ctx context.Context, table string, sheet rows.Sheet, all bool) (Proposal, error) {
	p, err := s.Propose(ctx, table, sheet.Records, all)
	if err != nil || sheet.Revision == p.Revision {
		return p, err
	}
	if sheet.Revision == 0 || sheet.Revision > p.Revision { // the latter is of another installation
		return p, unnamed(p)
	}
	var then map[rowKey]entry
	err = s.read(ctx, func(tx *sql.Tx) error {
		then, err = entriesOf(ctx, tx, p.Differences, sheet.Revision)
		return err
	})
	if err == nil {
		err = p.since(then)
	}
	if err != nil {
		return Proposal{}, fmt.Errorf("store %s: propose: %w", s.name, err)
	}
	return p, nil
}

func unnamed(p Proposal) error {
	for _, d := range p.Differences {
		if d.Before != nil {
			return &UnnamedError{d.Table, d.ID, p.Revision}
		}
	}
	return nil
}

// since leaves out what is a change of the tables alone, by what the rows were
// then.
func (p *Proposal) since(then map[rowKey]entry) error {
	var differences []Difference
	var edits []Edit
	for i, d := range p.Differences { // each has its edit
		var was rows.Record
		if e, ok := then[rowKey{d.Table, d.ID}]; ok && !e.removed {
			was = e.record
		}
		switch {
		case slices.Equal(was, d.After):
			continue
		case !slices.Equal(was, d.Before):
			return &ConflictError{d.Table, d.ID, then[rowKey{d.Table, d.ID}].revision, p.Edits[i].Was}
		}
		differences, edits = append(differences, d), append(edits, p.Edits[i])
	}
	p.Differences, p.Edits = differences, edits
	return nil
}

// entriesOf reads the rows of differences as they were at a revision.
func entriesOf(ctx context.Context, tx *sql.Tx, differences []Difference, revision int) (map[rowKey]entry, error) {
	out := map[rowKey]entry{}
	for part := range slices.Chunk(differences, entriesAtOnce) {
		args := []any{revision}
		var places []string
		for _, d := range part {
			n := len(args)
			places = append(places, fmt.Sprintf("($%d, $%d)", n+1, n+2))
			args = append(args, d.Table, d.ID)
		}
		found, err := readEntries(ctx, tx, `revision <= $1 AND (in_table, id) IN (VALUES `+strings.Join(places, ", ")+`)`, args...)
		if err != nil {
			return nil, err
		}
		for _, e := range found {
			out[rowKey{e.table, e.id}] = e
		}
	}
	return out, nil
}
