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

// floorOf returns the floor of a package of this module: migrations and
// testdata stand beside data. ok is false for anything else.
func floorOf(path string) (int, bool) {
	first, _, _ := strings.Cut(strings.TrimPrefix(path, "wayhouse/"), "/")
	if first == "migrations" || first == "testdata" {
		first = "data"
	}
	for i, name := range floors {
		if strings.HasPrefix(path, "wayhouse/") && first == name {
			return i, true
		}
	}
	return 0, false
}

// violation says what is wrong with an import, "" if nothing is. test tells
// that the file is a test.
func violation(from, to string, test bool) string {
	if to != "wayhouse" && !strings.HasPrefix(to, "wayhouse/") {
		return ""
	}
	below, known := floorOf(to)
	above, ok := floorOf(from)
	switch {
	case !known:
		return from + " imports " + to + ", which has no floor"
	case !ok:
		return from + " has no floor and imports " + to
	case fixture(to) && !fixture(from) && !test:
		return from + " imports " + to + ", which is for tests only"
	case below < above:
		return from + " imports " + to + ", a floor above it"
	case strings.HasPrefix(from, "wayhouse/regs") && strings.Contains(to, "/rig"):
		return from + " imports " + to + ": rules never know rigs"
	default:
		return ""
	}
}

// fixture tells whether a package is there for tests only.
func fixture(path string) bool {
	return strings.HasPrefix(path, "wayhouse/testdata/") || path == "wayhouse/api/tours"
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
		{"wayhouse/regs", "wayhouse/other", false},
		{"wayhouse/regs", "wayhouse", false},
		{"wayhouse/regs", "wayhouses/api", true},
	} {
		if got := violation(tc.from, tc.to, false); (got == "") != tc.good {
			t.Errorf("%s -> %s: %q", tc.from, tc.to, got)
		}
	}
}

func TestViolationOfTests(t *testing.T) {
	for _, tc := range []struct {
		from, to string
		test     bool
		good     bool
	}{
		{"wayhouse/routing/search", "wayhouse/testdata/roads", true, true},
		{"wayhouse/routing/search", "wayhouse/testdata/roads", false, false},
		{"wayhouse/api/report", "wayhouse/api/tours", true, true},
		{"wayhouse/api/report", "wayhouse/api/tours", false, false},
		{"wayhouse/testdata/roads", "wayhouse/testdata/needs", false, true},
		{"wayhouse/testdata/roads", "wayhouse/routing/network", false, false},
		{"wayhouse/regs/limit", "wayhouse/data", true, true},
		{"wayhouse/regs/limit", "wayhouse/routing/network", true, false},
		{"wayhouse/regs/limit", "wayhouse/routing/rig", true, false},
	} {
		if got := violation(tc.from, tc.to, tc.test); (got == "") != tc.good {
			t.Errorf("%s -> %s, test %t: %q", tc.from, tc.to, tc.test, got)
		}
	}
}

// Every import of every file, tests included, points down.
func TestImportsPointDown(t *testing.T) {
	root := filepath.Join("..", "..")
	files := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" {
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
			if v := violation("wayhouse/"+filepath.ToSlash(dir), to, strings.HasSuffix(path, "_test.go")); v != "" {
				t.Error(v)
			}
		}
		return nil
	})
	if err != nil || files < 30 {
		t.Fatalf("%d files read: %v", files, err)
	}
}
