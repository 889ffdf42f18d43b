package paper

import (
	"embed"
	"fmt"
	"html/template"
	"io"
	"time"
)

//go:embed page.tmpl
var pageTemplate embed.FS

var page = template.Must(template.ParseFS(pageTemplate, "page.tmpl"))

// HTML writes papers as one document that needs nothing beside it, made for a browser to
// print: each paper begins a page, and every page repeats its head and its foot.
func HTML(w io.Writer, on Size, _ time.Time, docs []Doc) error {
	type written struct {
		Doc
		Body template.HTML
	}
	var all []written
	for _, d := range docs {
		var h hypertext
		for _, b := range d.Blocks {
			b.on(&h)
		}
		if h.err != nil {
			return h.err
		}
		all = append(all, written{d, template.HTML(h.String())})
	}
	return page.ExecuteTemplate(w, "page.tmpl", map[string]any{
		"Lang": docs[0].Lang, "Title": docs[0].Title + " " + docs[0].About, "Papers": all,
		"Size": template.CSS(fmt.Sprintf("%gmm %gmm", on.Wide, on.High)),
	})
}
