package draw

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"wayhouse/api/phrase"
)

// A drawing in French has none of the words that no English sentence does without.
func TestFrench(t *testing.T) {
	english := regexp.MustCompile(`(?i)\b(the|is|are|not|of|known|which)\b`)
	for name, f := range rigs(t) {
		r, s := f()
		var text, svg bytes.Buffer
		if err := Text(&text, phrase.French(), r, s, 0, true); err != nil {
			t.Fatal(err)
		}
		if err := Rig(phrase.French(), r, s, true).SVG(&svg); err != nil {
			t.Fatal(err)
		}
		for _, drawn := range []string{text.String(), svg.String()} {
			for _, part := range r.Unit.Outline { // named by its owner
				drawn = strings.ReplaceAll(drawn, part.Name, "")
			}
			if at := english.FindString(drawn); at != "" {
				t.Errorf("%s: %q in %s", name, at, drawn)
			}
		}
	}
}
