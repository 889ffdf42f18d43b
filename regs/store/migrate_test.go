package store

import (
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/pressly/goose/v3"

	"wayhouse/migrations"
	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
)

// oddNote holds what JSON and SQL write in another way.
const oddNote = "'a' \"b\" \\ / \\u0041 {\"c\": null} $1 %s\ttab\nline\r\n\u0001 \u2028 é 🌳 </x>"

// madeByVersion1 puts a database in the place of the one of a store, as the
// version made it that had a table for limits and one for authorities: seeded,
// changed by a second revision and with a row removed by a third. It returns
// the records of the second.
func madeByVersion1(t *testing.T, s *Store) []rows.Record {
	t.Helper()
	execute(t, s, `DROP VIEW kept`)
	execute(t, s, `DROP TABLE entry`)
	execute(t, s, `DROP TABLE document`)
	execute(t, s, `DROP TABLE revision`)
	execute(t, s, `DROP TABLE goose_db_version`)
	s.last, s.past = nil, nil
	files, err := fs.Sub(migrations.Files, s.dialect.folder)
	if err != nil {
		t.Fatal(err)
	}
	p, err := goose.NewProvider(s.dialect.goose, s.db, files, goose.WithVerbose(false))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.UpTo(t.Context(), 1); err != nil {
		t.Fatal(err)
	}
	for number, why := range []string{"shipped rows", "a letter came", "it's \"void\""} {
		execute(t, s, `INSERT INTO revision (number, made_at, who, why) VALUES ($1, $2, $3, $4)`, number+1, fmt.Sprintf("2026-12-0%dT10:00:00Z", number+1), "somebody", why)
	}
	for _, r := range ofVersion1(t) {
		insertVersion1(t, s, 1, 0, r)
	}
	for _, o := range shippedOffices(t) {
		execute(t, s, `INSERT INTO authority (jurisdiction, name, contact, source, revision) VALUES ($1, $2, $3, $4, $5)`, o.Jurisdiction, o.Name, o.Contact, o.Cite(), 1)
	}
	second := []rows.Record{
		record(t, "ca-on-height-01", map[string]string{"published": "4.2 m", "threshold": "4.2 m"}),
		record(t, "ca-on-height-01", map[string]string{"id": "zz-1", "note": oddNote, "source": " with space "}),
	}
	for _, r := range second {
		insertVersion1(t, s, 2, 0, r)
	}
	insertVersion1(t, s, 3, 1, record(t, "ca-on-width-01", nil))
	return second
}

func execute(t *testing.T, s *Store, statement string, args ...any) {
	t.Helper()
	if _, err := s.db.ExecContext(t.Context(), statement, args...); err != nil {
		t.Fatalf("%.60s: %v", statement, err)
	}
}

// later are columns of limits that the first version did not have.
var later = []string{"tow", "roads", "group", "spread", "axle", "term_days"}

// ofVersion1 are the shipped limits without what came later.
func ofVersion1(t *testing.T) []rows.Record {
	t.Helper()
	var out []rows.Record
	for _, r := range records(t) {
		r = slices.Clone(r)
		for _, name := range later {
			r[slices.Index(limit.Table().Columns, name)] = ""
		}
		out = append(out, r)
	}
	return out
}

// insertVersion1 writes a row as that version did.
func insertVersion1(t *testing.T, s *Store, revision, removed int, r rows.Record) {
	t.Helper()
	var places, columns []string
	var args []any
	for i, name := range limit.Table().Columns {
		if !slices.Contains(later, name) {
			columns, args = append(columns, name), append(args, r[i])
		}
	}
	args = append(args, revision, removed)
	for i := range args {
		places = append(places, fmt.Sprintf("$%d", i+1))
	}
	execute(t, s, `INSERT INTO limit_row ("`+strings.Join(columns, `", "`)+`", revision, removed) VALUES (`+strings.Join(places, ", ")+`)`, args...)
}

// upgraded opens the database of a store with this version; in memory it is
// brought up to date where it is.
func upgraded(t *testing.T, s *Store) *Store {
	t.Helper()
	again := another(t, s)
	if again == s {
		if err := s.prepare(t.Context(), s.dialect); err != nil {
			t.Fatal(err)
		}
	}
	return again
}

// What a store of the first version held it holds now: the same rows, the same
// history and the same past.
func comesFromVersion1(t *testing.T, s *Store) {
	second := madeByVersion1(t, s)
	s = upgraded(t, s)
	history, err := s.History(t.Context())
	if err != nil || len(history) != 3 {
		t.Fatalf("%d revisions, %v", len(history), err)
	}
	for i, why := range []string{"it's \"void\"", "a letter came", "shipped rows"} {
		if r := history[i]; r.Number != 3-i || r.Why != why || r.Who != "somebody" || r.MadeAt.Format("2006-01-02 15:04") != fmt.Sprintf("2026-12-0%d 10:00", 3-i) {
			t.Errorf("history: %+v", r)
		}
	}
	first := ofVersion1(t)
	slices.SortFunc(first, func(a, b rows.Record) int { return strings.Compare(a[0], b[0]) })
	then := slices.Clone(first)
	then[indexOf(then, "ca-on-height-01")] = second[0]
	then = append(then, second[1])
	last := slices.Delete(slices.Clone(then), indexOf(then, "ca-on-width-01"), indexOf(then, "ca-on-width-01")+1)
	for revision, want := range map[int][]rows.Record{1: first, 2: then, 3: last, newest: last} {
		kept, err := s.Records(t.Context(), limits, revision)
		if err != nil || len(kept) != len(want) {
			t.Errorf("revision %d: %d rows, %v; want %d", revision, len(kept), err, len(want))
			continue
		}
		for i, k := range kept {
			wrote := 1
			if slices.Contains([]string{"zz-1", "ca-on-height-01"}, k.ID()) && revision != 1 {
				wrote = 2
			}
			if !slices.Equal(k.Record, want[i]) || k.Revision != wrote || k.Table != limits {
				t.Errorf("revision %d: %+v, want %q by revision %d", revision, k, want[i], wrote)
			}
		}
	}
	for _, revision := range []int{1, 3} {
		tables := at(t, s, revision)
		for _, o := range shippedOffices(t) {
			if got := tables.Office(o.Jurisdiction); got.Get("name") != o.Name || got.Get("contact") != o.Contact {
				t.Errorf("whom to ask in %s at revision %d: %v, want %+v", o.Jurisdiction, revision, got, o)
			}
		}
	}
	if d, err := s.Compare(t.Context(), 1, newest); err != nil || len(d) != 3 || d[0].ID != "ca-on-height-01" || d[1].ID != "ca-on-width-01" || d[1].After != nil || d[2].ID != "zz-1" {
		t.Errorf("%d differences, the first %+v, %v", len(d), d[:min(3, len(d))], err)
	}
}

func indexOf(records []rows.Record, id string) int {
	return slices.IndexFunc(records, func(r rows.Record) bool { return r[0] == id })
}

// A store that came from the first version goes on: rows are changed as they
// were written there, its past is restored, and an upgrade knows which rows
// its user touched.
func goesOnFromVersion1(t *testing.T, s *Store) {
	madeByVersion1(t, s)
	s = upgraded(t, s)
	u, err := s.ProposeUpgrade(t.Context())
	if err != nil || len(u.Conflicts) != 0 {
		t.Fatalf("upgrade: conflicts %+v, %v", u.Conflicts, err)
	}
	for _, d := range u.Differences {
		if d.Table != "offices" && d.Table != limits && d.Before == nil {
			continue // that version did not have the table
		}
		if d.Table == limits && d.Before != nil && !slices.ContainsFunc(d.Columns(), func(c string) bool { return !slices.Contains(later, c) }) {
			continue // or these columns of it
		}
		// That version kept the source of an office as one text and no address.
		if d.Table != "offices" || d.Before == nil || d.After == nil || slices.ContainsFunc(d.Columns(), func(c string) bool {
			return !slices.Contains([]string{"source", "section", "source_year", "source_url", "read_on"}, c)
		}) {
			t.Errorf("upgrade: %+v", d)
		}
	}
	if r := made(t, s, u.Edits...); r.Number != 4 {
		t.Errorf("revision %d, want 4", r.Number)
	}
	made(t, s, edit(t, 2, "ca-on-height-01", nil), without(2, "zz-1"), edit(t, 0, "ca-on-width-01", nil))
	if got := snapshot(t, s); !sameRows(got.Rows(""), shipped(t).Rows("")) || got.Revision[2:] != snapshot(t, memory(t)).Revision[2:] {
		t.Errorf("%s with %d rows; want those and the sum of a new store", got.Revision, len(got.Rows("")))
	}
	if _, err := s.Restore(t.Context(), 3, "a user", "the letter counts after all"); err != nil {
		t.Fatal(err)
	}
	if d, err := s.Compare(t.Context(), 3, newest); err != nil || len(d) != 0 {
		t.Errorf("%d differences to the state restored, %v", len(d), err)
	}
}

// A store of the first version that nobody seeded is seeded now.
func comesFromEmptyVersion1(t *testing.T, s *Store) {
	want := snapshot(t, s).Revision
	madeByVersion1(t, s)
	for _, table := range []string{"limit_row", "authority", "revision"} {
		execute(t, s, `DELETE FROM `+table)
	}
	if got := snapshot(t, upgraded(t, s)).Revision; got != want {
		t.Errorf("revision %q, want %q", got, want)
	}
}

// Copies of the service that are renewed at once: one brings the database up
// to date, the others wait.
func renewedAtOnce(t *testing.T, s *Store) {
	madeByVersion1(t, s)
	if s.dsn == ":memory:" {
		upgraded(t, s)
		return
	}
	together(t, 4, func(int) error {
		again, err := open(t.Context(), s.dialect, s.name, s.dsn, clock)
		if err != nil {
			return err
		}
		defer again.Close()
		kept, err := again.Records(t.Context(), limits, newest)
		if err == nil && len(kept) != shippedLimits {
			err = fmt.Errorf("%d rows", len(kept))
		}
		return err
	})
	if revisions, rows := count(t, s, "revision"), count(t, s, "entry"); revisions != 3 || rows != shippedLimits+27+3 {
		t.Errorf("%d revisions with %d rows, want 3 with those of three changes", revisions, rows)
	}
}

// A file of the first version that lost a table is refused and stays as it is.
func TestVersion1WithoutItsTables(t *testing.T) {
	for _, table := range []string{"limit_row", "authority"} {
		path := filepath.Join(t.TempDir(), "tables.db")
		s := inFile(t, path)
		madeByVersion1(t, s)
		execute(t, s, `DROP TABLE `+table)
		again, err := OpenFile(t.Context(), path, clock)
		if err == nil {
			again.Close()
		}
		if err == nil || !strings.Contains(err.Error(), table) || !strings.Contains(err.Error(), path) {
			t.Errorf("without %s: %v; want an error that names it and the file", table, err)
		}
		if n := count(t, s, "sqlite_master WHERE name = 'entry'"); n != 0 {
			t.Errorf("without %s: a half of the new tables was made", table)
		}
	}
}
