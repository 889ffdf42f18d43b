package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Every path that DEVELOPERS names is there, and every package is in one of the
// folders that it names.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	raw, err := os.ReadFile(root(t, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	tops := []string{"cmd", "api", "routing", "regs", "data", "migrations", "testdata", ".ci"}
	var named []string
	for _, m := range regexp.MustCompile("`([a-z.]+(?:/[a-zA-Z0-9_.-]+)*)`").FindAllStringSubmatch(string(raw), -1) {
		if top, _, _ := strings.Cut(m[1], "/"); !slices.Contains(tops, top) {
			continue
		}
		named = append(named, m[1])
		if _, err := os.Stat(root(t, m[1])); err != nil {
			t.Errorf("DEVELOPERS names %s: %v", m[1], err)
		}
	}
	if len(named) < 30 {
		t.Errorf("%d paths are named", len(named))
	}
	for _, dir := range packages(t) {
		floor := func(name string) bool {
			return dir == name || strings.Count(name, "/") > 0 && strings.HasPrefix(dir, name+"/")
		}
		if !slices.ContainsFunc(named, floor) && !strings.HasPrefix(dir, "testdata/") {
			t.Errorf("DEVELOPERS does not say what %s is for", dir)
		}
	}
}

// packages lists the folders of the repository that have Go files other than
// tests.
func packages(t *testing.T) (out []string) {
	t.Helper()
	everyFile(t, func(path string) {
		dir := filepath.ToSlash(filepath.Dir(path))
		if filepath.Ext(path) == ".go" && !strings.HasSuffix(path, "_test.go") && !slices.Contains(out, dir) {
			out = append(out, dir)
		}
	})
	return out
}

// everyFile calls f with each file of the repository, from its top.
func everyFile(t *testing.T, f func(path string)) {
	t.Helper()
	err := fs.WalkDir(os.DirFS(root(t)), ".", func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.Name() == ".git" && d.IsDir() {
			return fs.SkipDir
		}
		if err == nil && !d.IsDir() {
			f(path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A file that a page of decisions names is in its folder or below.
func TestDecisionsNameFilesThatAreThere(t *testing.T) {
	var all []string
	everyFile(t, func(path string) { all = append(all, path) })
	seen := 0
	for _, page := range all {
		if filepath.Base(page) != "DECISIONS.md" {
			continue
		}
		raw, err := os.ReadFile(root(t, page))
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile("`([a-z/]+\\.go)`").FindAllStringSubmatch(string(raw), -1) {
			seen++
			there := func(path string) bool {
				return path == m[1] || strings.HasPrefix(path, filepath.Dir(page)+"/") && strings.HasSuffix(path, "/"+m[1])
			}
			if !slices.ContainsFunc(all, there) {
				t.Errorf("%s names %s", page, m[1])
			}
		}
	}
	if seen < 5 {
		t.Errorf("%d files are named", seen)
	}
}
