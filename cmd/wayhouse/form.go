package main

import (
	"io"
	"strings"

	"github.com/spf13/pflag"

	"wayhouse/api/export"
	"wayhouse/regs/measure"
)

// form is the form in which a command prints its answer.
type form struct {
	among  []export.Format
	name   string
	json   bool
	chosen export.Format
}

// formOf is the form of answers of a kind.
func formOf[A any]() *form { return &form{among: export.For[A]()} }

func (f *form) flags(set *pflag.FlagSet) {
	set.StringVar(&f.name, "format", "",
		"print the answer as "+export.List(export.Names(f.among))+" (default: "+f.among[0].Name+")")
	if _, err := export.Named("json", f.among); err == nil {
		set.BoolVar(&f.json, "json", false, "short for --format json, which is what the API returns")
	}
}

// choose reads the flags, before anything is worked out.
func (f *form) choose() (err error) {
	name := f.name
	switch {
	case f.json && name != "" && name != "json":
		return &measure.FieldError{Field: "--format", Value: name, Problem: "is given beside --json",
			Fix: "give one of the two"}
	case f.json:
		name = "json"
	case name == "":
		name = f.among[0].Name
	}
	f.chosen, err = export.Named(strings.ToLower(name), f.among)
	return err
}

// write prints an answer.
func (f *form) write(w io.Writer, answer any) error { return f.chosen.Write(w, answer) }
