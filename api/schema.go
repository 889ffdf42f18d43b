package api

import (
	"context"
	"reflect"

	"github.com/danielgtaylor/huma/v2"
)

// Schema is a JSON Schema (draft 2020-12).
type Schema map[string]any

// RigSchema returns the schema of the description of a rig; those of a unit and a
// tow vehicle, each in a file of its own, stand under $defs.
func RigSchema() Schema {
	r := huma.NewMapRegistry("#/$defs/", huma.DefaultSchemaNamer)
	root := r.Schema(reflect.TypeFor[RigDescription](), true, "")
	return Schema{
		"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "A rig of Wayhouse: a unit, what tows it, or both as one",
		"$ref": root.Ref, "$defs": r.Map(),
	}
}

// PartList is the catalogue of parts.
type PartList struct {
	plain
	Revision string      `json:"revision"`
	Parts    []PartEntry `json:"parts"`
	Caution  string      `json:"caution"`
}

// PartEntry is one entry of the catalogue.
type PartEntry struct {
	ID        string  `json:"id"`
	Name      string  `json:"name"`
	Group     string  `json:"group"`
	Per       string  `json:"per" enum:"m2,m,each,L,m3" doc:"What the masses are of"`
	LowKG     float64 `json:"low_kg"`
	TypicalKG float64 `json:"typical_kg"`
	HighKG    float64 `json:"high_kg"`
	Published string  `json:"published,omitempty" doc:"The figure as the source prints it"`
	Note      string  `json:"note,omitempty"`
	Status    string  `json:"status"`
	Source    string  `json:"source"`
}

// PartsList lists the catalogue; the command line prints the same.
func PartsList() (*PartList, error) {
	c, err := shippedParts()
	if err != nil {
		return nil, err
	}
	out := &PartList{Revision: c.Revision, Parts: []PartEntry{}, Caution: "Weigh what can be weighed: a sum of parts is a guess with a spread."}
	for _, r := range c.All() {
		out.Parts = append(out.Parts, PartEntry{
			ID: r.ID, Name: r.Name, Group: string(r.Group), Per: string(r.Per), LowKG: r.Low.Kilograms(), TypicalKG: r.Typical.Kilograms(), HighKG: r.High.Kilograms(),
			Published: r.Published, Note: r.Note, Status: string(r.Status), Source: r.Cite(),
		})
	}
	return out, nil
}

func (s *Service) listParts(context.Context, *struct{}) (*reply[*PartList], error) {
	out, err := PartsList()
	if err != nil {
		return nil, s.problem(err)
	}
	return &reply[*PartList]{Body: out}, nil
}

func (s *Service) rigSchema(context.Context, *struct{}) (*reply[Schema], error) {
	return &reply[Schema]{Body: RigSchema()}, nil
}
