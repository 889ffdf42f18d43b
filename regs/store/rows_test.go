package store

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"wayhouse/regs/rows"
)

// Who changes, adds or removes other rows than somebody else since, or a row
// of that id in another table, is not in the way.
func otherRowsDoNotConflict(t *testing.T, s *Store) {
	for i, e := range []Edit{
		edit(t, 1, "ca-on-height-01", map[string]string{"note": "one"}),
		edit(t, 1, "ca-on-width-01", map[string]string{"note": "other"}),
		without(1, "ca-qc-height-01"),
		edit(t, 0, "ca-on-height-01", map[string]string{"id": "zz-1"}),
		edit(t, 0, "ca-on-height-01", map[string]string{"id": "zz-2"}),
		{Table: "offices", ID: "zz-1", Record: office(t, "zz-1", "555")},
		{Table: "offices", ID: "ca-on-height-01", Record: office(t, "ca-on-height-01", "555")},
		{Table: "offices", ID: "ca-on-office", Was: 1},
	} {
		if r := made(t, s, e); r.Number != i+2 {
			t.Errorf("%s %s: revision %d, want %d", e.Table, e.ID, r.Number, i+2)
		}
	}
}

// A row that is not as it was when its edit was made is told of, and nothing
// is changed: what was meant may be wrong now.
func sameRowsConflict(t *testing.T, s *Store) {
	set := func(was int, note string) Edit {
		return edit(t, was, "ca-on-height-01", map[string]string{"id": "zz-1", "note": note})
	}
	const id = "zz-1"
	other := edit(t, 1, "ca-on-width-01", map[string]string{"note": "good"})
	refused := func(e Edit, is int) {
		t.Helper()
		before := count(t, s, "revision")
		for _, edits := range [][]Edit{{e}, {other, e}, {e, other}} {
			var conflict *ConflictError
			_, err := s.Change(t.Context(), "another", "another letter", edits)
			if want := (ConflictError{limits, id, e.Was, is}); !errors.As(err, &conflict) || *conflict != want || !strings.Contains(err.Error(), want.Remark().String()) {
				t.Errorf("%v; want %+v", err, want)
			}
		}
		if n := count(t, s, "revision"); n != before {
			t.Errorf("%d revisions after changes that were refused, %d before", n, before)
		}
	}
	var impossible *EditError

	refused(set(1, "of a row that never was"), 0)
	refused(without(1, id), 0)
	if _, err := s.Change(t.Context(), "another", "another letter", []Edit{without(0, id)}); !errors.As(err, &impossible) {
		t.Errorf("removed a row that never was: %v", err)
	}

	made(t, s, set(0, "added")) // revision 2
	refused(set(0, "added by another too"), 2)
	refused(set(1, "as it never was"), 2)
	refused(set(3, "as it is not yet"), 2)
	refused(without(0, id), 2)
	refused(without(1, id), 2)

	made(t, s, set(2, "changed")) // revision 3
	refused(set(2, "changed by another too"), 3)
	refused(without(2, id), 3)
	refused(set(0, "added by another too"), 3)

	made(t, s, without(3, id)) // revision 4
	refused(set(3, "changed by another too"), 0)
	refused(set(4, "of the row that is gone"), 0)
	refused(without(3, id), 0)
	refused(without(4, id), 0)
	if _, err := s.Change(t.Context(), "another", "another letter", []Edit{without(0, id)}); !errors.As(err, &impossible) {
		t.Errorf("removed a row that is gone: %v", err)
	}

	made(t, s, set(0, "added again")) // revision 5
	refused(set(3, "from before it was removed"), 5)
	refused(without(4, id), 5)
	made(t, s, without(5, id), other)
	var none *NoRowError
	if _, err := s.Row(t.Context(), limits, id); !errors.As(err, &none) || *none != (NoRowError{limits, id}) {
		t.Errorf("a row that is gone: %v", err)
	}
	if k, err := s.Row(t.Context(), limits, "ca-on-width-01"); err != nil || k.Revision != 6 || !reflect.DeepEqual(k.Record, other.Record) {
		t.Errorf("the other row is %+v, %v", k, err)
	}
}

// Of many who make the same edit at once exactly one does; the others are told
// of the conflict, and of whose revision it is with.
func oneOfManyWins(t *testing.T, s *Store) {
	for round, e := range []Edit{
		edit(t, 0, "ca-on-height-01", map[string]string{"id": "zz-1"}),
		edit(t, 2, "ca-on-height-01", map[string]string{"id": "zz-1", "note": "x"}),
		without(3, "zz-1"),
	} {
		const writers = 8
		errs := make([]error, writers)
		var all sync.WaitGroup
		for w := range writers {
			all.Go(func() { _, errs[w] = s.Change(t.Context(), fmt.Sprint(w), "a test", []Edit{e}) })
		}
		all.Wait()
		won, is := 0, round+2
		if e.Record == nil {
			is = 0
		}
		for _, err := range errs {
			var conflict *ConflictError
			switch {
			case err == nil:
				won++
			case !errors.As(err, &conflict) || *conflict != ConflictError{limits, "zz-1", e.Was, is}:
				t.Errorf("round %d: %v", round+1, err)
			}
		}
		if won != 1 || count(t, s, "revision") != round+2 {
			t.Errorf("round %d: %d made the change, and there are %d revisions", round+1, won, count(t, s, "revision"))
		}
	}
}

// The records of a proposal are those of one table: rows of other tables and,
// unless all are given, other rows stay.
func proposes(t *testing.T, s *Store) {
	lower := record(t, "ca-on-height-01", map[string]string{"published": "3.9 m", "threshold": "3.9 m"})
	added := record(t, "ca-on-height-01", map[string]string{"id": "zz-1"})
	given := []rows.Record{lower, added, record(t, "ca-on-width-01", nil)}
	p, err := s.Propose(t.Context(), limits, given, false)
	if err != nil || p.Revision != 1 || len(p.Differences) != 2 || !reflect.DeepEqual(p.Edits, []Edit{
		{Table: limits, ID: "ca-on-height-01", Record: lower, Was: 1}, {Table: limits, ID: "zz-1", Record: added},
	}) {
		t.Errorf("%+v, %v", p, err)
	}
	all, err := s.Propose(t.Context(), limits, given, true)
	if err != nil || len(all.Edits) != shippedLimits-2+2 || len(all.Differences) != len(all.Edits) {
		t.Errorf("with all: %d edits, %d differences, %v", len(all.Edits), len(all.Differences), err)
	}
	if n := count(t, s, "revision"); n != 1 {
		t.Errorf("%d revisions after proposals", n)
	}
	made(t, s, edit(t, 1, "ca-qc-height-01", map[string]string{"note": "a letter"}))
	made(t, s, p.Edits...) // another row is in the way of nobody
	var conflict *ConflictError
	if _, err := s.Change(t.Context(), "a user", "a file", all.Edits); !errors.As(err, &conflict) {
		t.Errorf("a proposal that was overtaken: %v", err)
	}
	if all, err = s.Propose(t.Context(), limits, given, true); err != nil {
		t.Fatal(err)
	}
	made(t, s, all.Edits...)
	if kept, err := s.Records(t.Context(), limits, newest); err != nil || len(kept) != 3 {
		t.Errorf("%d rows, %v; want the 3 that were given", len(kept), err)
	}
	if kept, err := s.Records(t.Context(), "offices", newest); err != nil || len(kept) != 27 {
		t.Errorf("%d offices, %v; want 27", len(kept), err)
	}
	if p, err := s.Propose(t.Context(), limits, given, true); err != nil || len(p.Edits)+len(p.Differences) != 0 || p.Revision != 4 {
		t.Errorf("the same again: %+v, %v", p, err)
	}
}

// Comparing and restoring go over every table.
func allTables(t *testing.T, s *Store) {
	made(t, s, edit(t, 1, "ca-on-height-01", map[string]string{"note": "x"}), Edit{Table: "offices", ID: "ca-on-office", Was: 1}, Edit{Table: "offices", ID: "zz-1", Record: office(t, "zz-1", "555")})
	got, err := s.Compare(t.Context(), 1, newest)
	var names []string
	for _, d := range got {
		names = append(names, fmt.Sprintf("%s %s %t %t %d", d.Table, d.ID, d.Before != nil, d.After != nil, len(d.Columns())))
	}
	if want := []string{"limits ca-on-height-01 true true 1", "offices ca-on-office true false 10", "offices zz-1 false true 10"}; err != nil || !slices.Equal(names, want) {
		t.Errorf("%q, %v; want %q", names, err, want)
	}
	back, err := s.Compare(t.Context(), newest, 1)
	if err != nil || len(back) != len(got) {
		t.Fatalf("the other way: %d differences, %v", len(back), err)
	}
	for i, d := range back {
		if d.Table != got[i].Table || d.ID != got[i].ID || !slices.Equal(d.Before, got[i].After) || !slices.Equal(d.After, got[i].Before) {
			t.Errorf("the other way: %+v, want %+v turned round", d, got[i])
		}
	}
	if got, shipped := snapshot(t, s).Office("CA-ON").String(), shipped(t).Office("CA-ON").String(); got == shipped || got != "office.permits(of: CA-ON)" {
		t.Errorf("whom to ask without an office: %q, with it %q", got, shipped)
	}
	if _, err := s.Restore(t.Context(), 1, "a user", "a slip"); err != nil {
		t.Fatal(err)
	}
	if d, err := s.Compare(t.Context(), 1, newest); err != nil || len(d) != 0 {
		t.Errorf("%d differences after all was restored, %v", len(d), err)
	}
	if got, want := snapshot(t, s).Office("CA-ON").String(), shipped(t).Office("CA-ON").String(); got != want {
		t.Errorf("whom to ask: %q, want %q", got, want)
	}
}
