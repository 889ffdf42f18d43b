package rows

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// HeadError says why the first line of a file is no head line of a table.
type HeadError struct{ Problem, Fix string }

func (e *HeadError) Error() string { return "the file " + e.Problem + "; " + e.Fix }

// checkHead refuses a head line that does not have the columns of a table in order;
// those that are optional may be left out.
func checkHead(first, columns, optional []string) error {
	want := slices.DeleteFunc(slices.Clone(columns), func(c string) bool {
		return slices.Contains(optional, c) && !slices.Contains(first, c)
	})
	if slices.Equal(first, want) {
		return nil
	}
	needed := slices.DeleteFunc(slices.Clone(columns), func(c string) bool { return slices.Contains(optional, c) })
	e := &HeadError{
		Problem: "has its columns in another order than the table",
		Fix:     "the head line must be " + strings.Join(needed, ",") + mayFollow(optional),
	}
	strange, lacking := without(first, columns), without(needed, first)
	switch {
	case slices.ContainsFunc(first, unreadable):
		e.Problem = "is no table of text"
	case len(strange) == len(first):
		e.Problem = "has no head line"
	case len(strange) > 0:
		e.Problem = "has columns that the table has not: " + strings.Join(strange, ", ")
	case len(lacking) > 0:
		e.Problem = "lacks columns: " + strings.Join(lacking, ", ")
	}
	return e
}

// noHead is the error of a file without a first line.
func noHead(err error, columns, optional []string) error {
	if !errors.Is(err, io.EOF) {
		return fmt.Errorf("no head line: %w", err)
	}
	e := checkHead(nil, columns, optional).(*HeadError)
	e.Problem = "is empty: it has no head line"
	return e
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

func mayFollow(optional []string) string {
	if len(optional) == 0 {
		return ""
	}
	return "; after these there may be " + strings.Join(optional, ", ")
}
