// Package report prints a plan for people.
package report

import (
	"fmt"
	"strings"
	"unicode"

	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/routing/trip"
)

type text struct {
	b    strings.Builder
	in   *phrase.Language
	plan *trip.Plan
}

// View is how an answer is to be shown: in which language and units, and of a text
// how much of it.
type View struct {
	In   *phrase.Language
	Full bool   // all there is to say, not only the first screen
	Why  string // one subject with all that is known of it; "" for none
	Rows bool   // every row with its source, not only those that decide
}

func newText(v View, p *trip.Plan) *text { return &text{in: v.In, plan: p} }

const width = 96

// line writes one line, folded at the width with a hanging indent.
func (t *text) line(format string, args ...any) {
	s := Printable(t.say(format, args...))
	body := strings.TrimLeft(s, " ")
	indent := strings.Repeat(" ", len(s)-len(body))
	hang := indent + "  "
	current := indent
	for i, word := range spaced(body) {
		switch {
		case i == 0:
			current += word
		case len([]rune(current))+1+len([]rune(word)) > width:
			t.b.WriteString(current + "\n")
			current = hang + word
		default:
			current += " " + word
		}
	}
	t.b.WriteString(current + "\n")
}

// spaced are the words between plain spaces: a no-break space, as between thousands, is
// in a word.
func spaced(s string) []string { return strings.FieldsFunc(s, func(r rune) bool { return r == ' ' }) }

// say formats, with quantities as the language prints them.
func (t *text) say(format string, args ...any) string {
	for i := range args {
		args[i] = t.in.Shown(args[i])
	}
	return fmt.Sprintf(format, args...)
}

// Printable takes out what would drive a terminal: names come from users.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
}

// mark stands at the head of an answer that rests on invented data, and as the
// status of each source that is invented.
const mark = "INVENTED"

func marked(invented bool) string {
	if invented {
		return mark + ". "
	}
	return ""
}

// status is what a source is worth.
func status(s finding.Status) string {
	if s == finding.Invented {
		return mark
	}
	return string(s)
}

func (t *text) heading(s string) { t.b.WriteString("\n" + strings.ToUpper(s) + "\n") }

func (t *text) list(title string, items []string) {
	if len(items) == 0 {
		return
	}
	t.heading(title)
	for _, s := range items {
		t.line("  - %s", s)
	}
}
