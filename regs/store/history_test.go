package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
)

// edit is a shipped record with some cells changed, as an edit of the row of
// its id as a revision wrote it, 0 where there is none.
func edit(t *testing.T, was int, id string, changes map[string]string) Edit {
	t.Helper()
	r := record(t, id, changes)
	return Edit{Table: limits, ID: r[0], Record: r, Was: was}
}

// without is the edit that removes a row.
func without(was int, id string) Edit { return Edit{Table: limits, ID: id, Was: was} }

func made(t *testing.T, s *Store, edits ...Edit) Revision {
	t.Helper()
	r, err := s.Change(t.Context(), "a user", "a letter came", edits)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Any past state can be read, and what changed between two is told.
func keepsWhatWas(t *testing.T, s *Store) {
	first := snapshot(t, s)
	second := made(t, s, edit(t, 1, "ca-on-height-01", map[string]string{"published": "4.2 m", "threshold": "4.2 m"}), edit(t, 0, "ca-on-height-01", map[string]string{"id": "zz-1"}))
	third := made(t, s, without(1, "ca-on-width-01"))
	if second.Number != 2 || third.Number != 3 {
		t.Fatalf("revisions %d and %d", second.Number, third.Number)
	}
	past, err := s.SnapshotAt(t.Context(), 1)
	if err != nil || past.Revision != first.Revision || !sameRows(past.Rows(""), first.Rows("")) {
		t.Errorf("revision 1 is read as %v, %v", past, err)
	}
	now := snapshot(t, s)
	if n := len(now.Rows("")); n != shippedLimits { // one more, one less
		t.Errorf("%d rows", n)
	}
	got, err := s.Compare(t.Context(), 1, newest)
	if err != nil || len(got) != 3 {
		t.Fatalf("%d differences, %v", len(got), err)
	}
	for i, want := range []struct {
		id            string
		before, after bool
		columns       int
	}{{"ca-on-height-01", true, true, 2}, {"ca-on-width-01", true, false, len(limit.Table().Columns)}, {"zz-1", false, true, len(limit.Table().Columns)}} {
		d := got[i]
		if d.Table != limits || d.ID != want.id || (d.Before != nil) != want.before || (d.After != nil) != want.after || len(d.Columns()) != want.columns {
			t.Errorf("difference %d: %s, before %t, after %t, in %v", i, d.ID, d.Before != nil, d.After != nil, d.Columns())
		}
	}
	history, err := s.History(t.Context())
	if err != nil || len(history) != 3 || history[0] != third || history[1] != second || history[2].Who != "wayhouse" {
		t.Errorf("history %+v, %v", history, err)
	}
	removed, err := lastEntry(t, s, "ca-on-width-01")
	if err != nil || !removed.removed || removed.revision != 3 || !slices.Equal(removed.record, record(t, "ca-on-width-01", nil)) {
		t.Errorf("of the row that was removed is kept %+v, %v", removed, err)
	}
	var none *NoRevisionError
	for _, number := range []int{-1, 4, 1 << 30} {
		if _, err := s.SnapshotAt(t.Context(), number); !errors.As(err, &none) || none.Newest != 3 {
			t.Errorf("revision %d: %v", number, err)
		}
	}
}

// lastEntry is what is kept of a row, also of one that was removed.
func lastEntry(t *testing.T, s *Store, id string) (e entry, err error) {
	t.Helper()
	err = s.inTx(t.Context(), func(ctx context.Context, tx *sql.Tx) error {
		found, err := lastOf(t.Context(), tx, latest, []rowKey{{limits, id}})
		if err == nil && len(found) != 1 {
			return errors.New("nothing")
		}
		e = found[0]
		return err
	})
	return e, err
}

// A restored state is a new revision with the rows of the old one.
func restores(t *testing.T, s *Store) {
	first := snapshot(t, s)
	made(t, s, edit(t, 1, "ca-on-height-01", map[string]string{"published": "4.2 m", "threshold": "4.2 m"}), without(1, "ca-on-width-01"), edit(t, 0, "ca-on-height-01", map[string]string{"id": "zz-1"}))
	r, err := s.Restore(t.Context(), 1, "a user", "the letter was withdrawn")
	if err != nil || r.Number != 3 {
		t.Fatalf("%+v, %v", r, err)
	}
	if got := snapshot(t, s); !sameRows(got.Rows(""), first.Rows("")) || got.Revision == first.Revision {
		t.Errorf("revision %s after %s: %d rows", got.Revision, first.Revision, len(got.Rows("")))
	}
	if d, err := s.Compare(t.Context(), 1, 3); err != nil || len(d) != 0 {
		t.Errorf("%d differences to the state restored, %v", len(d), err)
	}
	var refused *EditError
	if _, err := s.Restore(t.Context(), 1, "a user", "again"); !errors.As(err, &refused) {
		t.Errorf("nothing to restore: %v", err)
	}
}

// A change that cannot be made whole is not made at all.
func refusesEdits(t *testing.T, s *Store) {
	good := edit(t, 0, "ca-on-height-01", map[string]string{"id": "zz-1"})
	for name, c := range map[string]struct {
		edits []Edit
		says  string
	}{
		"nothing":          {nil, "error.nothing_is_to_be"},
		"a bad cell":       {[]Edit{good, edit(t, 0, "ca-on-height-01", map[string]string{"id": "zz-2", "threshold": "4.15"})}, `limits: row "zz-2": error.in_cell(at: error.cell(line: 1, column: threshold)`},
		"twice":            {[]Edit{good, good}, `limits: row "zz-1": error.edited_twice`},
		"removed unknown":  {[]Edit{good, without(0, "not there")}, `limits: row "not there"`},
		"another id in it": {[]Edit{{Table: limits, ID: "zz-3", Record: good.Record}}, `limits: row "zz-3"`},
		"too few columns":  {[]Edit{{Table: limits, ID: "zz-1", Record: good.Record[:3]}}, `limits: row "zz-1"`},
	} {
		var refused *EditError
		if _, err := s.Change(t.Context(), "a user", "a letter came", c.edits); !errors.As(err, &refused) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want an EditError that says %q", name, err, c.says)
		}
	}
	var unknown *measure.FieldError
	for _, table := range []string{"", "limit", "Limits", "entry"} {
		if _, err := s.Change(t.Context(), "a user", "a letter came", []Edit{{Table: table, ID: "zz-1", Record: good.Record}}); !errors.As(err, &unknown) || unknown.Field != "table" {
			t.Errorf("a change of table %q: %v", table, err)
		}
	}
	for _, who := range [][2]string{{"", "why"}, {"who", " "}} {
		if _, err := s.Change(t.Context(), who[0], who[1], []Edit{good}); err == nil {
			t.Errorf("made by %q for %q", who[0], who[1])
		}
	}
	if n := count(t, s, "revision"); n != 1 {
		t.Errorf("%d revisions after changes that were refused", n)
	}
}

// Who changes what somebody else has changed meanwhile is told.
func conflicts(t *testing.T, s *Store) {
	made(t, s, edit(t, 1, "ca-on-height-01", map[string]string{"note": "one letter"}))
	var conflict *ConflictError
	_, err := s.Change(t.Context(), "another", "another letter", []Edit{edit(t, 1, "ca-on-height-01", map[string]string{"note": "another letter"})})
	if want := (ConflictError{limits, "ca-on-height-01", 1, 2}); !errors.As(err, &conflict) || *conflict != want {
		t.Errorf("%v, want %v", err, &want)
	}
}

// Eight writers at once lose no edit and keep every revision, and none has to
// try again: they edit different rows.
func manyWriters(t *testing.T, s *Store) {
	const writers, each = 8, 6
	base := record(t, "ca-on-height-01", nil)
	var wg sync.WaitGroup
	failed := make(chan error, writers)
	for w := range writers {
		wg.Go(func() {
			for i := range each {
				r := slices.Clone(base)
				r[0] = fmt.Sprintf("zz-%d-%d", w, i)
				if _, err := s.Change(t.Context(), "a writer", "a test", []Edit{{Table: limits, ID: r[0], Record: r}}); err != nil {
					failed <- err
					return
				}
			}
		})
	}
	wg.Wait()
	close(failed)
	for err := range failed {
		t.Error(err)
	}
	history, err := s.History(t.Context())
	if err != nil || len(history) != 1+writers*each {
		t.Fatalf("%d revisions, %v", len(history), err)
	}
	for i, r := range history {
		if r.Number != len(history)-i {
			t.Errorf("revision %d stands at %d", r.Number, i)
		}
	}
	if n := len(snapshot(t, s).Rows("")); n != shippedLimits+writers*each {
		t.Errorf("%d rows", n)
	}
}

// A change is heard of, also one that was made before anybody listened.
func tellsOfChanges(t *testing.T, s *Store) {
	made(t, s, edit(t, 0, "ca-on-height-01", map[string]string{"id": "zz-1"}))
	ctx, stop := context.WithCancel(t.Context())
	heard := make(chan int, 10)
	ended := make(chan error)
	go func() { ended <- s.Watch(ctx, 1, func(number int) { heard <- number }) }()
	if got := <-heard; got != 2 {
		t.Errorf("heard of %d, want 2", got)
	}
	made(t, s, edit(t, 0, "ca-on-height-01", map[string]string{"id": "zz-2"}))
	if got := <-heard; got != 3 {
		t.Errorf("heard of %d, want 3", got)
	}
	stop()
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("ended with %v", err)
	}
	select {
	case got := <-heard:
		t.Errorf("heard of %d without a change", got)
	case <-time.After(10 * time.Millisecond):
	}
}
