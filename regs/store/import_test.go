package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"wayhouse/regs/clearance"
	"wayhouse/regs/rows"
	"wayhouse/testdata/needs"
)

// manyClearancesCSV writes invented structures as they are read, with what comes
// after them.
func manyClearancesCSV(n int, after string) io.ReadCloser {
	out, in := io.Pipe()
	go func() {
		columns := clearance.Structures().Columns
		err := rows.WriteCSV(in, columns, nil)
		const part = 1000
		for i := 0; i < n && err == nil; i += part {
			var text strings.Builder
			err = rows.WriteCSV(&text, columns, clearancesFrom(i, min(n, i+part)))
			_, body, _ := strings.Cut(text.String(), "\n")
			if err == nil {
				_, err = io.WriteString(in, body)
			}
		}
		if err == nil {
			_, err = io.WriteString(in, after)
		}
		in.CloseWithError(err)
	}()
	return out
}

func clearances(csv io.Reader) Import {
	return Import{Table: "clearances", CSV: csv, Who: "a user", Why: "an inventory"}
}

// midway does something when a part of a file was read.
type midway struct {
	io.Reader
	after int
	do    func()
}

func (m *midway) Read(p []byte) (int, error) {
	n, err := m.Reader.Read(p)
	if m.after -= n; m.after <= 0 && m.do != nil {
		m.do()
		m.do = nil
	}
	return n, err
}

const manyRows = 3 * changeAtOnce

// A file that is bad in its last line leaves nothing, however much of it was
// written; a good one comes in as one revision; the same again changes nothing.
func importsAllOrNone(t *testing.T, s *Store) {
	before := snapshot(t, s).Revision
	for name, after := range map[string]string{
		"a row of no columns": "x\n", "an id that stands twice": twice(t), "a bad cell": strings.Replace(twice(t), "zz-0000000-under", "zz-x", 1)[:40] + "\n",
	} {
		var file *FileError
		if out, err := s.Import(t.Context(), clearances(manyClearancesCSV(manyRows, after)), ignore); !errors.As(err, &file) || out.Made {
			t.Errorf("%s: %+v, %v", name, out, err)
		}
		if count(t, s, "revision") != 1 || entries(t, s, "clearances") != 0 || snapshot(t, s).Revision != before {
			t.Errorf("%s: something stayed", name)
		}
	}
	told := 0
	out, err := s.Import(t.Context(), clearances(manyClearancesCSV(manyRows, "")), func(Difference) { told++ })
	if err != nil || !out.Made || out.Revision.Number != 2 || out.Rows != manyRows || told != manyRows {
		t.Fatalf("%+v, told %d, %v", out, told, err)
	}
	now, whole := snapshot(t, s), at(t, s, 2)
	if now.Clearances().Len() != manyRows || !alike(now, whole) {
		t.Errorf("%d structures, want %d", now.Clearances().Len(), manyRows)
	}
	if out, err := s.Import(t.Context(), clearances(manyClearancesCSV(manyRows, "")), ignore); err != nil || out.Made || out.Rows != 0 || count(t, s, "revision") != 2 {
		t.Errorf("the same again: %+v, %v", out, err)
	}
	fewer := clearances(manyClearancesCSV(manyRows-changeAtOnce-5, ""))
	fewer.All, fewer.Dry = true, true
	if out, err := s.Import(t.Context(), fewer, ignore); err != nil || out.Made || out.Rows != changeAtOnce+5 || count(t, s, "revision") != 2 {
		t.Errorf("without the rows that are missing, dry: %+v, %v", out, err)
	}
	fewer.CSV, fewer.Dry, fewer.Since = manyClearancesCSV(manyRows-changeAtOnce-5, ""), false, 2
	if out, err := s.Import(t.Context(), fewer, ignore); err != nil || out.Revision.Number != 3 || snapshot(t, s).Clearances().Len() != manyRows-changeAtOnce-5 {
		t.Errorf("without the rows that are missing: %+v, %v", out, err)
	}
}

func twice(t *testing.T) string {
	t.Helper()
	var text strings.Builder
	if err := rows.WriteCSV(&text, clearance.Structures().Columns, manyClearances(1)); err != nil {
		t.Fatal(err)
	}
	_, row, _ := strings.Cut(text.String(), "\n")
	return row
}

func ignore(Difference) {}

// While a file comes in nobody sees a part of it, and edits of other rows go on;
// whoever changes one of its rows meanwhile is not overwritten.
func importsBesideOthers(t *testing.T, s *Store) {
	var during []int
	edited := &midway{manyClearancesCSV(manyRows, ""), 200_000, func() {
		during = append(during, snapshot(t, s).Clearances().Len())
		made(t, s, edit(t, 1, "ca-on-height-01", map[string]string{"note": "seen meanwhile"}))
	}}
	out, err := s.Import(t.Context(), clearances(edited), ignore)
	if err != nil || out.Revision.Number != 3 || len(during) != 1 || during[0] != 0 {
		t.Fatalf("%+v, %v; seen meanwhile: %v", out, err, during)
	}
	if d, err := s.Compare(t.Context(), 2, 3); err != nil || len(d) != manyRows {
		t.Errorf("the import changed %d rows, %v", len(d), err)
	}
	change := manyClearances(2)[1]
	change[1] = "renamed by somebody"
	overtaken := &midway{strings.NewReader(renamed(t)), 100, func() {
		made(t, s, Edit{Table: "clearances", ID: change[0], Record: change, Was: 3})
	}}
	q := clearances(overtaken)
	q.Since = 3
	var conflict *ConflictError
	if out, err := s.Import(t.Context(), q, ignore); !errors.As(err, &conflict) || conflict.ID != change[0] || conflict.Was != 3 || conflict.Is != 4 {
		t.Errorf("overtaken: %+v, %v", out, err)
	}
	if count(t, s, "revision") != 4 {
		t.Error("something of it stayed")
	}
}

// renamed is a file that renames the first rows.
func renamed(t *testing.T) string {
	t.Helper()
	all := manyClearances(manyRows)
	for _, r := range all {
		r[1] += ", renamed"
	}
	var text strings.Builder
	if err := rows.WriteCSV(&text, clearance.Structures().Columns, all); err != nil {
		t.Fatal(err)
	}
	return text.String()
}

// A file that was made from an earlier revision takes back nothing that came since.
func importsSinceARevision(t *testing.T, s *Store) {
	made(t, s, edit(t, 1, "ca-on-height-01", map[string]string{"note": "after the export"}))
	kept, err := s.Records(t.Context(), limits, 1)
	if err != nil {
		t.Fatal(err)
	}
	var all []rows.Record
	for _, k := range kept {
		all = append(all, k.Record)
	}
	file := func(change func(rows.Record)) Import {
		var text strings.Builder
		for _, r := range all {
			change(r)
		}
		if err := rows.WriteCSV(&text, tableOf(t, limits).ColumnNames(), all); err != nil {
			t.Fatal(err)
		}
		return Import{Table: limits, CSV: strings.NewReader(text.String()), Who: "a user", Why: "a sheet", Since: 1}
	}
	if out, err := s.Import(t.Context(), file(func(rows.Record) {}), ignore); err != nil || out.Made {
		t.Errorf("an untouched export: %+v, %v", out, err)
	}
	var conflict *ConflictError
	touched := file(func(r rows.Record) {
		if r[0] == "ca-on-height-01" {
			r[column(t, "note")] = "in the sheet"
		}
	})
	if _, err := s.Import(t.Context(), touched, ignore); !errors.As(err, &conflict) || conflict.Was != 1 || conflict.Is != 2 {
		t.Errorf("a row that both changed: %v", err)
	}
}

func column(t *testing.T, name string) int {
	t.Helper()
	for i, c := range tableOf(t, limits).ColumnNames() {
		if c == name {
			return i
		}
	}
	t.Fatal(name)
	return 0
}

// What a killed process left is seen by nobody, and taken away later.
func takesLeftoversAway(t *testing.T, s *Store) {
	left, err := s.begin(t.Context(), "a user", "killed", 1)
	if err != nil {
		t.Fatal(err)
	}
	r := manyClearances(1)[0]
	if err := left.add(t.Context(), []entry{{table: "clearances", id: r[0], record: r}}); err != nil {
		t.Fatal(err)
	}
	if n := snapshot(t, s).Clearances().Len(); n != 0 {
		t.Errorf("%d rows of it are seen", n)
	}
	if h, err := s.History(t.Context()); err != nil || len(h) != 1 {
		t.Errorf("the history has %v, %v", h, err)
	}
	again := another(t, s)
	again.clock = func() time.Time { return clock().Add(abandoned + time.Second) }
	if out, err := again.Import(t.Context(), clearances(manyClearancesCSV(2, "")), ignore); err != nil || out.Revision.Number != 2 {
		t.Fatalf("%+v, %v", out, err)
	}
	if entries(t, s, "clearances") != 2 || count(t, s, "revision") != 2 {
		t.Error("it is still there")
	}
	if _, err := left.commit(t.Context()); err == nil {
		t.Error("what was taken away became a revision")
	}
}

// meanwhile makes small edits until the work is done, and returns how many there were
// and how long the slowest of them took.
func meanwhile(t *testing.T, s *Store, work func()) (edits int64, slowest time.Duration) {
	t.Helper()
	done, ended := make(chan bool), make(chan error, 1)
	var longest, made atomic.Int64
	go func() {
		for i, was := 0, revisionOf(t, s, "ca-on-height-01"); ; i++ {
			select {
			case <-done:
				ended <- nil
				return
			case <-time.After(20 * time.Millisecond):
			}
			start := time.Now()
			r, err := s.Change(context.Background(), "another", "meanwhile", []Edit{edit(t, was, "ca-on-height-01", map[string]string{"note": fmt.Sprint("edit ", i)})})
			if err != nil {
				ended <- err
				return
			}
			was = r.Number
			made.Add(1)
			longest.Store(max(longest.Load(), int64(time.Since(start))))
		}
	}()
	work()
	close(done)
	if err := <-ended; err != nil {
		t.Error(err)
	}
	return made.Load(), time.Duration(longest.Load())
}

// Others write, and never have to come again, while a large file comes in, through
// this copy of the service or through another. How long they wait is a figure, printed
// and not asserted.
func importKeepsNobodyWaiting(t *testing.T, s *Store) {
	n := 10_000
	if needs.Long {
		n = 620_000
	}
	empty := strings.Join(clearance.Structures().Columns, ",") + "\n"
	steps := []struct {
		name   string
		writer *Store
		csv    io.Reader
	}{{"rows come in, others write through the same copy", s, manyClearancesCSV(n, "")}, {"rows go, others write through another", another(t, s), strings.NewReader(empty)}}
	for _, step := range steps {
		var out Imported
		var err error
		var edits int64
		var longest time.Duration
		q := clearances(step.csv)
		q.All, q.Since = true, snapshot(t, s).Number
		took := measured(func() {
			edits, longest = meanwhile(t, step.writer, func() { out, err = s.Import(t.Context(), q, ignore) })
		})
		t.Logf("%d %s: longest wait of others %s; %s", n, step.name, longest.Round(time.Millisecond), took)
		if err != nil || out.Rows != n {
			t.Errorf("%s: %+v, %v", step.name, out, err)
		}
		if edits == 0 {
			t.Errorf("%s: nobody else wrote meanwhile", step.name)
		}
	}
}

func revisionOf(t *testing.T, s *Store, id string) int {
	t.Helper()
	k, err := s.Row(context.Background(), limits, id)
	if err != nil {
		t.Error(err)
	}
	return k.Revision
}

// A sheet is compared with the one revision that its rows name, wherever a row that
// was added stands in it: what was made alike meanwhile is no change, what both
// changed is told by a dry run already, and rows of several revisions are refused.
func TestSheetsNameOneRevision(t *testing.T) {
	s := memory(t)
	kept, err := s.Records(t.Context(), limits, 1)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]string{"note": "seen"}
	made(t, s, edit(t, 1, "ca-on-height-01", seen))
	columns := append(tableOf(t, limits).ColumnNames(), rows.RevisionColumn)
	sheet := func(change func(id string, cells rows.Record)) Import {
		var out []rows.Record
		for _, k := range kept[:40] {
			cells := append(append(rows.Record{}, k.Record...), "1")
			change(cells[0], cells)
			out = append(out, cells)
		}
		var text strings.Builder
		if err := rows.WriteCSV(&text, columns, out); err != nil {
			t.Fatal(err)
		}
		return Import{Table: limits, CSV: strings.NewReader(text.String()), Who: "a user", Why: "a sheet", Dry: true}
	}
	first, last := kept[0].Record[0], kept[39].Record[0]
	note, revision := column(t, "note"), len(columns)-1
	for name, tc := range map[string]struct {
		change func(id string, cells rows.Record)
		rows   int
		refuse any
	}{
		"as exported": {func(string, rows.Record) {}, 0, nil},
		"a change":    {func(id string, c rows.Record) { mark(id == last, c, note, "mine") }, 1, nil},
		"an added row first": {func(id string, c rows.Record) {
			mark(id == first, c, 0, "a-new")
			mark(c[0] == "a-new", c, revision, "")
		}, 1, nil},
		"rows of other revisions": {func(id string, c rows.Record) { mark(id == last, c, revision, "2") }, 0, new(*FileError)},
		"no revision, a change":   {func(id string, c rows.Record) { mark(true, c, revision, ""); mark(id == last, c, note, "mine") }, 1, nil},
	} {
		out, err := s.Import(t.Context(), sheet(tc.change), ignore)
		if (err != nil) != (tc.refuse != nil) || err != nil && !errors.As(err, tc.refuse) || out.Rows != tc.rows || out.Made {
			t.Errorf("%s: %+v, %v", name, out, err)
		}
	}
	whole := func(text string) Import {
		q := sheet(func(string, rows.Record) {})
		var out strings.Builder
		for _, k := range kept {
			if k.Record[0] == "ca-on-height-01" {
				cells := append(append(rows.Record{}, k.Record...), "1")
				cells[note] = text
				if err := rows.WriteCSV(&out, columns, []rows.Record{cells}); err != nil {
					t.Fatal(err)
				}
			}
		}
		q.CSV = strings.NewReader(out.String())
		return q
	}
	if out, err := s.Import(t.Context(), whole("seen"), ignore); err != nil || out.Rows != 0 {
		t.Errorf("made alike meanwhile: %+v, %v", out, err)
	}
	var conflict *ConflictError
	if _, err := s.Import(t.Context(), whole("otherwise"), ignore); !errors.As(err, &conflict) {
		t.Errorf("a dry run of what both changed: %v", err)
	}
}

func mark(yes bool, cells rows.Record, at int, text string) {
	if yes {
		cells[at] = text
	}
}
