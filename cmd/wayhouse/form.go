package main

import (
	"bytes"
	"errors"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/export"
	papers "wayhouse/api/paper"
	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// form is the form in which a command prints its answer.
type form struct {
	among       []export.Format
	name        string
	json        bool
	lang, units string
	view        report.View
	chosen      export.Format
}

// formOf is the form of answers of a kind.
func formOf[A any]() *form { return &form{among: export.For[A]()} }

// flags adds the flags of an answer that has a first screen and more behind it.
func (f *form) flags(set *pflag.FlagSet) {
	f.ofList(set)
	if _, err := export.Named("text", f.among); err == nil {
		set.BoolVar(&f.view.Full, "full", false, "")
		set.StringVar(&f.view.Why, "why", "", "")
		set.BoolVar(&f.view.Rows, "rows", false, "")
	}
}

// sheetFlag adds the flag of a trip, of which there are several sheets.
func (f *form) sheetFlag(set *pflag.FlagSet) {
	set.StringVar(&f.view.Sheet, "sheet", "", "")
	_ = set.SetAnnotation("sheet", valuesOf, export.Sheets()) // the flag is there
}

// ofList adds the flags of an answer that is a list.
func (f *form) ofList(set *pflag.FlagSet) {
	set.StringVar(&f.name, "format", "", "")
	_ = set.SetAnnotation("format", valuesOf, export.Names(f.among)) // the flag is there
	if _, err := export.Named("json", f.among); err == nil {
		set.BoolVar(&f.json, "json", false, "")
	}
	set.StringVar(&f.lang, "lang", "", "")
	_ = set.SetAnnotation("lang", valuesOf, phrase.Words())
	if _, err := export.Named("pdf", f.among); err == nil {
		set.StringVar(&f.view.Paper, "paper", "", "")
		_ = set.SetAnnotation("paper", valuesOf, papers.SizeNames())
	}
	set.StringVar(&f.units, "units", "", "")
	_ = set.SetAnnotation("units", valuesOf, measure.Systems())
}

// jsonFlag adds the flag of a list that is printed as text or as JSON.
func jsonFlag(c *cobra.Command) *bool { return c.Flags().Bool("json", false, "") }

// choose reads the flags, before anything is worked out.
func (f *form) choose() (err error) {
	name := f.name
	switch {
	case f.json && name != "" && name != "json":
		return &measure.FieldError{Field: "--format", Value: name, Problem: say.That("error.given_beside_json"),
			Fix: say.That("fix.give_one_of_the")}
	case f.json:
		name = "json"
	case name == "":
		name = f.among[0].Name
	}
	if f.chosen, err = export.Named(strings.ToLower(name), f.among); err != nil {
		return err
	}
	if _, err := papers.SizeNamed(f.view.Paper); err != nil {
		return asFlag(err)
	}
	f.view.In, err = phrase.Choose(f.lang, "", f.units)
	return asFlag(err)
}

// instead is the form of another kind of answer, by the same flags.
func (f *form) instead(of *form) *form {
	out := *f
	out.among = of.among
	return &out
}

// write prints an answer, a text in colour where the output takes colours.
func (f *form) write(w io.Writer, answer any) error {
	if o, ok := w.(*output); !ok || !o.colours || f.chosen.Name != "text" {
		return asFlag(f.chosen.Write(w, f.view, answer))
	}
	var text bytes.Buffer
	if err := f.chosen.Write(&text, f.view, answer); err != nil {
		return asFlag(err)
	}
	_, err := io.WriteString(w, report.Coloured(f.view.In, text.String()))
	return err
}

// asFlag names the flag that a refusal is about.
func asFlag(err error) error {
	if wrong := (*measure.FieldError)(nil); errors.As(err, &wrong) {
		wrong.Field = "--" + wrong.Field
	}
	return err
}
