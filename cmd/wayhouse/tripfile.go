package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"

	"sigs.k8s.io/yaml"

	"wayhouse/api/wire"
	"wayhouse/regs/measure"
)

// A trip file is a trip request in YAML or JSON. Beside the fields of the API
// it may name files, relative to itself: unit and tow a description, structures
// a CSV, route a GeoJSON or GPX file, not_through of the wishes a GeoJSON file.

// readTrip reads a trip file with the files that it names.
func readTrip(path string) (wire.TripRequest, error) {
	var q wire.TripRequest
	fields, err := readFields(path)
	if err != nil {
		return q, err
	}
	if err := readNamed(path, fields); err != nil {
		return q, err
	}
	return q, decode(path, fields, &q)
}

// readNamed puts what the files say in the place of their names.
func readNamed(path string, fields map[string]any) error {
	wishes, _ := fields["wishes"].(map[string]any)
	for _, named := range []struct {
		in    map[string]any
		field string
		read  func(path string) (any, error)
	}{
		{fields, "unit", func(p string) (any, error) { return readFields(p) }}, {fields, "tow", func(p string) (any, error) { return readFields(p) }},
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

// readTow reads the description of a tow vehicle.
func readTow(path string) (*wire.TowRequest, error) { return readPart[wire.TowRequest](path) }

// readPart reads a file that describes one part of a request.
func readPart[T any](path string) (*T, error) {
	fields, err := readFields(path)
	if err != nil {
		return nil, err
	}
	var part T
	return &part, decode(path, fields, &part)
}

func readFields(path string) (map[string]any, error) {
	raw, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	if err := onceInYAML(path, raw); err != nil {
		return nil, err
	}
	var fields map[string]any
	if err := yaml.UnmarshalStrict(raw, &fields); err != nil {
		return nil, &measure.FieldError{Field: path, Problem: "is no list of fields: " + err.Error(), Fix: "correct it; data/example shows the form"}
	}
	if fields == nil {
		return nil, &measure.FieldError{Field: path, Problem: "is empty", Fix: "fill it in; data/example shows the form"}
	}
	return fields, nil
}

func readText(path string) (any, error) {
	raw, err := os.ReadFile(path)
	return string(raw), err
}

func readRoute(path string) (any, error) {
	field, read := "geojson", readGeoJSON
	if strings.EqualFold(filepath.Ext(path), ".gpx") {
		field, read = "gpx", readText
	}
	doc, err := read(path)
	return map[string]any{field: doc}, err
}

func readGeoJSON(path string) (doc any, err error) {
	raw, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(raw, &doc); err != nil {
		return nil, &measure.FieldError{Field: path, Problem: "is no GeoJSON: " + err.Error(), Fix: "give a GeoJSON file"}
	}
	return doc, onceInJSON(path, raw)
}

// decode fills a request from fields; one that it does not know is an error,
// because a misspelt height would read as not given.
func decode(path string, fields map[string]any, into any) error {
	if err := exactNames(path, "", fields, reflect.TypeOf(into)); err != nil {
		return err
	}
	raw, err := json.Marshal(fields)
	if err != nil {
		return err
	}
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	err = d.Decode(into)
	var typed *json.UnmarshalTypeError
	if errors.As(err, &typed) {
		return wrongType(path, typed)
	}
	if err != nil {
		return &measure.FieldError{Field: path, Problem: strings.TrimPrefix(err.Error(), "json: "), Fix: "check its spelling"}
	}
	return nil
}

func wrongType(path string, e *json.UnmarshalTypeError) error {
	field := strings.ReplaceAll(e.Field, "SizeRequest.", "") // the decoder names embedded structs, which no file has
	f := &measure.FieldError{Field: path + ", field " + field, Value: e.Value, Problem: "is not a " + e.Type.String(), Fix: "wayhouse guide plan says what it takes"}
	switch {
	case e.Type == reflect.TypeFor[wire.StopRequest]():
		f.Problem, f.Fix = "is no stop", `write it as place: "Perth, ON", or as lat and lon`
	case e.Type.Kind() == reflect.Struct:
		f.Problem, f.Fix = "is no list of fields", "see data/example for the form"
	case e.Type.Kind() == reflect.String && strings.HasPrefix(e.Value, "number") && wire.WithUnit(field) != "":
		f.Problem, f.Fix = "is a bare number", wire.WithUnit(field)
	case e.Type.Kind() == reflect.String:
		f.Problem, f.Fix = "is no text", "write it in quotes"
	}
	return f
}
