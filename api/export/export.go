// Package export writes answers in the forms in which people and programs take
// them away. One list of formats serves the command line and HTTP: what --format
// names and what Accept asks for is the same answer, byte by byte.
package export

import (
	"fmt"
	"io"
	"reflect"
	"slices"

	"wayhouse/api/report"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Format is a form of answers.
type Format struct {
	Name  string // as --format has it
	Media string // as Accept and Content-Type have it

	writers []writer
}

// Formats are all that there are. What is added here, every command and every
// endpoint offers for the kinds of answers that it has a writer for.
func Formats() []Format {
	return []Format{
		asText(), asJSON(), asGeoJSON(), asGPX(), asKML(), asICS(), asSVG(), asPNG(), asCSV(), asHTML(), asPDF(),
	}
}

// writer writes answers of one kind, which is their type in Go.
type writer struct {
	kind  reflect.Type
	write func(w io.Writer, v report.View, answer any) error
}

func of[A any](write func(io.Writer, report.View, A) error) writer {
	return writer{
		reflect.TypeFor[A](),
		func(w io.Writer, v report.View, answer any) error { return write(w, v, answer.(A)) },
	}
}

// For are the formats of answers of a kind.
func For[A any]() []Format {
	kind := reflect.TypeFor[A]()
	return slices.DeleteFunc(Formats(), func(f Format) bool { return f.writer(kind) == nil })
}

func (f Format) writer(kind reflect.Type) *writer {
	i := slices.IndexFunc(f.writers, func(w writer) bool { return w.kind == kind })
	if i < 0 {
		return nil
	}
	return &f.writers[i]
}

// Write writes an answer as it is to be viewed, which must be of a kind that the format is for.
func (f Format) Write(w io.Writer, v report.View, answer any) error {
	one := f.writer(reflect.TypeOf(answer))
	if one == nil {
		return fmt.Errorf("%T is never written as %s", answer, f.Name)
	}
	return one.write(w, v, answer)
}

// Named is the format of a name among those of an answer. The error is a
// [*measure.FieldError] that lists them.
func Named(name string, among []Format) (Format, error) {
	i := slices.IndexFunc(among, func(f Format) bool { return f.Name == name })
	if i < 0 {
		problem := say.That("error.no_format_of_this")
		if name == asGPX().Name { // what a device follows
			problem = say.That("error.no_track")
		}
		return Format{}, &measure.FieldError{Field: "--format", Value: name, Problem: problem,
			Fix: say.That("fix.one_of", "words", Names(among))}
	}
	return among[i], nil
}

// Names are the names of formats.
func Names(of []Format) (out []string) {
	for _, f := range of {
		out = append(out, f.Name)
	}
	return out
}
