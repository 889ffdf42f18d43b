package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// A trip file names its files from where it stands, or from the root.
func TestTripFileNamesItsFiles(t *testing.T) {
	dir := t.TempDir()
	unit := []byte("height: 4 m\nwidth: 2.5 m\n")
	noError(t, os.WriteFile(filepath.Join(dir, "unit.yaml"), unit, 0o600))
	for _, name := range []string{"unit.yaml", filepath.Join(dir, "unit.yaml")} {
		path := filepath.Join(t.TempDir(), "trip.yaml")
		if !filepath.IsAbs(name) {
			path = filepath.Join(dir, "trip.yaml")
		}
		named, err := json.Marshal(name)
		noError(t, err)
		noError(t, os.WriteFile(path, []byte("unit: "+string(named)+"\n"), 0o600))
		a, err := tripOf(path)
		noError(t, err)
		if got, _ := a.fields["unit"].(map[string]any); got["height"] != "4 m" {
			t.Errorf("%s: %v", name, a.fields)
		}
	}
}
