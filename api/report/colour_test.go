package report

import (
	"regexp"
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
)

// A colour adds nothing to the words and takes none away: without it the text is the
// same, in every language, and each state has its own.
func TestColoured(t *testing.T) {
	escape := regexp.MustCompile("\x1b\\[[0-9;]*m")
	for _, tag := range phrase.Languages() {
		in := phrase.In(tag, measure.Both)
		seen := map[string]bool{}
		for _, o := range finding.Outcomes() {
			word := in.Term(state(o))
			text := "a " + word + ", " + strings.ToUpper(word) + ": 3\n"
			got := Coloured(in, text)
			if escape.ReplaceAllString(got, "") != text || !strings.Contains(got, "a "+word+",") || got == text {
				t.Errorf("%s: %q is %q", tag, text, got)
			}
			seen[escape.FindString(got)] = true
		}
		if len(seen) != len(finding.Outcomes()) {
			t.Errorf("%s: %d states have %d colours", tag, len(finding.Outcomes()), len(seen))
		}
	}
}
