package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// What the README shows of the example is what the example prints: every line
// of its block, in order, with "..." for what it leaves out.
func TestREADMEExample(t *testing.T) {
	root := filepath.Join("..", "..")
	readme, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, block, _ := strings.Cut(string(readme), "```text\n")
	block, _, ok := strings.Cut(block, "\n```")
	if !ok {
		t.Fatal("the README has no example")
	}
	var out, errs bytes.Buffer
	if code := run(t.Context(), []string{"plan", filepath.Join(root, "data", "example", "trip.yaml")}, &out, &errs, time.Now); code != 0 {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	rest := out.String()
	for _, line := range strings.Split(block, "\n") {
		if line == "..." || line == "" {
			continue
		}
		_, after, found := strings.Cut(rest, line+"\n")
		if !found {
			t.Errorf("the example does not print, or not in this place: %q", line)
			continue
		}
		rest = after
	}
}
