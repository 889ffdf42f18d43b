package api_test

import (
	"encoding/json"
	"net/http"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
)

const frenchFile = "wire/described.fr.txt"

// sameInFrench are texts that both languages have.
var sameInFrench = []string{"Wayhouse"}

// textsIn calls f with each text for people of one description and that of the other in
// its place; all else must be alike.
func textsIn(t *testing.T, at string, a, b any, f func(at, a, b string)) {
	t.Helper()
	switch x := a.(type) {
	case map[string]any:
		y, _ := b.(map[string]any)
		if len(x) != len(y) {
			t.Errorf("%s: %d keys and %d", at, len(x), len(y))
		}
		for key, value := range x {
			text, isText := value.(string)
			other, too := y[key].(string)
			if isText && too && slices.Contains([]string{"description", "summary", "title"}, key) {
				f(at+"/"+key, text, other)
				continue
			}
			textsIn(t, at+"/"+key, value, y[key], f)
		}
	case []any:
		y, _ := b.([]any)
		if len(x) != len(y) {
			t.Errorf("%s: %d and %d", at, len(x), len(y))
			return
		}
		for i := range x {
			textsIn(t, at, x[i], y[i], f)
		}
	default:
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%s: %v in one language, %v in the other", at, a, b)
		}
	}
}

// Every text of /openapi.json and of the schemas has a French one, French differs in
// nothing else, and no French one is of a text that there is not.
func TestDescriptionsInFrench(t *testing.T) {
	h := keeping(t, nil)
	texts := map[string]bool{}
	for _, path := range []string{"/openapi.json", "/openapi-3.0.json", "/v1/schemas/unit", "/v1/schemas/tow", "/v1/schemas/trip", "/v1/schemas/rig"} {
		var both [2]any
		for i, lang := range phrase.Words() {
			w := h.ask(t, http.MethodGet, path+"?lang="+lang, nil)
			if err := json.Unmarshal(w.Body.Bytes(), &both[i]); err != nil || w.Code != http.StatusOK {
				t.Fatalf("%s in %s: %d, %v", path, lang, w.Code, err)
			}
		}
		textsIn(t, path, both[0], both[1], func(at, english, french string) {
			texts[english] = true
			if english == french && !slices.Contains(sameInFrench, english) {
				t.Errorf("%s: %q has no French (%s)", at, english, frenchFile)
			}
		})
	}
	lines := strings.Split(string(must(os.ReadFile(frenchFile))), "\n")
	for i, line := range lines[1:] {
		if strings.HasPrefix(line, "  ") && !texts[lines[i]] {
			t.Errorf("%s: nothing is described by %q", frenchFile, lines[i])
		}
		if !strings.HasPrefix(line, "  ") && line != "" && i+2 < len(lines) && !strings.HasPrefix(line, "#") && !strings.HasPrefix(lines[i+2], "  ") {
			t.Errorf("%s: %q has no French", frenchFile, line)
		}
	}
	if len(texts) < 500 {
		t.Errorf("%d texts", len(texts))
	}
}

// A description is in the language asked, which its headers name (RFC 9110, sections
// 8.5 and 12.5.5), under an ETag of its own.
func TestLanguageOfDescriptions(t *testing.T) {
	h := keeping(t, nil)
	tags := map[string]bool{}
	for _, path := range []string{"/openapi.json", "/openapi.yaml", "/openapi-3.0.json", "/openapi-3.0.yaml"} {
		for _, tc := range []struct{ query, header, language, says string }{
			{"", "", "en", "What is wrong with it"},
			{"", "fr-CA, en;q=0.5", "fr", "Ce qui ne va pas"},
			{"?lang=fr", "en", "fr", "Ce qui ne va pas"},
		} {
			w := ask(t.Context(), h, http.MethodGet, path+tc.query, "", "Accept-Language", tc.header)
			form := path[strings.LastIndex(path, ".")+1:]
			if w.Code != http.StatusOK || w.Header().Get("Content-Language") != tc.language || w.Header().Get("Content-Type") != "application/openapi+"+form ||
				!slices.Contains(w.Header().Values("Vary"), "Accept-Language") || !strings.Contains(w.Body.String(), tc.says) {
				t.Errorf("%s%s %q: %d %v", path, tc.query, tc.header, w.Code, w.Header())
			}
			tags[w.Header().Get("ETag")] = true
		}
	}
	if len(tags) != 8 {
		t.Errorf("%d ETags of 8 descriptions", len(tags))
	}
	w := ask(t.Context(), h, http.MethodGet, "/openapi.json?lang=de", "")
	if w.Code != http.StatusUnprocessableEntity || read[struct{ Errors []wire.Fault }](t, w).Errors[0].Field != "lang" {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}
