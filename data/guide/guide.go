// Package guide is the manual: a page of Markdown for each topic, embedded. To
// add a topic, add a file; its name is the topic's, its first line the heading
// that lists show.
package guide

import (
	"embed"
	"io/fs"
	"strings"
)

//go:embed *.md
var pages embed.FS

// Topic is one page of the manual.
type Topic struct {
	Name  string `json:"name"`  // one word in lower case, stable
	Title string `json:"title"` // its heading, without the mark
	Text  string `json:"text"`  // the whole page as Markdown, heading included
}

// Topics lists all pages, by name.
func Topics() []Topic {
	files, err := fs.Glob(pages, "*.md")
	if err != nil {
		panic(err) // the pattern is wrong
	}
	out := make([]Topic, len(files))
	for i, file := range files {
		text, err := pages.ReadFile(file)
		if err != nil {
			panic(err) // an embedded file is there
		}
		title, _, _ := strings.Cut(string(text), "\n")
		out[i] = Topic{strings.TrimSuffix(file, ".md"), strings.TrimPrefix(title, "# "), string(text)}
	}
	return out
}
