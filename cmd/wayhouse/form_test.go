package main

import (
	"bytes"
	"encoding/json"
	"io"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wayhouse/api/export"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/routing/trip"
)

// twin is one question as the command line and the service are asked it.
type twin struct {
	args    []string
	path    string
	body    any // nil: it is asked for with GET
	formats []export.Format
}

// twins are questions of every kind of answer.
func twins(t *testing.T, kept string) map[string]twin {
	t.Helper()
	file, unitFile, towFile, feet := example(
		t,
		"trip.yaml",
	), example(
		t,
		"unit.yaml",
	), example(
		t,
		"tow.yaml",
	), example(
		t,
		"customary.yaml",
	)
	request := exampleTrip(t)
	wished := request
	wished.Wishes = &wire.WishesRequest{
		NoFerries: true, NoTolls: true, NoUnpaved: true, NoUnmeasured: true, NotIn: []string{"US-NY"}, NotBy: []string{"417"},
		By: []string{"401"}, Hazmat: "no",
	}
	noError(t, json.Unmarshal([]byte(`"55 mph"`), &wished.Wishes.TopSpeed))
	noError(t, json.Unmarshal([]byte(`"30 min"`), &wished.Wishes.PermitCost))
	wishes := []string{
		"--no-ferries", "--no-tolls", "--no-unpaved", "--no-unmeasured", "--not-in", "US-NY",
		"--not-by", "417", "--by", "401",
		"--hazmat", "no", "--top-speed", "55 mph", "--permit-cost", "30 min",
	}
	anyOrder := request
	anyOrder.AnyOrder = true
	of := func(command string, more ...string) []string { return append([]string{command, file}, more...) }
	plans, routes, ladders := export.For[*trip.Plan](), export.For[*trip.Routes](), export.For[*trip.Ladders]()
	all := map[string]twin{
		"plan":         {of("plan"), "/v1/trips", request, plans},
		"plan, wishes": {of("plan", wishes...), "/v1/trips", wished, plans},
		"route": {
			of("route"),
			"/v1/routes",
			wire.RouteRequest{TripRequest: request, Alternatives: 2, Reasons: true},
			routes,
		},
		"route, bare": {
			of("route", "--alternatives", "0", "--reasons=false", "--any-order"), "/v1/routes",
			wire.RouteRequest{TripRequest: anyOrder}, routes,
		},
		"route, wishes": {
			of("route", wishes...),
			"/v1/routes",
			wire.RouteRequest{TripRequest: wished, Alternatives: 2, Reasons: true},
			routes,
		},
		"ladder": {of("ladder"), "/v1/ladders", wire.LadderRequest{TripRequest: request}, ladders},
		"ladder, wishes": {
			of("ladder", append(wishes, "--quantity", "mass")...),
			"/v1/ladders",
			wire.LadderRequest{TripRequest: wished, Quantity: "mass"},
			ladders,
		},
		"rig": { // in feet as well
			[]string{"rig", feet, "--in", "CA-ON"}, "/v1/rigs",
			wire.RigQuestion{
				TripRequest: wire.DecodeValue[wire.TripRequest](must(rigOf([]string{feet}, "")).fields).Said,
				In:          []string{"CA-ON"},
			},
			export.For[*wire.RigAnswer](),
		},
		"coverage": {
			[]string{"rules", "coverage", "--in", "CA-QC,CA-ON"},
			"/v1/coverage?in=CA-QC,CA-ON",
			nil,
			export.For[*wire.Coverage](),
		},
		"jurisdictions": {[]string{"jurisdictions"}, "/v1/jurisdictions", nil, export.For[wire.Jurisdictions]()},
		"table": {
			[]string{"rules", "export", "--table", "offices", "--store", kept},
			"/v1/tables/offices/csv",
			nil,
			export.For[export.Table](),
		},
	}
	described := wire.DecodeValue[wire.RigDescription](must(rigOf([]string{unitFile}, towFile)).fields).Said
	for name, tc := range map[string]struct {
		flags []string
		q     wire.CheckRequest
	}{
		"some":       {[]string{"--in", "CA-ON,US-VT"}, wire.CheckRequest{In: []string{"CA-ON", "US-VT"}}},
		"by name":    {[]string{"--in", "Quebec,new york"}, wire.CheckRequest{In: []string{"Québec", "US-NY"}}},
		"twice":      {[]string{"--in", "CA-ON", "--in", "us-vt"}, wire.CheckRequest{In: []string{"CA-ON", "us-vt"}}},
		"everywhere": {[]string{"--everywhere", "--use", "private"}, wire.CheckRequest{Everywhere: true, Use: "private"}},
		"on a day": {
			[]string{"--in", "CA-QC", "--day", "2029-01-01", "--use", "commercial"},
			wire.CheckRequest{In: []string{"CA-QC"}, Day: "2029-01-01", Use: "commercial"},
		},
		"towed": {[]string{"--in", "CA-QC", "--tow", towFile}, wire.CheckRequest{In: []string{"CA-QC"}, Tow: described.Tow}},
	} {
		tc.q.Unit = described.Unit
		all["check, "+name] = twin{
			append([]string{"check", unitFile}, tc.flags...),
			"/v1/checks",
			tc.q,
			export.For[*regs.Design](),
		}
	}
	all["check, viewed"] = twin{
		[]string{"check", unitFile, "--in", "CA-QC", "--rows", "--units", "metric", "--lang", "fr"},
		"/v1/checks?rows=true&units=metric&lang=fr", wire.CheckRequest{Unit: described.Unit, In: []string{"CA-QC"}},
		export.For[*regs.Design](),
	}
	return all
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func answered(t *testing.T, h http.Handler, q twin, accept string) *httptest.ResponseRecorder {
	t.Helper()
	method := http.MethodGet
	if q.body != nil {
		method = http.MethodPost
	}
	r := httptest.NewRequestWithContext(
		t.Context(),
		method,
		"http://127.0.0.1:8080"+q.path,
		bytes.NewReader(must(json.Marshal(q.body))),
	)
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Accept", accept)
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// The command line and the service give one answer to one question, byte by byte and
// in every format: --format and Accept mean the same.
func TestBothDoorsGiveOneAnswer(t *testing.T) {
	kept := filepath.Join(t.TempDir(), "tables.db")
	prints(t, "rules", "history", "--store", kept)
	from := sources{store: kept}
	known, tables, err := load(t.Context(), from, noon, withRoads)
	if err != nil {
		t.Fatal(err)
	}
	defer tables.Close()
	h := serverOf(known, tables, from, quiet()).Handler()
	seen := map[string]bool{}
	for name, q := range twins(t, kept) {
		t.Run(name, func(t *testing.T) {
			for _, f := range q.formats {
				seen[f.Name] = true
				w, printed := answered(t, h, q, f.Media), prints(t, append(slices.Clone(q.args), "--format", f.Name)...)
				if w.Code != http.StatusOK || w.Header().Get("Content-Type") != f.Media || w.Body.Len() == 0 {
					t.Fatalf("%s: %d %s %.500s", f.Name, w.Code, w.Header().Get("Content-Type"), w.Body)
				}
				if got := w.Body.String(); got != printed {
					t.Errorf("%s: they differ from byte %d on", f.Name, alike(got, printed))
				}
			}
		})
	}
	for _, f := range export.Formats() {
		if !seen[f.Name] {
			t.Errorf("no kind of answer is written as %s", f.Name)
		}
	}
}

// alike is how many bytes two texts have in common at their start.
func alike(a, b string) int {
	n := 0
	for n < min(len(a), len(b)) && a[n] == b[n] {
		n++
	}
	return n
}

// A format that an answer does not have is refused with those that it has, before
// anything is worked out; --json is short for a format.
func TestFormatsThatAreNot(t *testing.T) {
	known, tables, err := load(t.Context(), sources{}, noon, rulesAlone)
	noError(t, err)
	defer tables.Close()
	h := serverOf(known, tables, sources{}, quiet()).Handler()
	all := twins(t, "none")
	for _, name := range slices.Sorted(maps.Keys(all)) {
		q := all[name]
		code, out, errs := wayhouse(t, append(slices.Clone(q.args), "--format", "papyrus")...)
		if want := strings.Join(export.Names(q.formats), ", "); code != exitInput || out != "" ||
			!strings.Contains(errs, want) {
			t.Errorf("%s: exit code %d, %s %s: want %s", name, code, out, errs, want)
		}
		w := answered(t, h, q, "application/papyrus, image/*;q=0")
		if w.Code != http.StatusNotAcceptable || w.Header().Get("Content-Type") != "application/problem+json" {
			t.Errorf("%s: %d %s", name, w.Code, w.Body)
		}
		for _, f := range q.formats {
			if media, _, _ := strings.Cut(f.Media, ";"); !strings.Contains(w.Body.String(), media) {
				t.Errorf("%s: %s does not name %s", name, w.Body, media)
			}
		}
	}
	both := append(slices.Clone(all["plan"].args), "--json", "--format", "text")
	if code, _, errs := wayhouse(t, both...); code != exitInput ||
		!strings.Contains(errs, "--json") {
		t.Errorf("exit code %d, %s", code, errs)
	}
	short := prints(t, append(slices.Clone(all["rig"].args), "--json")...)
	if long := prints(t, append(slices.Clone(all["rig"].args), "--format", "JSON")...); short != long {
		t.Error("--json is not --format json")
	}
}

// Colours are for a terminal, and for nobody who wants none (no-color.org, 2024); what
// goes elsewhere has none.
func TestColoursAreForTerminals(t *testing.T) {
	terminal, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0) // a device of characters, as a terminal is
	noError(t, err)
	defer terminal.Close()
	file, err := os.Create(filepath.Join(t.TempDir(), "out"))
	noError(t, err)
	defer file.Close()
	for _, tc := range []struct {
		out       io.Writer
		variables map[string]string
		want      bool
	}{
		{terminal, nil, true}, {terminal, map[string]string{"NO_COLOR": "1"}, false},
		{terminal, map[string]string{"TERM": "dumb"}, false},
		{file, nil, false}, {&bytes.Buffer{}, nil, false},
	} {
		if got := colours(tc.out, func(name string) string { return tc.variables[name] }); got != tc.want {
			t.Errorf("%T, %v: %v", tc.out, tc.variables, got)
		}
	}
	known, tables, err := load(t.Context(), sources{}, noon, rulesAlone)
	noError(t, err)
	defer tables.Close()
	for name, want := range map[string]bool{"text": true, "json": false} {
		f := formOf[wire.Jurisdictions]()
		f.name = name
		noError(t, f.choose())
		var out bytes.Buffer
		list := known.Jurisdictions(f.view.In)
		list.Attribution = "NOT KNOWN"
		noError(t, f.write(&output{Writer: &out, colours: true}, list))
		if got := strings.Contains(out.String(), "\x1b["); got != want {
			t.Errorf("%s in colour: %v", name, got)
		}
	}
}
