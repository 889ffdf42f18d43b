package main

import (
	"os"
	"strings"
	"testing"
)

// given makes a text what stands on standard input.
func given(t *testing.T, text string) {
	t.Helper()
	file, err := os.Open(written(t, "in", text))
	noError(t, err)
	before := os.Stdin
	os.Stdin = file
	t.Cleanup(func() {
		os.Stdin = before
		file.Close()
	})
}

// "-" is standard input for each file that a command reads, as POSIX has it (Utility
// Syntax Guideline 13), and files that it names are found from the current folder.
func TestStandardInput(t *testing.T) {
	unit := example(t, "unit.yaml")
	raw, err := os.ReadFile(unit)
	noError(t, err)
	want := prints(t, "check", unit, "--in", "CA-ON", "--json")
	given(t, string(raw))
	if got := prints(t, "check", "-", "--in", "CA-ON", "--json"); got != want {
		t.Error("a unit of standard input is checked in another way than one of a file")
	}
	t.Chdir(root(t, "data", "example"))
	trip, err := os.ReadFile("trip.yaml")
	noError(t, err)
	given(t, string(trip))
	a, err := tripOf("-")
	noError(t, err)
	if _, ok := a.fields["unit"].(map[string]any); !ok {
		t.Errorf("unit: %v", a.fields["unit"])
	}
	given(t, "height: 4 m")
	if code, out, errs := wayhouse(t, "check", "-", "--tow", "-", "--in", "CA-ON"); code != exitInput || out != "" || !strings.Contains(errs, "name it once") {
		t.Errorf("read twice: exit code %d, %s", code, errs)
	}
	given(t, "")
	if code, _, errs := wayhouse(t, "rules", "import", "-", "--why", "a test", "--dry-run", "--store", written(t, "s.db", "")); code != exitInput {
		t.Errorf("an import of nothing: exit code %d, %s", code, errs)
	}
	if code, _, errs := wayhouse(t, "rig", unit, "--draw", "-"); code != exitInput || !strings.Contains(errs, "--format svg") {
		t.Errorf("exit code %d, %s", code, errs)
	}
}
