// Package report prints a plan for people.
package report

import (
	"fmt"
	"strings"
	"time"
	"unicode"

	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
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
	// Sheet is which lines a sheet of a trip has; "" for its legs.
	Sheet string
	// Paper is the name of the size of sheets that are printed on, "" for that of where the
	// trip is; Printed is when.
	Paper   string
	Printed time.Time
	// Called reports whether a text names the jurisdiction of a code; nil: only codes do.
	Called func(code, text string) bool
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

// tell writes what is said, so many steps to the right.
func (t *text) tell(steps int, r say.Remark) {
	t.line("%s%s", strings.Repeat("  ", steps), t.in.Say(r))
}

// unknown writes that something is not known, and why.
func (t *text) unknown(why say.Remark) { t.tell(1, say.That("report.unknown", "why", why)) }

// heads are the heads of a table.
func (t *text) heads(names ...say.Remark) (out []string) {
	for _, n := range names {
		out = append(out, t.in.Say(n))
	}
	return out
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

// status is what a source is worth, loud where it is invented.
func (t *text) status(s finding.Status) string {
	if s == finding.Invented {
		return t.in.Say(say.That("head.invented"))
	}
	return t.in.Term(s)
}

// heading writes the head of a part.
func (t *text) heading(of say.Remark) { t.b.WriteString("\n" + strings.ToUpper(t.in.Say(of)) + "\n") }

// outcome is the word of an outcome, loud for all but clear.
func (t *text) outcome(o finding.Outcome) string {
	if o == finding.Clear {
		return t.in.Term(o)
	}
	return strings.ToUpper(t.in.Term(o))
}

// notKnown is what stands where a value is not known.
func (t *text) notKnown() string { return t.in.Say(say.That("report.not_known")) }

func (t *text) list(title say.Remark, items []string) {
	if len(items) == 0 {
		return
	}
	t.heading(title)
	for _, s := range items {
		t.line("  - %s", s)
	}
}
