package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"wayhouse/api/wire"
)

// season runs a list of jobs and reads what is answered.
func seasonOf(t *testing.T, list string, flags ...string) (wire.Season, int, string) {
	t.Helper()
	code, out, errs := wayhouse(t, append([]string{"season", list, "--json"}, flags...)...)
	var got wire.Season
	if out != "" {
		noError(t, json.Unmarshal([]byte(out), &got))
	}
	return got, code, errs
}

// Every line is planned as the trip file with its cells laid over it is, and a line that
// cannot be planned stops no other.
func TestSeason(t *testing.T) {
	trip, folder := example(t, "trip.yaml"), t.TempDir()
	list := written(t, "list.csv", "id,trip,to,depart,top-speed,client\n"+
		"J-1,"+trip+",,,,\n"+
		"J-2,"+trip+",\"Cornwall, ON\",2027-05-12T09:00,80 km/h,A. Customer\n"+
		"J-3,"+trip+",Nowhere at all,,,\n"+
		"J-4,"+trip+",,,4 furlongs,\n")
	got, code, errs := seasonOf(t, list, "--rates", example(t, "rates.csv"), "--folder", folder)
	if code != exitInput || !strings.Contains(errs, "2 of 4 jobs have no plan") || len(got.Jobs) != 4 {
		t.Fatalf("exit code %d, %s, %+v", code, errs, got.Jobs)
	}
	first, second := planned(
		t,
		"plan",
		trip,
	), planned(
		t,
		"plan",
		trip,
		"--to",
		"Cornwall, ON",
		"--depart",
		"2027-05-12T09:00",
		"--top-speed",
		"80 km/h",
	)
	for i, want := range []wire.Trip{first, second} {
		j := got.Jobs[i]
		if j.Error != "" || *j.LengthM != want.LengthM || j.Outcome != want.Verdict.Worst && *j.Unknowns == 0 ||
			*j.Permits != len(want.Permits) {
			t.Errorf("%+v, want %.0f m", j, want.LengthM)
		}
		if j.Quote == nil || j.Quote.Total.Likely == nil || j.Quote.Currency != "CAD" {
			t.Errorf("%+v", j.Quote)
		}
		for _, name := range []string{j.ID + ".plan.json", j.ID + ".quote.json"} {
			if raw, err := os.ReadFile(filepath.Join(folder, name)); err != nil || !json.Valid(raw) {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
	for i, want := range map[int]string{2: "Nowhere at all", 3: "furlongs"} {
		if !strings.Contains(got.Jobs[i].Error, want) || got.Jobs[i].LengthM != nil || got.Jobs[i].Permits != nil {
			t.Errorf("%+v does not name %q", got.Jobs[i], want)
		}
	}
	sheet, err := os.ReadFile(filepath.Join(folder, "season.csv"))
	noError(t, err)
	if lines, err := csv.NewReader(bytes.NewReader(sheet)).ReadAll(); err != nil || len(lines) != 5 {
		t.Errorf("%d lines, %v", len(lines), err)
	}
}

// Text has a paragraph for each job, folded to the screen, and no moment finer than a second
// stands in JSON.
func TestSeasonAsText(t *testing.T) {
	out := prints(t, "season", example(t, "season.csv"))
	var lines []string
	for line := range strings.Lines(out) {
		if utf8.RuneCountInString(strings.TrimSpace(line)) > 100 {
			t.Errorf("too long: %s", line)
		}
		if strings.HasPrefix(line, " ") {
			lines[len(lines)-1] += line
			continue
		}
		lines = append(lines, line)
	}
	if got, _, _ := seasonOf(t, example(t, "season.csv")); got.Jobs[0].Arrival.Nanosecond() != 0 {
		t.Errorf("%v", got.Jobs[0].Arrival)
	}
	if len(lines) != 4 || !strings.HasPrefix(lines[3], "Planning aid only") || !strings.HasPrefix(lines[0], "S-201: ") ||
		!strings.Contains(lines[0], "NOT KNOWN") ||
		strings.Contains(lines[0], "CAD") {
		t.Errorf("%s", out)
	}
}

// A list that cannot be read is refused whole, and says where.
func TestSeasonRefused(t *testing.T) {
	for name, tc := range map[string]struct{ list, says string }{
		"no id":       {"trip\ntrip.yaml\n", "has no column id"},
		"a column":    {"id,colour\nJ-1,red\n", "colour"},
		"twice":       {"id,from,to\nJ-1,a,b\nJ-1,a,b\n", "stands twice"},
		"a path":      {"id,from,to\n../J-1,a,b\n", "no name for a job"},
		"long line":   {"id,from,to\nJ-1,a,b,c\n", "line 2"},
		"open quote":  {"id,from,to\nJ-1,\"a,b\n", "line 2"},
		"no line":     {"id\n", "is empty"},
		"nothing":     {"", "has no column id"},
		"no id of it": {"id,from,to\n,a,b\n", "id"},
	} {
		code, _, errs := wayhouse(t, "season", written(t, "list.csv", tc.list))
		if code != exitInput || !strings.Contains(errs, tc.says) {
			t.Errorf("%s: exit code %d, %s; want %q", name, code, errs, tc.says)
		}
	}
}

// What is stopped keeps what is done and says that it was stopped.
func TestSeasonStopped(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	var out, errs bytes.Buffer
	folder := t.TempDir()
	code := run(ctx, []string{"season", example(t, "season.csv"), "--folder", folder}, &out, &errs, noon)
	if code != exitFailed || out.Len() > 0 {
		t.Errorf("exit code %d, %s, %s", code, out.String(), errs.String())
	}
}
