package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Each paper of a trip is a file of its own, in the form that was asked for, and the
// command lists them.
func TestPapers(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	got := prints(t, "papers", example(t, "trip.yaml"), "--folder", folder)
	want := []string{"route-sheet.pdf", "checklist.pdf", "permit-worksheet-CA-QC.pdf", "design-report.pdf"}
	for _, name := range want {
		path := filepath.Join(folder, name)
		raw, err := os.ReadFile(path)
		if err != nil || !strings.HasPrefix(string(raw), "%PDF-") || !strings.Contains(got, path+"\n") {
			t.Errorf("%s: %v, %d bytes, listed in %q", name, err, len(raw), got)
		}
	}
	got = prints(t, "papers", example(t, "trip.yaml"), "--folder", folder, "--only", "checklist", "--format", "html")
	if want := filepath.Join(folder, "checklist.html") + "\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// What cannot be printed is refused before the work.
func TestPapersRefuse(t *testing.T) {
	for name, args := range map[string][]string{
		"--folder": {"papers", example(t, "trip.yaml")},
		"--only":   {"papers", example(t, "trip.yaml"), "--folder", t.TempDir(), "--only", "invoice"},
		"--paper":  {"papers", example(t, "trip.yaml"), "--folder", t.TempDir(), "--paper", "legal"},
	} {
		code, out, errs := wayhouse(t, args...)
		if code != exitInput || out != "" || !strings.Contains(errs, name) {
			t.Errorf("%s: exit %d, %q, %q", name, code, out, errs)
		}
	}
}

// What the guide writes into a trip file is printed on the worksheet.
func TestPapersOfTheGuide(t *testing.T) {
	page, err := os.ReadFile(root(t, "data", "guide", "papers.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, asked, _ := strings.Cut(string(page), "```yaml\n")
	asked, _, _ = strings.Cut(asked, "```")
	raw, err := os.ReadFile(example(t, "trip.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(raw)
	for _, file := range []string{"unit.yaml", "tow.yaml", "structures.csv"} {
		text = strings.Replace(text, ": "+file, ": "+example(t, file), 1)
	}
	folder := t.TempDir()
	prints(t, "papers", written(t, "trip.yaml", text+asked), "--folder", folder, "--format", "html")
	sheet, err := os.ReadFile(filepath.Join(folder, "permit-worksheet-CA-QC.html"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Anvil Movers", "R. Thimm", "A. Drumm", "TEST 001; CA-ON", "16,300 kg", "TEST 002", "7,080 kg", "Harbour Mutual",
		"Friday 2027-12-31", "Forward Escorts", "a tiny house on its own trailer", "3 rue du Quai",
	} {
		if !strings.Contains(string(sheet), want) {
			t.Errorf("the worksheet has no %q", want)
		}
	}
}
