package rows

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"
)

// A tree is a row of the table of these tests.
type tree struct {
	ID, Kind string
	Height   int
	Planted  time.Time
	Felled   bool
	Lat      float64
}

const treeHead = "id,kind,height,planted,felled,lat\n"

func trees() Table[tree] {
	return Table[tree]{
		Name: "trees", Columns: strings.Split(strings.TrimSpace(treeHead), ","),
		Read: func(c *Cells) tree {
			return tree{
				ID: c.Need("id"), Kind: OneOf(c, "kind", "oak", "elm"), Height: c.Count("height"), Planted: c.Day("planted"),
				Felled: c.Yes("felled"), Lat: c.Degrees("lat", 90),
			}
		},
	}
}

func TestReadCSV(t *testing.T) {
	const text = treeHead + "a, oak ,12,2020-02-29,yes,45.5\n\"b,\nc\",elm,,,, -90 \n"
	want := []tree{
		{ID: "a", Kind: "oak", Height: 12, Planted: time.Date(2020, 2, 29, 0, 0, 0, 0, time.UTC), Felled: true, Lat: 45.5},
		{ID: "b,\nc", Kind: "elm", Lat: -90},
	}
	records := []Record{{"a", " oak ", "12", "2020-02-29", "yes", "45.5"}, {"b,\nc", "elm", "", "", "", " -90 "}}
	for name, raw := range map[string]string{
		"plain": text, "with the mark of spreadsheets": "\ufeff" + text, "with lines as on Windows": strings.ReplaceAll(text, "\n", "\r\n"),
		"without the last line break": strings.TrimSuffix(text, "\n"), "with empty lines": strings.ReplaceAll(text, "yes,45.5\n", "yes,45.5\n\n\n"),
	} {
		got, kept, err := trees().ReadCSV([]byte(raw))
		if err != nil || !reflect.DeepEqual(got, want) || !reflect.DeepEqual(kept, records) {
			t.Errorf("%s: %+v from %q, %v", name, got, kept, err)
		}
		if alone, err := trees().Records([]byte(raw)); err != nil || !reflect.DeepEqual(alone, records) {
			t.Errorf("%s: records %q, %v", name, alone, err)
		}
	}
	if got, err := trees().Rows(records); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("from the records: %+v, %v", got, err)
	}
	for i, r := range records {
		if got, err := trees().Row(1, r); err != nil || !reflect.DeepEqual(got, want[i]) || trees().Check(r) != nil {
			t.Errorf("from the record %q: %+v, %v", r, got, err)
		}
	}
}

// bad is what a cell that cannot be used is refused for.
type bad struct {
	line                        int
	column, value, problem, fix string
}

// The error is of the first cell that cannot be used; it has the line of the
// file, the column, the value without white space and what to do.
func TestReadCSVBad(t *testing.T) {
	const line = "a,oak,12,2020-02-29,yes,45.5\n"
	for name, tc := range map[string]struct {
		text string
		want bad
	}{
		"no id":                {treeHead + ",oak,,,,1\n", bad{2, "id", "", "error.empty", "fix.fill_it_in_it"}},
		"white space as id":    {treeHead + "  ,oak,,,,1\n", bad{2, "id", "", "error.empty", "fix.fill_it_in_it"}},
		"id twice":             {treeHead + line + "a,elm,,,,1\n", bad{3, "id", "a", "error.stands_twice", "fix.give_each_row_an"}},
		"id twice, with space": {treeHead + line + " a ,elm,,,,1\n", bad{3, "id", "a", "error.stands_twice", "fix.give_each_row_an"}},
		"another kind":         {treeHead + line + "b,Oak,,,,1\n", bad{3, "kind", "Oak", "error.not_known_here", "fix.one_of(words: [oak elm])"}},
		"after two lines":      {treeHead + "b,\"oak\n\",,,,1\nc,oak,x,,,1\n", bad{4, "height", "x", "error.no_count", "fix.it_must_be_a_whole"}},
		"after empty lines":    {treeHead + "\n\nc,oak,100,,,1\n", bad{4, "height", "100", "error.no_count", "fix.it_must_be_a_whole"}},
		"no day":               {treeHead + "b,oak,1,2021-02-29,,1\n", bad{2, "planted", "2021-02-29", "error.no_day", "fix.it_must_be_a_day"}},
		"neither yes nor not":  {treeHead + "b,oak,1,,no,1\n", bad{2, "felled", "no", "error.not_known_here", "fix.one_of(words: [ yes])"}},
		"no degrees":           {treeHead + "b,oak,1,,,\n", bad{2, "lat", "", "error.no_degrees(bound: 90)", "fix.like(text: 45.42150)"}},
		"beyond the pole":      {treeHead + "b,oak,1,,,90.001\n", bad{2, "lat", "90.001", "error.no_degrees(bound: 90)", "fix.like(text: 45.42150)"}},
		"no number at all":     {treeHead + "b,oak,1,,,NaN\n", bad{2, "lat", "NaN", "error.no_degrees(bound: 90)", "fix.like(text: 45.42150)"}},
		"the first of two":     {treeHead + "b,ash,-1,,,1\n", bad{2, "kind", "ash", "error.not_known_here", "fix.one_of(words: [oak elm])"}},
	} {
		got, records, err := trees().ReadCSV([]byte(tc.text))
		var cell *CellError
		if !errors.As(err, &cell) || got != nil || records != nil || !strings.HasPrefix(err.Error(), "trees: ") {
			t.Errorf("%s: %d rows, %d records, %v; want none and an error of a cell", name, len(got), len(records), err)
			continue
		}
		if got := (bad{cell.Line, cell.Column, cell.Value, cell.Problem.String(), cell.Fix.String()}); got != tc.want {
			t.Errorf("%s: %+v, want %+v", name, got, tc.want)
		}
	}
	for name, tc := range map[string]struct{ text, says string }{
		"empty":        {"", "error.head_empty"},
		"another head": {"id,kind\na,oak\n", "error.head_lacks(columns: [height planted felled lat]); fix.head(head: id,kind,height,planted,felled,lat)"},
		"no head":      {line, "error.head_none; fix.head(head: id,"},
		"short line":   {treeHead + line + "b,oak\n", "parse_error.fields(line: 3"},
		"long line":    {treeHead + strings.TrimSpace(line) + ",more\n", "parse_error.fields(line: 2"},
		"open quote":   {treeHead + line + "\"b,oak", "parse_error.csv_quotes(line: 3)"},
		"quote inside": {treeHead + "b\"c,oak,,,,1\n", "parse_error.csv_quotes(line: 2)"},
	} {
		if got, records, err := trees().ReadCSV([]byte(tc.text)); err == nil || got != nil || records != nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: %d rows, %v; want an error that says %q", name, len(got), err, tc.says)
		}
	}
}

func TestRecordsBad(t *testing.T) {
	good := Record{"a", "oak", "12", "", "", "45.5"}
	for name, tc := range map[string]struct {
		record Record
		says   string
	}{
		"too short":    {Record{"b", "oak"}, "2 columns, want 6"},
		"too long":     {append(good[:6:6], "more"), "7 columns, want 6"},
		"no id":        {Record{"", "oak", "", "", "", "1"}, "column id"},
		"a bad cell":   {Record{"b", "oak", "many", "", "", "1"}, "column height"},
		"none at all":  {nil, "0 columns, want 6"},
		"another kind": {Record{"b", "", "", "", "", "1"}, "column kind"},
	} {
		if err := trees().Check(tc.record); err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: %v, want an error that says %q", name, err, tc.says)
		}
		if _, err := trees().Row(7, tc.record); err == nil || !strings.Contains(err.Error(), "line 7") {
			t.Errorf("%s: %v does not say line 7", name, err)
		}
		if len(tc.record) == 0 {
			continue // a record of the store has an id
		}
		if got, err := trees().Rows([]Record{good, tc.record}); err == nil || got != nil || !strings.Contains(err.Error(), fmt.Sprintf("trees: row %q: ", tc.record[0])) {
			t.Errorf("%s: %d rows, %v; want none and an error that names the row", name, len(got), err)
		}
	}
}

func TestWriteCSV(t *testing.T) {
	var out bytes.Buffer
	records := []Record{{"a, \"b\"", "oak", "1", "", "yes", "0"}, {"two\nlines", "elm", "", "2020-01-01", "", "-1"}, {"é€🌳", "elm", "", "", "", "1"}}
	if err := trees().WriteCSV(&out, records); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(out.String(), treeHead) {
		t.Errorf("begins with %.40q", out.String())
	}
	if got, err := trees().Records(out.Bytes()); err != nil || !reflect.DeepEqual(got, records) {
		t.Errorf("%q, %v; want %q", got, err, records)
	}
	out.Reset()
	if err := trees().WriteCSV(&out, nil); err != nil || out.String() != treeHead {
		t.Errorf("no rows are written as %q, %v", out.String(), err)
	}
	if err := trees().WriteCSV(full{}, records); err == nil {
		t.Error("written to a disk that is full")
	}
}

// full takes nothing.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestProof(t *testing.T) {
	const year = 365 * 24 * time.Hour
	day := func(text string) time.Time {
		out, err := time.Parse(time.DateOnly, text)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	for _, tc := range []struct {
		status, read string
		stale, firm  bool
	}{
		{"published", "2026-11-25", false, true},
		{"verified", "2026-11-25", false, true},
		{"secondary", "2026-11-25", false, false},
		{"memory", "2026-11-25", false, false},
		{"invented", "2026-11-25", false, false},
		{"published", "2026-01-01", false, true}, // 365 days before
		{"published", "2025-12-31", true, false},
		{"published", "2027-01-02", false, true}, // today in a zone further east
		{"published", "2027-01-03", true, false},
		{"published", "", true, false},
	} {
		var c Cells
		c.Record, c.head = Record{tc.status, "A text", "s. 1", "2020", "https://example.org", tc.read}, newHead(ProofColumns())
		p := ReadProof(&c)
		if c.Err != nil {
			t.Fatal(c.Err)
		}
		now := day("2027-01-01")
		if p.Stale(now, year) != tc.stale || p.Firm(now, year) != tc.firm || p.Cite() != "A text, s. 1, 2020" {
			t.Errorf("%s, read %q: stale %t, firm %t, %s", tc.status, tc.read, p.Stale(now, year), p.Firm(now, year), p.Cite())
		}
		f := p.Finding("a", "3-0", "4 m")
		if f.ID != "a" || f.Revision != "3-0" || f.Published != "4 m" || f.Status != p.Status || f.Source != "A text" || f.Section != "s. 1" ||
			f.Year != "2020" || f.URL != "https://example.org" || !f.ReadOn.Equal(p.ReadOn) {
			t.Errorf("as a finding shows it: %+v", f)
		}
	}
	if got := (Proof{Source: "A text", Year: "2020"}).Cite(); got != "A text, 2020" {
		t.Errorf("%q", got)
	}
}

// What is read is read again from its records, and from the CSV that they are
// written to, to the same rows. encoding/csv takes a carriage return before a
// line break for a part of it, so cells with one are not compared there.
func FuzzReadCSV(f *testing.F) {
	for _, text := range []string{
		"", treeHead, "\ufeff" + treeHead + "a,oak,12,2020-02-29,yes,45.5\n", treeHead + "a,oak,,,,1\n a,elm,,,,1\n", treeHead + "\"a,\n\"\"b\",oak,00,,,-0\r\n",
		treeHead + "a,oak,,,,1e1\nb,elm,99,0001-01-01,,90", treeHead + "\"\ufeff\",oak,,,,0x1p3\n", treeHead + "a\x00,oak,,,,1\n", treeHead + "\xe9,oak,,,,1\n", treeHead + "\"a\rb\r\r\n\",oak,,,,1\n",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		table := trees()
		read, records, err := table.ReadCSV(raw)
		if err != nil {
			if read != nil || records != nil {
				t.Fatalf("an error and %d rows, %d records", len(read), len(records))
			}
			return
		}
		seen := map[string]bool{}
		for i, r := range records {
			if len(r) != len(table.Columns) || read[i].ID == "" || seen[read[i].ID] {
				t.Fatalf("record %q has an id that is empty or taken, or other columns", r)
			}
			seen[read[i].ID] = true
		}
		again, err := table.Rows(records)
		if err != nil || !same(again, read) {
			t.Fatalf("%q reads again as %+v (%v), first as %+v", records, again, err, read)
		}
		var out bytes.Buffer
		if err := table.WriteCSV(&out, records); err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(out.Bytes(), []byte("\r")) {
			return
		}
		written, kept, err := table.ReadCSV(out.Bytes())
		if err != nil || !same(written, read) || !same(kept, records) {
			t.Fatalf("written as %q and read as %q (%v), first %q", out.Bytes(), kept, err, records)
		}
	})
}

// same tells whether two lists have the same content; none is as good as nil.
func same[T any](a, b []T) bool { return len(a)+len(b) == 0 || reflect.DeepEqual(a, b) }
