package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// The program as it is linked for each system that it is built for, without cgo.
const linked = "./cmd/wayhouse"

var systems = []string{"linux", "darwin", "windows"}

// module is code of others that the program is linked of.
type module struct{ name, dir string }

// buildNotices writes the licence of the Go library and of every module that the
// program is linked of on some systems. Modules of one text stand above it together.
func buildNotices(systems ...string) ([]byte, error) {
	modules, err := modulesOf(systems)
	if err != nil {
		return nil, err
	}
	of := map[string][]string{} // names by text
	for _, m := range modules {
		text, err := licences(m.dir)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", m.name, err)
		}
		of[text] = append(of[text], m.name)
	}
	var b strings.Builder
	b.WriteString(
		"The program is made with the work of others. Their licences follow, each below the names of what it is for.\n",
	)
	for _, text := range slices.SortedFunc(maps.Keys(of), func(x, y string) int {
		return strings.Compare(of[x][0], of[y][0])
	}) {
		fmt.Fprintf(&b, "\n%s\n%s\n\n%s", strings.Repeat("=", 80), strings.Join(of[text], "\n"), text)
	}
	return []byte(b.String()), nil
}

// modulesOf lists the Go library, and the modules that are linked on some systems, by
// name and version. What stands in this repository is none of others.
func modulesOf(systems []string) ([]module, error) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, fmt.Errorf("go env: %w", err)
	}
	out := []module{{"The Go library", strings.TrimSpace(string(root))}}
	for _, system := range systems {
		list := exec.Command("go", "list", "-deps", "-json=Module", linked)
		list.Env = append(os.Environ(), "GOOS="+system, "GOARCH=amd64", "CGO_ENABLED=0")
		raw, err := list.Output()
		if err != nil {
			return nil, fmt.Errorf("go list for %s: %w", system, err)
		}
		packages := json.NewDecoder(strings.NewReader(string(raw)))
		for {
			var p struct {
				Module *struct {
					Path, Version, Dir string
					Main               bool
					Replace            *struct{ Version string }
				}
			}
			if err := packages.Decode(&p); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				return nil, err
			}
			m := p.Module
			if m == nil || m.Main || m.Replace != nil && m.Replace.Version == "" {
				continue
			}
			if one := (module{m.Path + " " + m.Version, m.Dir}); !slices.Contains(out, one) {
				out = append(out, one)
			}
		}
	}
	slices.SortFunc(out, func(a, b module) int { return strings.Compare(a.name, b.name) })
	return out, nil
}

// licenceFile is what the file of a licence is called, or of notices that it asks for.
var licenceFile = regexp.MustCompile(`(?i)^(licen[cs]e|copying|copyright|notice)`)

// licences are the texts at the top of a module, each below the name of its file where
// there are several.
func licences(dir string) (string, error) {
	files, err := os.ReadDir(dir)
	if err != nil {
		return "", err
	}
	files = slices.DeleteFunc(files, func(f os.DirEntry) bool { return f.IsDir() || !licenceFile.MatchString(f.Name()) })
	var b strings.Builder
	for _, f := range files {
		raw, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err != nil {
			return "", err
		}
		if len(files) > 1 {
			fmt.Fprintf(&b, "%s:\n\n", f.Name())
		}
		b.WriteString(strings.TrimRight(strings.ReplaceAll(string(raw), "\r\n", "\n"), "\n") + "\n\n")
	}
	if len(files) == 0 {
		return "", errors.New("it has no licence, so it may not be used")
	}
	return strings.TrimRight(b.String(), "\n") + "\n", nil
}
