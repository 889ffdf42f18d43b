package store

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs"
	"wayhouse/regs/limit"
	"wayhouse/regs/permit"
	"wayhouse/regs/rows"
)

// emptied takes every row out of a store, as if nothing had ever been in it
// but the first revision.
func emptied(t fataler, s *Store) {
	t.Helper()
	for _, statement := range []string{`DELETE FROM entry`, `DELETE FROM revision WHERE number > 1`} {
		if _, err := s.db.Exec(statement); err != nil {
			t.Fatalf("%v", err)
		}
	}
	s.last, s.past = nil, nil
}

// office is the first shipped office with another id and contact.
func office(t fataler, id, contact string) rows.Record {
	t.Helper()
	records, err := permit.Offices().Records(file(t, "tables/offices.csv"))
	if err != nil {
		t.Fatalf("%v", err)
	}
	r := records[0]
	r[0], r[3] = id, contact
	return r
}

// drawEdits draws edits of a few rows, each as it is now.
func drawEdits(t *rapid.T, s *Store, base rows.Record) []Edit {
	var out []Edit
	for _, name := range rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"limits a", "limits b", "limits c", "limits B", "limits é", "limits a-b", "offices a", "offices b"}), 1, 5, rapid.ID).Draw(t, "rows") {
		var e Edit
		e.Table, e.ID, _ = strings.Cut(name, " ")
		kept, err := s.Row(t.Context(), e.Table, e.ID)
		there := err == nil
		e.Was = kept.Revision
		if there && rapid.IntRange(0, 2).Draw(t, "remove") == 0 {
			out = append(out, e)
			continue
		}
		text := rapid.SampledFrom([]string{"", "one", "other"}).Draw(t, "text")
		if e.Table == limits {
			e.Record = slices.Clone(base)
			e.Record[0], e.Record[1] = e.ID, rapid.SampledFrom([]string{"CA-XX", "CA-YY"}).Draw(t, "in")
			e.Record[slices.Index(limit.Table().Columns, "note")] = text
		} else {
			e.Record = office(t, e.ID, text)
		}
		out = append(out, e)
	}
	return out
}

// What is read change by change, each time or now and then, is the same as
// what is read at once, and every past state stays what it was.
func readsChangesAlone(t *testing.T, s *Store) {
	base := record(t, "ca-on-height-01", nil)
	rapid.Check(t, func(t *rapid.T) {
		emptied(t, s)
		past := map[int]*regs.Tables{}
		for step := range rapid.IntRange(1, 8).Draw(t, "changes") {
			r, err := s.Change(t.Context(), "a user", "a letter came", drawEdits(t, s, base))
			if err != nil {
				t.Fatalf("change %d: %v", step, err)
			}
			if past[r.Number], err = s.SnapshotAt(t.Context(), r.Number); err != nil {
				t.Fatalf("%v", err)
			}
			if rapid.Bool().Draw(t, "look") {
				sameTables(t, s, past[r.Number])
			}
		}
		for number, want := range past {
			if got, err := s.SnapshotAt(t.Context(), number); err != nil || !alike(got, want) {
				t.Fatalf("revision %d is now read as %+v, %v; want %+v", number, got, err, want)
			}
		}
		sameTables(t, s, past[len(past)+1])
	})
}

// sameTables fails unless the newest state, read on from what the store read
// last, is one that was read at once.
func sameTables(t *rapid.T, s *Store, want *regs.Tables) {
	t.Helper()
	got, err := s.Snapshot(t.Context())
	if err != nil {
		t.Fatalf("%v", err)
	}
	if got.Revision != want.Revision || !alike(got, want) {
		t.Fatalf("read on: %s with %d rows; at once: %s with %d", got.Revision, len(got.Rows("")), want.Revision, len(want.Rows("")))
	}
}

// The sum is of the content: the same rows by another way have the same, and
// any other cell, id or table has another.
func sumIsOfContent(t *testing.T, s *Store) {
	emptied(t, s)
	sum := func() string { return snapshot(t, s).Revision[len("1-"):] }
	none := sum()
	a := edit(t, 0, "ca-on-height-01", map[string]string{"id": "a"})
	made(t, s, a)
	one := sum()
	made(t, s, Edit{Table: "offices", ID: "a", Record: office(t, "a", "555")})
	both := sum()
	made(t, s, without(2, "a"))
	officeAlone := sum()
	made(t, s, a)
	if got := sum(); got != both {
		t.Errorf("sum %s after a row was taken out and put in again, %s before", got, both)
	}
	made(t, s, Edit{Table: "offices", ID: "a", Was: 3}, edit(t, 5, "ca-on-height-01", map[string]string{"id": "a", "note": "x"}))
	noted := sum()
	made(t, s, edit(t, 6, "ca-on-height-01", map[string]string{"id": "a"}))
	if got := sum(); got != one {
		t.Errorf("sum %s after all was taken back, %s before", got, one)
	}
	made(t, s, without(7, "a"), edit(t, 0, "ca-on-height-01", map[string]string{"id": "b"}))
	renamed := sum()
	made(t, s, without(8, "b"))
	if got := sum(); got != none {
		t.Errorf("sum %s of no rows, at first %s", got, none)
	}
	sums := []string{none, one, both, officeAlone, noted, renamed}
	slices.Sort(sums)
	if len(slices.Compact(sums)) != 6 {
		t.Errorf("different content has the same sum: %v", sums)
	}
}

// A table that does not change is not read again: its rows are the same ones.
func sharesWhatStays(t *testing.T, s *Store) {
	before := snapshot(t, s).Rows("")
	made(t, s, Edit{Table: "offices", ID: "zz-office", Record: office(t, "zz-office", "555")})
	made(t, s, edit(t, 1, "ca-on-height-01", map[string]string{"note": "x"}))
	shared := 0
	for i, r := range snapshot(t, s).Rows("") {
		if r == before[i] {
			shared++
		}
	}
	if shared != len(before)-1 {
		t.Errorf("%d rows of %d are those that were read before, want all but the one that changed", shared, len(before))
	}
}
