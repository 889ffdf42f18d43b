package main

import (
	"encoding/xml"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The report says what to look at first, draws the rig, and lists what to look at
// before it leaves; nothing of a rig that nobody weighed is clear.
func TestRigReport(t *testing.T) {
	got := prints(t, "rig", example(t, "unit.yaml"), "--tow", example(t, "tow.yaml"), "--in", "CA-ON", "--full")
	for _, want := range []string{
		"INVENTED. Rig ", "SO FAR A PERSON DECIDES", "WHAT IT WEIGHS", "centre of gravity:", "unit axle 3", "moved 1 m (≈ 3 ft 3 3/8 in) toward the coupling", "stop at a steady wind above",
		"chimney forgotten", "HITS", "swept width", "WHAT PASSES UNDER IT", "For comparison, not a proof", "drag area", "licence CA-ON", "SIDE VIEW", "REAR VIEW",
		"chimney: taken off", "Planning aid only.",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the report lacks %q", want)
		}
	}
	for i, line := range strings.Split(got, "\n") {
		if strings.Contains(line, " clear ") && !strings.Contains(line, "not clear") && !strings.Contains(line, "bending at the coupling") && !strings.Contains(line, "steering axle") && !strings.Contains(line, "standing level") { // those are by sizes, as described
			t.Errorf("line %d: %q", i+1, line)
		}
	}
}

// Along a trip the rig meets corners and its tank runs down.
func TestRigAlong(t *testing.T) {
	got := prints(t, "rig", example(t, "unit.yaml"), "--tow", example(t, "tow.yaml"), "--along", example(t, "trip.yaml"), "--full")
	for _, want := range []string{"ON THE WAY", "no faster than", "nose likely saves", "corners to look at, those that could not be driven first, then the widest", "fill up before", "curves to be slower in"} {
		if !strings.Contains(got, want) {
			t.Errorf("the report lacks %q", want)
		}
	}
}

// The drawing is a whole picture, and a folder that is not there is named.
func TestRigSVG(t *testing.T) {
	path := filepath.Join(t.TempDir(), "rig.svg")
	prints(t, "rig", example(t, "unit.yaml"), "--draw", path)
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for d := xml.NewDecoder(file); ; {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".rig-*")); len(left) > 0 {
		t.Errorf("left %v", left)
	}
	if code, _, errs := wayhouse(t, "rig", example(t, "unit.yaml"), "--draw", filepath.Join(t.TempDir(), "none", "rig.svg")); code != exitInput || !strings.Contains(errs, "--draw") {
		t.Errorf("%d %q", code, errs)
	}
}

// A mistake in a description is named by file and field, and the catalogue is printed.
func TestRigFiles(t *testing.T) {
	for text, want := range map[string]string{
		"height: 4\n":                                   "height",
		"running_gear: 3\n":                             "running_gear",
		"parts:\n  - {of: wall, area: 3 m2}\n":          "parts[0].of",
		"parts:\n  - {name: x, mass: 3 kg, along: 3}\n": "along",
		"tank: 120 L\n":                                 "tank",
	} {
		if code, _, errs := wayhouse(t, "rig", written(t, "unit.yaml", text)); code != exitInput || !strings.Contains(errs, want) {
			t.Errorf("%q: %d %q", text, code, errs)
		}
	}
	if list := prints(t, "rig", "parts"); !strings.Contains(list, "stud-steel-92-33mil") || !strings.Contains(list, "secondary") {
		t.Errorf("%.300s", list)
	}
}

// A corner, a driveway and a gate are tried by flags alone, in both languages.
func TestRigCorner(t *testing.T) {
	rig := []string{"rig", example(t, "unit.yaml"), "--tow", example(t, "tow.yaml")}
	for _, tc := range []struct{ args, want string }{
		{"--corner 10m --into 8m --turn left", "gets through, 90° to the left from 10 m"},
		{"--corner 5m", "reaches over an edge, 90° to the right from 5 m"},
		{"--corner 8m --angle 0 --gate 3.5m --gate-offset 1m", "a gate straight ahead in 8 m"},
		{"--corner 10m --goes-on --kerb-radius 3m --lang fr", "Essai"},
	} {
		if got := prints(t, append(rig, strings.Fields(tc.args)...)...); !strings.Contains(got, tc.want) {
			t.Errorf("%s: %q is not in\n%s", tc.args, tc.want, got)
		}
	}
}
