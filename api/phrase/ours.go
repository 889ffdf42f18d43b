package phrase

import (
	_ "embed"
	"maps"
	"slices"
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
// to mind of the bundled roads; any other stays what it is. A star in a text of ours
// stands for what it is about, such as the day of an extract.
func (l *Language) Ours(text string) string {
	if other, ok := l.ours[text]; ok {
		return other
	}
	for _, frame := range l.frames {
		begins, ends, _ := strings.Cut(frame, "*")
		inner, ok := strings.CutPrefix(text, begins)
		if inner, ok = cutEnd(inner, ends, ok); ok {
			return strings.Replace(l.ours[frame], "*", l.Ours(inner), 1)
		}
	}
	return text
}

// cutEnd takes the end off a text whose beginning was right; false where nothing is left.
func cutEnd(text, end string, right bool) (string, bool) {
	text, ended := strings.CutSuffix(text, end)
	return text, right && ended && text != ""
}

// framesOf are the texts of ours with a star, in order.
func framesOf(ours map[string]string) []string {
	return slices.DeleteFunc(slices.Sorted(maps.Keys(ours)), func(text string) bool {
		return !strings.Contains(text, "*")
	})
}
