package main

import (
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wayhouse/api/wire"
)

// printed is what a command prints as JSON.
func printed[T any](t testing.TB, args ...string) (out T) {
	t.Helper()
	if err := json.Unmarshal([]byte(prints(t, append(args, "--json")...)), &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// By the example both commands go well, and say at once that it is invented.
func TestRouteAndLadderOfExample(t *testing.T) {
	for command, says := range map[string][]string{
		"route": {"\nWays ", "\nother 2 ", "\nunhindered ", "\nBent by ", "Mill Lane", "Planning aid only.",
			"© Her Majesty", "GeoNames"},
		"ladder": {"\nSteps ", "no second ladder", "no known limit", "it takes step 3", "CA-QC NOT KNOWN",
			"Planning aid only.", "© Her Majesty", "GeoNames"},
	} {
		got := prints(t, command, example(t, "trip.yaml"))
		if !strings.HasPrefix(got, wire.InventedMark+". ") || strings.Contains(got, "any height") {
			t.Errorf("%s: %.200s", command, got)
		}
		for _, want := range says {
			if !strings.Contains(got, want) {
				t.Errorf("%s: %q is missing", command, want)
			}
		}
	}
}

// Flags replace what the wishes of a file say, and leave the rest of them.
func TestWishFlagsOverFile(t *testing.T) {
	const area = `{"type":"Polygon","coordinates":[[[-75.8,44.9],[-75.6,44.9],[-75.6,45.1],[-75.8,45.1],[-75.8,44.9]]]}`
	file := written(t, "trip.yaml", "unit: {height: 4 m, width: 2.5 m}\n"+ends+
		"wishes: {not_by: [\"138\"], no_tolls: true, top_speed: 80 km/h, "+
		"permit_costs: {CA-QC: 2 h}, not_through: area.geojson}\n")
	if err := os.WriteFile(filepath.Join(filepath.Dir(file), "area.geojson"), []byte(area), 0o600); err != nil {
		t.Fatal(err)
	}
	got := printed[wire.Routes](t, "route", file, "--not-by", "401", "--top-speed", "60 km/h")
	var wishes []string
	for _, b := range got.Reasons.Bent {
		wishes = append(wishes, b.What)
	}
	if b := got.Reasons.Together; b != nil {
		for _, b := range b.Barriers {
			wishes = append(wishes, b.What)
		}
	}
	if all := strings.Join(wishes, "; "); !strings.Contains(all, "not by 401") || strings.Contains(all, "138") ||
		!strings.Contains(all, "drawn areas") {
		t.Errorf("%q bent the way", wishes)
	}
}

func TestRouteAndLadderRefuse(t *testing.T) {
	file := func(wishes string) string { return written(t, "trip.yaml", "unit: {}\n"+ends+"wishes: "+wishes+"\n") }
	trip := example(t, "trip.yaml")
	cases := map[string]struct {
		args []string
		says []string
	}{
		"4 alternatives": {[]string{"route", trip, "--alternatives", "4"}, []string{`--alternatives 4`, "0 to 3"}},
		"no such quantity": {
			[]string{"ladder", trip, "--quantity", "length"},
			[]string{`--quantity "length"`, "height, width, mass"},
		},
		"avoiding":        {[]string{"ladder", trip, "--avoid-unmeasured"}, []string{"--avoid-unmeasured", "leave it out"}},
		"two files":       {[]string{"route", trip, trip}, []string{"is given 2 arguments, more than 1"}},
		"nothing to plan": {[]string{"ladder"}, []string{"nothing to plan", "--from and --to"}},
		"speed in the file": {
			[]string{"route", file("{top_speed: 90}")},
			[]string{"wishes.top_speed", "90", "number without a unit", "90 km/h"},
		},
		"cost in the file": {
			[]string{"route", file("{permit_cost: 30}")},
			[]string{"wishes.permit_cost", "30", "number without a unit", "30 min"},
		},
		"a cost of several": {
			[]string{"plan", file("{permit_costs: {CA-ON: 30}}")},
			[]string{"wishes.permit_costs", "30", "number without a unit", "30 min"},
		},
		"misspelt wish": {[]string{"route", file("{not_true: area.geojson}")}, []string{`"not_true"`, "spelling"}},
		"no such area": {
			[]string{"route", file("{not_through: nothing.geojson}")},
			[]string{"field not_through", "nothing.geojson"},
		},
	}
	for flag, says := range map[string][]string{
		"--not-in=XX":       {`--not-in "XX"`, "CA-ON"},
		"--not-by=9999":     {`--not-by "9999"`, "no road of this network"},
		"--by= ":            {"--by", "is empty"},
		"--hazmat=maybe":    {`--hazmat "maybe"`, "yes, no"},
		"--top-speed=90":    {`--top-speed "90"`, "has no unit", "mph"},
		"--permit-cost=30":  {`--permit-cost "30"`, "30 min"},
		"--permit-cost=9 d": {`--permit-cost "9 d"`, "30 min"},
	} {
		for _, command := range []string{"plan", "route", "ladder"} {
			cases[command+" "+flag] = struct {
				args []string
				says []string
			}{[]string{command, trip, flag}, says}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(cases)) {
		tc := cases[name]
		t.Run(name, func(t *testing.T) {
			t.Parallel() // each reads all of the shipped data
			code, out, errs := wayhouse(t, tc.args...)
			if code == 0 || out != "" || !strings.HasPrefix(errs, "wayhouse: ") {
				t.Errorf("exit code %d, prints %.200q, says %q", code, out, errs)
			}
			for _, want := range tc.says {
				if !strings.Contains(errs, want) {
					t.Errorf("says %q, want %q in it", errs, want)
				}
			}
		})
	}
}
