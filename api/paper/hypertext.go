package paper

import (
	"bytes"
	"encoding/base64"
	"html/template"
	"strings"

	"wayhouse/api/draw/picture"
)

// hypertext writes blocks as HTML.
type hypertext struct {
	strings.Builder
	err error
}

// put writes a block by the template of its name.
func (h *hypertext) put(name string, b any) {
	if err := page.ExecuteTemplate(h, name, b); err != nil && h.err == nil {
		h.err = err
	}
}

func (h *hypertext) heading(b Heading) { h.put("heading", b) }
func (h *hypertext) text(b Text)       { h.put("text", b) }
func (h *hypertext) fields(b Fields)   { h.put("fields", b) }
func (h *hypertext) list(b List)       { h.put("list", b) }
func (h *hypertext) leaf()             { h.put("leaf", nil) }

func (h *hypertext) table(b Table) {
	type column struct {
		Head    string
		Percent int
	}
	var columns []column
	for i, head := range b.Heads {
		columns = append(columns, column{head, int(100*b.Shares[i] + 0.5)})
	}
	type row struct {
		Row
		Source template.URL // of its picture
		Last   int          // of its cells, which is so many columns wide
		Across int
	}
	var rows []row
	for _, r := range b.Rows {
		one := row{Row: r, Last: len(r.Cells) - 1, Across: len(b.Heads) - len(r.Cells) + 1}
		if r.Picture != nil {
			one.Source, one.Across = h.source(r.Picture), 1
		}
		rows = append(rows, one)
	}
	h.put("table", map[string]any{"Columns": columns, "Rows": rows})
}

func (h *hypertext) picture(b Picture) {
	h.put("picture", map[string]any{"Source": h.source(b.Of), "Says": b.Says})
}

// source is a drawing as a picture of its own, so that what is in it and what is around it
// do not meet.
func (h *hypertext) source(of *picture.Picture) template.URL {
	var svg bytes.Buffer
	if err := of.SVG(&svg); err != nil && h.err == nil {
		h.err = err
	}
	return template.URL("data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(svg.Bytes()))
}
