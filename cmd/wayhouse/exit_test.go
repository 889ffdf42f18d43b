package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/regs/store"
)

// A script that goes on when a command exits 0 must be able to ask for a clear
// answer: with --must-be anything worse, and anything unknown, exits 3, after the
// answer was printed.
func TestMustBeExits3OnAnythingWorseOrUnknown(t *testing.T) {
	trip, unit, tow := example(t, "trip.yaml"), example(t, "unit.yaml"), example(t, "tow.yaml")
	for name, args := range map[string][]string{
		"plan": {"plan", trip}, "plan as JSON": {"plan", trip, "--json"}, "route": {"route", trip, "--alternatives", "0", "--reasons=false"},
		"check": {"check", unit, "--in", "CA-ON,CA-QC"}, "rig": {"rig", unit, "--tow", tow}, "rig on a way": {"rig", unit, "--tow", tow, "--along", trip},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if code, out, errs := wayhouse(t, args...); code != 0 || out == "" {
				t.Errorf("without --must-be: %d, %s", code, errs)
			}
			for _, bar := range []string{"clear", "review"} { // each of them has unknowns
				code, out, errs := wayhouse(t, append(args, "--must-be", bar)...)
				if code != exitWorse || out == "" || !strings.Contains(errs, "must be "+bar) || !strings.Contains(errs, "unknown") {
					t.Errorf("%s: %d, %d bytes, %s", bar, code, len(out), errs)
				}
			}
			if code, out, errs := wayhouse(t, append(args, "--must-be", "unknown")...); code != exitInput || out != "" || !strings.Contains(errs, "clear, conditional or review") {
				t.Errorf("a word that is no bar: %d, %s", code, errs)
			}
		})
	}
}

// A ladder answers with steps, which have no outcome to compare.
func TestLadderHasNoMustBe(t *testing.T) {
	if code, _, errs := wayhouse(t, "ladder", example(t, "trip.yaml"), "--must-be", "clear"); code != exitInput || !strings.Contains(errs, "unknown flag") {
		t.Errorf("%d, %s", code, errs)
	}
}

// 1 is for what no other input would mend, 2 for input that cannot be used.
func TestExitCodesTellFailureFromBadInput(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close()
	dir := t.TempDir()
	for name, tc := range map[string]struct {
		code int
		args []string
	}{
		"an address in use":          {exitFailed, []string{"serve", "--address", taken.Addr().String()}},
		"a database that is away":    {exitFailed, []string{"rules", "history", "--database", "postgres://nobody@127.0.0.1:1/none?connect_timeout=1"}},
		"a store that is none":       {exitInput, []string{"rules", "history", "--store", written(t, "x.db", strings.Repeat("no database at all\n", 100))}},
		"an empty store":             {exitInput, []string{"rules", "history", "--store", written(t, "x.db", "")}},
		"no such row":                {exitInput, []string{"rules", "verify", "zz", "--store", filepath.Join(dir, "t.db"), "--source", "a text", "--why", "read"}},
		"no such CSV":                {exitInput, []string{"rules", "import", filepath.Join(dir, "no.csv"), "--store", filepath.Join(dir, "t.db"), "--why", "x"}},
		"a folder for a file":        {exitInput, []string{"plan", dir}},
		"no such network":            {exitInput, []string{"network", "show", filepath.Join(dir, "no.wayroads")}},
		"no argument":                {exitInput, []string{"check"}},
		"an unknown flag of rules":   {exitInput, []string{"rules", "list", "--fast"}},
		"a flag with a wrong number": {exitInput, []string{"plan", "--tables-revision", "x"}},
	} {
		t.Run(name, func(t *testing.T) {
			if code, _, errs := wayhouse(t, tc.args...); code != tc.code || !strings.HasPrefix(errs, "wayhouse: ") {
				t.Errorf("exit code %d, want %d: %s", code, tc.code, errs)
			}
		})
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if code := run(stopped, []string{"plan", example(t, "trip.yaml")}, io.Discard, io.Discard, time.Now); code != exitFailed {
		t.Errorf("stopped: exit code %d", code)
	}
	if code := tell(io.Discard, phrase.English(), fmt.Errorf("rules: %w", &store.ConflictError{Was: 1, Is: 2})); code != exitFailed {
		t.Errorf("somebody was first: exit code %d", code)
	}
}

// full is a disk that takes so many bytes more.
type full int

func (f *full) Write(p []byte) (int, error) {
	if len(p) > int(*f) {
		return 0, errors.New("no space left on device")
	}
	*f -= full(len(p))
	return len(p), nil
}

// An answer that could not be written down whole is a failure, whoever wrote it.
func TestAnAnswerThatIsCutOffFails(t *testing.T) {
	for _, args := range [][]string{
		{"version"}, {"sources"}, {"guide", "plan"}, {"rig", "parts"}, {"rules", "list", "--in", "CA-NB"},
		{"rules", "coverage", "--in", "CA-ON"}, {"check", example(t, "unit.yaml"), "--in", "CA-ON"},
	} {
		var errs bytes.Buffer
		room := full(5)
		if code := run(t.Context(), args, &room, &errs, noon); code != exitFailed || !strings.Contains(errs.String(), "no space left") {
			t.Errorf("%q: exit code %d, %q", args, code, errs.String())
		}
	}
}
