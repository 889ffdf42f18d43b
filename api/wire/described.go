package wire

import (
	_ "embed"
	"encoding/json"
	"strings"
	"sync"

	"github.com/danielgtaylor/huma/v2"
)

//go:embed described.txt
var describedText string

//go:embed examples.json
var examplesText []byte

// descriptions are the lines of described.txt: sentences by field, or by object and
// field.
var descriptions = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for line := range strings.Lines(describedText) {
		name, says, ok := strings.Cut(strings.TrimSpace(line), ": ")
		if ok && !strings.HasPrefix(name, "#") {
			out[name] = says
		}
	}
	return out
})

// Describe gives every field of published schemas a description, and those that the
// tests have met with a plain value an example: what they met.
func Describe(schemas map[string]*huma.Schema) {
	var examples map[string]any
	if err := json.Unmarshal(examplesText, &examples); err != nil {
		panic(err) // a test reads them
	}
	for object, s := range schemas {
		for name, field := range s.Properties {
			known := descriptions()
			for _, key := range []string{object + "." + name, name} {
				if field.Description == "" {
					field.Description = known[key]
				}
			}
			for _, key := range []string{object + "." + name, name} {
				if met, ok := examples[key]; ok && len(field.Examples) == 0 && isOf(met, field.Type) {
					field.Examples = []any{met}
				}
			}
		}
	}
}

// isOf reports whether a value is of a type of JSON Schema.
func isOf(value any, of string) bool {
	switch value.(type) {
	case string:
		return of == huma.TypeString
	case bool:
		return of == huma.TypeBoolean
	case float64:
		return of == huma.TypeNumber || of == huma.TypeInteger
	case []any:
		return of == huma.TypeArray
	default:
		return false
	}
}
