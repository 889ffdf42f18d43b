package api_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"maps"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
)

var update = flag.Bool("update", false, "write the examples of fields that the tests met")

const examplesFile = "wire/examples.json"

// schema is as much of a published schema as leads from an answer to its fields.
type schema struct {
	Ref         string `json:"$ref"`
	Description string
	Examples    []any
	Type        any
	Items       *schema
	AnyOf       []schema `json:"anyOf"`
	Properties  map[string]schema
	Additional  any `json:"additionalProperties"`
}

// published is what a service publishes.
type published struct {
	Paths map[string]map[string]struct {
		RequestBody struct {
			Content map[string]struct{ Schema schema }
		} `json:"requestBody"`
		Responses map[string]struct {
			Content map[string]struct{ Schema schema }
		}
	}
	Components struct{ Schemas map[string]schema }
}

var docs sync.Map

func docOf(h http.Handler) *published {
	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "http://127.0.0.1:8080/openapi.json", nil))
	made := sync.OnceValue(func() *published {
		out := new(published)
		if err := json.Unmarshal(w.Body.Bytes(), out); err != nil {
			panic(err)
		}
		return out
	})
	kept, _ := docs.LoadOrStore(w.Body.String(), made)
	return kept.(func() *published)()
}

// met are plain values of fields, by object and field: of each the shortest, so that it
// does not hang on the order of the tests.
var met = struct {
	sync.Mutex
	values map[string]any
}{values: map[string]any{}}

// meet notes the plain values of an answer that went well and of its request.
func meet(h http.Handler, r *http.Request, w *httptest.ResponseRecorder) {
	if !*update || w.Code != http.StatusOK || !strings.HasPrefix(w.Header().Get("Content-Type"), "application/json") {
		return
	}
	doc := docOf(h)
	for path, item := range doc.Paths {
		op, ok := item[strings.ToLower(r.Method)]
		if !ok || !matches(path, r.URL.Path) {
			continue
		}
		met.Lock()
		doc.note(op.Responses["200"].Content["application/json"].Schema, "", w.Body.Bytes())
		if r.GetBody != nil {
			if body, err := r.GetBody(); err == nil {
				raw, _ := io.ReadAll(body)
				doc.note(op.RequestBody.Content["application/json"].Schema, "", raw)
			}
		}
		met.Unlock()
	}
}

// matches reports whether a path is at an address with places in braces.
func matches(template, path string) bool {
	a, b := strings.Split(template, "/"), strings.Split(path, "/")
	return slices.EqualFunc(a, b, func(a, b string) bool { return a == b || strings.HasPrefix(a, "{") })
}

// note notes what a JSON value is of a field; the object is "" at the top.
func (d *published) note(s schema, field string, raw []byte) {
	var value any
	if json.Unmarshal(raw, &value) == nil {
		d.value(s, "", field, value)
	}
}

func (d *published) value(s schema, object, field string, value any) {
	for _, one := range s.AnyOf {
		if one.Ref != "" {
			s = one
		}
	}
	if name := strings.TrimPrefix(s.Ref, "#/components/schemas/"); s.Ref != "" {
		object, s = name, d.Components.Schemas[name]
		field = ""
	}
	switch v := value.(type) {
	case map[string]any:
		for name, inner := range v {
			if of, ok := s.Properties[name]; ok {
				d.value(of, object, name, inner)
			}
		}
	case []any:
		for _, inner := range v {
			if s.Items != nil {
				d.value(*s.Items, object, "", inner)
			}
		}
		if field != "" && len(v) > 0 && s.Items != nil && s.Items.Ref == "" {
			keep(object+"."+field, v[:1])
		}
	case nil:
	default:
		if field != "" {
			keep(object+"."+field, v)
		}
	}
}

// keep keeps the shorter of two values, the first in the alphabet of two that are as
// short; none that says nothing.
func keep(key string, value any) {
	text, was := fmt.Sprint(value), fmt.Sprint(met.values[key])
	if text == "" || len(text) > 80 || text == "[]" || text == "0" || text == "false" {
		if _, known := met.values[key]; known || text == "" || len(text) > 80 {
			return
		}
	}
	if _, known := met.values[key]; !known || was == "0" || was == "false" || len(text) < len(was) || len(text) == len(was) && text < was {
		met.values[key] = value
	}
}

// writeExamples adds what the tests met to the examples that there are.
func writeExamples() {
	all := map[string]any{}
	if err := json.Unmarshal(must(os.ReadFile(examplesFile)), &all); err != nil {
		panic(err)
	}
	maps.Copy(all, met.values)
	raw := must(json.MarshalIndent(all, "", "  "))
	if err := os.WriteFile(examplesFile, append(raw, '\n'), 0o644); err != nil {
		panic(err)
	}
}

// Every field is described, and those of plain values have an example.
func TestEveryFieldIsDescribed(t *testing.T) {
	d := docOf(keeping(t, nil))
	for object, s := range d.Components.Schemas {
		for name, field := range s.Properties {
			if field.Description == "" {
				t.Errorf("%s.%s: no description", object, name)
			}
			plain := field.Ref == "" && field.AnyOf == nil && field.Additional == nil && field.Properties == nil && field.Type != nil &&
				(field.Items == nil || field.Items.Ref == "" && field.Items.Items == nil)
			if plain && len(field.Examples) == 0 {
				t.Errorf("%s.%s: no example", object, name)
			}
			for _, example := range field.Examples {
				is := func(one string) bool { return strings.Contains(fmt.Sprint(field.Type), one) } // or null
				if !slices.ContainsFunc(typesOf(example), is) {
					t.Errorf("%s.%s: the example %v is no %v", object, name, example, field.Type)
				}
			}
		}
	}
}

// typesOf are the types that JSON Schema has for a value.
func typesOf(value any) []string {
	switch v := value.(type) {
	case string:
		return []string{"string"}
	case bool:
		return []string{"boolean"}
	case float64:
		if v == math.Trunc(v) {
			return []string{"number", "integer"}
		}
		return []string{"number"}
	case []any:
		return []string{"array"}
	default:
		return []string{"object"}
	}
}
