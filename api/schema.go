package api

import (
	"context"
	"reflect"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/api/wire"
)

// Schema is a JSON Schema (draft 2020-12).
type Schema map[string]any

// RigSchema returns the schema of the description of a rig; those of a unit and a
// tow vehicle, each in a file of its own, stand under $defs.
func RigSchema() Schema {
	r := huma.NewMapRegistry("#/$defs/", huma.DefaultSchemaNamer)
	root := r.Schema(reflect.TypeFor[wire.RigDescription](), true, "")
	return Schema{
		"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "A rig of Wayhouse: a unit, what tows it, or both as one",
		"$ref": root.Ref, "$defs": r.Map(),
	}
}

// PartsList lists the catalogue; the command line prints the same.
func PartsList() (*wire.PartList, error) {
	c, err := wire.ShippedParts()
	if err != nil {
		return nil, err
	}
	out := &wire.PartList{Revision: c.Revision, Parts: []wire.PartEntry{}, Caution: "Weigh what can be weighed: a sum of parts is a guess with a spread."}
	for _, r := range c.All() {
		out.Parts = append(out.Parts, wire.PartEntry{
			ID: r.ID, Name: r.Name, Group: string(r.Group), Per: string(r.Per), LowKG: r.Low.Kilograms(), TypicalKG: r.Typical.Kilograms(), HighKG: r.High.Kilograms(),
			Published: r.Published, Note: r.Note, Status: string(r.Status), Source: r.Cite(),
		})
	}
	return out, nil
}

func (s *Service) listParts(context.Context, *struct{}) (*reply[*wire.PartList], error) {
	out, err := PartsList()
	if err != nil {
		return nil, s.problem(err)
	}
	return &reply[*wire.PartList]{Body: out}, nil
}

func (s *Service) rigSchema(context.Context, *struct{}) (*reply[Schema], error) {
	return &reply[Schema]{Body: RigSchema()}, nil
}
