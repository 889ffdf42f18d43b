package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
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
	if err := os.WriteFile(trip, []byte("invented: true\nstops:\n"+
		"- {lat: 40.0, lon: -79.996}\n- {lat: 40.003, lon: -79.98}\n"+
		"unit: {height: 3.2 m}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	along, far := compared("--along", trip), compared("--along", trip, "--within", "30 km")
	if len(all.Changes) == 0 || len(along.Changes) >= len(all.Changes) || len(far.Changes) != len(all.Changes) {
		t.Errorf("%d changes, %d along a trip, %d within 30 km of it", len(all.Changes), len(along.Changes), len(far.Changes))
	}
	for args, want := range map[string]string{"--within=5 kg": "--within", "--along=none.yaml": "none.yaml"} {
		if _, errs, code := cli(t, "network", "compare", old, file, "--along", trip, args); code == 0 ||
			!strings.Contains(errs, want) {
			t.Errorf("%s: %d, %s", args, code, errs)
		}
	}
}

// A network that is built over an earlier one says what changed along each saved trip; one
// that goes elsewhere says so, and is in nobody's way.
func TestChangesAlongSavedTrips(t *testing.T) {
	dir := t.TempDir()
	file, old, store := filepath.Join(dir, "new.wayroads"), filepath.Join(dir, "old.wayroads"), filepath.Join(dir, "t.db")
	run := func(args ...string) string {
		out, errs, code := cli(t, args...)
		if code != 0 {
			t.Fatalf("%v: %d\n%s%s", args, code, out, errs)
		}
		return out
	}
	build := func(seed uint64) string {
		return run("network", "build", gridExtract(t, 3000, seed), "--out", file, "--name", "invented", "--store", store)
	}
	build(1)
	if err := os.Link(file, old); err != nil {
		t.Fatal(err)
	}
	save := func(name, network, stops string) {
		trip := filepath.Join(dir, name+".yaml")
		if err := os.WriteFile(trip, []byte("invented: true\nunit: {height: 3.2 m}\nstops:\n"+stops), 0o600); err != nil {
			t.Fatal(err)
		}
		args := []string{"trips", "save", name, trip, "--why", "a test", "--who", "somebody", "--store", store}
		run(append(args, "--network", network)...)
	}
	save("here", file, "- {lat: 40.0, lon: -79.996}\n- {lat: 40.003, lon: -79.98}\n")
	save("elsewhere", "", "- {lat: 45.4, lon: -75.7}\n- {lat: 45.5, lon: -73.6}\n")
	out := build(2)
	if !strings.Contains(out, "the ways of 2 trips, within 500 m") || !strings.Contains(out, "  here: structures ") ||
		!strings.Contains(out, "  elsewhere: not planned on the earlier file: ") {
		t.Errorf("along saved trips:\n%s", out)
	}
	var all, saved wire.NetworkChanges
	for to, args := range map[*wire.NetworkChanges][]string{&all: nil, &saved: {"--saved", "--store", store}} {
		text := run(append([]string{"network", "compare", old, file, "--json"}, args...)...)
		if err := json.Unmarshal([]byte(text), to); err != nil {
			t.Fatal(err)
		}
	}
	if len(saved.Changes) == 0 || len(saved.Changes) >= len(all.Changes) || len(saved.Trips) != 2 {
		t.Errorf("%d changes, %d along saved trips: %+v", len(all.Changes), len(saved.Changes), saved.Trips)
	}
	for _, c := range saved.Changes {
		if !slices.Equal(c.Trips, []string{"here"}) {
			t.Errorf("%s %d is near %v", c.ElementType, c.ElementID, c.Trips)
		}
	}
	for _, of := range saved.Trips {
		if (of.Name == "elsewhere") != (of.Why != "" && len(of.Counts) == 0) {
			t.Errorf("%+v", of)
		}
	}
	if _, errs, code := cli(t, "network", "compare", old, file, "--saved"); code == 0 ||
		!strings.Contains(errs, "--store") {
		t.Errorf("without a store: %d, %s", code, errs)
	}
}
