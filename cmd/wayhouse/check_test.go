package main

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wayhouse/api"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
)

// designed is what a check says as JSON.
func designed(t testing.TB, args ...string) wire.Design {
	t.Helper()
	var got wire.Design
	if err := json.Unmarshal([]byte(prints(t, slices.Concat([]string{"check"}, args, []string{"--json"})...)), &got); err != nil {
		t.Fatal(err)
	}
	return got
}

// heightIn is what a check says of the height in a jurisdiction.
func heightIn(t testing.TB, d wire.Design, code string) wire.Finding {
	t.Helper()
	i := slices.IndexFunc(d.Answers, func(a wire.DesignAnswer) bool { return a.Jurisdiction == code && a.Quantity == limit.Height })
	if i < 0 {
		t.Fatalf("no answer on the height in %s", code)
	}
	return d.Answers[i].Findings[0]
}

func TestCheckExample(t *testing.T) {
	got := prints(t, "check", example(t, "unit.yaml"), "--in", "CA-ON,CA-QC,US-VT", "--full")
	want, err := os.ReadFile(root(t, "testdata", "example-check.txt"))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("the check is not the one in testdata (go test ./api/report -update writes it):\n%s", diff)
	}
}

func TestCheckFlags(t *testing.T) {
	unit := example(t, "unit.yaml")
	brief, full := prints(t, "check", unit, "--in", "CA-ON", "--full"), prints(t, "check", unit, "--in", "CA-ON", "--full", "--rows")
	if strings.Contains(brief, "beside: ") || !strings.Contains(brief, "decides: ") || !strings.Contains(full, "beside: ") || !strings.Contains(brief, "read 2026-11-25") {
		t.Errorf("%.500s\n%.500s", brief, full)
	}
	if today, later := designed(t, unit, "--in", "CA-ON"), designed(t, unit, "--in", "CA-ON", "--day", "2029-01-01"); heightIn(t, today, "CA-ON").Outcome != finding.Clear || heightIn(t, later, "CA-ON").Outcome != finding.Unknown || later.Day != "2029-01-01" || today.Day != "2027-05-10" {
		t.Errorf("on %s %s, on %s %s", today.Day, heightIn(t, today, "CA-ON").Outcome, later.Day, heightIn(t, later, "CA-ON").Outcome)
	}
	// The tow vehicle of the example is lower than the unit.
	if d := designed(t, unit, "--in", "CA-ON", "--tow", example(t, "tow.yaml")); len(d.Assumed) != 1 || heightIn(t, d, "CA-ON").Value != "4.05 m (≈ 13 ft 3 1/2 in)" {
		t.Errorf("%q, %+v", d.Assumed, heightIn(t, d, "CA-ON"))
	}
	if d := designed(t, unit, "--in", "CA-ON"); len(d.Assumed) != 2 { // and the height is designed
		t.Errorf("%q", d.Assumed)
	}
}

// Flags describe a unit as a file does, and only what is asked about is answered.
func TestCheckWithoutAFile(t *testing.T) {
	file := written(t, "unit.yaml", "height: 4.05 m\nwidth: 2.5 m\nkind: tiny_home\ncoupling: ball\n")
	in := []string{"--in", "CA-ON,CA-QC", "--quantity", "height,width", "--rig-length", "12 m"}
	of := designed(t, slices.Concat([]string{file}, in)...)
	if diff := cmp.Diff(of, designed(t, slices.Concat([]string{"--height", "4.05 m", "--width", "2.5 m", "--kind", "tiny_home",
		"--coupling", "ball"}, in)...)); diff != "" {
		t.Error(diff)
	}
	for _, a := range of.Answers {
		if a.Quantity != limit.Height && a.Quantity != limit.Width {
			t.Errorf("asked about %s", a.Quantity)
		}
	}
	if len(of.Answers) != 4 || len(of.Free) != 2 {
		t.Errorf("%d answers, %d largest", len(of.Answers), len(of.Free))
	}
}

// A check goes by the tables that are named, now or as they were, and writes
// nothing where none are.
func TestCheckOfAStore(t *testing.T) {
	path, unit := changed(t), example(t, "unit.yaml")
	now, past := designed(t, unit, "--in", "CA-ON", "--store", path), designed(t, unit, "--in", "CA-ON", "--store", path, "--tables-revision", "1")
	if f := heightIn(t, now, "CA-ON"); f.Outcome != finding.Conditional || !strings.HasPrefix(now.Revision(), "2-") {
		t.Errorf("%s by %s", f.Outcome, now.Revision())
	}
	if f := heightIn(t, past, "CA-ON"); f.Outcome != finding.Clear || !strings.HasPrefix(past.Revision(), "1-") {
		t.Errorf("%s by %s", f.Outcome, past.Revision())
	}
	dir := t.TempDir()
	t.Chdir(dir)
	prints(t, "check", unit, "--in", "CA-ON")
	if got := files(t, dir); len(got) != 0 {
		t.Errorf("without --store it wrote %v", got)
	}
}

func TestCheckRefuses(t *testing.T) {
	unit := example(t, "unit.yaml")
	missing := filepath.Join(t.TempDir(), "nothing.yaml")
	for name, tc := range map[string]struct {
		args []string
		says []string
	}{
		"nothing":           {nil, []string{"--in: no jurisdiction is given"}},
		"two files":         {[]string{unit, unit, "--in", "CA-ON"}, []string{"is given 2 arguments, more than 1"}},
		"bare height":       {[]string{"--height", "4.15", "--in", "CA-ON"}, []string{"--height", "4.15", "has no unit"}},
		"no such quantity":  {[]string{"--quantity", "hight", "--in", "CA-ON"}, []string{`--quantity "hight"`, "trailer_length"}},
		"missing file":      {[]string{missing, "--in", "CA-ON"}, []string{missing, "no such file"}},
		"empty file":        {[]string{written(t, "unit.yaml", ""), "--in", "CA-ON"}, []string{"unit.yaml", "is empty"}},
		"misspelt field":    {[]string{written(t, "unit.yaml", "hieght: 4 m\n"), "--in", "CA-ON"}, []string{"unit.yaml", `"hieght"`, "spelling"}},
		"bare number":       {[]string{written(t, "unit.yaml", "height: 4.15\n"), "--in", "CA-ON"}, []string{"height", "4.15", "without a unit"}},
		"unknown kind":      {[]string{written(t, "unit.yaml", "kind: houseboat\n"), "--in", "CA-ON"}, []string{"kind", "houseboat", "tiny_home"}},
		"nowhere":           {[]string{unit}, []string{"in: no jurisdiction is given", "everywhere"}},
		"in and everywhere": {[]string{unit, "--in", "CA-ON", "--everywhere"}, []string{"stands beside jurisdictions", "one of the two"}},
		"unknown code":      {[]string{unit, "--in", "CA-ON,XX-YY"}, []string{`in "XX-YY"`, "such as Ontario or CA-ON"}},
		"no day":            {[]string{unit, "--in", "CA-ON", "--day", "tomorrow"}, []string{`--day "tomorrow"`, "2027-05-01"}},
		"unknown use":       {[]string{unit, "--in", "CA-ON", "--use", "holiday"}, []string{`use "holiday"`, "commercial, private"}},
		"no such revision":  {[]string{unit, "--in", "CA-ON", "--tables-revision", "7"}, []string{`--tables-revision 7`, "the newest is 1"}},
		"below revisions":   {[]string{unit, "--in", "CA-ON", "--tables-revision", "-1"}, []string{`--tables-revision -1`}},
		"missing tow":       {[]string{unit, "--in", "CA-ON", "--tow", missing}, []string{missing}},
		"misspelt tow":      {[]string{unit, "--in", "CA-ON", "--tow", written(t, "tow.yaml", "heigth: 2 m\n")}, []string{"tow.yaml", `"heigth"`}},
		"a slip":            {[]string{written(t, "unit.yaml", "height: 2.4 m\nwidth: 2.55 m\n"), "--in", "CA-ON"}, []string{"height", "swapped", "--confirm height_below_width"}},
		"store and base":    {[]string{unit, "--in", "CA-ON", "--store", "a", "--database", "postgres://x/y"}, []string{"--store", "one of the two"}},
	} {
		t.Run(name, func(t *testing.T) {
			code, out, errs := wayhouse(t, append([]string{"check"}, tc.args...)...)
			if code == 0 || out != "" || !strings.HasPrefix(errs, "wayhouse: ") {
				t.Errorf("exit code %d, prints %q, says %q", code, out, errs)
			}
			for _, want := range tc.says {
				if !strings.Contains(errs, want) {
					t.Errorf("says %q, want %q in it", errs, want)
				}
			}
		})
	}
	prints(t, "check", written(t, "unit.yaml", "height: 2.4 m\nwidth: 2.55 m\n"), "--in", "CA-ON", "--confirm", "height_below_width")
}

// Two copies of the service share one file: what is changed through one is
// what the other answers from soon after, and neither loses what the other did.
func TestServicesHearOfEachOther(t *testing.T) {
	path := changed(t)
	var services []*api.Server
	for range 2 {
		from := sources{store: path}
		known, tables, err := load(t.Context(), from, noon, rulesAlone)
		noError(t, err)
		defer tables.Close()
		go follow(t.Context(), tables, known.Swap, quiet())
		services = append(services, serverOf(known, tables, from, quiet()))
	}
	send := func(s *api.Server, method, address, body string, headers ...string) *httptest.ResponseRecorder {
		r := httptest.NewRequestWithContext(t.Context(), method, "http://127.0.0.1"+address, strings.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		for pair := range slices.Chunk(headers, 2) {
			r.Header.Set(pair[0], pair[1])
		}
		w := httptest.NewRecorder()
		s.Handler().ServeHTTP(w, r)
		return w
	}
	const row, reason = "/v1/tables/limits/rows/ca-on-height-01", `{"who":"a user","why":"invented for a test","source":"invented"}`
	outcome := func(s *api.Server) (finding.Outcome, string) {
		w := send(s, http.MethodPost, "/v1/checks", `{"unit":{"height":"4 m"},"in":["CA-ON"]}`)
		var d wire.Design
		if err := json.Unmarshal(w.Body.Bytes(), &d); err != nil || w.Code != http.StatusOK {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
		return heightIn(t, d, "CA-ON").Outcome, d.Revision()
	}
	for i, revision := range []string{"3-", "4-", "5-", "6-"} {
		one, other := services[i%2], services[(i+1)%2]
		var w *httptest.ResponseRecorder
		if i%2 == 0 { // take the lower limit back
			w = send(one, http.MethodPost, "/v1/revisions/restore", `{"who":"a user","why":"invented for a test","tables_revision":1}`)
		} else {
			tag := send(one, http.MethodGet, row, "").Header().Get("ETag")
			w = send(one, http.MethodPost, row+"/verify", strings.Replace(reason, "}", `,"threshold":"3.9 m","published":"3.9 m"}`, 1), "If-Match", tag)
		}
		if w.Code != http.StatusOK {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
		want := []finding.Outcome{finding.Clear, finding.Conditional}[i%2]
		if got, at := outcome(one); got != want || !strings.HasPrefix(at, revision) {
			t.Errorf("the one that changed it: %s by %s, want %s by %s", got, at, want, revision)
		}
		for { // until the other has heard; the test's own limit ends one that never does
			if got, at := outcome(other); strings.HasPrefix(at, revision) {
				if got != want {
					t.Errorf("the other: %s by %s, want %s", got, at, want)
				}
				break
			}
		}
		// Whoever has not looked since is told.
		if w := send(other, http.MethodPost, row+"/verify", reason, "If-Match", `"2"`); w.Code != http.StatusPreconditionFailed {
			t.Errorf("%d %s", w.Code, w.Body)
		}
	}
}

// The flag says what the tow vehicle counts as, with or without a file of it.
func TestCheckTowForm(t *testing.T) {
	unit := filepath.Join(t.TempDir(), "unit.yaml")
	if err := os.WriteFile(unit, []byte("coupling: fifth_wheel\nlength: 14 m\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for form, want := range map[string]finding.Outcome{"truck_tractor": finding.Clear, "pickup": finding.Unknown} {
		d := designed(t, unit, "--in", "US-DE", "--tow-form", form)
		i := slices.IndexFunc(d.Answers, func(a wire.DesignAnswer) bool { return a.Quantity == limit.TrailerLength })
		if got := d.Answers[i].Findings[0].Outcome; got != want {
			t.Errorf("%s: %s, want %s", form, got, want)
		}
	}
	if _, errs, code := cli(t, "check", unit, "--in", "US-DE", "--tow-form", "mule"); code != exitInput || !strings.Contains(errs, "--tow-form") || !strings.Contains(errs, "truck_tractor") {
		t.Errorf("mule: %d %s", code, errs)
	}
}

// Without a route the same permits are asked for as on one that goes through, with the same
// rows and measurements; without a day nothing is said of when to ask.
func TestCheckListsPermits(t *testing.T) {
	ask := []string{"check", example(t, "unit.yaml"), "--tow", example(t, "tow.yaml"), "--in", "CA-ON,CA-QC", "--permits"}
	var got wire.Design
	if err := json.Unmarshal([]byte(prints(t, append(ask, "--json")...)), &got); err != nil {
		t.Fatal(err)
	}
	want := planned(t, "plan", example(t, "trip.yaml")).Permits
	if len(got.Permits) != len(want) || len(want) == 0 {
		t.Fatalf("%d permits, and %d on the way", len(got.Permits), len(want))
	}
	for i, n := range got.Permits {
		if n.Jurisdiction != want[i].Jurisdiction || len(n.Permits) != len(want[i].Permits) || n.From != "" {
			t.Errorf("%+v, on the way %+v", n, want[i])
		}
		if diff := cmp.Diff(want[i].Measurements, n.Measurements); diff != "" {
			t.Error(diff)
		}
	}
	if text := prints(t, ask...); !strings.Contains(text, "PERMITS TO ASK FOR\n  CA-QC, for width; when is not known") {
		t.Error(text)
	}
}
