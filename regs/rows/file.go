package rows

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"

	"wayhouse/regs/say"
)

// RevisionColumn is the column of a CSV, of no table, that says from which
// revision of the tables each line was exported.
const RevisionColumn = "tables_revision"

// Sheet is a table as it is exported.
type Sheet struct {
	Records  []Record
	Revision int // of the tables from which it is exported; 0 of those that nobody keeps
}

// peeked is how much of a file is looked at before it is read; a head line fits.
const peeked = 1 << 14

// decoded returns a file as UTF-8, as it comes in. Spreadsheets put a mark at the
// beginning of what they write so, and write "Unicode" as UTF-16.
func decoded(in io.Reader) (io.Reader, error) {
	raw := bufio.NewReaderSize(in, peeked)
	start, _ := raw.Peek(4)
	marked := bytes.HasPrefix(start, []byte("\xff\xfe")) || bytes.HasPrefix(start, []byte("\xfe\xff"))
	if !marked && bytes.IndexByte(start, 0) >= 0 {
		return nil, say.Err(say.That("parse_error.not_utf8"))
	}
	return transform.NewReader(raw, unicode.BOMOverride(transform.Nop)), nil
}

// separators are what parts the cells of a line: spreadsheets write what their
// language has, and say so in a first line such as "sep=;".
const separators = ",;\t"

var sepLine = regexp.MustCompile(`^\s*"?(?i:sep)=([,;\t])"?[ \t,;]*\r?\n`)

// cellsOf returns a reader of the cells of a file, as it comes in. How many a line
// has is for [Cells.fill].
func cellsOf(in io.Reader) (*csv.Reader, error) {
	in, err := decoded(in)
	if err != nil {
		return nil, err
	}
	text := bufio.NewReaderSize(in, peeked)
	start, _ := text.Peek(peeked)
	var comma rune
	var r *csv.Reader
	if m := sepLine.FindSubmatch(start); m != nil {
		comma = rune(m[1][0])
		_, _ = text.Discard(len(m[0]))
		r = csv.NewReader(io.MultiReader(strings.NewReader("\n"), text)) // lines are counted as they stand in the file
	} else {
		comma, r = separator(start), csv.NewReader(text)
	}
	r.Comma, r.FieldsPerRecord = comma, -1
	return r, nil
}

// separator is what parts most cells of the head line.
func separator(start []byte) rune {
	head, _, _ := bytes.Cut(bytes.TrimLeft(start, "\r\n"), []byte("\n"))
	comma, most := ',', 0
	for _, s := range separators {
		if n := bytes.Count(head, []byte(string(s))); n > most {
			comma, most = s, n
		}
	}
	return comma
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
		return say.Err(say.That("parse_error.fields", "line", c.Line, "cells", len(cells), "names", len(names)))
	}
	for i, name := range names {
		if i != revision {
			c.Record[c.head[name]] = restored(cells[i])
			continue
		}
		text := strings.TrimSpace(cells[i])
		n, err := strconv.Atoi(text)
		if text != "" && (err != nil || n < 1) {
			return &CellError{
				Line: c.Line, Column: name, Value: text, Problem: say.That("error.no_number_of_a"),
				Fix: say.That("fix.leave_it_as_it"),
			}
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
