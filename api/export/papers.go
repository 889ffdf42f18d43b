package export

import (
	"io"

	"wayhouse/api/paper"
	"wayhouse/api/report"
)

// asHTML is for a browser, and for whom it is read to.
func asHTML() Format { return Format{"html", "text/html; charset=utf-8", printed(paper.HTML)} }

// asPDF is for a printer.
func asPDF() Format { return Format{"pdf", "application/pdf", printed(paper.PDF)} }

// Papers are the formats of what is printed.
func Papers() []Format { return []Format{asPDF(), asHTML()} }

// printed writes all papers of an answer into one file, or some that were made.
func printed(write paper.Write) []writer {
	return []writer{
		papersOf(write, paper.OfTrip), papersOf(write, paper.OfRig), papersOf(write, paper.OfQuote),
		of(func(w io.Writer, v report.View, docs []paper.Doc) error {
			on, err := Print(v)
			if err != nil {
				return err
			}
			return write(w, on.On, on.At, docs)
		}),
	}
}

// papersOf writes all papers of answers of a kind.
func papersOf[A any](write paper.Write, made func(paper.Print, A) []paper.Doc) writer {
	return of(func(w io.Writer, v report.View, answer A) error {
		on, err := Print(v)
		if err != nil {
			return err
		}
		return write(w, on.On, on.At, made(on, answer))
	})
}

// Print is how papers are printed in a view.
func Print(v report.View) (paper.Print, error) {
	size, err := paper.SizeNamed(v.Paper)
	return paper.Print{In: v.In, On: size, At: v.Printed}, err
}
