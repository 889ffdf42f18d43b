package wire

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"sigs.k8s.io/yaml"

	"wayhouse/api/phrase"
)

var update = flag.Bool("update", false, "write the schemas in data/schema anew")

const shared = "../../data/"

// schemaText is a schema as it is printed and kept.
func schemaText(t *testing.T, name string) []byte {
	t.Helper()
	s, err := NewSchema(name, phrase.English())
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	if err := e.Encode(s); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// compiled is a schema by the reading of another library, which holds it against the
// meta-schema of draft 2020-12 first.
func compiled(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schemaText(t, name)))
	if err != nil {
		t.Fatal(err)
	}
	id := doc.(map[string]any)["$id"].(string)
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource(id, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(id)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return s
}

// instance is a YAML text as a validator takes it.
func instance(t *testing.T, text []byte) any {
	t.Helper()
	raw, err := yaml.YAMLToJSON(text)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// Every example names its schema in its first line, as editors look for it, and that
// file is what the types say and takes the example as it is.
func TestSchemasTakeTheExamples(t *testing.T) {
	files, err := filepath.Glob(shared + "example/*.yaml")
	if err != nil || len(files) < 4 {
		t.Fatalf("%q, %v", files, err)
	}
	named := map[string]bool{}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		first, _, _ := strings.Cut(string(raw), "\n")
		path, ok := strings.CutPrefix(first, "# yaml-language-server: $schema=../schema/")
		name, isJSON := strings.CutSuffix(path, ".json")
		if !ok || !isJSON {
			t.Errorf("%s begins with %q", file, first)
			continue
		}
		named[name] = true
		if err := compiled(t, name).Validate(instance(t, raw)); err != nil {
			t.Errorf("%s: %v", file, err)
		}
	}
	for _, name := range []string{"unit", "tow", "trip"} {
		if !named[name] {
			t.Errorf("no example is a %s", name)
		}
		kept, want := shared+"schema/"+name+".json", schemaText(t, name)
		if *update {
			if err := os.WriteFile(kept, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(kept); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not what the types say (go test ./api/wire -run Schemas -update): %v", kept, err)
		}
	}
}

// What a reader refuses for its form a schema refuses too.
func TestSchemasRefuse(t *testing.T) {
	for name, texts := range map[string][]string{
		"unit": {"hieght: 4 m", "height: 4.15", "kind: houseboat", "axles: 1.5", "axles: two", "- 4 m", "height_m: 4.15 m"},
		"tow":  {"form: mule", "height: 2.05 m\nkind: load"},
		"trip": {"stops: Perth", "unit: 5", "unit: {hieght: 4 m}", "route: {roads: 417}", "structures: [a.csv]", "wishes: {no_ferries: perhaps}"},
		"rig":  {"{}", "unit: unit.yaml"},
	} {
		s := compiled(t, name)
		for _, text := range texts {
			if s.Validate(instance(t, []byte(text))) == nil {
				t.Errorf("%s takes %q", name, text)
			}
		}
	}
	if _, err := NewSchema("house", phrase.English()); err == nil || !strings.Contains(english(err), "unit, tow, trip, rig") {
		t.Errorf("house: %v", err)
	}
}

// A trip file takes a part as it stands or by the name of its file.
func TestSchemaOfATripTakesFiles(t *testing.T) {
	s := compiled(t, "trip")
	for _, text := range []string{
		"unit: unit.yaml\nroute: way.kml\nwishes: {not_through: area.geojson}", "unit: {height_m: 4}\ntow: {form: pickup}\nroute: {roads: ['417']}",
		"stops: [{place: '45.42,-75.69'}, {lat: 45, lon: -75}]",
	} {
		if err := s.Validate(instance(t, []byte(text))); err != nil {
			t.Errorf("%s: %v", text, err)
		}
	}
}
