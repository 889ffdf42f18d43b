package store

import (
	"encoding/json"
	"errors"
	"testing"
)

// keepsDocuments asks that every version of a document stays, and that one writer wins.
func keepsDocuments(t *testing.T, s *Store) {
	first := Document{Kind: "trips", ID: "a", Who: "a user", Why: "to see", Body: json.RawMessage(`{"n": 1}`)}
	made, err := s.KeepDocument(t.Context(), first, 0)
	if err != nil || made.Version != 1 || made.MadeAt.IsZero() {
		t.Fatalf("%+v, %v", made, err)
	}
	second := first
	second.Body = json.RawMessage(`{"n": 2}`)
	if made, err = s.KeepDocument(t.Context(), second, 1); err != nil || made.Version != 2 {
		t.Fatalf("%+v, %v", made, err)
	}
	var conflict *StaleDocumentError
	if _, err := s.KeepDocument(t.Context(), second, 1); !errors.As(err, &conflict) || conflict.Is != 2 {
		t.Errorf("over another: %v", err)
	}
	for version, want := range map[int]string{0: `{"n": 2}`, 1: `{"n": 1}`, 2: `{"n": 2}`} {
		if got, err := s.Document(t.Context(), "trips", "a", version); err != nil || string(got.Body) != want || got.Why != "to see" {
			t.Errorf("version %d: %s, %v", version, got.Body, err)
		}
	}
	var none *NoDocumentError
	for _, id := range []string{"b", ""} {
		if _, err := s.Document(t.Context(), "trips", id, 0); !errors.As(err, &none) {
			t.Errorf("%q: %v", id, err)
		}
	}
	if _, err := s.Document(t.Context(), "trips", "a", 3); !errors.As(err, &none) {
		t.Errorf("version 3: %v", err)
	}
	if _, err := s.KeepDocument(t.Context(), Document{Kind: "quotes", ID: "a", Body: json.RawMessage(`{}`)}, 0); err != nil {
		t.Error(err)
	}
	if all, err := s.Documents(t.Context(), "trips"); err != nil || len(all) != 1 || all[0].Version != 2 {
		t.Errorf("%+v, %v", all, err)
	}
	if all, err := s.DocumentVersions(t.Context(), "trips", "a"); err != nil || len(all) != 2 || all[0].Version != 2 {
		t.Errorf("%+v, %v", all, err)
	}
}
