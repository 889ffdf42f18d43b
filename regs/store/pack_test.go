package store

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"wayhouse/regs/rows"
)

// Cells are found by the name of their column: what a later version adds is
// empty in rows that were written before, and what it drops is left out.
func TestPackedByColumn(t *testing.T) {
	text, err := pack([]string{"id", "gone", "kept", "empty"}, rows.Record{"a", "b", "<&> \u2028 é", ""})
	if err != nil || strings.Contains(text, "empty") {
		t.Errorf("%s, %v; a cell that is empty needs no place", text, err)
	}
	got, err := unpack([]string{"new", "kept", "id"}, []byte(text))
	if want := (rows.Record{"", "<&> \u2028 é", "a"}); err != nil || !slices.Equal(got, want) {
		t.Errorf("%q, %v; want %q", got, err, want)
	}
}

func TestUnpackBad(t *testing.T) {
	for _, text := range []string{"", "{", "[]", `"a"`, `{"id": 1}`, `{"id": ["a"]}`, `{"id": "a"} {`} {
		if got, err := unpack([]string{"id"}, []byte(text)); err == nil || got != nil {
			t.Errorf("%s: %q, want an error", text, got)
		}
	}
}

// A record is unpacked as it was packed. Only text can be packed: JSON has no
// way to write other bytes.
func FuzzPack(f *testing.F) {
	for _, r := range records(f)[:20] {
		f.Add(r[0], r[6], r[20], r[26])
	}
	f.Add("", "\x00", oddNote, "\ufffd")
	f.Add("\ufeff", "null", "{}", `\ud800`)
	columns := []string{"id", "published", "condition", "source"}
	f.Fuzz(func(t *testing.T, a, b, c, d string) {
		r := rows.Record{a, b, c, d}
		if slices.ContainsFunc(r, func(cell string) bool { return !utf8.ValidString(cell) }) {
			return
		}
		text, err := pack(columns, r)
		if err != nil {
			t.Fatalf("%q: %v", r, err)
		}
		got, err := unpack(columns, []byte(text))
		if err != nil || !slices.Equal(got, r) {
			t.Fatalf("%q is packed as %s and unpacked as %q, %v", r, text, got, err)
		}
	})
}

// Whatever stands in a database, unpacking gives a cell for each column or an
// error, and what it gives is packed and unpacked to the same.
func FuzzUnpack(f *testing.F) {
	for _, text := range []string{"", "null", "{}", "[]", `{"id": "a", "kind": null}`, `{"ID": "a"}`, `{"id": "a", "id": "b"}`, `{"id": "\ud800"}`, `{"id": 1}`, "{\"id\": \"\xe9\"}"} {
		f.Add([]byte(text))
	}
	columns := []string{"id", "kind"}
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := unpack(columns, text)
		if err != nil {
			if r != nil {
				t.Fatalf("an error and %q", r)
			}
			return
		}
		if len(r) != len(columns) {
			t.Fatalf("%q for %d columns", r, len(columns))
		}
		again, err := pack(columns, r)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := unpack(columns, []byte(again)); err != nil || !slices.Equal(got, r) {
			t.Fatalf("%q is packed as %s and unpacked as %q, %v", r, again, got, err)
		}
	})
}
