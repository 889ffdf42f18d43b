package rows

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
)

// thing is a row of a table made up for these tests, with a cell of each type.
type thing struct {
	id, kind string
	n        int
	number   int64
	at       float64
	length   *measure.Length
	mass     *measure.Mass
	year     int
	yes      bool
	day      time.Time
	Proof
}

var things = Table[thing]{
	Name:     "things",
	Columns:  append([]string{"id", "kind", "n", "number", "at", "length", "mass", "year", "yes", "day"}, ProofColumns()...),
	Optional: []string{"yes", "day", "source_url"},
	Read: func(c *Cells) thing {
		return thing{
			id: c.Need("id"), kind: OneOf(c, "kind", "a", "b"), n: c.Count("n"), number: c.Number("number"), at: c.Degrees("at", 90), length: c.Length("length"),
			mass: c.Mass("mass"), year: c.Year("year"), yes: c.Yes("yes"), day: c.Day("day"), Proof: ReadProof(c),
		}
	},
}

const thingsHead = "id,kind,n,number,at,length,mass,year,yes,day,status,source,section,source_year,source_url,read_on\n"

func thingRow(change map[string]string) Record {
	cells := map[string]string{"id": "x", "kind": "a", "at": "45.5", "status": "published", "source": "made up"}
	for column, value := range change {
		cells[column] = value
	}
	r := make(Record, len(things.Columns))
	for i, name := range things.Columns {
		r[i] = cells[name]
	}
	return r
}

func TestCells(t *testing.T) {
	got, err := things.Row(1, thingRow(map[string]string{
		"id": "x", "kind": " a ", "n": "99", "number": "12345678901", "at": "-90", "length": `13' 6"`, "mass": "24,000 lb", "year": "2027", "yes": "yes", "day": "2027-02-28", "section": " s. 1 ", "read_on": "2027-01-31",
	}))
	if err != nil {
		t.Fatal(err)
	}
	if got.id != "x" || got.kind != "a" || got.n != 99 || got.number != 12345678901 || got.at != -90 || *got.length != 162*measure.Inch || *got.mass != 24_000*measure.Pound || got.year != 2027 || !got.yes || got.day.Day() != 28 {
		t.Errorf("read %+v", got)
	}
	if got.Status != finding.Published || got.Cite() != "made up, s. 1" || got.ReadOn.Month() != time.January {
		t.Errorf("proof %+v", got.Proof)
	}
	bare, err := things.Row(1, thingRow(nil))
	if err != nil || bare.n != 0 || bare.length != nil || bare.mass != nil || bare.year != 0 || bare.yes || !bare.day.IsZero() || !bare.ReadOn.IsZero() {
		t.Errorf("empty cells: %+v, %v", bare, err)
	}
}

func TestCellsBad(t *testing.T) {
	for column, values := range map[string][]string{
		"id":      {"", " ", " x", "x ", "x\n", "\u00a0x", "a/b", "/"},
		"kind":    {"", "c", "A"},
		"n":       {"100", "-1", "1.0", "one", "+ 1"},
		"number":  {"0", "-1", "1e3", "99999999999999999999", "x"},
		"at":      {"", "90.1", "-91", "NaN", "Inf", "45,5", "45°"},
		"length":  {"4.3", "4.3 kg", "tall", "-1 m", "0x10 m"},
		"mass":    {"24000", "24000 m", "heavy"},
		"year":    {"27", "1899", "2201", "2027.0", "soon"},
		"yes":     {"no", "true", "Yes", "1"},
		"day":     {"2027-02-29", "28.02.2027", "2027-2-8", "today"},
		"status":  {"", "sure"},
		"source":  {""},
		"read_on": {"2027"},
	} {
		for _, value := range values {
			err := things.Check(thingRow(map[string]string{column: value}))
			var cell *CellError
			if !errors.As(err, &cell) || cell.Line != 1 || cell.Column != column || cell.Value != strings.TrimSpace(value) || cell.Problem.None() || cell.Fix.None() {
				t.Errorf("%s %q: %v", column, value, err)
			}
		}
	}
	// A cell that is no text is named whatever its column means.
	for _, column := range []string{"id", "kind", "section"} {
		for _, value := range []string{"Br\xfccke", "a\x00b"} {
			err := things.Check(thingRow(map[string]string{column: value}))
			var cell *CellError
			if !errors.As(err, &cell) || cell.Line != 1 || cell.Column != column || !strings.Contains(cell.Problem.String(), "error.not_written_in_utf") || cell.Fix.None() || !utf8.ValidString(err.Error()) {
				t.Errorf("%s %q: %v", column, value, err)
			}
			raw := thingsHead + strings.Join(thingRow(map[string]string{column: value}), ",") + "\n"
			if _, _, err := things.ReadCSV([]byte(raw)); !errors.As(err, &cell) || cell.Line != 2 || cell.Column != column {
				t.Errorf("%s %q in a file: %v", column, value, err)
			}
		}
	}
	// Of several the first that is read is named.
	_, err := things.Row(1, thingRow(map[string]string{"kind": "c", "n": "many", "source": ""}))
	var cell *CellError
	if !errors.As(err, &cell) || cell.Column != "kind" {
		t.Errorf("three bad cells: %v", err)
	}
	if err.Error() != `line 1, column kind: "c" error.not_known_here; fix.one_of(words: [a b])` {
		t.Errorf("it reads %s", err)
	}
}

func csvOf(t testing.TB, records ...Record) string {
	t.Helper()
	var out bytes.Buffer
	if err := things.WriteCSV(&out, records); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestReadThings(t *testing.T) {
	two := csvOf(t, thingRow(nil), thingRow(map[string]string{"id": "y", "source": "a \"quoted\" text,\nof two lines"}))
	for name, raw := range map[string]string{
		"as written": two, "with a mark of byte order": "\ufeff" + two, "of Windows": strings.ReplaceAll(two, "\n", "\r\n"), "without a last line end": strings.TrimSuffix(two, "\n"), "with an empty line": strings.Replace(two, "\n", "\n\n", 1),
	} {
		got, records, err := things.ReadCSV([]byte(raw))
		if err != nil || len(got) != 2 || len(records) != 2 || got[1].id != "y" || !strings.Contains(got[1].Source, "\"quoted\" text,") {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	if got, records, err := things.ReadCSV([]byte(thingsHead)); err != nil || len(got) != 0 || len(records) != 0 {
		t.Errorf("a head line alone: %v, %v, %v", got, records, err)
	}
}

// All rows or none, and the error names line and column: lines of the file, also
// where a cell has several.
func TestReadThingsBad(t *testing.T) {
	good, long := thingRow(nil), thingRow(map[string]string{"id": "y", "source": "of\nthree\nlines"})
	for name, tc := range map[string]struct{ raw, says string }{
		"empty":                 {"", "error.head_empty; fix.head_and(head: id,kind,n"},
		"another head":          {"id,kind\nx,a\n", "error.head_lacks(columns: [n number at length mass year status source section source_year read_on]); fix.head_and(head: id,kind,n"},
		"a column too many":     {strings.Replace(thingsHead, "kind", "kind,colour", 1), "error.head_strange(columns: [colour]); fix.head_and"},
		"columns of no order":   {strings.Replace(thingsHead, "id,kind", "kind,id", 1), "error.head_order; fix.head_and(head: id,kind,n,number,at,length,mass,year,status,source,section,source_year,read_on, optional: [yes day source_url])"},
		"a cell too few":        {thingsHead + "x,a\n", "parse_error.fields(line: 2, cells: 2"},
		"the third line":        {csvOf(t, good, thingRow(map[string]string{"id": "z", "n": "many"})), "line 3, column n"},
		"after a cell of three": {csvOf(t, long, thingRow(map[string]string{"id": "z", "n": "many"})), "line 5, column n"},
		"an id twice":           {csvOf(t, good, long, good), "line 6, column id: \"x\" error.stands_twice"},
		"no id":                 {csvOf(t, thingRow(map[string]string{"id": ""})), "line 2, column id"},
		"a quote left open":     {thingsHead + "\"x,a\n", "parse_error.csv_quotes(line: 2)"},
	} {
		got, records, err := things.ReadCSV([]byte(tc.raw))
		if err == nil || got != nil || records != nil || !strings.Contains(err.Error(), tc.says) || !strings.HasPrefix(err.Error(), "things: ") {
			t.Errorf("%s: %d rows, %v; want none and %q", name, len(got), err, tc.says)
		}
	}
}

// What may be left out may be left out, each for itself; the records have all
// columns, in order.
func TestOptionalColumns(t *testing.T) {
	for _, out := range [][]string{nil, {"yes"}, {"day"}, {"source_url"}, {"yes", "day", "source_url"}} {
		var head, row []string
		for i, name := range things.Columns {
			if !slices.Contains(out, name) {
				head, row = append(head, name), append(row, thingRow(map[string]string{"yes": "yes", "day": "2027-02-28"})[i])
			}
		}
		got, records, err := things.ReadCSV([]byte(strings.Join(head, ",") + "\n" + strings.Join(row, ",") + "\n"))
		if err != nil || len(records) != 1 || len(records[0]) != len(things.Columns) {
			t.Errorf("without %v: %v, %v", out, records, err)
			continue
		}
		if got[0].yes == slices.Contains(out, "yes") || got[0].day.IsZero() != slices.Contains(out, "day") || got[0].Source != "made up" {
			t.Errorf("without %v: %+v", out, got[0])
		}
	}
	if _, _, err := things.ReadCSV([]byte("id,n,number,at,length,mass,year,status,source,section,source_year,read_on\n")); err == nil {
		t.Error("a column that may not be left out is")
	}
}

func TestRows(t *testing.T) {
	got, err := things.Rows([]Record{thingRow(nil), thingRow(map[string]string{"id": "y"})})
	if err != nil || len(got) != 2 || got[1].id != "y" {
		t.Errorf("%+v, %v", got, err)
	}
	if _, err := things.Rows([]Record{thingRow(nil), thingRow(map[string]string{"id": "y", "n": "many"})}); err == nil || !strings.Contains(err.Error(), `things: row "y": line 2, column n`) {
		t.Errorf("a bad one: %v", err)
	}
	if err := things.Check(thingRow(nil)[:3]); err == nil || !strings.Contains(err.Error(), "of 3 columns, want 16") {
		t.Errorf("too few columns: %v", err)
	}
	if things.TableName() != "things" || !slices.Equal(things.ColumnNames(), things.Columns) {
		t.Error("it is called otherwise")
	}
}

// Days hold from the first to the last, both included, on the clock of whoever
// asks; a stay that ends before it begins is one moment.
func TestHolds(t *testing.T) {
	day := func(d int) time.Time { return time.Date(2027, 5, d, 0, 0, 0, 0, time.UTC) }
	west := time.FixedZone("west", -8*3600)
	at := func(d, hour int) time.Time { return time.Date(2027, 5, d, hour, 0, 0, 0, west) }
	for _, tc := range []struct {
		first, last, from, until time.Time
		some, all                bool
	}{
		{time.Time{}, time.Time{}, at(1, 0), at(9, 0), true, true},
		{day(1), day(9), at(1, 0), at(9, 23), true, true}, // the evening of the 9th is the 10th in UTC
		{day(2), day(9), at(1, 23), at(9, 0), true, false},
		{day(1), day(8), at(1, 0), at(9, 0), true, false},
		{day(3), day(4), at(1, 0), at(9, 0), true, false},
		{day(10), day(11), at(1, 0), at(9, 23), false, false},
		{day(1), day(2), at(3, 0), at(9, 0), false, false},
		{day(2), time.Time{}, at(2, 0), at(30, 0), true, true},
		{time.Time{}, day(2), at(2, 23), at(2, 23), true, true},
		{day(5), day(5), at(5, 12), at(4, 0), true, true}, // no end is known
	} {
		if some, all := Holds(tc.first, tc.last, tc.from, tc.until); some != tc.some || all != tc.all {
			t.Errorf("from %s to %s, asked from %s to %s: %v, %v", tc.first, tc.last, tc.from, tc.until, some, all)
		}
	}
}

// What is written is read as it was, whatever its cells hold.
func TestWriteAndRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-z ",;'é\n]{0,12}`)
		var records []Record
		for _, id := range rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z]{1,4}`), 0, 5, rapid.ID[string]).Draw(t, "ids") {
			records = append(records, thingRow(map[string]string{"id": id, "source": "s" + text.Draw(t, "source"), "section": text.Draw(t, "section")}))
		}
		var out bytes.Buffer
		if err := things.WriteCSV(&out, records); err != nil {
			t.Fatal(err)
		}
		_, got, err := things.ReadCSV(out.Bytes())
		if err != nil || !slices.EqualFunc(got, records, func(a, b Record) bool { return slices.Equal(a, b) }) {
			t.Fatalf("%q: %q, %v", records, got, err)
		}
	})
}

// A reading clears for its term, the last moment included; one that lies more
// than a day ahead, as a date may on another clock, is none.
func TestStale(t *testing.T) {
	const term = 365 * 24 * time.Hour
	read := time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC)
	for _, tc := range []struct {
		day  time.Time
		want bool
	}{
		{read, false}, {read.Add(term), false}, {read.Add(term + 1), true}, {read.Add(-24 * time.Hour), false}, {read.Add(-24*time.Hour - 1), true},
	} {
		p := Proof{Status: finding.Published, ReadOn: read}
		if p.Stale(tc.day, term) != tc.want || p.Firm(tc.day, term) == tc.want {
			t.Errorf("on %s: stale %v", tc.day, !tc.want)
		}
	}
	if !(Proof{Status: finding.Published}).Stale(read, term) {
		t.Error("never read is not stale")
	}
	for status, want := range map[finding.Status]bool{finding.Published: true, finding.Verified: true, finding.Secondary: false, finding.Memory: false, finding.Invented: false, "": false} {
		if got := (Proof{Status: status, ReadOn: read}).Firm(read, term); got != want {
			t.Errorf("%q is firm: %v", status, got)
		}
	}
}

func TestProofShown(t *testing.T) {
	p := Proof{Status: finding.Published, Source: "A text", Section: "s. 1", Year: "2020", URL: "http://example.org", ReadOn: time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC)}
	f := p.Finding("x", "3-abc", "4.3 m")
	if f.ID != "x" || f.Revision != "3-abc" || f.Published != "4.3 m" || f.Status != p.Status || f.Source != p.Source || f.Section != p.Section || f.Year != p.Year || f.URL != p.URL || !f.ReadOn.Equal(p.ReadOn) {
		t.Errorf("shown as %+v", f)
	}
	for want, p := range map[string]Proof{"A text, s. 1, 2020": p, "A text, 2020": {Source: "A text", Year: "2020"}, "A text": {Source: "A text"}, "": {}} {
		if got := p.Cite(); got != want {
			t.Errorf("cited as %q, want %q", got, want)
		}
	}
}

func FuzzReadThings(f *testing.F) {
	f.Add([]byte(thingsHead + "x,a,1,2,45.5,4.3 m,2 t,2027,yes,2027-02-28,published,made up,,,,\n"))
	f.Add([]byte("\ufeffid,kind,n,number,at,length,mass,year,status,source,section,source_year,read_on\r\nx,b,,,0,,,,memory,\"a\nb\",,,\r\n"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		got, records, err := things.ReadCSV(raw)
		if err != nil {
			if got != nil || records != nil {
				t.Fatalf("rows beside %v", err)
			}
			return
		}
		var out bytes.Buffer
		if err := things.WriteCSV(&out, records); err != nil {
			t.Fatal(err)
		}
		_, again, err := things.ReadCSV(out.Bytes())
		if err != nil || !slices.EqualFunc(again, records, func(a, b Record) bool { return slices.Equal(a, b) }) {
			t.Fatalf("%q comes back as %q, %v", records, again, err)
		}
	})
}

// What keeps a row from settling anything has its reason, and days are said as far
// as they are stated.
func TestDoubtAndDays(t *testing.T) {
	day := time.Date(2027, time.June, 21, 0, 0, 0, 0, time.UTC)
	for want, p := range map[finding.Reason]Proof{
		"":                 {Status: finding.Verified, ReadOn: day},
		finding.Stale:      {Status: finding.Published, ReadOn: day.AddDate(-2, 0, 0)},
		finding.Recalled:   {Status: finding.Memory, ReadOn: day},
		finding.SecondHand: {Status: finding.Secondary},
		finding.Made:       {Status: finding.Invented, ReadOn: day},
	} {
		if got := p.Doubt(day, 24*time.Hour); got != want || (got == "") != p.Firm(day, 24*time.Hour) {
			t.Errorf("%+v: %q, want %q", p, got, want)
		}
	}
	for want, days := range map[string][2]time.Time{
		"": {}, "days.from(from: 2027-06-21)": {day}, "days.to(to: 2027-06-21)": {1: day}, "days.between(from: 2027-06-21, to: 2027-06-21)": {day, day},
	} {
		if got := Days(days[0], days[1]).String(); got != want {
			t.Errorf("%v: %q, want %q", days, got, want)
		}
	}
}
