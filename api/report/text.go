// Package report prints a plan for people.
package report

import (
	"fmt"
	"strings"
	"unicode"

	"wayhouse/api/phrase"
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

// line writes one line, folded at the width with a hanging indent. Where the
// line starts with the mark of invented data, the folded lines carry it too.
func (t *text) line(format string, args ...any) {
	s := Printable(fmt.Sprintf(format, args...))
	body := strings.TrimLeft(s, " ")
	indent := strings.Repeat(" ", len(s)-len(body))
	hang := indent + "  "
	if strings.HasPrefix(body, mark) {
		hang = indent + mark + "  "
	}
	current := indent
	for i, word := range strings.Fields(body) {
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

// Printable takes out what would drive a terminal: names come from users.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
}

// mark starts every line that uses invented data.
const mark = "INVENTED"

func marked(invented bool) string {
	if invented {
		return mark + " "
	}
	return ""
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
