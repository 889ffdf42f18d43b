package store

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"sync"
	"testing"
	"time"

	"wayhouse/regs/limit"
)

// edit is a shipped record with some cells changed, as an edit.
func edit(t *testing.T, id string, changes map[string]string) Edit {
	t.Helper()
	r := record(t, id, changes)
	return Edit{r[0], r}
}

func made(t *testing.T, s *Store, base int, edits ...Edit) Revision {
	t.Helper()
	r, err := s.Change(t.Context(), base, "a user", "a letter came", edits)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Any past state can be read, and what changed between two is told.
func keepsWhatWas(t *testing.T, s *Store) {
	first := snapshot(t, s)
	second := made(t, s, 1, edit(t, "ca-on-height-01", map[string]string{"published": "4.2 m", "threshold": "4.2 m"}), edit(t, "ca-on-height-01", map[string]string{"id": "zz-1"}))
	third := made(t, s, second.Number, Edit{ID: "ca-on-width-01"})
	if second.Number != 2 || third.Number != 3 {
		t.Fatalf("revisions %d and %d", second.Number, third.Number)
	}
	past, err := s.SnapshotAt(t.Context(), 1)
	if err != nil || past.Revision != first.Revision || !reflect.DeepEqual(past.Rows(""), first.Rows("")) {
		t.Errorf("revision 1 is read as %v, %v", past, err)
	}
	now := snapshot(t, s)
	if n := len(now.Rows("")); n != 362 { // one more, one less
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
	}{{"ca-on-height-01", true, true, 2}, {"ca-on-width-01", true, false, len(limit.Columns())}, {"zz-1", false, true, len(limit.Columns())}} {
		d := got[i]
		if d.ID != want.id || (d.Before != nil) != want.before || (d.After != nil) != want.after || len(d.Columns()) != want.columns {
			t.Errorf("difference %d: %s, before %t, after %t, in %v", i, d.ID, d.Before != nil, d.After != nil, d.Columns())
		}
	}
	history, err := s.History(t.Context())
	if err != nil || len(history) != 3 || history[0] != third || history[1] != second || history[2].Who != "wayhouse" {
		t.Errorf("history %+v, %v", history, err)
	}
	var none *NoRevisionError
	for _, number := range []int{-1, 4, 1 << 30} {
		if _, err := s.SnapshotAt(t.Context(), number); !errors.As(err, &none) || none.Newest != 3 {
			t.Errorf("revision %d: %v", number, err)
		}
	}
}

// A restored state is a new revision with the rows of the old one.
func restores(t *testing.T, s *Store) {
	first := snapshot(t, s)
	made(t, s, 1, edit(t, "ca-on-height-01", map[string]string{"published": "4.2 m", "threshold": "4.2 m"}), Edit{ID: "ca-on-width-01"}, edit(t, "ca-on-height-01", map[string]string{"id": "zz-1"}))
	r, err := s.Restore(t.Context(), 2, 1, "a user", "the letter was withdrawn")
	if err != nil || r.Number != 3 {
		t.Fatalf("%+v, %v", r, err)
	}
	if got := snapshot(t, s); !reflect.DeepEqual(got.Rows(""), first.Rows("")) || got.Revision == first.Revision {
		t.Errorf("revision %s after %s: %d rows", got.Revision, first.Revision, len(got.Rows("")))
	}
	if d, err := s.Compare(t.Context(), 1, 3); err != nil || len(d) != 0 {
		t.Errorf("%d differences to the state restored, %v", len(d), err)
	}
	var refused *EditError
	if _, err := s.Restore(t.Context(), 3, 1, "a user", "again"); !errors.As(err, &refused) {
		t.Errorf("nothing to restore: %v", err)
	}
}

// A change that cannot be made whole is not made at all.
func refusesEdits(t *testing.T, s *Store) {
	good := edit(t, "ca-on-height-01", map[string]string{"id": "zz-1"})
	for name, edits := range map[string][]Edit{
		"nothing":          {},
		"a bad cell":       {good, edit(t, "ca-on-height-01", map[string]string{"id": "zz-2", "threshold": "4.15"})},
		"twice":            {good, good},
		"removed unknown":  {good, {ID: "not there"}},
		"another id in it": {{ID: "zz-3", Record: good.Record}},
		"too few columns":  {{ID: "zz-1", Record: good.Record[:3]}},
	} {
		var refused *EditError
		if _, err := s.Change(t.Context(), 1, "a user", "a letter came", edits); !errors.As(err, &refused) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, who := range [][2]string{{"", "why"}, {"who", " "}} {
		if _, err := s.Change(t.Context(), 1, who[0], who[1], []Edit{good}); err == nil {
			t.Errorf("made by %q for %q", who[0], who[1])
		}
	}
	if n := count(t, s, "revision"); n != 1 {
		t.Errorf("%d revisions after changes that were refused", n)
	}
}

// Who changes what somebody else has changed meanwhile is told.
func conflicts(t *testing.T, s *Store) {
	made(t, s, 1, edit(t, "ca-on-height-01", map[string]string{"id": "zz-1"}))
	var conflict *ConflictError
	_, err := s.Change(t.Context(), 1, "another", "another letter", []Edit{edit(t, "ca-on-height-01", map[string]string{"id": "zz-2"})})
	if !errors.As(err, &conflict) || conflict.Base != 1 || conflict.Newest != 2 {
		t.Errorf("%v", err)
	}
}

// Eight writers at once lose no edit and keep every revision: each tries again
// when another was first.
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
				if err := insist(t.Context(), s, Edit{r[0], r}); err != nil {
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
	if n := len(snapshot(t, s).Rows("")); n != 362+writers*each {
		t.Errorf("%d rows", n)
	}
}

// insist makes an edit for whatever state there is.
func insist(ctx context.Context, s *Store, e Edit) error {
	for {
		history, err := s.History(ctx)
		if err != nil {
			return err
		}
		var conflict *ConflictError
		if _, err = s.Change(ctx, history[0].Number, "a writer", "a test", []Edit{e}); !errors.As(err, &conflict) {
			return err
		}
	}
}

// A change is heard of, also one that was made before anybody listened.
func tellsOfChanges(t *testing.T, s *Store) {
	made(t, s, 1, edit(t, "ca-on-height-01", map[string]string{"id": "zz-1"}))
	ctx, stop := context.WithCancel(t.Context())
	heard := make(chan int, 10)
	ended := make(chan error)
	go func() { ended <- s.Watch(ctx, 1, func(number int) { heard <- number }) }()
	if got := <-heard; got != 2 {
		t.Errorf("heard of %d, want 2", got)
	}
	made(t, s, 2, edit(t, "ca-on-height-01", map[string]string{"id": "zz-2"}))
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
