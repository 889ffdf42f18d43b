package api_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"wayhouse/api/wire"
)

// An answer is in the language of lang, else in the one that Accept-Language likes best
// (RFC 9110, section 12.5.4), and says so: Content-Language (section 8.5) names it, Vary
// (section 12.5.5) the header that chose.
func TestLanguageOfAnswers(t *testing.T) {
	const english, french = "No row is not no rule.", "L'absence de ligne n'est pas l'absence de règle."
	for _, tc := range []struct{ query, header, language, says string }{
		{"", "", "en", english},
		{"", "fr", "fr", french},
		{"", "fr-CA, en;q=0.8", "fr", french},
		{"", "en-GB, fr;q=0.8", "en", english},
		{"", "de, ja;q=0.5", "en", english},
		{"", "fr;q=0.2, en;q=0.7", "en", english},
		{"&lang=fr", "en", "fr", french},
		{"&lang=en", "fr", "en", english},
		{"&lang=fr-CA", "", "fr", french},
	} {
		w := ask(t.Context(), handler(), http.MethodGet, "/v1/limits?jurisdiction=CA-QC"+tc.query, "", "Accept-Language", tc.header)
		if got := w.Header().Get("Content-Language"); w.Code != http.StatusOK || got != tc.language {
			t.Errorf("%+v: %d, Content-Language %q", tc, w.Code, got)
		}
		if vary := strings.Join(w.Header().Values("Vary"), ", "); !strings.Contains(vary, "Accept-Language") {
			t.Errorf("%+v: Vary %q", tc, vary)
		}
		if caution := read[wire.Limits](t, w).Caution; !strings.HasSuffix(caution, tc.says) {
			t.Errorf("%+v: %q", tc, caution)
		}
	}
	w := ask(t.Context(), handler(), http.MethodGet, "/v1/limits?jurisdiction=CA-QC&lang=de", "")
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `"lang"`) {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

// In French an answer says the same: outcomes, codes and values are those of the
// English one, its sentences are other ones.
func TestFrenchAnswersSayTheSame(t *testing.T) {
	const body = `{"unit": {"height_m": 4.05, "width_m": 2.55, "kind": "recreational_trailer"}, "in": ["CA-ON", "CA-QC", "US-NY"]}`
	said := func(lang string) (data, sentences []string) {
		d := read[wire.Design](t, ask(t.Context(), handler(), http.MethodPost, "/v1/checks?lang="+lang, body))
		for _, a := range d.Answers {
			for _, f := range a.Findings {
				data = append(data, f.Jurisdiction, string(f.Rule), string(f.Outcome), string(f.Reason))
				for _, r := range f.Says {
					data = append(data, string(r.Code))
				}
				for _, r := range f.Rows {
					data = append(data, r.ID, r.Published, string(r.Status), r.Source)
				}
				sentences = append(sentences, f.Summary)
			}
		}
		return data, sentences
	}
	data, english := said("en")
	same, french := said("fr")
	if !slices.Equal(data, same) || len(data) == 0 {
		t.Errorf("%q\n%q", data, same)
	}
	for i := range english {
		if english[i] == french[i] {
			t.Errorf("%q in both languages", english[i])
		}
	}
}
