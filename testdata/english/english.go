// Package english finds English in what should be French: words without which hardly a
// sentence is written. Tests use it.
package english

import (
	"cmp"
	"encoding/csv"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"

	"wayhouse/data"
)

// word is one that English text of some length has and French has not, alone between
// blanks or signs of a sentence; none that names a field, such as of, by and from.
var word = regexp.MustCompile(`(?i)(?:^|[\s(«:;,])` +
	`(the|is|are|was|has|not|which|what|with|without|and|that|it|its|must|this|an|more)(?:$|[\s).,;:»])`)

// quoted is what stands for itself: what the user wrote, what a file or a flag says.
var quoted = regexp.MustCompile(`«[^»]*»|“[^”]*”|"(?:[^"\\]|\\.)*"`)

// In is the first English word of a text with what stands around it, "" where there is
// none. theirs are texts in it that keep their own language; one that the text cuts off
// ends in three points there.
func In(text string, theirs ...string) string {
	text = whole(text)
	slices.SortFunc(theirs, func(a, b string) int { return cmp.Compare(len(b), len(a)) })
	for _, their := range theirs {
		if their = whole(their); len(their) > 3 {
			text = without(text, their)
		}
	}
	text = quoted.ReplaceAllString(text, "*")
	at := word.FindStringIndex(text)
	if at == nil {
		return ""
	}
	return text[max(0, at[0]-40):min(len(text), at[1]+40)]
}

// whole is a text in one line, however it was folded.
func whole(text string) string { return strings.Join(strings.Fields(text), " ") }

// without takes a text out of another, and the beginnings of it that are cut off.
func without(text, their string) string {
	text = strings.ReplaceAll(text, their, "*")
	for end := strings.Index(text, "…"); end >= 0; {
		for n := min(end, len(their)); n > 3; n-- {
			if strings.HasSuffix(text[:end], their[:n]) {
				text, end = text[:end-n]+"*"+text[end:], end-n+1
				break
			}
		}
		next := strings.Index(text[end+len("…"):], "…")
		if next < 0 {
			break
		}
		end += len("…") + next
	}
	return text
}

// Rows are the cells of the shipped tables that are words, and the credits and licences
// of the data: all that keeps its language.
func Rows() (out []string) {
	for _, s := range data.Sources() {
		out = append(out, s.Attribution, s.Licence)
	}
	err := fs.WalkDir(data.Files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(name) != ".csv" {
			return err
		}
		f, err := data.Files.Open(name)
		if err != nil {
			return err
		}
		defer f.Close()
		lines, err := csv.NewReader(f).ReadAll()
		for _, line := range lines {
			for _, cell := range line {
				if strings.Contains(cell, " ") {
					out = append(out, cell)
				}
			}
		}
		return err
	})
	if err != nil {
		panic(err) // embedded files, which tests read
	}
	slices.Sort(out)
	return slices.Compact(out)
}
