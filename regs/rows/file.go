package rows

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
)

// RevisionColumn is the column of a CSV, of no table, that says from which
// revision of the tables each line was exported.
const RevisionColumn = "tables_revision"

// Sheet is a table as a file has it.
type Sheet struct {
	Records []Record
	// Revision is that of the tables from which it was exported: the earliest that
	// any line names, 0 for none.
	Revision int
}

// decoded returns a file as UTF-8. Spreadsheets put a mark at the beginning of what
// they write so, and write "Unicode" as UTF-16.
func decoded(raw []byte) ([]byte, error) {
	switch {
	case bytes.HasPrefix(raw, []byte("\xef\xbb\xbf")):
		return raw[3:], nil
	case bytes.HasPrefix(raw, []byte("\xff\xfe")):
		return fromUTF16(raw[2:], binary.LittleEndian)
	case bytes.HasPrefix(raw, []byte("\xfe\xff")):
		return fromUTF16(raw[2:], binary.BigEndian)
	case bytes.IndexByte(raw[:min(len(raw), 4)], 0) >= 0:
		return nil, fmt.Errorf("the file is not written in UTF-8 (UTF-16 without a mark, by its first letters); save it as UTF-8")
	default:
		return raw, nil
	}
}

func fromUTF16(raw []byte, order binary.ByteOrder) ([]byte, error) {
	if len(raw)%2 != 0 {
		return nil, fmt.Errorf("the file begins as UTF-16 and ends within a letter; save it as UTF-8")
	}
	units := make([]uint16, len(raw)/2)
	for i := range units {
		units[i] = order.Uint16(raw[2*i:])
	}
	return []byte(string(utf16.Decode(units))), nil
}

// separators are what parts the cells of a line: spreadsheets write what their
// language has, and say so in a first line such as "sep=;".
const separators = ",;\t"

var sepLine = regexp.MustCompile(`^\s*"?(?i:sep)=([,;\t])"?[ \t,;]*\r?\n`)

// separated returns a reader of cells. How many a line has is for [Cells.fill].
func separated(text []byte) *csv.Reader {
	var comma rune
	if m := sepLine.FindSubmatch(text); m != nil {
		comma = rune(m[1][0])
		text = append([]byte("\n"), text[len(m[0]):]...) // lines are counted as they stand in the file
	} else {
		head, _, _ := bytes.Cut(bytes.TrimLeft(text, "\r\n"), []byte("\n"))
		most := 0
		for i, s := range separators {
			if n := bytes.Count(head, []byte(string(s))); i == 0 || n > most {
				comma, most = s, n
			}
		}
	}
	r := csv.NewReader(bytes.NewReader(text))
	r.Comma, r.FieldsPerRecord = comma, -1
	return r
}

// named returns the names of a head line, without blanks around them and columns
// after the last that has a name.
func named(head []string) []string {
	out := make([]string, len(head))
	for i, name := range head {
		out[i] = strings.TrimSpace(name)
	}
	for len(out) > 0 && out[len(out)-1] == "" {
		out = out[:len(out)-1]
	}
	return out
}

// blank reports whether a line says nothing: spreadsheets write such lines after
// the last row.
func blank(cells []string) bool {
	return !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" })
}

// fill puts the cells of a line into a record. Cells beyond the head line must be
// blank. revision is the place of the column of the revision, below 0 for none.
func (c *Cells) fill(cells, names []string, revision int) error {
	if len(cells) < len(names) || !blank(cells[len(names):]) {
		return fmt.Errorf("line %d has the wrong number of fields: %d, the head line %d; one with a separator in it needs quotes", c.Line, len(cells), len(names))
	}
	for i, name := range names {
		if i != revision {
			c.Record[c.head[name]] = restored(cells[i])
			continue
		}
		text := strings.TrimSpace(cells[i])
		n, err := strconv.Atoi(text)
		if text != "" && (err != nil || n < 1) {
			return &CellError{Line: c.Line, Column: name, Value: text, Problem: "is no number of a revision", Fix: "leave it as it was exported, or empty in a new row"}
		}
		c.Revision = n
	}
	return nil
}

// active finds what a spreadsheet would run or work out instead of showing it:
// what begins, but for blanks, with one of these signs, in either width. A plain
// negative number is none.
var active = regexp.MustCompile(`^[\s'\x{feff}]*[=+\-@\x{ff1d}\x{ff0b}\x{ff0d}\x{ff20}\t\r|%]`)

var negative = regexp.MustCompile(`^-\d+(\.\d+)?$`)

// neutral returns a cell as it is exported: with an apostrophe before what would
// run, which tells a spreadsheet that it is text. restored takes it back.
func neutral(cell string) string {
	if active.MatchString(cell) && !negative.MatchString(cell) {
		return "'" + cell
	}
	return cell
}

func restored(cell string) string {
	if rest, ok := strings.CutPrefix(cell, "'"); ok && active.MatchString(rest) && !negative.MatchString(rest) {
		return rest
	}
	return cell
}
