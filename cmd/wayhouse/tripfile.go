package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"sigs.k8s.io/yaml"

	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// A trip file is a trip request in YAML or JSON. Beside the fields of the API
// it may name files, relative to itself: unit and tow a description, structures
// a CSV, route a GeoJSON, GPX or KML file, not_through of the wishes a GeoJSON file, rates of
// the quote a CSV.

// tripOf is what a trip file asks, with the files that it names.
func tripOf(path string) (*asked, error) {
	fields, err := readFields(path)
	if err != nil {
		return nil, err
	}
	a := newAsked()
	a.fields, a.files[""] = fields, path
	return a, a.readNamed(path)
}

// rigOf is what the description of a unit asks, where there is one, and of a tow vehicle
// where one is named.
func rigOf(unit []string, tow string) (*asked, error) {
	a := newAsked()
	for _, path := range unit {
		if err := a.add("unit", path); err != nil {
			return a, err
		}
	}
	return a, a.add("tow", tow)
}

// add takes the description of a part from a file; none is none.
func (a *asked) add(part, path string) error {
	if path == "" {
		return nil
	}
	fields, err := readFields(path)
	a.fields[part] = fields
	a.files[part] = path
	return err
}

// readNamed puts what the files say in the place of their names.
func (a *asked) readNamed(path string) error {
	fields := a.fields
	wishes, _ := fields["wishes"].(map[string]any)
	quote, _ := fields["quote"].(map[string]any)
	part := func(p string) (any, error) { return readFields(p) }
	for _, named := range []struct {
		in    map[string]any
		field string
		path  string // of what the file says
		read  func(path string) (any, error)
	}{
		{fields, "unit", "unit", part}, {fields, "tow", "tow", part}, {fields, "structures", "structures_csv", readText},
		{fields, "route", "route", readRoute}, {wishes, "not_through", "wishes.not_through", readGeoJSON},
		{quote, "rates", "quote.rates_csv", readText},
	} {
		file, ok := named.in[named.field].(string)
		if !ok {
			continue
		}
		file = besideFile(path, file)
		said, err := named.read(file)
		if err != nil {
			return unopened(path, named.field, err)
		}
		named.in[named.field] = said
		if form, isRoute := said.(route); isRoute {
			named.path += "." + form.field
			named.in[named.field] = map[string]any{form.field: form.doc}
		}
		a.files[named.path] = file
	}
	asCSV(fields, "structures")
	asCSV(quote, "rates")
	return nil
}

// asCSV moves what a file said to the field that takes its text.
func asCSV(in map[string]any, field string) {
	if csv, ok := in[field].(string); ok {
		delete(in, field)
		in[field+"_csv"] = csv
	}
}

// unopened says that a file which a field names cannot be read; what is in a file says
// so itself.
func unopened(path, field string, err error) error {
	var file *fs.PathError
	if !errors.As(err, &file) {
		return err
	}
	return &measure.FieldError{
		Field: path + ", field " + field, Value: file.Path, Problem: say.Of(err), Fix: say.That("fix.file_name"),
	}
}

func readFields(path string) (map[string]any, error) {
	raw, err := readFile(path)
	if err != nil {
		return nil, err
	}
	return fieldsIn(path, raw)
}

// fieldsIn reads the text of a file of fields.
func fieldsIn(path string, raw []byte) (map[string]any, error) {
	if !utf8.Valid(raw) || bytes.IndexByte(raw, 0) >= 0 {
		return nil, &measure.FieldError{
			Field: path, Problem: say.That("error.no_text_in_utf"), Fix: say.That("fix.give_a_file_of"),
		}
	}
	if err := onceInYAML(path, raw); err != nil {
		return nil, err
	}
	var said any
	if err := yaml.UnmarshalStrict(raw, &said); err != nil {
		return nil, &measure.FieldError{
			Field: path, Problem: wire.NoYAML(err), Fix: say.That("fix.correct_it_data_example"),
		}
	}
	fields, ok := said.(map[string]any)
	switch {
	case ok:
		return fields, nil
	case said == nil:
		return nil, &measure.FieldError{Field: path, Problem: say.That("error.empty"), Fix: say.That("fix.fill_it_in_data")}
	}
	return nil, &measure.FieldError{
		Field: path, Problem: wire.NotFields(said), Fix: say.That("fix.write_lines_such_as"),
	}
}

func readText(path string) (any, error) {
	raw, err := readFile(path)
	return string(raw), err
}

// route is a given route by the field of its form.
type route struct {
	field string
	doc   any
}

func readRoute(path string) (any, error) {
	field, read := "geojson", readGeoJSON
	switch strings.ToLower(filepath.Ext(path)) {
	case ".gpx":
		field, read = "gpx", readText
	case ".kml":
		field, read = "kml", readText
	}
	doc, err := read(path)
	return route{field, doc}, err
}

func readGeoJSON(path string) (doc any, err error) {
	raw, err := readFile(path)
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(raw, &doc); err != nil {
		return nil, &measure.FieldError{
			Field:   path,
			Problem: say.That("error.no_geojson", "why", wire.NoJSON(raw, err)),
			Fix:     say.That("fix.give_a_geojson_file"),
		}
	}
	return doc, onceInJSON(path, raw)
}
