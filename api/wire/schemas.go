package wire

import (
	"encoding/json"
	"reflect"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Schema is a JSON Schema (draft 2020-12) of what a user writes.
type Schema map[string]any

// described are the types of what has a schema, by its name.
func described() map[string]reflect.Type {
	return map[string]reflect.Type{
		"unit": reflect.TypeFor[UnitRequest](), "tow": reflect.TypeFor[TowRequest](),
		"trip": reflect.TypeFor[TripRequest](), "rig": reflect.TypeFor[RigDescription](),
	}
}

// SchemaNames are the names that [NewSchema] knows.
func SchemaNames() []string { return []string{"unit", "tow", "trip", "rig"} }

// NewSchema is the schema of a name: of the file of a unit, of a tow vehicle or of a
// trip, and of a rig as a body has it, described in a language. The error is a
// [*measure.FieldError].
func NewSchema(name string, in *phrase.Language) (Schema, error) {
	of, known := described()[name]
	if !known {
		return nil, &measure.FieldError{Field: "schema", Value: name, Problem: say.That("error.no_schema"),
			Fix: say.That("fix.one_of", "words", SchemaNames())}
	}
	r := huma.NewMapRegistry("#/$defs/", huma.DefaultSchemaNamer)
	root := r.Schema(of, true, "")
	if name == "trip" {
		namesFiles(r, r.SchemaFromRef(root.Ref))
	}
	Twins(r.Map())
	Describe(r.Map())
	return translated(Schema{
		"$schema": "https://json-schema.org/draft/2020-12/schema",
		"$id":     "https://wayhouse.example/schema/" + name + ".json", // a name and no place (RFC 2606, section 2)
		"title":   "Wayhouse: " + name, "$ref": root.Ref, "$defs": r.Map(),
	}, in)
}

// translated is a schema with its texts for people in a language.
func translated(s Schema, in *phrase.Language) (out Schema, err error) {
	raw, err := json.Marshal(s)
	if err == nil {
		raw, err = Translated(raw, in)
	}
	if err == nil {
		err = json.Unmarshal(raw, &out)
	}
	return out, err
}

// namesFiles lets the schema of a trip take the names of files, as a trip file does.
func namesFiles(r huma.Registry, trip *huma.Schema) {
	file := func(holds string) *huma.Schema {
		return &huma.Schema{Type: huma.TypeString, Description: "A file with " + holds + ", found from this one"}
	}
	for field, holds := range map[string]string{
		"unit": "the unit", "tow": "the tow vehicle", "route": "the route: GeoJSON, GPX or KML",
	} {
		trip.Properties[field] = &huma.Schema{AnyOf: []*huma.Schema{trip.Properties[field], file(holds)}}
	}
	trip.Properties["structures"] = file("structures and their clear heights: CSV")
	r.SchemaFromRef(trip.Properties["quote"].Ref).Properties["rates"] = file("rates: CSV")
}
