package store

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"

	"wayhouse/regs/rows"
)

// Conflict is a row that the user changed or removed and that the program's
// new version ships changed. Both bind, so the stricter does, until the user
// removes one of them.
type Conflict struct {
	Table, ID string
	Rival     string // the id under which the shipped version comes in; "" where it is no longer shipped
}

// Upgrade is what taking over the rows of a new version of the program would
// change.
type Upgrade struct {
	Proposal
	Conflicts []Conflict
}

// ProposeUpgrade compares the rows that come with this version of the program
// with those that came with the one before. New rows come in, and rows that
// the user never touched follow the program; a row that the user touched stays,
// and the shipped version comes in beside it.
func (s *Store) ProposeUpgrade(ctx context.Context) (Upgrade, error) {
	var u Upgrade
	shipped, err := shippedRows()
	if err != nil {
		return u, err
	}
	err = s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		if u.Revision, err = s.revision(ctx, tx, newest); err != nil {
			return err
		}
		is, err := readEntries(ctx, tx, upTo+`$1`, u.Revision)
		if err != nil {
			return err
		}
		before, err := readEntries(ctx, tx, upTo+`$1 AND shipped = 1`, u.Revision)
		if err != nil {
			return err
		}
		u.work(shipped, before, is)
		return nil
	})
	if err != nil {
		return u, fmt.Errorf("store %s: upgrade: %w", s.name, err)
	}
	return u, nil
}

func byKey(entries []entry) map[rowKey]entry {
	out := map[rowKey]entry{}
	for _, e := range entries {
		out[rowKey{e.table, e.id}] = e
	}
	return out
}

// work compares what is shipped now with what was, and with what the table
// holds, removed rows included.
func (u *Upgrade) work(shipped, before, is []entry) {
	was, now := byKey(before), byKey(is)
	still := map[rowKey]bool{}
	for _, e := range shipped {
		k := rowKey{e.table, e.id}
		still[k] = true
		old, had := lastShipped(was, k)
		mine, have := now[k]
		switch {
		case had && !old.removed && slices.Equal(old.record, e.record):
			// it did not change, whatever the user made of it
		case have && !mine.removed && slices.Equal(mine.record, e.record):
			u.put(e.table, e.id, e.record, mine) // the user has the same already: from now on it counts as shipped
		case !have, mine.removed && mine.shipped, had && !mine.removed && slices.Equal(mine.record, old.record):
			u.put(e.table, e.id, e.record, mine)
		default:
			rival := e.id + rows.RivalSuffix
			record := slices.Clone(e.record)
			record[0] = rival
			u.Conflicts = append(u.Conflicts, Conflict{e.table, e.id, rival})
			// also over one that the user edited: the id is the program's
			u.put(e.table, rival, record, now[rowKey{e.table, rival}])
		}
	}
	for _, old := range before {
		k := rowKey{old.table, old.id}
		own, isRival := strings.CutSuffix(old.id, rows.RivalSuffix)
		mine := now[k]
		if old.removed || mine.removed || still[rowKey{old.table, own}] {
			continue
		}
		last := old
		if !isRival {
			last, _ = lastShipped(was, k)
		}
		switch {
		case !last.removed && slices.Equal(mine.record, last.record): // one that went says nothing of the user's row
			u.put(old.table, old.id, nil, mine)
		case !isRival:
			u.Conflicts = append(u.Conflicts, Conflict{Table: old.table, ID: old.id})
		}
	}
}

// lastShipped is what came with the program of a row, under its own id or as a
// rival.
func lastShipped(was map[rowKey]entry, k rowKey) (entry, bool) {
	own, had := was[k]
	rival, besides := was[rowKey{k.table, k.id + rows.RivalSuffix}]
	if besides && rival.revision > own.revision {
		rival.record = slices.Clone(rival.record)
		rival.record[0] = k.id
		return rival, true
	}
	return own, had
}

// put adds an edit in the place of a row as it is.
func (u *Upgrade) put(table, id string, record []string, is entry) {
	if is.removed {
		is = entry{}
	}
	same := record != nil && slices.Equal(is.record, record)
	if same && is.shipped {
		return
	}
	if !same {
		u.Differences = append(u.Differences, Difference{table, id, is.record, record})
	}
	u.Edits = append(u.Edits, Edit{Table: table, ID: id, Record: record, Was: is.revision, shipped: true})
}
