package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wayhouse/api/wire"
	"wayhouse/data"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/testdata/english"
)

// noon is the clock of the tests: the shipped rows are read recently enough to
// clear.
func noon() time.Time { return time.Date(2027, 5, 10, 16, 0, 0, 0, time.UTC) }

// wayhouse runs the command as main does.
func wayhouse(t testing.TB, args ...string) (code int, out, errs string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	code = run(t.Context(), args, &stdout, &stderr, noon)
	if code == exitInput {
		refusedInFrench(t, args)
	}
	return code, stdout.String(), stderr.String()
}

// refusedInFrench wants no English in what a refusal says in French but what is quoted.
func refusedInFrench(t testing.TB, args []string) {
	t.Helper()
	if slices.ContainsFunc(args, func(a string) bool { return strings.HasPrefix(a, "--lang") }) || slices.Contains(args, "-") {
		return
	}
	var stderr bytes.Buffer
	run(t.Context(), append(slices.Clone(args), "--lang", "fr"), io.Discard, &stderr, noon)
	if at := english.In(stderr.String(), args...); at != "" {
		t.Errorf("%q in French: %s", args, at)
	}
}

// prints is what the command prints when it goes well.
func prints(t testing.TB, args ...string) string {
	t.Helper()
	code, out, errs := wayhouse(t, args...)
	if code != 0 || errs != "" {
		t.Fatalf("%q: exit code %d, %s", args, code, errs)
	}
	return out
}

func planned(t testing.TB, args ...string) wire.Trip {
	t.Helper()
	var got wire.Trip
	if err := json.Unmarshal([]byte(prints(t, append(args, "--json")...)), &got); err != nil {
		t.Fatal(err)
	}
	return got
}

// root is the top of the repository, found before a test changes directory.
func root(t testing.TB, elements ...string) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join(append([]string{"..", ".."}, elements...)...))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

func example(t testing.TB, name string) string { return root(t, "data", "example", name) }

// written makes a file with this text.
func written(t testing.TB, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// between is a short trip of flags, with more flags behind.
func between(flags ...string) []string {
	return append([]string{"plan", "--from", "Perth, ON", "--to", "Cornwall, ON"}, flags...)
}

func TestPlanExample(t *testing.T) {
	got := prints(t, "plan", example(t, "trip.yaml"), "--full")
	want, err := os.ReadFile(root(t, "testdata", "example-report.txt"))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("the report is not the one in testdata (go test ./api/report -update writes it):\n%s", diff)
	}
}

// exampleTrip is the trip of data/example.
func exampleTrip(t testing.TB) wire.TripRequest {
	t.Helper()
	a, err := tripOf(example(t, "trip.yaml"))
	noError(t, err)
	return wire.DecodeValue[wire.TripRequest](a.fields).Said
}

func noError(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// A unit says nothing of the rig it will be part of.
func TestRigOfFlags(t *testing.T) {
	unit := []string{"--unit-height", `13'2"`, "--unit-width", "2.5m", "--unit-length", "8.6m", "--unit-mass", "6,350 kg"}
	number := func(v float64) *float64 { return &v }
	for name, tc := range map[string]struct {
		flags                       []string
		height, length, mass        *float64
		combinationValue, massValue string
	}{
		"unit alone":   {nil, nil, nil, nil, "", ""},
		"whole rig":    {[]string{"--rig-length", "13.5m", "--rig-mass", "10.07t"}, nil, number(13.5), number(10070), "13.5 m", "10,070 kg"},
		"length alone": {[]string{"--rig-length", "13.5m"}, nil, number(13.5), nil, "13.5 m", ""},
		"tow vehicle":  {[]string{"--tow", example(t, "tow.yaml")}, number(4.0132), nil, number(10070), "", "10,070 kg"},
	} {
		t.Run(name, func(t *testing.T) {
			got := planned(t, between(slices.Concat(unit, tc.flags)...)...)
			type rig struct{ Height, Length, Mass *float64 }
			if diff := cmp.Diff(rig{tc.height, tc.length, tc.mass}, rig{got.Rig.HeightM, got.Rig.LengthM, got.Rig.MassKG}); diff != "" {
				t.Errorf("rig:\n%s", diff)
			}
			for quantity, value := range map[limit.Quantity]string{limit.CombinationLength: tc.combinationValue, limit.GrossMass: tc.massValue, limit.TrailerLength: "8.6 m"} {
				checkCompared(t, got.Legs[0].Findings, quantity, value)
			}
		})
	}
}

// checkCompared checks with what value a quantity was asked; with none it must
// be unknown.
func checkCompared(t testing.TB, findings []wire.Finding, q limit.Quantity, value string) {
	t.Helper()
	i := slices.IndexFunc(findings, func(f wire.Finding) bool { return string(f.Rule) == string(q) })
	switch {
	case i < 0:
		t.Errorf("no finding of %s", q)
	case value == "" && (findings[i].Value != "" || findings[i].Outcome != finding.Unknown || !strings.Contains(findings[i].Summary, "not given")):
		t.Errorf("%s is %s for %q, want unknown because not given", q, findings[i].Outcome, findings[i].Value)
	case !strings.HasPrefix(findings[i].Value, value):
		t.Errorf("%s was asked with %q, want %q", q, findings[i].Value, value)
	}
}

// Flags replace what a trip file says, and nothing else of it.
func TestFlagsOverFile(t *testing.T) {
	file := written(t, "trip.yaml", `{unit: {height: 4.05 m, width: 2.55 m, mass: "6,350 kg"}, tow: {height: 2 m, mass: "3,720 kg"}, depart: "2027-05-11T08:00", stops: [{place: "Perth, ON"}, {place: "Sorel-Tracy, QC"}]}`)
	got := planned(t, "plan", file, "--unit-height", "4.65 m", "--via", "Cornwall, ON", "--to", "Montréal, QC", "--depart", "2027-06-01T09:30", "--kind", "tiny_home")
	var stops []string
	for _, l := range got.Legs {
		if !strings.HasPrefix(l.From, "border") {
			stops = append(stops, l.From)
		}
	}
	stops = append(stops, got.Legs[len(got.Legs)-1].To)
	if diff := cmp.Diff([]string{"Perth, ON", "Cornwall, ON", "Montréal, QC"}, stops); diff != "" {
		t.Errorf("stops:\n%s", diff)
	}
	if got.Rig.HeightM == nil || *got.Rig.HeightM != 4.65 || *got.Rig.MassKG != 10070 || got.Rig.Kind != "tiny_home" || got.Departure.Format("2006-01-02T15:04-07:00") != "2027-06-01T09:30-04:00" {
		t.Errorf("rig %+v, leaving %v", got.Rig, got.Departure)
	}
}

const ends = "stops: [{place: \"Perth, ON\"}, {place: \"Cornwall, ON\"}]\n"

func TestRefuses(t *testing.T) {
	missing := filepath.Join(t.TempDir(), "nothing.yaml")
	for name, tc := range map[string]struct {
		args []string
		code int
		says []string
	}{
		"missing file":         {[]string{"plan", missing}, exitInput, []string{missing, "no such file"}},
		"empty file":           {[]string{"plan", written(t, "trip.yaml", "")}, exitInput, []string{"trip.yaml", "is empty"}},
		"comment only":         {[]string{"plan", written(t, "trip.yaml", "# later\n")}, exitInput, []string{"trip.yaml", "is empty"}},
		"no mapping":           {[]string{"plan", written(t, "trip.yaml", "- a\n")}, exitInput, []string{"trip.yaml"}},
		"field stands twice":   {[]string{"plan", written(t, "trip.yaml", "unit: {height: 4 m, height: 5 m}\n"+ends)}, exitInput, []string{"trip.yaml", "height"}},
		"bare number":          {[]string{"plan", written(t, "trip.yaml", "unit: {height: 4.15}\n"+ends)}, exitInput, []string{"trip.yaml", "unit.height", "4.15", "a number without a unit", "4.15 m", "4.15 ft", "height_m"}},
		"misspelt field":       {[]string{"plan", written(t, "trip.yaml", "unit: {hieght: 4.15 m}\n"+ends)}, exitInput, []string{"trip.yaml", `"hieght"`, "spelling"}},
		"missing unit file":    {[]string{"plan", written(t, "trip.yaml", "unit: nothing.yaml\n"+ends)}, exitInput, []string{"field unit", "nothing.yaml"}},
		"missing structures":   {[]string{"plan", written(t, "trip.yaml", "unit: {}\nstructures: nothing.csv\n"+ends)}, exitInput, []string{"field structures", "nothing.csv"}},
		"missing tow vehicle":  {between("--tow", missing), exitInput, []string{missing}},
		"misspelt tow vehicle": {between("--tow", written(t, "tow.yaml", "heigth: 2 m\n")), exitInput, []string{"tow.yaml", `"heigth"`}},
		"unknown flag":         {[]string{"plan", "--fast"}, exitInput, []string{"unknown flag", "--fast"}},
		"unknown command":      {[]string{"fly"}, exitInput, []string{"unknown command", "fly"}},
		"misspelt command":     {[]string{"chekc"}, exitInput, []string{`"chekc"`, "unknown command", "write wayhouse check"}},
		"misspelt below it":    {[]string{"rules", "exprot"}, exitInput, []string{`"exprot"`, "unknown command", "write wayhouse rules export"}},
		"nothing to plan":      {[]string{"plan"}, exitInput, []string{"nothing to plan", "trip file", "--from and --to"}},
		"only one end":         {[]string{"plan", "--from", "Perth, ON"}, exitInput, []string{"--from and --to"}},
		"two files":            {[]string{"plan", "a.yaml", "b.yaml"}, exitInput, []string{"is given 2 arguments, more than 1"}},
		"bare flag":            {between("--unit-height", "4.15"), exitInput, []string{"--unit-height", "4.15", "has no unit", "4.15 m"}},
		"wrong unit":           {between("--rig-mass", "10 m"), exitInput, []string{"--rig-mass", "10 m", "no unit of mass"}},
		"unknown place":        {between("--via", "Xyzzyville"), exitInput, []string{"--via", "Xyzzyville", "spelling"}},
		"ambiguous place":      {between("--from", "Cornwall"), exitInput, []string{"Cornwall, PE", "province or state"}},
		"off the network":      {between("--to", "Toronto, ON"), exitInput, []string{"Toronto, ON", "nearest", "(145.2 mi) away"}},
		"from equals to":       {between("--to", "Perth, ON"), exitInput, []string{"same place"}},
		"address of everybody": {[]string{"serve", "--address", "0.0.0.0:0"}, exitInput, []string{"0.0.0.0:0", "other machines", "127.0.0.1"}},
		"address without port": {[]string{"serve", "--address", "127.0.0.1"}, exitInput, []string{"127.0.0.1:8080"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel() // most read all of the shipped data
			code, out, errs := wayhouse(t, tc.args...)
			if code != tc.code {
				t.Errorf("exit code %d, want %d", code, tc.code)
			}
			if out != "" {
				t.Errorf("prints %.500q beside the error", out)
			}
			for _, want := range append(tc.says, "wayhouse: ") {
				if !strings.Contains(errs, want) {
					t.Errorf("says %q, want %q in it", errs, want)
				}
			}
		})
	}
}

func TestConfirm(t *testing.T) {
	for name, tc := range map[string]struct {
		flags []string
		word  string
	}{
		"height below width": {[]string{"--unit-height", "2.4m", "--unit-width", "2.55m"}, "height_below_width"},
		"other unit":         {[]string{"--unit-mass", "24,000 kg", "--unit-width", "2.55m", "--unit-length", "8.6m"}, "unit_mass"},
	} {
		code, out, errs := wayhouse(t, between(tc.flags...)...)
		if code != exitInput || out != "" || !strings.Contains(errs, "--confirm "+tc.word) {
			t.Errorf("%s: exit code %d, %s", name, code, errs)
		}
		planned(t, between(append(tc.flags, "--confirm", tc.word)...)...)
	}
}

// files lists what a directory holds, with sizes.
func files(t testing.TB, dir string) map[string]int64 {
	t.Helper()
	sizes := map[string]int64{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		if err == nil {
			sizes[path] = info.Size()
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return sizes
}

func TestStore(t *testing.T) {
	tripFile, dir := example(t, "trip.yaml"), t.TempDir()
	t.Chdir(dir)
	inMemory := planned(t, "plan", tripFile)
	if got := files(t, dir); len(got) != 0 {
		t.Errorf("without --store it wrote %v", got)
	}
	first := planned(t, "plan", tripFile, "--store", "tables.db")
	made := files(t, dir)
	if made[filepath.Join(dir, "tables.db")] == 0 {
		t.Fatalf("--store made %v", made)
	}
	second := planned(t, "plan", tripFile, "--store", "tables.db")
	if diff := cmp.Diff(made, files(t, dir)); diff != "" {
		t.Errorf("the second run changed the store:\n%s", diff)
	}
	if first.Revision() == "" || second.Revision() != first.Revision() || inMemory.Revision() != first.Revision() {
		t.Errorf("revisions: %q in memory, then %q and %q", inMemory.Revision(), first.Revision(), second.Revision())
	}
}

func TestSources(t *testing.T) {
	brief, full := prints(t, "sources"), prints(t, "sources", "--licences")
	for _, s := range data.Sources() {
		for _, want := range []string{s.Name, s.From, s.Date, s.Attribution, s.Licence} {
			if !strings.Contains(brief, want) || !strings.Contains(full, want) {
				t.Errorf("%s: %q is missing", s.ID, want)
			}
		}
		if s.LicenceFile == "" {
			continue
		}
		text, err := data.Files.ReadFile(s.LicenceFile)
		if err != nil || len(text) == 0 || !strings.Contains(full, string(text)) {
			t.Errorf("%s: its licence text is missing, %v", s.ID, err)
		}
	}
	for _, want := range []string{"The Go Authors", "github.com/spf13/cobra v", "Apache License"} {
		if !strings.Contains(full, want) || strings.Contains(brief, want) {
			t.Errorf("--licences prints no %q, or sources does without it", want)
		}
	}
}

// serve says on its first line where it answers, and ends with its context.
func TestServe(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	out, in := io.Pipe()
	ended := make(chan int, 1)
	var errs bytes.Buffer // read after the end only
	go func() {
		ended <- run(ctx, []string{"serve", "--address", "127.0.0.1:0"}, in, &errs, noon)
		in.Close()
	}()
	lines := bufio.NewReader(out)
	first, err := lines.ReadString('\n')
	if second, err := lines.ReadString('\n'); err != nil || !strings.Contains(second, "changes of the tables are refused") || !strings.Contains(second, "--store FILE") {
		t.Errorf("without --store the second line is %q, %v", second, err)
	}
	address := regexp.MustCompile(`http://127\.0\.0\.1:[1-9]\d*`).FindString(first)
	if err != nil || address == "" {
		t.Fatalf("first line %q, %v", first, err)
	}
	answer, err := http.Get(address + "/healthz")
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(answer.Body)
	answer.Body.Close()
	if err != nil || answer.StatusCode != http.StatusOK || !strings.Contains(string(body), "ok") {
		t.Errorf("%d %s, %v", answer.StatusCode, body, err)
	}
	stop()
	select {
	case code := <-ended:
		if code != 0 || errs.String() != "" {
			t.Errorf("ends with code %d, %s", code, errs.String())
		}
	case <-time.After(shutdownTimeout + time.Second):
		t.Error("does not end with its context")
	}
	if again, err := http.Get(address + "/healthz"); err == nil {
		again.Body.Close()
		t.Error("still answers")
	}
}
