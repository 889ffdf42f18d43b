package export

import (
	"io"

	"wayhouse/api/paper"
	"wayhouse/api/report"
	"wayhouse/routing/trip"
)

// asHTML is for a browser, and for whom it is read to.
func asHTML() Format { return Format{"html", "text/html; charset=utf-8", printed(paper.HTML)} }

// asPDF is for a printer.
func asPDF() Format { return Format{"pdf", "application/pdf", printed(paper.PDF)} }

// printed writes all papers of an answer.
func printed(write paper.Write) []writer {
	return []writer{of(func(w io.Writer, v report.View, p *trip.Plan) error {
		return papers(w, v, write, func(on paper.Print) []paper.Doc { return paper.OfTrip(on, p) })
	})}
}

func papers(w io.Writer, v report.View, write paper.Write, made func(paper.Print) []paper.Doc) error {
	on, err := Print(v)
	if err != nil {
		return err
	}
	return write(w, on.On, on.At, made(on))
}

// Print is how papers are printed in a view.
func Print(v report.View) (paper.Print, error) {
	size, err := paper.SizeNamed(v.Paper)
	return paper.Print{In: v.In, On: size, At: v.Printed}, err
}
