package report

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// fits checks that a text is no more than one screen.
func fits(t interface{ Errorf(string, ...any) }, text string) {
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) > screenLines {
		t.Errorf("%d lines:\n%s", len(lines), text)
	}
	for _, line := range lines {
		if n := utf8.RuneCountInString(line); n > screenWidth {
			t.Errorf("%d columns: %s", n, line)
		}
	}
}

// Whatever is told, the screen keeps its size, shows what stays, and what it does not
// show it counts.
func TestScreensFit(t *testing.T) {
	words := rapid.Map(rapid.SliceOfN(rapid.StringMatching(`[a-zé]{1,130}`), 1, 30), func(all []string) string { return strings.Join(all, " ") })
	rapid.Check(t, func(t *rapid.T) {
		s := &screen{in: phrase.English()}
		var kept []string
		told := 0
		for n := range rapid.IntRange(1, 8).Draw(t, "parts") {
			p := s.part(say.Text(rapid.StringMatching(`[A-Z]{0,30}`).Draw(t, "label")))
			p.apart, p.whole = rapid.Bool().Draw(t, "apart"), rapid.Bool().Draw(t, "whole")
			if n < 4 {
				kept = append(kept, fmt.Sprintf("kept%d", n))
				p.keeps(say.Text(kept[n] + " " + words.Draw(t, "kept")))
			}
			p.hides(rapid.IntRange(0, 2).Draw(t, "hidden"))
			told += p.hidden
			for range rapid.IntRange(0, 20).Draw(t, "items") {
				told++
				if rapid.Bool().Draw(t, "row") {
					p.row(false, "", "T0LD", words.Draw(t, "cell"), words.Draw(t, "cell"))
				} else {
					p.tells(say.Text("T0LD " + words.Draw(t, "text")))
				}
			}
		}
		text := s.String()
		fits(t, text)
		for _, k := range kept {
			if !strings.Contains(text, k) {
				t.Errorf("%s is missing in\n%s", k, text)
			}
		}
		shown := 0
		for line := range strings.Lines(text) {
			var more int
			if _, rest, found := strings.Cut(line, "and "); found {
				if n, _ := fmt.Sscanf(rest, "%d more: --full", &more); n == 1 {
					shown += more
				}
			}
			if strings.Contains(line, "T0LD ") {
				shown++
			}
		}
		if shown != told {
			t.Errorf("%d things of %d are shown or counted in\n%s", shown, told, text)
		}
	})
}

// Where more decides than a screen holds, it shows the first of it and counts the rest.
func TestScreenOfTooMuch(t *testing.T) {
	s := &screen{in: phrase.English()}
	s.part(say.Text("Head")).keeps(say.Text("verdict"))
	p := s.part(say.Text("Rules"))
	p.head(say.Text("height"))
	for i := range 100 {
		p.row(true, fmt.Sprint("CA-", i), "forbidden")
	}
	text := s.String()
	fits(t, text)
	if shown := strings.Count(text, "forbidden"); shown < 30 || !strings.Contains(text, fmt.Sprintf("and %d more: --full", 100-shown)) || !strings.Contains(text, "verdict") {
		t.Errorf("%d of 100 rows in\n%s", shown, text)
	}
}

// Columns of a table stand below each other, and blank lines before parts are the
// first to go.
func TestScreenLayout(t *testing.T) {
	s := &screen{in: phrase.English()}
	p := s.part(say.Text("Where"))
	p.head(say.Text("height"), say.Text("width"))
	p.row(true, "CA-ON", "clear", "not known")
	p.row(true, "CA-QC", "not known", "with conditions")
	s.apart(say.Text("Way")).keeps(say.Text("by 1 and 401"))
	s.part(say.Text("Nothing"))
	want := "Where  height     width\nCA-ON  clear      not known\nCA-QC  not known  with conditions\n\nWay    by 1 and 401\n"
	want = strings.ReplaceAll(want, "  ", "    ")
	want = strings.Join(strings.Fields(want), " ")
	if got := strings.Join(strings.Fields(s.String()), " "); got != want {
		t.Errorf("%q", s.String())
	}
	lines := strings.Split(s.String(), "\n")
	for _, line := range lines[:3] {
		if at := strings.LastIndex(line, "  "); at+2 != strings.Index(lines[0], "width") {
			t.Errorf("the last column of %q begins at %d", line, at+2)
		}
	}
}

// An answer without an outcome, or with a word that is none of ours, is not known.
func TestStates(t *testing.T) {
	c := counts{}
	for _, o := range append(finding.Outcomes(), "", "ok") {
		c.add(o)
	}
	want := "SO FAR A PERSON DECIDES: of 7 checks 3 NOT KNOWN, 1 forbidden, 1 for a person, 1 with conditions, 1 clear"
	if got := phrase.English().Say(c.verdict(finding.Review)); got != want {
		t.Errorf("%q", got)
	}
	if got := phrase.English().Term(stateOf("")); got != "not known" {
		t.Errorf("%q", got)
	}
}

// What stands below every screen fits a line each.
func TestFoot(t *testing.T) {
	s := &screen{in: phrase.English()}
	s.foot([]string{"CA-QC", "leg 2", "width", "example-01"})
	if n := strings.Count(s.String(), "\n"); n != 4 {
		t.Errorf("%d lines:\n%s", n, s)
	}
}
