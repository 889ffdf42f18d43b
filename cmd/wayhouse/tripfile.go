package main

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"

	"sigs.k8s.io/yaml"

	"wayhouse/regs/measure"
)

// A trip file is a trip request in YAML or JSON. Beside the fields of the API
// it may name files, relative to itself: unit and tow a description, structures
// a CSV, route a GeoJSON, GPX or KML file, not_through of the wishes a GeoJSON file.

// tripOf is what a trip file asks, with the files that it names.
func tripOf(path string) (*asked, error) {
	fields, err := readFields(path)
	if err != nil {
		return nil, err
	}
	a := &asked{fields: fields, files: []string{path}, flags: map[string]string{}}
	return a, readNamed(path, fields)
}

// rigOf is what the description of a unit asks, where there is one, and of a tow vehicle
// where one is named.
func rigOf(unit []string, tow string) (*asked, error) {
	a := &asked{fields: map[string]any{}, flags: map[string]string{}}
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
	a.files = append(a.files, path)
	return err
}

// readNamed puts what the files say in the place of their names.
func readNamed(path string, fields map[string]any) error {
	wishes, _ := fields["wishes"].(map[string]any)
	for _, named := range []struct {
		in    map[string]any
		field string
		read  func(path string) (any, error)
	}{
		{fields, "unit", func(p string) (any, error) {
			return readFields(p)
		}}, {fields, "tow", func(p string) (any, error) { return readFields(p) }},
		{fields, "structures", readText}, {fields, "route", readRoute}, {wishes, "not_through", readGeoJSON},
	} {
		file, ok := named.in[named.field].(string)
		if !ok {
			continue
		}
		said, err := named.read(filepath.Join(filepath.Dir(path), file))
		if err != nil {
			return fmt.Errorf("%s, field %s: %w", path, named.field, err)
		}
		named.in[named.field] = said
	}
	if csv, ok := fields["structures"].(string); ok {
		delete(fields, "structures")
		fields["structures_csv"] = csv
	}
	return nil
}

func readFields(path string) (map[string]any, error) {
	raw, err := readFile(path)
	if err != nil {
		return nil, err
	}
	if err := onceInYAML(path, raw); err != nil {
		return nil, err
	}
	var fields map[string]any
	if err := yaml.UnmarshalStrict(raw, &fields); err != nil {
		return nil, &measure.FieldError{
			Field: path, Problem: "is no list of fields: " + err.Error(),
			Fix: "correct it; data/example shows the form",
		}
	}
	if fields == nil {
		return nil, &measure.FieldError{Field: path, Problem: "is empty", Fix: "fill it in; data/example shows the form"}
	}
	return fields, nil
}

func readText(path string) (any, error) {
	raw, err := readFile(path)
	return string(raw), err
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
	return map[string]any{field: doc}, err
}

func readGeoJSON(path string) (doc any, err error) {
	raw, err := readFile(path)
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(raw, &doc); err != nil {
		return nil, &measure.FieldError{Field: path, Problem: "is no GeoJSON: " + err.Error(), Fix: "give a GeoJSON file"}
	}
	return doc, onceInJSON(path, raw)
}
