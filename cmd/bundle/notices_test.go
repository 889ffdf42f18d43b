package main

import (
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// sections are the texts of a file of notices by what each is for.
func sections(notices string) map[string]string {
	out := map[string]string{}
	for _, section := range strings.Split(notices, "\n"+strings.Repeat("=", 80)+"\n")[1:] {
		names, text, _ := strings.Cut(section, "\n\n")
		for _, name := range strings.Split(names, "\n") {
			out[name] = text
		}
	}
	return out
}

// What the program is linked of here has its licence in the committed file, in the
// words of the module; and the file names no module that go.mod does not, nor another
// version of it.
func TestNoticesAreOfWhatIsLinked(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join(shippedData, noticesFile))
	if err != nil {
		t.Fatal(err)
	}
	required, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir("../..") // go list names packages from the top
	here, err := buildNotices(runtime.GOOS)
	if err != nil {
		t.Fatal(err)
	}
	committed, linked := sections(string(raw)), sections(string(here))
	if len(linked) < 20 || !strings.Contains(linked["The Go library"], "The Go Authors") {
		t.Errorf("%d modules are linked", len(linked))
	}
	for name, text := range linked {
		if committed[name] != text {
			t.Errorf("%s: its licence is not in %s, or another: run go run ./cmd/bundle", name, noticesFile)
		}
	}
	var modules []string
	for _, m := range regexp.MustCompile(`(?m)^\t(\S+ v\S+)`).FindAllStringSubmatch(string(required), -1) {
		modules = append(modules, m[1])
	}
	for name := range committed {
		if name != "The Go library" && !slices.Contains(modules, name) {
			t.Errorf("%s is in no line of go.mod: run go run ./cmd/bundle", name)
		}
	}
}

// A module without a licence may not be used, and one with several gives all.
func TestLicences(t *testing.T) {
	dir := t.TempDir()
	if text, err := licences(dir); err == nil {
		t.Errorf("nothing is read as %q", text)
	}
	for name, text := range map[string]string{"LICENSE": "may\r\nuse\n\n", "README": "about", "Notice.txt": "by us"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want := "LICENSE:\n\nmay\nuse\n\nNotice.txt:\n\nby us\n"
	if text, err := licences(dir); err != nil || text != want {
		t.Errorf("%q, %v; want %q", text, err, want)
	}
}
