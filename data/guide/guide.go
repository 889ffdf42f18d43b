// Package guide is the manual: a page of Markdown for each topic, embedded. To
// add a topic, add a file; its name is the topic's, its first line the heading
// that lists show. The same page in another language stands in a folder of the
// language: its blocks of commands are empty there, and are those of the English page.
package guide

import (
	"embed"
	"io/fs"
	"strings"
)

//go:embed *.md fr/*.md
var pages embed.FS

// Topic is one page of the manual.
type Topic struct {
	Name  string `json:"name"`  // one word in lower case, stable
	Title string `json:"title"` // its heading, without the mark
	Text  string `json:"text"`  // the whole page as Markdown, heading included
}

// Topics lists all pages in a language, by name; a page that the language does not have
// is in English.
func Topics(language string) []Topic {
	files, err := fs.Glob(pages, "*.md")
	if err != nil {
		panic(err) // the pattern is wrong
	}
	out := make([]Topic, len(files))
	for i, file := range files {
		text := page(file)
		if _, err := fs.Stat(pages, language+"/"+file); err == nil {
			text = withBlocks(page(language+"/"+file), text)
		}
		title, _, _ := strings.Cut(text, "\n")
		out[i] = Topic{strings.TrimSuffix(file, ".md"), strings.TrimPrefix(title, "# "), text}
	}
	return out
}

func page(file string) string {
	text, err := pages.ReadFile(file)
	if err != nil {
		panic(err) // an embedded file is there
	}
	return string(text)
}

// fence begins and ends a block.
const fence = "```"

// withBlocks fills the empty blocks of a page with those that another has at their places.
func withBlocks(text, from string) string {
	parts, whole := strings.Split(text, "\n"+fence), strings.Split(from, "\n"+fence)
	for i := 1; i < len(parts) && i < len(whole); i += 2 { // those between are text
		if !strings.Contains(parts[i], "\n") {
			parts[i] = whole[i]
		}
	}
	return strings.Join(parts, "\n"+fence)
}
