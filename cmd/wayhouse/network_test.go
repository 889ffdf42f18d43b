package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"wayhouse/testdata/extracts"
	"wayhouse/testdata/needs"
)

// asCommand turns the test binary into the command, so that a test can kill it.
const asCommand = "WAYHOUSE_TEST_AS_COMMAND"

func TestMain(m *testing.M) {
	if os.Getenv(asCommand) != "" {
		os.Exit(run(context.Background(), os.Args[1:], os.Stdout, os.Stderr, time.Now))
	}
	for _, flag := range settable { // what this machine's user has set is nothing to the tests
		if err := os.Unsetenv(variableOf(flag)); err != nil {
			panic(err)
		}
	}
	if err := os.Setenv(configVariable, os.DevNull); err != nil {
		panic(err)
	}
	os.Exit(m.Run())
}

func command(args ...string) *exec.Cmd {
	c := exec.Command(os.Args[0], args...)
	c.Env = append(os.Environ(), asCommand+"=1")
	return c
}

// gridExtract makes an invented extract of about so many nodes.
func gridExtract(t testing.TB, nodes int, seed uint64) string {
	t.Helper()
	needs.Require(t, needs.Osmium)
	dir := t.TempDir()
	opl, pbf := filepath.Join(dir, "grid.opl"), filepath.Join(dir, "grid.osm.pbf")
	f, err := os.Create(opl)
	if err != nil {
		t.Fatal(err)
	}
	if err := extracts.Grid(f, nodes, seed); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("osmium", "cat", "-o", pbf, opl).CombinedOutput(); err != nil {
		t.Fatalf("osmium: %v\n%s", err, out)
	}
	if err := os.Remove(opl); err != nil {
		t.Fatal(err)
	}
	return pbf
}

// cli runs the command in this process.
func cli(t testing.TB, args ...string) (out, errs string, code int) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(t.Context(), args, &o, &e, noon)
	return o.String(), e.String(), code
}

func TestNetworkCommands(t *testing.T) {
	pbf, file := gridExtract(t, 13_000, 1), filepath.Join(t.TempDir(), "grid.wayroads")
	out, errs, code := cli(t, "network", "build", pbf, "--out", file, "--name", "invented grid")
	if code != 0 || !strings.Contains(out, "written       "+file) || errs != "" {
		t.Fatalf("build: %d\n%s%s", code, out, errs)
	}
	if out, errs, code := cli(t, "network", "verify", file); code != 0 || !strings.Contains(out, "is whole") {
		t.Errorf("verify: %d\n%s%s", code, out, errs)
	}
	if out, _, code := cli(t, "network", "show", file); code != 0 || !strings.Contains(out, "invented grid") || !strings.Contains(out, "turn rules") {
		t.Errorf("show: %d\n%s", code, out)
	}
	out, _, code = cli(t, "network", "show", "--json", file)
	var shown struct {
		Edges  int
		Report struct{ Edges int }
	}
	if err := json.Unmarshal([]byte(out), &shown); err != nil || code != 0 || shown.Edges == 0 || shown.Edges != shown.Report.Edges {
		t.Errorf("show --json: %d, %v, %+v", code, err, shown)
	}
	trip := filepath.Join(t.TempDir(), "trip.yaml")
	if err := os.WriteFile(trip, []byte("unit: {height: 3.9 m}\nstops: [{lat: 40.0031, lon: -79.99}, {lat: 40.12, lon: -79.81}]\ndepart: 2027-05-11T08:00\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	blind := func(args ...string) (n int) {
		out, errs, code := cli(t, append([]string{"plan", trip, "--json", "--network", file}, args...)...)
		var plan struct {
			Network struct{ Name, Credit string }
			Legs    []struct {
				Structures []struct {
					MarginM *float64 `json:"margin_m"`
				}
			}
		}
		if err := json.Unmarshal([]byte(out), &plan); code != 0 || err != nil || plan.Network.Name != "invented grid" || !strings.Contains(plan.Network.Credit, "OpenStreetMap") {
			t.Fatalf("plan %v: %d, %v\n%s%s", args, code, err, out, errs)
		}
		for _, l := range plan.Legs {
			for _, s := range l.Structures {
				if s.MarginM == nil {
					n++
				}
			}
		}
		return n
	}
	plain, round := blind(), blind("--avoid-unmeasured")
	if plain == 0 || round > plain {
		t.Errorf("%d structures without a height on the way, %d where they are avoided", plain, round)
	}
}

// What cannot be used is an input error that says what to do, and no file is
// left behind.
func TestNetworkBuildRefuses(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "x.wayroads")
	text := filepath.Join(dir, "x.txt")
	empty := filepath.Join(dir, "x.osm")
	broken := filepath.Join(dir, "y.osm.pbf")
	for path, content := range map[string]string{text: "no extract", empty: `<osm version="0.6"></osm>`, broken: "no extract at all"} {
		if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for name, c := range map[string]struct {
		args []string
		want string
	}{
		"no extract":     {[]string{"--out", file}, "name one or more files"},
		"no out":         {[]string{empty}, "--out FILE"},
		"unknown format": {[]string{text, "--out", file}, ".osm.pbf, .osm.bz2 or .osm"},
		"no road":        {[]string{empty, "--out", file}, "holds no road"},
		"damaged":        {[]string{broken, "--out", file}, "copy it again"},
		"no tiles":       {[]string{empty, "--out", file, "--terrain", dir}, "holds no tile"},
	} {
		_, errs, code := cli(t, append([]string{"network", "build"}, c.args...)...)
		if code != exitInput || !strings.Contains(errs, c.want) {
			t.Errorf("%s: %d, %q, want %d with %q", name, code, errs, exitInput, c.want)
		}
	}
	if _, errs, code := cli(t, "network", "verify", text); code != exitInput || !strings.Contains(errs, "no network file") {
		t.Errorf("verify: %d, %s", code, errs)
	}
	if _, errs, code := cli(t, "plan", "--network", text, "--from", "Ottawa, ON", "--to", "Perth, ON"); code != exitInput || !strings.Contains(errs, "no network file") {
		t.Errorf("plan: %d, %s", code, errs)
	}
	if left, err := filepath.Glob(filepath.Join(dir, "*wayroads*")); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}
