package rows

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"pgregory.net/rapid"
)

// What spreadsheets make of a CSV is read as the same rows: semicolons and tabs
// between cells, with or without a first line that says so, UTF-16 with either
// mark, blanks and columns after the last, lines of nothing.
func TestFilesOfSpreadsheets(t *testing.T) {
	const plain = treeHead + "a,oak,12,,yes,45.5\nb,elm,,,,-1\n"
	want, _, err := trees().ReadCSV([]byte(plain))
	if err != nil {
		t.Fatal(err)
	}
	wide := func(text string, order binary.AppendByteOrder) string {
		var out bytes.Buffer
		for _, u := range utf16.Encode([]rune("\ufeff" + text)) {
			out.Write(order.AppendUint16(nil, u))
		}
		return out.String()
	}
	semicolons := strings.ReplaceAll(plain, ",", ";")
	for name, text := range map[string]string{
		"semicolons": semicolons, "said": "sep=;\n" + semicolons, "said in quotes": "\"sep=;\"\r\n" + semicolons, "commas said": "SEP=,\n" + plain, "tabs": strings.ReplaceAll(plain, ",", "\t"),
		"UTF-16, low first": wide(plain, binary.LittleEndian), "UTF-16, high first": wide(strings.ReplaceAll(plain, ",", "\t"), binary.BigEndian),
		"blanks after names": strings.Replace(plain, "lat\n", "lat  \n", 1), "columns of nothing": strings.ReplaceAll(plain, "\n", ",,\n"), "blanks after the last": strings.ReplaceAll(plain, "\n", ", \n"),
		"lines of nothing": plain + ",,,,,\n ,,\n\n", "lines of Windows": strings.ReplaceAll(plain, "\n", "\r\n"),
	} {
		if got, _, err := trees().ReadCSV([]byte(text)); err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	for name, tc := range map[string]struct{ text, says string }{
		"UTF-16 without a mark": {wide(plain, binary.LittleEndian)[2:], "parse_error.not_utf8"}, "UTF-16 cut off": {wide(plain, binary.LittleEndian) + "x", "parse_error.fields(line: 4"},
		"a cell beyond the last": {treeHead + "a,oak,12,,yes,45.5,more\n", "parse_error.fields(line: 2, cells: 7, names: 6)"},
		"a comma as a decimal":   {"id,kind,height,planted,felled,lat\na,oak,12,,yes,45,5\n", "parse_error.fields(line: 2"},
		"after a said separator": {"sep=;\n" + semicolons + "c;ash;;;;1\n", "line 5, column kind"},
	} {
		if got, _, err := trees().ReadCSV([]byte(tc.text)); err == nil || got != nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: %v, want %q", name, err, tc.says)
		}
	}
}

// A cell that a spreadsheet would run (one that begins with =, +, -, @, a tab or a
// line break: OWASP, CSV Injection) is exported as text, and comes back as it was.
func TestExportsRunNothing(t *testing.T) {
	for _, cell := range []string{
		"=1+1", "=HYPERLINK(\"http://example.org\")", "+1 613 555 0100", "-1+cmd", "@SUM(1)", " =1", "'=1", "''=1", "\t=1", "＝1+1", "-", "- see the sign", "a=1", "it's", "'quoted'", "-12.5", "'-12.5", "",
	} {
		var out bytes.Buffer
		if err := WriteCSV(&out, []string{"id", "text"}, []Record{{"x", cell}}); err != nil {
			t.Fatal(err)
		}
		written, err := csv.NewReader(bytes.NewReader(out.Bytes())).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		shown := strings.TrimSpace(written[1][1])
		if shown != "" && strings.ContainsAny(shown[:1], "=+@") || strings.HasPrefix(shown, "＝") || strings.HasPrefix(shown, "-") && shown != "-12.5" {
			t.Errorf("%q is exported as %q", cell, shown)
		}
		err = Each(out.Bytes(), []string{"id", "text"}, func(c *Cells) error {
			if c.Record[1] != cell {
				t.Errorf("%q comes back as %q", cell, c.Record[1])
			}
			return nil
		})
		if err != nil {
			t.Error(err)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.StringOf(rapid.RuneFrom([]rune("'=+-@ \t1.a"))).Draw(t, "cell")
		if got := restored(neutral(cell)); got != cell {
			t.Fatalf("%q, %q, %q", cell, neutral(cell), got)
		}
	})
}

// A line says from which revision it was exported; a row that was added says none.
func TestSheetNamesItsRevision(t *testing.T) {
	var out bytes.Buffer
	records := []Record{{"a", "oak", "", "", "", "1"}, {"b", "elm", "", "", "", "-2"}}
	if err := trees().WriteSheet(&out, Sheet{records, 12}); err != nil {
		t.Fatal(err)
	}
	var shipped bytes.Buffer // of no revision
	if err := trees().WriteSheet(&shipped, Sheet{records, 0}); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(out.String(), strings.TrimSpace(treeHead)+",tables_revision\n") || strings.Count(out.String(), ",12\n") != 2 {
		t.Errorf("%s", out.String())
	}
	for text, want := range map[string][]int{
		shipped.String(): {0, 0}, out.String(): {12, 12}, out.String() + "c,oak,,,,1,\n": {12, 12, 0}, out.String() + "c,oak,,,,1,7\n": {12, 12, 7}, treeHead + "a,oak,,,,1\n": {0},
		"tables_revision," + treeHead + "3,a,oak,,,,1\n": {3},
	} {
		var got []int
		err := trees().Each(strings.NewReader(text), func(_, revision int, r Record) error {
			if len(r) != 6 {
				t.Errorf("%q: %q", text, r)
			}
			got = append(got, revision)
			return nil
		})
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%q: %v, %v, want %v", text, got, err, want)
		}
	}
	var cell *CellError
	for _, bad := range []string{"x", "0", "-1", "1.5"} {
		if _, err := trees().Records([]byte(out.String() + "c,oak,,,,1," + bad + "\n")); !errors.As(err, &cell) || cell.Column != RevisionColumn || cell.Line != 4 {
			t.Errorf("%s: %v", bad, err)
		}
	}
}
