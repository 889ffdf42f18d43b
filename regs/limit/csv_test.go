package limit

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"wayhouse/data"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

func file(t testing.TB, name string) []byte {
	t.Helper()
	raw, err := data.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

func shipped(t testing.TB) ([]Row, []rows.Record) {
	t.Helper()
	read, records, err := Table().ReadCSV(file(t, "tables/limits.csv"))
	if err != nil {
		t.Fatal(err)
	}
	return read, records
}

func TestShippedFileIsRead(t *testing.T) {
	rows, records := shipped(t)
	if len(rows) != 474 || len(records) != 474 {
		t.Errorf("%d rows from %d records, want 474", len(rows), len(records))
	}
}

// Each cell of a row is the cell of the file, and its threshold is the value
// of the text that the file gives.
func TestShippedRowsAreTheFile(t *testing.T) {
	rows, _ := shipped(t)
	raw, err := csv.NewReader(bytes.NewReader(file(t, "tables/limits.csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := func(line []string, column string) string { return line[slices.Index(raw[0], column)] }
	for i, r := range rows {
		line := raw[i+1]
		for column, got := range map[string]string{
			"id": r.ID, "jurisdiction": r.Jurisdiction, "kind": string(r.Kind), "combination": string(r.Form), "quantity": string(r.Quantity),
			"published": r.Published, "threshold": r.Text, "outcome": string(r.Outcome), "tier": string(r.Tier), "when": r.When,
			"road": r.Road, "condition": r.Condition, "note": r.Note, "status": string(r.Status), "source": r.Source, "section": r.Section,
			"source_year": r.Year, "source_url": r.URL, "hours": strings.Join(say.Strings(r.Demands.Hours), "|"),
		} {
			if want := at(line, column); got != want {
				t.Errorf("%s: %s is %q, the file says %q", r.ID, column, got, want)
			}
		}
		if r.Quantity == TireLoadPerWidth || r.Quantity == BridgeFormula {
			isRatio(t, r, at(line, "threshold"))
		} else if want, err := r.Quantity.Parse(at(line, "threshold")); err != nil || r.Threshold != want {
			t.Errorf("%s: threshold %d, the text %q is %d (%v)", r.ID, r.Threshold, r.Text, want, err)
		}
		if want := at(line, "beyond") == "at_or_over"; r.Inclusive != want {
			t.Errorf("%s: inclusive %v, the file says %q", r.ID, r.Inclusive, at(line, "beyond"))
		}
	}
}

// isRatio checks the threshold of a row that is no amount by itself, each text
// worked out by hand: pounds of 45 359 237 tens of micrograms, inches of
// 25 400 000 nm (NIST SP 811, 2008, B.8).
func isRatio(t *testing.T, r Row, text string) {
	t.Helper()
	const kilogram, pound, millimetre, inch = 100_000_000, 45_359_237, 1_000_000, 25_400_000
	perWidth, isWidth := map[string]PerWidth{
		"10 kg/mm": {10 * kilogram, millimetre}, "11 kg/mm": {11 * kilogram, millimetre},
		"450 lb/in": {450 * pound, inch}, "500 lb/in": {500 * pound, inch}, "525 lb/in": {525 * pound, inch},
	}[text]
	bridge, isBridge := map[string]Bridge{
		"500 lb (L N/(N-1) + 12 N + 36), L in ft; two tandems of > 40 in and <= 96 in, 36 ft or more apart, 34000 lb each": {
			Step: 500 * pound, PerAxle: 12, Constant: 36, Tandem: Range{Low: 40 * inch, High: 96 * inch, OverLow: true, Given: true},
			TandemsApart: 36 * 12 * inch, TandemEach: 34_000 * pound,
		},
	}[text]
	if isWidth == isBridge || r.PerWidth != perWidth || r.Bridge != bridge || r.Threshold != 0 {
		t.Errorf("%s: %q is read as %+v, %+v and %d", r.ID, text, r.PerWidth, r.Bridge, r.Threshold)
	}
}

// A published figure that is a plain quantity is the threshold: a slip of the
// pen between the two columns would move the law.
func TestShippedThresholdsAreThePublishedFigures(t *testing.T) {
	rows, _ := shipped(t)
	compared := 0
	for _, r := range rows {
		amount, err := r.Quantity.Parse(r.Published)
		if err != nil || r.Quantity == TireLoadPerWidth {
			continue // words around the figure, or a unit that only its table states
		}
		compared++
		if amount != r.Threshold {
			t.Errorf("%s: published %q is %d, threshold %q is %d", r.ID, r.Published, amount, r.Text, r.Threshold)
		}
	}
	if compared < 250 {
		t.Errorf("compared %d rows only", compared)
	}
}

// Worked out by hand from the figures as printed: nanometres with the inch of
// 25.4 mm, tens of micrograms with the pound of 0.453 592 37 kg (NIST SP 811,
// 2008, B.8).
func TestShippedThresholdsByHand(t *testing.T) {
	rows, _ := shipped(t)
	for id, want := range map[string]Amount{
		"ca-on-height-01":                             4_150_000_000,  // 4.15 metres: Official MTO Truck Handbook, Clearances
		"ca-on-combination-length-03":                 23_000_000_000, // 23 metres: Official MTO Truck Handbook, ch. III
		"ca-on-trailer-length-01":                     14_650_000_000, // 14.65 m: MTO RV information, Maximum Vehicle Dimensions, 2010
		"ca-on-gross-mass-02":                         6_350_000_000_000,
		"ca-qc-trailer-length-03":                     12_500_000_000, // 12.5 m: C-24.2 r.31 s.5, 2024-04-11
		"ca-qc-width-04":                              2_500_000_000,  // 2,5 m: C-24.2 r.31 s.10, 2013
		"ca-qc-height-02":                             5_000_000_000,  // 5 m: C-24.2 r.35 s.3, 2019-05-21
		"ca-mb-width-04":                              4_600_000_000,
		"us-width-01":                                 2_590_800_000,           // 102 in: 23 CFR 658.15(a), 2015
		"us-gross-mass-01":                            3_628_738_960_000,       // 80 000 lb: 23 CFR 658.17(b), 2015
		"us-tandem-mass-01":                           34_000 * 45_359_237,     // 34 000 lb: 23 CFR 658.17(d), 2015
		"us-me-height-02":                             14 * 12 * 25_400_000,    // load 6 in above 13 ft 6 in: 29-A 2380(2)
		"us-vt-height-01":                             4_114_800_000,           // 13 ft 6 in = 162 in: 23 V.S.A. 1431, 2024
		"us-wi-width-02":                              (8*12 + 6) * 25_400_000, // 8 ft 6 in body width
		"ca-on-dufferin-county-combination-length-01": 24_500_000_000,          // 24.5 metres (80 feet)
	} {
		i := slices.IndexFunc(rows, func(r Row) bool { return r.ID == id })
		if i < 0 {
			t.Errorf("%s: no such row", id)
		} else if rows[i].Threshold != want {
			t.Errorf("%s (%s, %s %s): %d, want %d", id, rows[i].Published, rows[i].Source, rows[i].Section, rows[i].Threshold, want)
		}
	}
}

func TestShippedRowsSayWhatTheyNeed(t *testing.T) {
	rows, _ := shipped(t)
	ids := map[string]Row{}
	for _, r := range rows {
		ids[r.ID] = r
	}
	for _, r := range rows {
		if r.Status.Trusted() && r.ReadOn.IsZero() {
			t.Errorf("%s is %s and was never read", r.ID, r.Status)
		}
		if !r.ValidFrom.IsZero() && !r.ValidTo.IsZero() && r.ValidTo.Before(r.ValidFrom) {
			t.Errorf("%s ends before it begins", r.ID)
		}
		for _, id := range r.Supersedes {
			if old, ok := ids[id]; !ok || old.Jurisdiction != r.Jurisdiction || old.Quantity != r.Quantity {
				t.Errorf("%s supersedes %q, which is no row of its jurisdiction and quantity", r.ID, id)
			}
		}
	}
}

// good is a row that reads; each case of a bad table spoils one cell of it.
func good(changes map[string]string) rows.Record {
	cells := map[string]string{
		"id": "x-1", "jurisdiction": "CA-XX", "kind": "all", "combination": "any", "quantity": "height", "published": "4.15 m",
		"threshold": "4.15 m", "beyond": "over", "outcome": "conditional", "tier": "legal", "status": "published", "source": "a text",
		"read_on": "2026-11-25",
	}
	for column, text := range changes {
		cells[column] = text
	}
	var out rows.Record
	for _, column := range columns() {
		out = append(out, cells[column])
	}
	return out
}

func table(t testing.TB, lines ...[]string) []byte {
	t.Helper()
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.WriteAll(lines); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestReadCSVBadCells(t *testing.T) {
	for _, tc := range []struct {
		column, good, bad string
		says              string // what the error says besides line, column and value
	}{
		{"id", "x-2", "", "fix.fill_it_in_it"},
		{"id", "x-2", "x-1", "error.stands_twice"},
		{"id", "x-2", " x-1 ", "error.stands_twice"},
		{"jurisdiction", "CA-ON", " ", "fix.fill_it_in_it"},
		{"kind", "tiny_home", "castle", "tiny_home"},
		{"kind", "all", "", "all"},
		{"combination", "semitrailer", "sledge", "semitrailer"},
		{"tow", "truck pickup", "truck mule", "error.no_tow(word: mule)"},
		{"tow", "any", "any car", "fix.give_any_alone"},
		{"quantity", "width", "girth", "rear_overhang"},
		{"axles", "5", "-5", "fix.it_must_be_a_whole"},
		{"axles", "", "2.5", "fix.it_must_be_a_whole"},
		{"axles", "99", "100", "fix.it_must_be_a_whole"},
		{"published", "4,15 m", "", "fix.fill_it_in_it"},
		{"threshold", "415 cm", "4.15", "error.no_unit"},
		{"threshold", "4150 mm", "4.15 furlongs", "furlongs"},
		{"threshold", "4.15 m", "-4.15 m", "negative"},
		{"threshold", "4.15 m", "0 m", "zero"},
		{"threshold", "4.15 m", "4,150 m", "error.two_ways"},
		{"threshold", "4.15 m", "4150 kg", "kg"},
		{"threshold", "4.15 m", "", "fix.fill_it_in_it"},
		{"beyond", "at_or_over", "above", "at_or_over"},
		{"outcome", "forbidden", "clear", "forbidden"},
		{"outcome", "review", "unknown", "forbidden"},
		{"outcome", "conditional", "", "forbidden"},
		{"tier", "unsure", "illegal", "unsure"},
		{"permit", "yes", "no", "yes"},
		{"escorts_any", "1", "-1", "fix.it_must_be_a_whole"},
		{"escorts_front", "0", "one", "fix.it_must_be_a_whole"},
		{"escorts_rear", "2", "1.0", "fix.it_must_be_a_whole"},
		{"height_pole", "", "maybe", "yes"},
		{"survey", "yes", "YES", "yes"},
		{"valid_from", "2024-02-29", "2023-02-29", "fix.it_must_be_a_day"},
		{"valid_to", "2026-11-25", "25.11.2026", "fix.it_must_be_a_day"},
		{"status", "memory", "rumour", "memory"},
		{"source", "a law", "", "fix.fill_it_in_it"},
		{"read_on", "", "2026-11-31", "fix.it_must_be_a_day"},
	} {
		second := func(text string) []byte {
			return table(t, columns(), good(nil), good(map[string]string{"id": "x-2", tc.column: text}))
		}
		if read, _, err := Table().ReadCSV(second(tc.good)); err != nil || len(read) != 2 {
			t.Errorf("%s %q: %d rows, %v; want 2", tc.column, tc.good, len(read), err)
		}
		read, records, err := Table().ReadCSV(second(tc.bad))
		if err == nil || read != nil || records != nil {
			t.Errorf("%s %q: %d rows, %d records, %v; want none and an error", tc.column, tc.bad, len(read), len(records), err)
			continue
		}
		value := fmt.Sprintf("%q", strings.TrimSpace(tc.bad))
		for _, want := range []string{"limits", "line 3", "column " + tc.column, value, tc.says} {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s %q: %q does not say %q", tc.column, tc.bad, err, want)
			}
		}
	}
}

// The line is that of the file, where one row can take several.
func TestReadCSVCountsLinesOfTheFile(t *testing.T) {
	raw := table(t, columns(), good(map[string]string{"note": "two\nlines"}), good(map[string]string{"id": "x-2", "axles": "many"}))
	if _, _, err := Table().ReadCSV(raw); err == nil || !strings.Contains(err.Error(), "line 4, column axles") {
		t.Errorf("%v; want line 4, column axles", err)
	}
}

func TestReadCSVBadTables(t *testing.T) {
	head := strings.Join(columns(), ",")
	swapped := slices.Clone(columns())
	swapped[0], swapped[1] = swapped[1], swapped[0]
	for name, tc := range map[string]struct {
		raw  []byte
		says []string
	}{
		"empty":          {nil, []string{"error.head_empty", "fix.head"}},
		"no head line":   {table(t, good(nil)), []string{"error.head_none", head}},
		"missing column": {table(t, columns()[1:], good(nil)[1:]), []string{"error.head_lacks(columns: [id])", "id,jurisdiction"}},
		"further column": {table(t, append(slices.Clone(columns()), "colour"), append(good(nil), "red")), []string{"error.head_strange(columns: [colour])", head}},
		"swapped":        {table(t, swapped, good(nil)), []string{"error.head_order", head}},
		"short line":     {table(t, columns(), good(nil), good(nil)[:5]), []string{"parse_error.fields(line: 3"}},
		"long line":      {table(t, columns(), append(good(nil), "more")), []string{"parse_error.fields(line: 2"}},
		"open quote":     {append(table(t, columns()), `"x-1,CA-ON`...), []string{"parse_error.csv_quotes(line: 2)"}},
	} {
		read, _, err := Table().ReadCSV(tc.raw)
		if err == nil || read != nil {
			t.Errorf("%s: %d rows, no error", name, len(read))
			continue
		}
		for _, want := range tc.says {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %q does not say %q", name, err, want)
			}
		}
	}
}

func TestReadCSVOfNoRows(t *testing.T) {
	if read, records, err := Table().ReadCSV(table(t, columns())); err != nil || len(read) != 0 || len(records) != 0 {
		t.Errorf("%d rows, %d records, %v; want an empty table", len(read), len(records), err)
	}
}

// A row that states escorts, even none, differs from one that is silent.
func TestReadDemands(t *testing.T) {
	for name, tc := range map[string]struct {
		cells map[string]string
		said  bool
		want  string
	}{
		"silent":     {nil, false, "{[] 0 0 0 false false [] []}"},
		"none":       {map[string]string{"escorts_any": "0"}, true, "{[] 0 0 0 false false [] []}"},
		"both":       {map[string]string{"escorts_front": "1", "escorts_rear": "2"}, true, "{[] 1 2 0 false false [] []}"},
		"any":        {map[string]string{"escorts_any": "2"}, true, "{[] 0 0 2 false false [] []}"},
		"pole":       {map[string]string{"height_pole": "yes", "survey": "yes"}, false, "{[] 0 0 0 true true [] []}"},
		"hours":      {map[string]string{"hours": "daylight only"}, false, "{[] 0 0 0 false false [daylight only] []}"},
		"the permit": {map[string]string{"permit": "yes"}, false, "{[permit.size(jurisdiction: CA-XX)] 0 0 0 false false [] []}"},
	} {
		row, err := Table().Row(2, good(tc.cells))
		if got := fmt.Sprint(row.Demands); err != nil || got != tc.want || row.EscortsSaid != tc.said {
			t.Errorf("%s: %s, said %v, %v; want %s, %v", name, got, row.EscortsSaid, err, tc.want, tc.said)
		}
	}
}

func TestQuantityParseAndPrint(t *testing.T) {
	for _, tc := range []struct {
		q     Quantity
		text  string
		want  Amount
		print string
	}{
		{Height, "13 ft 6 in", Amount(162 * measure.Inch), "4.1148 m (13 ft 6 in)"},
		{Width, "2,6 m", 2_600_000_000, "2.6 m (≈ 8 ft 6 3/8 in)"},
		{GrossMass, "80 000 lb", Amount(80_000 * measure.Pound), "≈ 36287.4 kg (80,000 lb)"},
	} {
		got, err := tc.q.Parse(tc.text)
		if err != nil || got != tc.want || tc.q.Of(got).String() != tc.print {
			t.Errorf("%s %q: %d, prints %q, %v; want %d, %q", tc.q, tc.text, got, tc.q.Of(got), err, tc.want, tc.print)
		}
	}
	for _, tc := range []struct {
		q    Quantity
		text string
	}{
		{Height, "4.15"}, {Height, "4.15 kg"}, {GrossMass, "4.15 m"}, {GrossMass, "80000"}, {GrossMass, "40 tons"}, {"girth", "4.15 m"}, {"", "4.15 m"},
	} {
		if got, err := tc.q.Parse(tc.text); err == nil {
			t.Errorf("%s %q: %d, want an error", tc.q, tc.text, got)
		}
	}
}

// What the reader accepts is read from its own records to the same rows: the
// store keeps the records only.
func FuzzReadCSV(f *testing.F) {
	whole := file(f, "tables/limits.csv")
	f.Add(whole)
	lines := bytes.SplitAfter(whole, []byte("\n"))
	for i := 1; i < len(lines); i += 40 {
		f.Add(slices.Concat(lines[0], lines[i]))
	}
	f.Add(table(f, columns(), good(map[string]string{"supersedes": "a  b", "threshold": "13 ft 6 1/2 in", "axles": "05", "note": "two\r\nlines"})))
	f.Add(table(f, columns(), good(map[string]string{"quantity": "tire_load_per_mm", "threshold": "10 kg/mm"})))
	f.Add(table(f, columns(), good(map[string]string{"when": "Mo-Fr 07:00-09:00 and wet", "roads": "ref=I *; lanes=2+"})))
	f.Add(table(f, columns(), good(map[string]string{"quantity": "tandem_mass", "threshold": "34000 lb", "group": "2+", "spread": "> 40 in and <= 96 in", "axle": "not steering, 4 tires"})))
	f.Fuzz(func(t *testing.T, raw []byte) {
		read, records, err := Table().ReadCSV(raw)
		if err != nil {
			if read != nil || records != nil {
				t.Fatalf("an error and %d rows, %d records", len(read), len(records))
			}
			return
		}
		if len(read) != len(records) {
			t.Fatalf("%d rows from %d records", len(read), len(records))
		}
		for i, record := range records {
			again, err := Table().Row(i+2, record)
			again.Times, read[i].Times = window.Condition{}, window.Condition{} // made from When, of functions, which never compare as equal
			if err != nil || !reflect.DeepEqual(again, read[i]) {
				t.Fatalf("record %q reads again as %+v (%v), first as %+v", record, again, err, read[i])
			}
		}
	})
}
