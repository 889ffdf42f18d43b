package main

import (
	"encoding/json"
	"strings"
	"testing"

	"wayhouse/api/wire"
)

// A file against flags: what the flags make worse stands first, and flags take nothing
// from the file.
func TestCompareChecks(t *testing.T) {
	args := []string{"check", "--height", "4.3m", "--width", "2.55m", "--compare", example(t, "unit.yaml"), "--in", "CA-ON"}
	text := prints(t, args...)
	for _, want := range []string{"INVENTED", "4.05 m (≈ 13 ft 3 1/2 in)  4.3 m", "with conditions, 0.15 m too much"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	var got wire.Comparison
	if err := json.Unmarshal([]byte(prints(t, append(args, "--json")...)), &got); err != nil {
		t.Fatal(err)
	}
	first := got.Findings[0]
	if got.Mark == "" || got.A.Mark == "" || got.B.Mark != "" || !first.Turns || first.B.Rule != "height" || *first.B.MarginM != -0.15 || *first.A.ValueM != 4.05 {
		t.Errorf("%+v", first)
	}
}

// The same file on both sides differs in nothing.
func TestCompareWithItself(t *testing.T) {
	unit, tow, trip := example(t, "unit.yaml"), example(t, "tow.yaml"), example(t, "trip.yaml")
	for _, args := range [][]string{
		{"check", unit, "--in", "CA-ON", "--compare", unit}, {"rig", unit, "--tow", tow, "--compare", unit},
		{"plan", trip, "--compare", trip, "--no-ferries"},
	} {
		if got := prints(t, args...); !strings.Contains(got, "nothing differs; ") || strings.Contains(got, "; 0 answers") {
			t.Errorf("%q:\n%s", args, got)
		}
	}
}

// A comparison has its own forms, and what is wrong with the other file is said of it.
func TestCompareRefuses(t *testing.T) {
	check := func(more ...string) []string {
		return append([]string{"check", example(t, "unit.yaml"), "--in", "CA-ON"}, more...)
	}
	for want, args := range map[string][]string{
		"--format": check("--compare", example(t, "unit.yaml"), "--format", "svg"), "no-such.yaml": check("--compare", "no-such.yaml"),
		"trip.yaml": check("--compare", example(t, "trip.yaml")),
	} {
		if code, out, errs := wayhouse(t, args...); code != exitInput || out != "" || !strings.Contains(errs, want) {
			t.Errorf("%q: %d, %.200q, %q", args, code, out, errs)
		}
	}
}
