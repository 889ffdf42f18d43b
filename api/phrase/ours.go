package phrase

import (
	_ "embed"
	"strings"
)

//go:embed fr/ours.txt
var oursInFrench string

// Pairs reads a text of pairs of lines: what is said in English, and under it, after two
// blanks, what a language has for it. Lines that begin with # are for developers.
func (l *Language) Pairs(text string) map[string]string {
	out := map[string]string{}
	was := ""
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\n")
		if other, ok := strings.CutPrefix(line, "  "); ok {
			out[was] = l.Spaced(other)
		} else if !strings.HasPrefix(line, "#") {
			was = line
		}
	}
	return out
}

// Ours is a text of data in the language where this project itself wrote it, such as what
// to mind of the bundled roads; any other stays what it is.
func (l *Language) Ours(text string) string {
	if other, ok := l.ours[text]; ok {
		return other
	}
	return text
}
