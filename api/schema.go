package api

import (
	"context"
	"reflect"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/api/service"
	"wayhouse/api/wire"
)

// Schema is a JSON Schema (draft 2020-12).
type Schema map[string]any

// RigSchema returns the schema of the description of a rig; those of a unit and a
// tow vehicle, each in a file of its own, stand under $defs.
func RigSchema() Schema {
	r := huma.NewMapRegistry("#/$defs/", huma.DefaultSchemaNamer)
	root := r.Schema(reflect.TypeFor[wire.RigDescription](), true, "")
	wire.Twins(r.Map())
	return Schema{
		"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "A rig of Wayhouse: a unit, what " +
			"tows it, or both as one",
		"$ref": root.Ref, "$defs": r.Map(),
	}
}

func (s *Server) listParts(context.Context, *struct{}) (*reply[*wire.PartList], error) {
	out, err := service.Parts()
	if err != nil {
		return nil, s.problem(err)
	}
	return &reply[*wire.PartList]{Body: out}, nil
}

func (s *Server) rigSchema(context.Context, *struct{}) (*reply[Schema], error) {
	return &reply[Schema]{Body: RigSchema()}, nil
}
