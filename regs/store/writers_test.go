package store

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"wayhouse/regs"
	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
	"wayhouse/testdata/needs"
)

// A change of many rows is written in parts and still made whole or not at all.
func largeChange(t *testing.T, s *Store) {
	n := 5*entriesAtOnce + 1
	if needs.Long {
		n = 50_000
	}
	base := record(t, "ca-on-height-01", nil)
	var given []rows.Record
	for i := range n {
		r := slices.Clone(base)
		r[0] = fmt.Sprintf("zz-%05d", i)
		given = append(given, r)
	}
	p, err := s.Propose(t.Context(), limits, given, false)
	if err != nil || len(p.Edits) != n {
		t.Fatalf("%d edits, %v; want %d", len(p.Edits), err, n)
	}
	for name, bad := range map[string]Edit{
		"a row that changed":  without(7, "ca-on-width-01"),
		"a row that is not":   without(0, "not there"),
		"a cell that is none": edit(t, 1, "ca-on-height-01", map[string]string{"threshold": "4.15"}),
	} {
		if _, err := s.Change(t.Context(), "a user", "a file", append(p.Edits[:n:n], bad)); err == nil || count(t, s, "revision") != 1 || entries(t, s, limits) != shippedLimits {
			t.Errorf("with %s: %v, %d rows written", name, err, entries(t, s, limits))
		}
	}
	snapshot(t, s)
	made(t, s, p.Edits...)
	now, whole := snapshot(t, s), at(t, s, 2)
	if len(now.Rows("")) != shippedLimits+n || !alike(now, whole) {
		t.Errorf("read on: %s with %d rows; at once: %s with %d", now.Revision, len(now.Rows("")), whole.Revision, len(whole.Rows("")))
	}
	if d, err := s.Compare(t.Context(), 1, 2); err != nil || len(d) != n {
		t.Errorf("%d differences, %v", len(d), err)
	}
	if _, err := s.Restore(t.Context(), 1, "a user", "a slip"); err != nil {
		t.Fatal(err)
	}
	if got, want := snapshot(t, s), at(t, s, 1); !sameRows(got.Rows(""), want.Rows("")) || got.Revision[2:] != want.Revision[2:] {
		t.Errorf("restored: %s with %d rows, want %s", got.Revision, len(got.Rows("")), want.Revision)
	}
}

// manyEdits: eight writers make random edits of the same few hundred rows,
// through two copies of the service where the database is shared. No edit is
// lost, every revision is kept, and any past state is what the edits up to it
// made.
func manyEdits(t *testing.T, s *Store) {
	total := 800
	if needs.Long {
		total = 10_000
	}
	const writers, ids = 8, 300
	copies := []*Store{s, another(t, s)}
	base := record(t, "ca-on-height-01", nil)
	note := slices.Index(limit.Table().Columns, "note")
	logs := make([][]written, writers)
	together(t, writers, func(w int) error {
		random := rand.New(rand.NewPCG(uint64(w), 1))
		for i := range total / writers {
			r := slices.Clone(base)
			r[0], r[note] = fmt.Sprintf("zz-%03d", random.IntN(ids)), fmt.Sprintf("edit %d of %d", i, w)
			one, err := insist(t.Context(), copies[w%2], r, random.IntN(4) == 0)
			if err != nil {
				return fmt.Errorf("edit %d: %w", i, err)
			}
			logs[w] = append(logs[w], one)
		}
		return nil
	})
	if t.Failed() {
		return
	}
	all := slices.Concat(logs...)
	slices.SortFunc(all, func(a, b written) int { return a.Number - b.Number })
	history, err := s.History(t.Context())
	if err != nil || len(history) != 1+len(all) || len(all) != total {
		t.Fatalf("%d revisions of %d edits, %v; want one for each of %d, and the first", len(history), len(all), err, total)
	}
	checked := total / 20
	is := map[string]Kept{}
	for i, one := range all {
		if one.Revision != history[len(history)-2-i] || one.Number != i+2 {
			t.Fatalf("edit %d is revision %+v, the history says %+v", i, one.Revision, history[len(history)-2-i])
		}
		if delete(is, one.id); one.record != nil {
			is[one.id] = Kept{limits, one.Number, one.record}
		}
		if i%checked == checked-1 {
			holds(t, s, one.Number, is)
		}
	}
	holds(t, s, newest, is)
	for _, c := range copies {
		if now, whole := snapshot(t, c), at(t, s, total+1); !alike(now, whole) {
			t.Errorf("read on: %s with %d rows; at once: %s with %d", now.Revision, len(now.Rows("")), whole.Revision, len(whole.Rows("")))
		}
	}
}

// written is an edit that was made: without a record it removed the row.
type written struct {
	Revision
	id     string
	record rows.Record
}

// insist puts a record in the place of its row, or removes it if it is there,
// whatever the row is by then.
func insist(ctx context.Context, s *Store, r rows.Record, remove bool) (written, error) {
	const tries = 1000 // of eight who edit a few hundred rows somebody is first now and then, not always
	for try := 1; ; try++ {
		e := Edit{Table: limits, ID: r[0], Record: r}
		kept, err := s.Row(ctx, limits, r[0])
		var none *NoRowError
		if err != nil && !errors.As(err, &none) {
			return written{}, err
		}
		if e.Was = kept.Revision; remove && err == nil {
			e.Record = nil
		}
		made, err := s.Change(ctx, "a writer", "a test", []Edit{e})
		var conflict *ConflictError
		if !errors.As(err, &conflict) || try == tries {
			return written{made, e.ID, e.Record}, err
		}
	}
}

// holds fails unless the rows that a test added are these at a revision, and
// all others as they were shipped.
func holds(t *testing.T, s *Store, revision int, want map[string]Kept) {
	t.Helper()
	kept, err := s.Records(t.Context(), limits, revision)
	if err != nil || len(kept) != shippedLimits+len(want) {
		t.Fatalf("revision %d: %d rows, %v; want %d", revision, len(kept), err, shippedLimits+len(want))
	}
	for _, k := range kept {
		if w, ok := want[k.ID()]; ok != strings.HasPrefix(k.ID(), "zz-") || ok && !reflect.DeepEqual(k, w) || !ok && k.Revision != 1 {
			t.Errorf("revision %d: %+v, want %+v", revision, k, w)
		}
	}
}

func at(t *testing.T, s *Store, revision int) *regs.Tables {
	t.Helper()
	tables, err := s.SnapshotAt(t.Context(), revision)
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

// another opens the database of a store once more; in memory there is none but
// the one.
func another(t *testing.T, s *Store) *Store {
	t.Helper()
	if s.dsn == ":memory:" {
		return s
	}
	again, err := open(t.Context(), s.dialect, s.name, s.dsn, clock)
	return opened(t, again, err)
}
