package rows

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"wayhouse/regs/say"
)

// HeadError says why the first line of a file is no head line of a table.
type HeadError struct{ Problem, Fix say.Remark }

func (e *HeadError) Error() string { return fmt.Sprintf("the file %s; %s", e.Problem, e.Fix) }

// Remark is all of it in one sentence.
func (e *HeadError) Remark() say.Remark {
	return say.That("error.of_file", "file", "", "problem", e.Problem, "fix", e.Fix)
}

// checkHead refuses a head line that does not have the columns of a table in order;
// those that are optional may be left out.
func checkHead(first, columns, optional []string) error {
	want := slices.DeleteFunc(slices.Clone(columns), func(c string) bool {
		return slices.Contains(optional, c) && !slices.Contains(first, c)
	})
	if slices.Equal(first, want) {
		return nil
	}
	needed := without(columns, optional)
	e := &HeadError{Problem: say.That("error.head_order"), Fix: headMust(needed, optional)}
	strange, lacking := without(first, columns), without(needed, first)
	switch {
	case slices.ContainsFunc(first, unreadable):
		e.Problem = say.That("error.head_no_text")
	case 2*len(strange) > len(first):
		e.Problem = say.That("error.head_none")
	case len(strange) > 0:
		e.Problem = say.That("error.head_strange", "columns", strange)
	case len(lacking) > 0:
		e.Problem = say.That("error.head_lacks", "columns", lacking)
	}
	return e
}

// headMust says of what columns a head line is, and which may follow.
func headMust(needed, optional []string) say.Remark {
	head := strings.Join(needed, ",")
	if len(optional) == 0 {
		return say.That("fix.head", "head", head)
	}
	return say.That("fix.head_and", "head", head, "optional", optional)
}

// noHead is the error of a file without a first line.
func noHead(err error, columns, optional []string) error {
	if !errors.Is(err, io.EOF) {
		return unread(err)
	}
	return &HeadError{Problem: say.That("error.head_empty"), Fix: headMust(without(columns, optional), optional)}
}

// unread says of a CSV that cannot be read where that is: a quotation mark is all that its
// reader stumbles over. An error of whatever the text comes from stays what it is.
func unread(err error) error {
	var bad *csv.ParseError
	if errors.As(err, &bad) {
		return say.Err(say.That("parse_error.csv_quotes", "line", bad.Line))
	}
	return err
}

// without returns what is in a list and not in another.
func without(list, other []string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(c string) bool { return slices.Contains(other, c) })
}

// unreadable reports whether a cell is no text.
func unreadable(cell string) bool {
	return !utf8.ValidString(cell) || strings.ContainsFunc(cell, func(r rune) bool {
		return r == utf8.RuneError || unicode.IsControl(r)
	})
}
