package main

import (
	"strings"
	"testing"
)

// What is wrong with a line is said under its id, what is wrong with all of them by its flag.
func TestMovesOfAList(t *testing.T) {
	trip := example(t, "trip.yaml")
	list := func(lines string) string { return written(t, "list.csv", "id,trip,from,to,unit-height\n"+lines) }
	one := "M-1," + trip + ",,\"Cornwall, ON\",\n"
	for name, tc := range map[string]struct {
		args []string
		says []string
	}{
		"nowhere": {[]string{list(one + "M-2," + trip + ",Nowhere at all,,\n")},
			[]string{"M-2, stops[0]", "Nowhere at all"}},
		"no height": {[]string{list(one + "M-2," + trip + ",,,tall\n")}, []string{"M-2, unit.height", "tall"}},
		"no base":   {[]string{list(one), "--back"}, []string{"--back", "no base"}},
		"no place":  {[]string{list(one), "--base", "Nowhere at all"}, []string{"--base", "Nowhere at all"}},
		"too many":  {[]string{list(nineOf(one))}, []string{"moves", "8"}},
	} {
		code, out, errs := wayhouse(t, append([]string{"moves"}, tc.args...)...)
		if code != exitInput || out != "" {
			t.Errorf("%s: exit code %d, %s", name, code, out)
		}
		for _, want := range tc.says {
			if !strings.Contains(errs, want) {
				t.Errorf("%s: %q is missing in %s", name, want, errs)
			}
		}
	}
	if code, out, errs := wayhouse(t, "moves", list(one), "--must-be", "clear"); code != exitWorse ||
		!strings.Contains(out, "1 unit moved by one crew") {
		t.Errorf("exit code %d, %s%s", code, out, errs)
	}
}

func nineOf(line string) (out string) {
	for _, digit := range "123456789" {
		out += strings.Replace(line, "M-1", "M-"+string(digit), 1)
	}
	return out
}
