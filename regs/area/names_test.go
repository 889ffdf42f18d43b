package area

import (
	"errors"
	"slices"
	"testing"
)

// Names of ISO 3166-2 (English and French) and what people write for them.
func TestFind(t *testing.T) {
	ix := shipped(t)
	for text, want := range map[string]string{
		"CA-QC": "CA-QC", "ca-qc": "CA-QC", " QC ": "CA-QC", "Québec": "CA-QC", "QUEBEC": "CA-QC", "on": "CA-ON", "Ontario": "CA-ON",
		"New York": "US-NY", "new-york": "US-NY", "ny": "US-NY", "Nouveau-Brunswick": "CA-NB", "nouveau brunswick": "CA-NB",
		"Île-du-Prince-Édouard": "CA-PE", "Washington": "US-WA", "Virginia": "US-VA", "Virginie-Occidentale": "US-WV", "US-CA": "US-CA",
	} {
		if j, err := ix.Find(text); err != nil || j.Code != want {
			t.Errorf("%q: %s, %v; want %s", text, j.Code, err, want)
		}
	}
	for text, want := range map[string][]string{
		"Ontaria": {"CA-ON"}, "Quebeck": {"CA-QC"}, "carolina": {"US-NC", "US-SC"}, "Newfoundland": {"CA-NL"}, "CA-OM": {"CA-ON"},
		"CA": {"US-CA"}, "Canada": nil, "": nil, "XX-YY": nil, "-": nil, "Xyzzy": nil, "caroline": {"US-NC", "US-SC"},
	} {
		_, err := ix.Find(text)
		var unknown *NameError
		if !errors.As(err, &unknown) || unknown.Text != text {
			t.Errorf("%q: %v", text, err)
			continue
		}
		var like []string
		for _, j := range unknown.Like {
			like = append(like, j.Code)
		}
		if !slices.Equal(like, want) {
			t.Errorf("%q is offered %v, want %v", text, like, want)
		}
	}
}

// No text names two jurisdictions, so that what one is called by is always found.
func TestEveryNameFindsItsJurisdiction(t *testing.T) {
	ix := shipped(t)
	for _, j := range ix.All() {
		for _, text := range []string{j.Code, j.Code[3:], j.Name, j.French} {
			if got, err := ix.Find(text); text != "" && text != "CA" && (err != nil || got.Code != j.Code) {
				t.Errorf("%q: %s, %v; want %s", text, got.Code, err, j.Code)
			}
		}
	}
}
