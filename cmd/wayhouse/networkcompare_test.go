package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"wayhouse/api/wire"
)

// A file that is built over an earlier one says what changed; two files are compared whole or
// along the way of a trip.
func TestNetworkCompare(t *testing.T) {
	dir := t.TempDir()
	file, old := filepath.Join(dir, "new.wayroads"), filepath.Join(dir, "old.wayroads")
	build := func(seed uint64) string {
		out, errs, code := cli(t, "network", "build", gridExtract(t, 3000, seed), "--out", file, "--name", "invented")
		if code != 0 {
			t.Fatalf("build: %d\n%s%s", code, out, errs)
		}
		return out
	}
	if out := build(1); strings.Contains(out, "changes") || strings.Contains(out, "before") {
		t.Errorf("a first file changes nothing:\n%s", out)
	}
	if out := build(1); !strings.Contains(out, "none that bears on a rig") {
		t.Errorf("the same again:\n%s", out)
	}
	if err := os.Link(file, old); err != nil {
		t.Fatal(err)
	}
	if out := build(2); !strings.Contains(out, "limits        ") || !strings.Contains(out, "network compare --full") {
		t.Errorf("another extract over it:\n%s", out)
	}
	compared := func(args ...string) (out wire.NetworkChanges) {
		text, errs, code := cli(t, append([]string{"network", "compare", old, file, "--json"}, args...)...)
		if err := json.Unmarshal([]byte(text), &out); err != nil || code != 0 {
			t.Fatalf("%v: %d, %v\n%s", args, code, err, errs)
		}
		return out
	}
	all := compared()
	trip := filepath.Join(dir, "trip.yaml")
	if err := os.WriteFile(trip, []byte("invented: true\nstops:\n- {lat: 40.0, lon: -79.996}\n- {lat: 40.003, lon: -79.98}\n"+
		"unit: {height: 3.2 m}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	along, far := compared("--along", trip), compared("--along", trip, "--within", "30 km")
	if len(all.Changes) == 0 || len(along.Changes) >= len(all.Changes) || len(far.Changes) != len(all.Changes) {
		t.Errorf("%d changes, %d along a trip, %d within 30 km of it", len(all.Changes), len(along.Changes), len(far.Changes))
	}
	for args, want := range map[string]string{"--within=5 kg": "--within", "--along=none.yaml": "none.yaml"} {
		if _, errs, code := cli(t, "network", "compare", old, file, "--along", trip, args); code == 0 || !strings.Contains(errs, want) {
			t.Errorf("%s: %d, %s", args, code, errs)
		}
	}
}
