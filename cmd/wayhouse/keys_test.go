package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Two heights in a file would read as one of them, and clear (keys of a mapping are
// unique: YAML 1.2.2, section 3.2.1.1; RFC 8259, section 4).
func TestKeysThatStandTwiceInAFileAreRefused(t *testing.T) {
	const stops = "stops: [{place: \"Perth, ON\"}, {place: \"Cornwall, ON\"}]\n"
	for name, tc := range map[string]struct {
		trip, beside, text string
		want               []string
	}{
		"same letters":            {"unit:\n  height_m: 4.6\n  height_m: 4.0\n" + stops, "", "", []string{"trip.yaml, field unit.height_m", `"4.6" at line 2, column 3, and "4.0" at line 3, column 3`, "keep the one"}},
		"capitals":                {"unit:\n  height_m: 4.6\n  Height_m: 4.0\n" + stops, "", "", []string{"field unit.Height_m", `"height_m" "4.6" at line 2`, `"Height_m" "4.0" at line 3`, "keep one"}},
		"capitals alone":          {"unit: {Height_m: 4.0}\n" + stops, "", "", []string{"trip.yaml", "unit.Height_m", "other letters than height_m", "write height_m"}},
		"capitals alone, in list": {"unit: {height_m: 4.0}\nrig: {axles: [{Mass_kg: 3000}]}\n" + stops, "", "", []string{"rig.axles[0].Mass_kg", "write mass_kg"}},
		"of the trip":             {"Unit: {height_m: 4.0}\n" + stops, "", "", []string{"  Unit ", "write unit"}},
		"JSON":                    {`{"unit": {"height_m": 4.6, "height_m": 4.0}, "stops": []}`, "", "", []string{"field unit.height_m", `"4.6" at line 1, column 11`}},
		"a file named by it":      {"unit: unit.yaml\n" + stops, "unit.yaml", "height_m: 4.6\nheight_m: 4.0\n", []string{"unit.yaml, field height_m", `"4.6" at line 1`, `"4.0" at line 2`}},
		"a route": {"unit: {height_m: 4.0}\nroute: way.geojson\n", "way.geojson", `{"type": "LineString", "coordinates": [[-76.2, 44.9], [-76.1, 44.9]], "coordinates": [[-75, 45], [-74, 45]]}`,
			[]string{"way.geojson, field coordinates", "[...] at line 1, column 24", "keep the one"}},
	} {
		t.Run(name, func(t *testing.T) {
			path := written(t, "trip.yaml", tc.trip)
			if tc.beside != "" {
				if err := os.WriteFile(filepath.Join(filepath.Dir(path), tc.beside), []byte(tc.text), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			code, out, errs := wayhouse(t, "plan", path)
			if code != exitInput || out != "" {
				t.Errorf("exit code %d, printed %q", code, out)
			}
			for _, want := range tc.want {
				if !strings.Contains(errs, want) {
					t.Errorf("%s\nwant %q in it", errs, want)
				}
			}
		})
	}
}
