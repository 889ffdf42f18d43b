package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// floors are the layers from the top down; a package may import its own floor
// and those below it.
var floors = []string{"cmd", "api", "routing", "regs", "data"}

// floorOf returns the floor of a package of this module: migrations stand
// beside data. ok is false for anything else.
func floorOf(path string) (int, bool) {
	first, _, _ := strings.Cut(strings.TrimPrefix(path, "wayhouse/"), "/")
	if first == "migrations" {
		first = "data"
	}
	for i, name := range floors {
		if strings.HasPrefix(path, "wayhouse/") && first == name {
			return i, true
		}
	}
	return 0, false
}

// violation says what is wrong with an import, "" if nothing is.
func violation(from, to string) string {
	below, ok := floorOf(to)
	if !ok {
		return ""
	}
	above, ok := floorOf(from)
	switch {
	case !ok:
		return from + " has no floor and imports " + to
	case below < above:
		return from + " imports " + to + ", a floor above it"
	case strings.HasPrefix(from, "wayhouse/regs") && strings.Contains(to, "/rig"):
		return from + " imports " + to + ": rules never know rigs"
	default:
		return ""
	}
}

func TestViolation(t *testing.T) {
	for _, tc := range []struct {
		from, to string
		good     bool
	}{
		{"wayhouse/cmd/wayhouse", "wayhouse/api", true},
		{"wayhouse/routing/trip", "wayhouse/regs", true},
		{"wayhouse/regs/store", "wayhouse/migrations", true},
		{"wayhouse/regs", "github.com/paulmach/orb", true},
		{"wayhouse/regs", "wayhouse/regs/limit", true},
		{"wayhouse/regs", "wayhouse/routing/rig", false},
		{"wayhouse/routing/trip", "wayhouse/api", false},
		{"wayhouse/data", "wayhouse/regs", false},
		{"wayhouse/migrations", "wayhouse/regs", false},
		{"wayhouse/api", "wayhouse/cmd/wayhouse", false},
		{"wayhouse/other", "wayhouse/regs", false},
	} {
		if got := violation(tc.from, tc.to); (got == "") != tc.good {
			t.Errorf("%s -> %s: %q", tc.from, tc.to, got)
		}
	}
}

// Every import of every file, tests included, points down.
func TestImportsPointDown(t *testing.T) {
	root := filepath.Join("..", "..")
	files := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" || strings.Contains(path, "testdata") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		files++
		dir, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		for _, imported := range file.Imports {
			to, err := strconv.Unquote(imported.Path.Value)
			if err != nil {
				return err
			}
			if v := violation("wayhouse/"+filepath.ToSlash(dir), to); v != "" {
				t.Error(v)
			}
		}
		return nil
	})
	if err != nil || files < 30 {
		t.Fatalf("%d files read: %v", files, err)
	}
}
