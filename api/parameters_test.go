package api_test

import (
	"net/http"
	"strings"
	"testing"

	"wayhouse/api/wire"
)

// What the library refuses of parameters and bodies reads as ours in each language, and
// names the parameter, its value and the bound.
func TestRefusedParameters(t *testing.T) {
	h := keeping(t, nil)
	long := strings.Repeat("é", 201)
	for _, tc := range []struct{ method, address, field, english, french string }{
		{http.MethodGet, "/v1/places", "q", "is missing", "manque"},
		{http.MethodGet, "/v1/places?q=a", "q", "has fewer characters than 2", "a moins de 2 caractères"},
		{http.MethodGet, "/v1/places?q=" + long[:202], "q", "has 101 characters, more than 100", ""},
		{http.MethodGet, "/v1/places?q=Perth&colour=red", "colour", "is no parameter of this address", "n'est pas un paramètre de cette adresse"},
		{http.MethodGet, "/v1/tables/limits/rows?limit=0", "limit", "is less than 1", "est moins que 1"},
		{http.MethodGet, "/v1/tables/limits/rows?limit=1001", "limit", "is more than 1000", ""},
		{http.MethodGet, "/v1/tables/limits/rows?limit=many", "limit", "is no whole number", "n'est pas un nombre entier"},
		{http.MethodPost, "/v1/trips?full=perhaps", "full", "is neither true nor false", "n'est ni true ni false"},
	} {
		for lang, want := range map[string]string{"en": tc.english, "fr": tc.french} {
			w := ask(t.Context(), h, tc.method, tc.address, "{}", "Accept-Language", lang)
			p := read[struct{ Errors []wire.Fault }](t, w)
			if w.Code != http.StatusUnprocessableEntity || len(p.Errors) != 1 || p.Errors[0].Field != tc.field || !strings.Contains(p.Errors[0].Problem, want) {
				t.Errorf("%s in %s: %d %s, want %q", tc.address, lang, w.Code, w.Body, want)
			}
		}
	}
	for _, tc := range []struct {
		address, body, accept string
		status                int
		english, french       string
	}{
		{"/v1/checks", "", "", http.StatusBadRequest, "a body is wanted", "il faut un corps"},
		{"/v1/checks", `{"in": ["` + strings.Repeat("x", 2<<20) + `"]}`, "", http.StatusRequestEntityTooLarge, "more than 1048576 bytes", "plus de 1048576 octets"},
		{"/v1/checks", "{}", "image/png", http.StatusNotAcceptable, "Accept is “image/png”; this is answered as text/plain, application/json, ", "ceci est répondu en\u00a0: text/plain, application/json, "},
	} {
		for lang, want := range map[string]string{"en": tc.english, "fr": tc.french} {
			w := ask(t.Context(), h, http.MethodPost, tc.address, tc.body, "Accept-Language", lang, "Accept", tc.accept)
			if p := read[struct{ Detail string }](t, w); w.Code != tc.status || !strings.Contains(p.Detail, want) {
				t.Errorf("%s in %s: %d %q, want %q", tc.address, lang, w.Code, p.Detail, want)
			}
		}
	}
}
