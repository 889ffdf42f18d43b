package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"wayhouse/data"
	"wayhouse/regs"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/rows"
	"wayhouse/regs/window"
)

// limits is the name of the table that most tests change.
const limits = "limits"

var seededAt = time.Date(2027, 2, 3, 4, 5, 6, 0, time.UTC)

// shippedLimits is how many rows of limits come with the program.
const shippedLimits = 474

func clock() time.Time { return seededAt }

func memory(t *testing.T) *Store {
	t.Helper()
	s, err := OpenMemory(t.Context(), clock)
	return opened(t, s, err)
}

func inFile(t *testing.T, path string) *Store {
	t.Helper()
	s, err := OpenFile(t.Context(), path, clock)
	return opened(t, s, err)
}

func opened(t *testing.T, s *Store, err error) *Store {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func snapshot(t *testing.T, s *Store) *regs.Tables {
	t.Helper()
	tables, err := s.Snapshot(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

func count(t *testing.T, s *Store, table string) int {
	t.Helper()
	var n int
	if err := s.db.QueryRowContext(t.Context(), `SELECT count(*) FROM `+table).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

// entries counts what all revisions say of the rows of a table.
func entries(t *testing.T, s *Store, table string) int {
	t.Helper()
	return count(t, s, `entry WHERE in_table = '`+table+`'`)
}

func shipped(t *testing.T) *regs.Tables {
	t.Helper()
	read, _, err := limit.Table().ReadCSV(file(t, "tables/limits.csv"))
	if err != nil {
		t.Fatal(err)
	}
	return regs.NewTables("shipped", regs.Rows{Limits: pointers(read), Offices: pointers(shippedOffices(t))}, nil)
}

func shippedOffices(t *testing.T) []permit.Office {
	t.Helper()
	offices, _, err := permit.Offices().ReadCSV(file(t, "tables/offices.csv"))
	if err != nil {
		t.Fatal(err)
	}
	return offices
}

// records are the shipped limits.
func records(t fataler) []rows.Record {
	t.Helper()
	out, err := limit.Table().Records(file(t, "tables/limits.csv"))
	if err != nil {
		t.Fatalf("%v", err)
	}
	return out
}

func file(t fataler, name string) []byte {
	t.Helper()
	raw, err := data.Files.ReadFile(name)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return raw
}

// pointers are the rows as tables hold them.
func pointers[T any](rows []T) []*T {
	var out []*T
	for i := range rows {
		out = append(out, &rows[i])
	}
	return out
}

// fataler is what a test and a property have in common.
type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

// suite is what every database must do. Each call of open gives a store that
// was just made and seeded, and closes it at the end of the test it is given.
func suite(t *testing.T, open func(t *testing.T) *Store) {
	for name, test := range map[string]func(*testing.T, *Store){
		"holds the shipped rows":      holdsShipped,
		"says who seeded it and when": saysWhoSeeded,
		"same answer each time":       sameEachTime,
		"same answer as memory":       sameAsMemory,
		"is not seeded twice":         notSeededTwice,
		"many readers":                manyReaders,
		"cancelled":                   cancelled,
		"interrupted":                 interrupted,
		"newest revision":             newestRevision,
		"a failed write":              failedWrite,
		"answers a ping":              pings,
		"keeps what was":              keepsWhatWas,
		"restores":                    restores,
		"refuses edits":               refusesEdits,
		"conflicts":                   conflicts,
		"many writers":                manyWriters,
		"tells of changes":            tellsOfChanges,
		"closed":                      closed,
		"upgrades to the same":        upgradesToTheSame,
		"upgrades":                    upgrades,
		"the stricter binds":          stricterBinds,
		"an upgrade overtaken":        upgradeOvertaken,
		"comes from version 1":        comesFromVersion1,
		"goes on from version 1":      goesOnFromVersion1,
		"comes from an empty one":     comesFromEmptyVersion1,
		"renewed at once":             renewedAtOnce,
		"keeps documents":             keepsDocuments,
		"other rows do not conflict":  otherRowsDoNotConflict,
		"same rows conflict":          sameRowsConflict,
		"one of many wins":            oneOfManyWins,
		"proposes":                    proposes,
		"all tables":                  allTables,
		"many edits":                  manyEdits,
		"a large change":              largeChange,
		"imports all or none":         importsAllOrNone,
		"imports beside others":       importsBesideOthers,
		"imports since a revision":    importsSinceARevision,
		"leftovers are taken away":    takesLeftoversAway,
		"keeps nobody waiting":        importKeepsNobodyWaiting,
		"reads changes alone":         readsChangesAlone,
		"sum is of the content":       sumIsOfContent,
		"shares what stays":           sharesWhatStays,
	} {
		t.Run(name, func(t *testing.T) { test(t, open(t)) })
	}
}

func holdsShipped(t *testing.T, s *Store) {
	got, want := snapshot(t, s), shipped(t)
	if rows := got.Rows(""); len(rows) != shippedLimits || !sameRows(rows, want.Rows("")) {
		t.Errorf("%d rows, not those of the file", len(rows))
	}
	for _, code := range []string{"CA-ON", "CA-QC", "US-VT", "CA-ON/Dufferin County", "CA-NU", ""} {
		if got, want := got.Office(code).String(), want.Office(code).String(); got != want || got == "" {
			t.Errorf("whom to ask in %q: %q, want %q", code, got, want)
		}
	}
	if n := entries(t, s, "offices"); n != 27 {
		t.Errorf("%d offices, want 27", n)
	}
	if n := count(t, s, "entry WHERE shipped = 0 OR removed = 1"); n != 0 {
		t.Errorf("%d of the rows do not say that they were shipped", n)
	}
}

func saysWhoSeeded(t *testing.T, s *Store) {
	var number int
	var madeAt, who, why string
	if err := s.db.QueryRowContext(t.Context(), `SELECT number, made_at, who, why FROM revision`).Scan(&number, &madeAt, &who, &why); err != nil {
		t.Fatal(err)
	}
	if number != 1 || madeAt != "2027-02-03T04:05:06Z" || who == "" || why == "" {
		t.Errorf("revision %d made at %s by %q for %q", number, madeAt, who, why)
	}
}

func sameEachTime(t *testing.T, s *Store) {
	first, second := snapshot(t, s), snapshot(t, s)
	if first.Revision != second.Revision || !strings.HasPrefix(first.Revision, "1-") || len(first.Revision) < 10 {
		t.Errorf("revision %q, then %q", first.Revision, second.Revision)
	}
	if !sameRows(first.Rows(""), second.Rows("")) {
		t.Error("the second snapshot has other rows")
	}
}

func sameAsMemory(t *testing.T, s *Store) {
	if got, want := snapshot(t, s).Revision, snapshot(t, memory(t)).Revision; got != want {
		t.Errorf("revision %q, in memory %q", got, want)
	}
}

func notSeededTwice(t *testing.T, s *Store) {
	if err := s.seed(t.Context()); err != nil {
		t.Fatal(err)
	}
	if revisions, rows := count(t, s, "revision"), entries(t, s, "limits"); revisions != 1 || rows != shippedLimits {
		t.Errorf("%d revisions with %d rows, want 1 with those shipped", revisions, rows)
	}
}

// together runs f n times at once and fails the test with what any returned.
func together(t *testing.T, n int, f func(i int) error) {
	t.Helper()
	var all sync.WaitGroup
	errs := make([]error, n)
	for i := range n {
		all.Go(func() { errs[i] = f(i) })
	}
	all.Wait()
	for i, err := range errs {
		if err != nil {
			t.Errorf("%d of %d: %v", i+1, n, err)
		}
	}
}

// revisionIs tells whether a snapshot is whole and of a revision.
func revisionIs(ctx context.Context, s *Store, want string) error {
	tables, err := s.Snapshot(ctx)
	if err != nil {
		return err
	}
	if n := len(tables.Rows("")); tables.Revision != want || n != shippedLimits {
		return fmt.Errorf("revision %q with %d rows, want %q with those shipped", tables.Revision, n, want)
	}
	return nil
}

func manyReaders(t *testing.T, s *Store) {
	want := snapshot(t, s).Revision
	together(t, 8, func(int) error { return revisionIs(t.Context(), s, want) })
}

func cancelled(t *testing.T, s *Store) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if tables, err := s.Snapshot(ctx); err == nil || tables != nil {
		t.Errorf("%v, %v; want an error", tables, err)
	}
	if err := s.seed(ctx); err == nil {
		t.Error("seeded under a cancelled context")
	}
}

// A reader that gives up half-way must leave the store as it was: in memory
// the connection is the database.
func interrupted(t *testing.T, s *Store) {
	want := snapshot(t, s).Revision
	for wait := 50 * time.Microsecond; wait < 20*time.Millisecond; wait *= 2 {
		ctx, cancel := context.WithTimeout(t.Context(), wait)
		if err := revisionIs(ctx, s, want); err != nil && ctx.Err() == nil {
			t.Errorf("after %v: %v", wait, err)
		}
		cancel()
		if err := revisionIs(t.Context(), s, want); err != nil {
			t.Fatalf("after a reader gave up at %v: %v", wait, err)
		}
	}
}

// change writes one record as a new revision.
func change(t *testing.T, s *Store, records ...rows.Record) error {
	t.Helper()
	var entries []entry
	for _, r := range records {
		entries = append(entries, entry{table: limits, id: r[0], record: r})
	}
	tx, err := s.db.BeginTx(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	if _, err := s.write(t.Context(), tx, "a user", "a letter came", entries); err != nil {
		return err
	}
	return tx.Commit()
}

// record returns a shipped record with some cells changed.
func record(t *testing.T, id string, changes map[string]string) rows.Record {
	t.Helper()
	for _, r := range records(t) {
		if r[0] != id {
			continue
		}
		for i, column := range limit.Table().Columns {
			if text, ok := changes[column]; ok {
				r[i] = text
			}
		}
		return r
	}
	t.Fatalf("no row %s", id)
	return nil
}

// A change is a new revision beside the old one, and the newest row of each id
// counts.
func newestRevision(t *testing.T, s *Store) {
	before := snapshot(t, s)
	for _, r := range []rows.Record{
		record(t, "ca-on-height-01", map[string]string{"published": "4.2 m", "threshold": "4.2 m"}),
		record(t, "ca-on-height-01", map[string]string{"id": "zz-1"}),
	} {
		if err := change(t, s, r); err != nil {
			t.Fatal(err)
		}
	}
	after := snapshot(t, s)
	if !strings.HasPrefix(after.Revision, "3-") || after.Revision[2:] == before.Revision[2:] {
		t.Errorf("revision %q after %q, want number 3 and another sum", after.Revision, before.Revision)
	}
	published := map[string]string{}
	for _, r := range after.Rows("CA-ON") {
		published[r.ID] = r.Published
	}
	if n := len(after.Rows("")); n != shippedLimits+1 || published["ca-on-height-01"] != "4.2 m" || published["zz-1"] != "4.15 metres" {
		t.Errorf("%d rows, %q and %q; want one more than shipped, 4.2 m and 4.15 metres", n, published["ca-on-height-01"], published["zz-1"])
	}
	if n := entries(t, s, "limits"); n != shippedLimits+2 {
		t.Errorf("%d rows of all revisions, want one more: nothing is overwritten", n)
	}
}

// Two rows of one id in one change cannot both be kept; none is, and the
// revision is not either.
func failedWrite(t *testing.T, s *Store) {
	want := snapshot(t, s).Revision
	r := record(t, "ca-on-height-01", nil)
	if err := change(t, s, r, r); err == nil {
		t.Error("wrote one row twice in one revision")
	}
	if n := count(t, s, "revision"); n != 1 {
		t.Errorf("%d revisions after a write that failed", n)
	}
	if err := revisionIs(t.Context(), s, want); err != nil {
		t.Error(err)
	}
}

func pings(t *testing.T, s *Store) {
	if err := s.Ping(t.Context()); err != nil {
		t.Error(err)
	}
}

func closed(t *testing.T, s *Store) {
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Snapshot(t.Context()); err == nil {
		t.Error("a closed store gives snapshots")
	}
	if err := s.Ping(t.Context()); err == nil {
		t.Error("a closed store answers a ping")
	}
}

func TestMemory(t *testing.T) { suite(t, memory) }

func TestFile(t *testing.T) {
	suite(t, func(t *testing.T) *Store { return inFile(t, filepath.Join(t.TempDir(), "tables.db")) })
}

func TestMemoryStoresAreApart(t *testing.T) {
	one, other := memory(t), memory(t)
	if err := change(t, one, record(t, "ca-on-height-01", map[string]string{"id": "zz-1"})); err != nil {
		t.Fatal(err)
	}
	if a, b := len(snapshot(t, one).Rows("")), len(snapshot(t, other).Rows("")); a != shippedLimits+1 || b != shippedLimits {
		t.Errorf("%d and %d rows, want one more than shipped, and those", a, b)
	}
}

func TestFileIsKept(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tables.db")
	s := inFile(t, path)
	if err := change(t, s, record(t, "ca-on-height-01", map[string]string{"id": "zz-1"})); err != nil {
		t.Fatal(err)
	}
	want := snapshot(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	again := inFile(t, path)
	if got := snapshot(t, again); got.Revision != want.Revision || !sameRows(got.Rows(""), want.Rows("")) {
		t.Errorf("reopened: revision %q with %d rows, want %q with %d", got.Revision, len(got.Rows("")), want.Revision, len(want.Rows("")))
	}
	if revisions, rows := count(t, again, "revision"), entries(t, again, "limits"); revisions != 2 || rows != shippedLimits+1 {
		t.Errorf("%d revisions with %d rows, want 2 with one more than shipped", revisions, rows)
	}
}

// The name of the file is a name, whatever its letters mean in a URL.
func TestFileNames(t *testing.T) {
	for _, name := range []string{
		"with space.db", "what?.db", "n#1.db", "50%.db", "%41.db", "a&b=c.db", "a+b.db", "a:b.db", "été.db", "semi;colon.db", "mode=memory?mode=memory",
	} {
		dir := filepath.Join(t.TempDir(), "in "+name)
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(dir, name)
		want := snapshot(t, inFile(t, path)).Revision
		if info, err := os.Stat(path); err != nil || info.Size() == 0 {
			t.Errorf("%s: no such file after it was made: %v", path, err)
		}
		if got := snapshot(t, inFile(t, path)).Revision; got != want {
			t.Errorf("%s: revision %q, then %q", path, want, got)
		}
	}
}

// A path may also be relative to where the program runs.
func TestFileRelative(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, path := range []string{"tables.db", "./dot.db", "a:b.db"} {
		inFile(t, path)
		if _, err := os.Stat(path); err != nil {
			t.Errorf("%s: %v", path, err)
		}
	}
}

func TestFileBad(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, raw []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, raw, 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	whole := filepath.Join(dir, "whole.db")
	inFile(t, whole).Close()
	raw, err := os.ReadFile(whole)
	if err != nil {
		t.Fatal(err)
	}
	for name, path := range map[string]string{
		"garbage":          write("garbage.db", []byte(strings.Repeat("no database at all\n", 500))),
		"short garbage":    write("short.db", []byte("no")),
		"cut off":          write("cut.db", raw[:len(raw)/3]),
		"a folder":         dir,
		"no such folder":   filepath.Join(dir, "deleted", "tables.db"),
		"a file as folder": filepath.Join(whole, "tables.db"),
	} {
		s, err := OpenFile(t.Context(), path, clock)
		if err == nil {
			s.Close()
			t.Errorf("%s: opened", name)
		} else if !strings.Contains(err.Error(), path) {
			t.Errorf("%s: %q does not name %s", name, err, path)
		}
	}
}

// A file of no byte is what a full disk or a cut copy leaves: taken for a new one it
// would lose every row of its owner without a word.
func TestFileOfZeroLengthIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tables.sqlite")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := OpenFile(t.Context(), path, clock)
	var field *measure.FieldError
	if s != nil || !errors.As(err, &field) || field.Field != "--store" || field.Value != path || !strings.Contains(field.Fix.String(), "fix.put_the_file_back") {
		t.Errorf("%v, %v", s, err)
	}
	if info, err := os.Stat(path); err != nil || info.Size() != 0 {
		t.Errorf("the file was touched: %v, %v", info, err)
	}
}

// Tables that somebody took away are not made up again in silence.
func TestFileWithoutItsTables(t *testing.T) {
	for _, table := range []string{"revision", "entry"} {
		path := filepath.Join(t.TempDir(), "tables.db")
		s := inFile(t, path)
		if _, err := s.db.ExecContext(t.Context(), `PRAGMA foreign_keys = 0; DROP TABLE `+table); err != nil {
			t.Fatal(err)
		}
		s.Close()
		s, err := OpenFile(t.Context(), path, clock)
		if err == nil {
			_, err = s.Snapshot(t.Context())
			s.Close()
		}
		if err == nil || !strings.Contains(err.Error(), table) {
			t.Errorf("without %s: %v; want an error that names it", table, err)
		}
	}
}

// A file that was deleted is made and seeded anew by the next start.
func TestFileDeletedBetweenStarts(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "tables.db")
	s := inFile(t, path)
	want := snapshot(t, s).Revision
	s.Close()
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if err := revisionIs(t.Context(), inFile(t, path), want); err != nil {
		t.Error(err)
	}
}

// A file that is deleted while it is open: connections that were open still
// read it, a further one cannot, and its error says which file is gone.
func TestFileDeletedWhileOpen(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tables.db")
	s := inFile(t, path)
	s.db.SetMaxIdleConns(-1) // as when every open connection is busy or was dropped
	for _, suffix := range []string{"", "-wal", "-shm"} {
		os.Remove(path + suffix)
	}
	if tables, err := s.Snapshot(t.Context()); err == nil {
		t.Errorf("revision %q from a file that is gone", tables.Revision)
	} else if !strings.Contains(err.Error(), path) {
		t.Errorf("%q does not name %s", err, path)
	}
}

func TestFileReadOnlyFolder(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("root may write everywhere")
	}
	dir := t.TempDir()
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "tables.db")
	if _, err := OpenFile(t.Context(), path, clock); err == nil || !strings.Contains(err.Error(), path) {
		t.Errorf("%v; want an error that names %s", err, path)
	}
}

func TestOpenCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := OpenMemory(ctx, clock); err == nil {
		t.Error("opened in memory")
	}
	path := filepath.Join(t.TempDir(), "tables.db")
	if _, err := OpenFile(ctx, path, clock); err == nil || !strings.Contains(err.Error(), path) {
		t.Errorf("%v; want an error that names %s", err, path)
	}
	if err := revisionIs(t.Context(), inFile(t, path), snapshot(t, memory(t)).Revision); err != nil {
		t.Errorf("after a start that was called off: %v", err)
	}
}

func TestTwoStoresOnOneFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tables.db")
	one, other := inFile(t, path), inFile(t, path)
	want := snapshot(t, one).Revision
	together(t, 8, func(i int) error { return revisionIs(t.Context(), []*Store{one, other}[i%2], want) })
	if err := change(t, one, record(t, "ca-on-height-01", map[string]string{"id": "zz-1"})); err != nil {
		t.Fatal(err)
	}
	if a, b := snapshot(t, one), snapshot(t, other); a.Revision != b.Revision || a.Revision == want || len(b.Rows("")) != shippedLimits+1 {
		t.Errorf("after a change by one: %q, and %q with %d rows by the other", a.Revision, b.Revision, len(b.Rows("")))
	}
}

// Copies of the service that start at once on a new file: one makes and seeds
// it, the others wait.
func TestStartsAtOnceOnANewFile(t *testing.T) {
	want := snapshot(t, memory(t)).Revision
	for range 4 {
		path := filepath.Join(t.TempDir(), "tables.db")
		together(t, 4, func(int) error {
			s, err := OpenFile(t.Context(), path, clock)
			if err != nil {
				return err
			}
			defer s.Close()
			return revisionIs(t.Context(), s, want)
		})
		if n := entries(t, inFile(t, path), "limits"); n != shippedLimits {
			t.Errorf("%d rows, want those shipped", n)
		}
	}
}

// sameRows compares rows by what was read of them; hours are kept as funcs,
// which do not compare.
func sameRows(a, b []*limit.Row) bool {
	return slices.EqualFunc(a, b, func(x, y *limit.Row) bool {
		one, other := *x, *y
		one.Times, other.Times = window.Condition{}, window.Condition{}
		return reflect.DeepEqual(one, other)
	})
}

// alike compares states by their sum and their limits.
func alike(a, b *regs.Tables) bool {
	return a.Revision == b.Revision && sameRows(a.Rows(""), b.Rows(""))
}
