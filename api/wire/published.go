package wire

import (
	"reflect"
	"strings"

	"github.com/danielgtaylor/huma/v2"
)

// Nulls tells schemas of answers where an object may be null: the library says it of
// plain values alone (JSON Schema 2020-12 has null as a type of its own).
func Nulls(r huma.Registry, prefix string) {
	for name, s := range r.Map() {
		for _, f := range reflect.VisibleFields(structOf(r.TypeFromRef(prefix + name))) {
			field, options, _ := strings.Cut(f.Tag.Get("json"), ",")
			of := s.Properties[field]
			if of == nil || of.Ref == "" || f.Type.Kind() != reflect.Pointer || strings.Contains(options, "omit") {
				continue
			}
			s.Properties[field] = &huma.Schema{
				Description: of.Description, AnyOf: []*huma.Schema{{Ref: of.Ref}, {Type: "null"}},
			}
		}
	}
}

// structOf is a type where it is a struct, else an empty one.
func structOf(t reflect.Type) reflect.Type {
	if t == nil || t.Kind() != reflect.Struct {
		return reflect.TypeFor[struct{}]()
	}
	return t
}

// Open lets objects of answers that no request has grow fields: a client has to read
// past those that it does not know.
func Open(api *huma.OpenAPI) {
	asked, answered := map[*huma.Schema]bool{}, map[*huma.Schema]bool{}
	for _, item := range api.Paths {
		for _, op := range []*huma.Operation{item.Get, item.Post, item.Put, item.Delete} {
			if op == nil {
				continue
			}
			if op.RequestBody != nil {
				reach(api.Components.Schemas, op.RequestBody.Content, asked)
			}
			for _, response := range op.Responses {
				reach(api.Components.Schemas, response.Content, answered)
			}
		}
	}
	for s := range answered {
		if !asked[s] && s.AdditionalProperties == false {
			s.AdditionalProperties = nil
		}
	}
}

// reach finds the schemas that media types lead to.
func reach(r huma.Registry, content map[string]*huma.MediaType, seen map[*huma.Schema]bool) {
	var follow func(*huma.Schema)
	follow = func(s *huma.Schema) {
		if s == nil || seen[s] {
			return
		}
		seen[s] = true
		if s.Ref != "" {
			follow(r.SchemaFromRef(s.Ref))
		}
		follow(s.Items)
		if of, ok := s.AdditionalProperties.(*huma.Schema); ok {
			follow(of)
		}
		for _, one := range s.AnyOf {
			follow(one)
		}
		for _, of := range s.Properties {
			follow(of)
		}
	}
	for _, m := range content {
		follow(m.Schema)
	}
}
