// Package say holds what is said as data: a [Remark] is a code and typed values.
// What it reads like, and in which language, is decided at the top floor alone;
// below it nothing is ever chosen by reading a sentence.
package say

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// Code names what is said, such as "limit.no_row". Every code has one sentence in
// each language.
type Code string

// Arg is one value of a remark. The value is one of
//
//   - string: words of the data or of the user, in their own language;
//   - a [Term], a [Jurisdiction], a [Remark], []Term, []Remark or []string;
//   - a quantity of package measure, an int, a float64 without a unit;
//   - a time.Time for a moment in its zone, a [Day], a time.Duration.
type Arg struct {
	Name  string
	Value any
}

// Remark is one thing that is said. The zero Remark says nothing.
type Remark struct {
	Code Code
	Args []Arg
}

// That makes a remark of a code and of names and values in turns. Code and names
// are literals wherever it is called, so that a test can hold all of them against
// the sentences; it panics where a value has no name.
func That(code Code, pairs ...any) Remark {
	r := Remark{Code: code}
	for i := 0; i < len(pairs); i += 2 {
		r.Args = append(r.Args, Arg{pairs[i].(string), pairs[i+1]})
	}
	return r
}

// text is the code of words that are not ours.
const text Code = "text"

// Text is a remark in the words of a row, a map or the user.
func Text(words string) Remark {
	if words == "" {
		return Remark{}
	}
	return That(text, "words", words)
}

// Or returns the first of two remarks that says something.
func Or(a, b Remark) Remark {
	if a.None() {
		return b
	}
	return a
}

// None reports whether nothing is said.
func (r Remark) None() bool { return r.Code == "" }

// Get returns a value by its name, nil where there is none.
func (r Remark) Get(name string) any {
	for _, a := range r.Args {
		if a.Name == name {
			return a.Value
		}
	}
	return nil
}

// String writes the remark for logs, tests and comparison, never for people: two
// remarks with one String say the same.
func (r Remark) String() string {
	if r.Code == text {
		return r.Args[0].Value.(string)
	}
	var b strings.Builder
	b.WriteString(string(r.Code))
	for i, a := range r.Args {
		fmt.Fprintf(&b, "%s%s: %v", map[bool]string{true: "(", false: ", "}[i == 0], a.Name, a.Value)
	}
	if len(r.Args) > 0 {
		b.WriteString(")")
	}
	return b.String()
}

// Strings writes each remark as [Remark.String] does.
func Strings(remarks []Remark) []string {
	var out []string
	for _, r := range remarks {
		out = append(out, r.String())
	}
	return out
}

// Same reports whether two lists of remarks say the same in the same order.
func Same(a, b []Remark) bool { return slices.Equal(Strings(a), Strings(b)) }

// Each makes a remark of every text.
func Each(words []string) []Remark {
	var out []Remark
	for _, w := range words {
		out = append(out, Text(w))
	}
	return out
}

// Once returns what remarks say, each once, in the order in which they came.
func Once(remarks []Remark) []Remark {
	var out []Remark
	seen := map[string]bool{}
	for _, r := range remarks {
		if key := r.String(); !r.None() && !seen[key] {
			seen[key] = true
			out = append(out, r)
		}
	}
	return out
}

// A Term is a word of ours with a translation: a kind of vehicle, a quantity. The
// zero value of a type may have none.
type Term interface{ Term() Code }

// Word is the code of a word of a family of terms, none for "".
func Word(family, word string) Code {
	if word == "" {
		return ""
	}
	return Code(family + "." + word)
}

// Jurisdiction is an area by its code; "" is one that is not known.
type Jurisdiction string

// Day is a date without a time.
type Day time.Time

// String writes the date, as in 2026-07-01.
func (d Day) String() string { return time.Time(d).Format(time.DateOnly) }
