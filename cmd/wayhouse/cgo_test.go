package main

import (
	"os"
	"os/exec"
	"strings"
	"testing"
)

// README promises that Go alone builds and runs everything. A package outside the
// standard library that has C in it wants headers which a machine with a C
// compiler need not have.
func TestNothingWantsHeadersOfC(t *testing.T) {
	list := exec.Command("go", "list", "-deps", "-test", "-f", "{{if and .CgoFiles (not .Standard)}}{{.ImportPath}}{{end}}", "./...")
	list.Dir = root(t)
	list.Env = append(os.Environ(), "CGO_ENABLED=1")
	out, err := list.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for _, path := range strings.Fields(string(out)) {
		t.Errorf("%s has C in it", path)
	}
}
