package store

import (
	"context"
	"database/sql"
	"errors"
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
)

// program is what one version of the program ships: the notes of its rows by
// id.
type program map[string]string

// tester is a test, drawn or not.
type tester interface {
	Context() context.Context
	Fatalf(format string, args ...any)
}

// upgradeTo takes a store to a version of the program and returns what that
// changed.
func upgradeTo(t tester, s *Store, base rows.Record, p program) Upgrade {
	u := upgradeFor(t, s, base, p)
	if len(u.Edits) > 0 {
		if _, err := s.Change(t.Context(), "a user", "upgrade", u.Edits); err != nil {
			t.Fatalf("%v", err)
		}
	}
	return u
}

// upgradeFor is what ProposeUpgrade would say if the program shipped this.
func upgradeFor(t tester, s *Store, base rows.Record, p program) Upgrade {
	var u Upgrade
	var shipped []entry
	for id, note := range p {
		shipped = append(shipped, entry{table: limits, id: id, record: noted(base, id, note), shipped: true})
	}
	err := s.inTx(t.Context(), func(ctx context.Context, tx *sql.Tx) error {
		is, err := readEntries(t.Context(), tx, `revision > 0`)
		if err != nil {
			return err
		}
		before, err := readEntries(t.Context(), tx, `shipped = 1`)
		u.work(shipped, before, is)
		return err
	})
	if err != nil {
		t.Fatalf("%v", err)
	}
	return u
}

// noted is a record with an id and a note.
func noted(base rows.Record, id, note string) rows.Record {
	r := slices.Clone(base)
	r[0], r[slices.Index(limit.Table().Columns, "note")] = id, note
	return r
}

// note returns the note of a row, and whether there is the row.
func note(t tester, s *Store, id string) (string, bool) {
	kept, err := s.Row(t.Context(), limits, id)
	var none *NoRowError
	if errors.As(err, &none) {
		return "", false
	}
	if err != nil {
		t.Fatalf("%v", err)
	}
	return kept.Record[slices.Index(limit.Table().Columns, "note")], true
}

var upgradedIDs = []string{"a", "b", "c"}

// touch changes, adds or removes some rows as a user does, rivals too. It
// returns the ids.
func touch(t *rapid.T, s *Store, base rows.Record) []string {
	ids := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"a", "b", "c", "a~shipped", "b~shipped", "c~shipped"}), 0, 2, rapid.ID).Draw(t, "touched")
	return slices.DeleteFunc(ids, func(id string) bool {
		kept, _ := s.Row(t.Context(), limits, id)
		e := Edit{Table: limits, ID: id, Was: kept.Revision}
		if kept.Record == nil && len(id) > 1 {
			return true // nobody adds a rival by hand
		}
		if kept.Record == nil || rapid.Bool().Draw(t, "change") {
			e.Record = noted(base, id, rapid.SampledFrom([]string{"1", "2", "3", "mine"}).Draw(t, "note"))
		}
		if _, err := s.Change(t.Context(), "a user", "a letter came", []Edit{e}); err != nil {
			t.Fatalf("%v", err)
		}
		return false
	})
}

// A shipped version beside the user's row that went with the program takes the user's
// row with it no more, not even where the two came to say the same.
func TestWhatWentTakesNoRowOfTheUser(t *testing.T) {
	s, base := memory(t), record(t, "ca-on-height-01", nil)
	mine := func(was int, note string) {
		t.Helper()
		made(t, s, Edit{Table: limits, ID: "zz", Was: was, Record: noted(base, "zz", note)})
	}
	mine(0, "2")
	upgradeTo(t, s, base, program{"zz": "3"}) // beside the user's
	upgradeTo(t, s, base, program{"zz": "2"}) // what the user has
	kept, err := s.Row(t.Context(), limits, "zz")
	if err != nil {
		t.Fatal(err)
	}
	mine(kept.Revision, "3")
	for range 2 {
		upgradeTo(t, s, base, program{})
		if got, there := note(t, s, "zz"); !there || got != "3" {
			t.Fatalf("the user's row is %q, %t", got, there)
		}
	}
}

// Over several versions of the program and what a user does between them: a
// row that nobody touched is the shipped one, a row that the user touched is
// never changed back, and what is shipped anew binds, in its own place or
// beside the user's.
func TestUpgradesOverVersions(t *testing.T) {
	s := memory(t)
	base := record(t, "ca-on-height-01", nil)
	rapid.Check(t, func(t *rapid.T) {
		emptied(t, s)
		touched := map[string]bool{}
		last := program{} // of each row what was shipped last, if it still is or not
		for range rapid.IntRange(2, 5).Draw(t, "versions") {
			next := program(rapid.MapOf(rapid.SampledFrom(upgradedIDs), rapid.SampledFrom([]string{"1", "2", "3"})).Draw(t, "ships"))
			before := map[string]string{}
			for _, id := range upgradedIDs {
				if n, there := note(t, s, id); there {
					before[id] = n
				}
			}
			upgradeTo(t, s, base, next)
			if again := upgradeFor(t, s, base, next); len(again.Edits)+len(again.Differences) != 0 {
				t.Fatalf("right after: %+v", again)
			}
			for _, id := range upgradedIDs {
				n, there := note(t, s, id)
				rival, beside := note(t, s, id+rows.RivalSuffix)
				ships, still := next[id]
				old := last[id]
				t.Logf("%s: shipped %q then %q, was %q, is %q %t, beside it %q %t", id, old, ships, before[id], n, there, rival, beside)
				switch {
				case !touched[id] && (there != still || n != ships || beside):
					t.Fatalf("%s: nobody touched it, and it is not as shipped", id)
				case still && old != ships && !(there && n == ships) && !(beside && rival == ships):
					t.Fatalf("%s: what is shipped now does not bind", id)
				case touched[id] && before[id] == "mine" && n != "mine":
					t.Fatalf("%s: the user's row was changed", id)
				}
			}
			for _, id := range touch(t, s, base) {
				touched[id[:1]] = true
			}
			maps.Copy(last, next)
		}
	})
}
