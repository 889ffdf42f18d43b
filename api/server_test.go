package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"maps"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
	"sigs.k8s.io/yaml"

	"wayhouse/api"
	"wayhouse/api/phrase"
	use "wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/data"
	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/store"
	"wayhouse/routing/network"
	"wayhouse/routing/place"
	"wayhouse/routing/trip"
)

// noon is when the tests ask: in the season of the example, and while the
// shipped rows are read recently enough to clear.
func noon() time.Time { return time.Date(2027, 5, 10, 16, 0, 0, 0, time.UTC) }

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func shipped(path string) []byte { return must(data.Files.ReadFile(path)) }

// service is made once: the index of the roads takes longer than most tests.
var service = sync.OnceValue(func() *api.Server {
	tables := must(store.OpenMemory(context.Background(), noon))
	areas := must(area.Read(shipped("areas/jurisdictions.bin")))
	roads := must(network.Read(shipped("roads/network.wayroads")))
	return &api.Server{Service: &use.Service{
		Planner: must(trip.New(context.Background(), roads, areas, must(tables.Snapshot(context.Background())))),
		Places:  must(place.Read(shipped("places/places.csv"), areas.Called)),
		Clock:   noon,
	}, Log: slog.New(slog.DiscardHandler), Version: "test", Ready: tables.Ping}
})

var handler = sync.OnceValue(func() http.Handler { return service().Handler() })

// changed is the service with something else in it.
func changed(change func(*api.Server)) http.Handler {
	s, planner := *service(), *service().Planner
	s.Service = &use.Service{Planner: &planner, Places: s.Places, Clock: s.Clock}
	change(&s)
	return s.Handler()
}

// ask sends one request as a client on this machine would; headers come in
// pairs and replace what it would send.
func ask(ctx context.Context, h http.Handler, method, path, body string, headers ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequestWithContext(ctx, method, path, strings.NewReader(body))
	r.GetBody = func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(body)), nil }
	r.Host = "127.0.0.1:8080"
	if method != http.MethodGet {
		r.Header.Set("Content-Type", "application/json")
	}
	for pair := range slices.Chunk(headers, 2) {
		r.Header.Set(pair[0], pair[1])
	}
	if host := r.Header.Get("Host"); host != "" {
		r.Host = host
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	held(h, r, w)
	return w
}

func post(t testing.TB, body string, headers ...string) *httptest.ResponseRecorder {
	t.Helper()
	return ask(t.Context(), handler(), http.MethodPost, "/v1/trips", body, headers...)
}

func read[T any](t testing.TB, w *httptest.ResponseRecorder) T {
	t.Helper()
	var v T
	if err := json.Unmarshal(w.Body.Bytes(), &v); err != nil {
		t.Fatalf("%d %s: %v\n%s", w.Code, w.Header().Get("Content-Type"), err, w.Body)
	}
	return v
}

// planned is the trip that a request must get.
func planned(t testing.TB, request string) wire.Trip {
	t.Helper()
	w := post(t, request)
	expect(t, w, http.StatusOK, "application/json")
	return read[wire.Trip](t, w)
}

func expect(t testing.TB, w *httptest.ResponseRecorder, status int, mediaType string) {
	t.Helper()
	got, _, _ := strings.Cut(w.Header().Get("Content-Type"), ";")
	if w.Code != status || got != mediaType {
		t.Fatalf("answered %d %s, want %d %s\n%.2000s", w.Code, got, status, mediaType, w.Body)
	}
}

type object = map[string]any

// short is a trip of few roads that passes nothing unusual, with the fields of
// the unit given here.
func short(unit object, fields ...object) object {
	q := object{
		"unit":  object{"height": "4.02 m", "width": "2.5 m"},
		"stops": []object{{"place": "Perth, ON"}, {"place": "Cornwall, ON"}},
	}
	maps.Copy(q["unit"].(object), unit)
	for _, f := range fields {
		maps.Copy(q, f)
	}
	return q
}

func text(v any) string { return string(must(json.Marshal(v))) }

const exampleDir = "../data/example/"

// fileFields reads a file of data/example.
func fileFields(t testing.TB, name string) object {
	t.Helper()
	var o object
	if err := yaml.UnmarshalStrict(must(os.ReadFile(exampleDir+name)), &o); err != nil {
		t.Fatal(name, err)
	}
	return o
}

// example is the trip of data/example as a request, under another height and
// with other structures where they are given.
func example(t testing.TB, height, structures string) object {
	t.Helper()
	q := fileFields(t, "trip.yaml")
	q["unit"], q["tow"] = fileFields(t, "unit.yaml"), fileFields(t, "tow.yaml")
	delete(q, "structures")
	q["structures_csv"] = structures
	if structures == "" {
		q["structures_csv"] = string(must(os.ReadFile(exampleDir + "structures.csv")))
	}
	if height != "" { // the size alone: the outline of the example has one height
		q["unit"] = object{
			"name": "Thimmerel 7.6 (invented)", "height": height, "width": "2.55 m", "length": "8.6 m", "mass": "6,350 kg", "coupling": "gooseneck",
			"coupling_to_rear": "8.3 m", "axles": 3,
		}
		q["tow"] = object{
			"name": "Drumbolk (invented)", "height": "2.05 m", "width": "2.44 m", "length": "6.6 m", "front_to_coupling": "5.2 m", "mass": "3,720 kg", "axles": 2, "fuel": "diesel",
		}
	}
	return q
}

// csvRows is the structures file of the example with only the named rows, and
// with more rows behind them.
func csvRows(ids []string, more ...string) string {
	lines := strings.SplitAfter(string(must(os.ReadFile(exampleDir+"structures.csv"))), "\n")
	kept := lines[:1]
	for _, line := range lines[1:] {
		id, _, _ := strings.Cut(line, ",")
		if slices.Contains(ids, id) {
			kept = append(kept, line)
		}
	}
	return strings.Join(append(kept, more...), "")
}

// routes lists what the service answers to a plain GET, with a member that
// each answer has.
var routes = map[string]struct{ mediaType, member string }{
	"/v1/jurisdictions": {"application/json", "jurisdictions"},
	"/v1/places?q=corn": {"application/json", "places"},
	"/v1/limits":        {"application/json", "limits"},
	"/v1/limits?jurisdiction=CA-ON&quantity=mass":  {"application/problem+json", "errors"},
	"/v1/limits?jurisdiction=CA-ON&quantity=width": {"application/json", "tables_revision"},
	"/v1/sources":   {"application/json", "sources"},
	"/healthz":      {"application/json", "status"},
	"/readyz":       {"application/json", "tables"},
	"/openapi.json": {"application/openapi+json", "paths"},
	"/v1/nothing":   {"application/problem+json", "detail"},
}

func TestRoutes(t *testing.T) {
	status := map[string]int{"/v1/nothing": http.StatusNotFound, "/v1/limits?jurisdiction=CA-ON&quantity=mass": http.StatusUnprocessableEntity}
	for path, want := range routes {
		t.Run(path, func(t *testing.T) {
			w := ask(t.Context(), handler(), http.MethodGet, path, "")
			code := http.StatusOK
			if status[path] != 0 {
				code = status[path]
			}
			expect(t, w, code, want.mediaType)
			if read[object](t, w)[want.member] == nil {
				t.Errorf("no %s in %.500s", want.member, w.Body)
			}
		})
	}
}

// template is the path of a route as a description has it.
func template(path string) string {
	return regexp.MustCompile(`:([a-z]+)`).ReplaceAllString(path, "{$1}")
}

// What is not in the description cannot be found, and what is described but
// not there misleads.
func TestOpenAPIListsEveryRoute(t *testing.T) {
	doc := read[struct {
		OpenAPI string
		Paths   map[string]map[string]any
	}](t, ask(t.Context(), handler(), http.MethodGet, "/openapi.json", ""))
	if !strings.HasPrefix(doc.OpenAPI, "3.") {
		t.Errorf("openapi %q", doc.OpenAPI)
	}
	var listed, registered []string
	for path, methods := range doc.Paths {
		if (methods["head"] == nil) != (methods["get"] == nil) {
			t.Errorf("%s: HEAD is described where GET is not, or is not where it is", path)
		}
		delete(methods, "head") // which is answered as GET is
		for method := range methods {
			listed = append(listed, strings.ToUpper(method)+" "+path)
		}
	}
	for _, r := range service().Listed() {
		if !strings.HasPrefix(r.Path, "/openapi") {
			registered = append(registered, r.Method+" "+template(r.Path))
		}
	}
	slices.Sort(listed)
	slices.Sort(registered)
	if diff := cmp.Diff(registered, listed); diff != "" {
		t.Errorf("registered and listed differ:\n%s", diff)
	}
	for _, want := range []string{"POST /v1/trips", "POST /v1/routes", "POST /v1/ladders", "GET /v1/jurisdictions", "GET /v1/places", "GET /v1/limits", "GET /healthz", "GET /readyz"} {
		if !slices.Contains(listed, want) {
			t.Errorf("%s is not listed", want)
		}
	}
}

// Whoever asks which build answers is told, wherever it is said.
func TestTheBuildIsNamed(t *testing.T) {
	for _, path := range []string{"/healthz", "/readyz"} {
		if got := read[wire.Status](t, ask(t.Context(), handler(), http.MethodGet, path, "")); got.Version != "test" {
			t.Errorf("%s names the build %q", path, got.Version)
		}
	}
	doc := read[struct{ Info struct{ Version string } }](t, ask(t.Context(), handler(), http.MethodGet, "/openapi.json", ""))
	if doc.Info.Version != "test" {
		t.Errorf("/openapi.json names the build %q", doc.Info.Version)
	}
}

func one(t testing.TB, findings []wire.Finding, rule string) wire.Finding {
	t.Helper()
	var found []wire.Finding
	for _, f := range findings {
		if string(f.Rule) == rule {
			found = append(found, f)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d findings of %s, want one", len(found), rule)
	}
	return found[0]
}

// heights returns the height findings of a trip that runs from Ontario to
// Quebec in two legs.
func heights(t testing.TB, got wire.Trip) (ontario, quebec wire.Finding) {
	t.Helper()
	var codes []string
	for _, l := range got.Legs {
		codes = append(codes, strings.Join(l.Jurisdictions, "/"))
	}
	if diff := cmp.Diff([]string{"CA-ON", "CA-QC"}, codes); diff != "" {
		t.Fatalf("legs:\n%s", diff)
	}
	return one(t, got.Legs[0].Findings, "height"), one(t, got.Legs[1].Findings, "height")
}

func TestExampleHeights(t *testing.T) {
	ontario, quebec := heights(t, planned(t, text(example(t, "", ""))))
	decides := func(r wire.Citation) bool { return r.Decides }
	i := slices.IndexFunc(ontario.Rows, decides)
	if ontario.Outcome != finding.Clear || i < 0 {
		t.Fatalf("CA-ON: %s by row %d of %+v; want clear by a row", ontario.Outcome, i, ontario.Rows)
	}
	r := ontario.Rows[i]
	if !strings.HasPrefix(r.ID, "ca-on-height-") || r.Status != finding.Published || !strings.Contains(r.Published, "4.15") ||
		r.Source == "" || r.Revision == "" || must(time.Parse(time.DateOnly, r.ReadOn)).After(noon()) {
		t.Errorf("CA-ON rests on %+v", r)
	}
	if quebec.Outcome != finding.Unknown || quebec.Ask == "" || slices.ContainsFunc(quebec.Rows, decides) {
		t.Errorf("CA-QC: %s, ask %q; want unknown, decided by no row, with whom to ask", quebec.Outcome, quebec.Ask)
	}
	recalled := func(r wire.Citation) bool {
		return r.Status == finding.Memory && strings.Contains(r.Published, "4.15 m") && r.Source != "" && r.ReadOn == "" && strings.Contains(r.Words, "cannot clear")
	}
	if !slices.ContainsFunc(quebec.Rows, recalled) {
		t.Errorf("CA-QC does not show the recalled 4.15 m: %+v", quebec.Rows)
	}
}

// The tow vehicle of a request that names none is not known, so the rig may be
// higher than the unit: what cleared the example cannot clear here.
func TestUnitAloneClearsNothing(t *testing.T) {
	got := planned(t, text(object{
		"unit":  object{"height": `13'2"`, "width": "2.5 m", "length": "8.6 m", "mass": "6,350 kg"},
		"stops": []object{{"place": "Perth, ON"}, {"place": "Sorel-Tracy, QC"}},
	}))
	ontario, quebec := heights(t, got)
	for _, f := range []wire.Finding{ontario, quebec} {
		if f.Outcome != finding.Unknown || !strings.HasPrefix(f.Value, "at least ≈ 4.01 m (13 ft 2 in)") || !f.AtLeast || *f.ValueM != 4.0132 || f.Ask == "" {
			t.Errorf("%s: %s for %q, ask %q", f.Jurisdiction, f.Outcome, f.Value, f.Ask)
		}
	}
	if r := got.Rig; r.HeightM != nil || r.WidthM != nil || r.LengthM != nil || r.MassKG != nil {
		t.Errorf("rig %+v: measurements of the unit stand for those of the rig", r)
	}
	if got.Mark != "" {
		t.Errorf("mark %q on a trip with nothing invented", got.Mark)
	}
}

func TestUnknownsOfEveryLeg(t *testing.T) {
	for name, request := range map[string]string{"example": text(example(t, "", "")), "short": text(short(nil)), "given roads": text(short(nil, object{"route": object{"roads": []string{"43"}}}))} {
		t.Run(name, func(t *testing.T) {
			got := planned(t, request)
			if !slices.Contains(got.Network.Lacks, network.Structures) {
				t.Fatalf("the network lacks %v, not structures", got.Network.Lacks)
			}
			for i, l := range got.Legs {
				checkVerdict(t, fmt.Sprintf("leg %d", i+1), l.Verdict)
				for _, fact := range got.Network.Lacks {
					if fact == network.Addresses || fact == network.TruckRoads || fact == network.Stopping {
						continue // of no leg: they name stops, and a stop by an address that is not known is refused
					}
					if f := one(t, l.Findings, ruleOf(fact)); f.Outcome != finding.Unknown || f.Ask == "" {
						t.Errorf("leg %d: %s is %s, ask %q", i+1, fact, f.Outcome, f.Ask)
					}
				}
			}
			checkVerdict(t, "trip", got.Verdict)
			for _, fact := range got.Network.Lacks {
				if !strings.Contains(got.Notice, string(fact)) {
					t.Errorf("the notice does not name %s: %s", fact, got.Notice)
				}
			}
			checkCredits(t, got)
		})
	}
}

// ruleOf names the rule under which a lacked fact is answered.
func ruleOf(f network.Fact) string {
	if f == network.Owners {
		return "road owner" // asked with the limits, which bind by owner
	}
	return string(f)
}

func checkVerdict(t testing.TB, where string, v wire.Verdict) {
	t.Helper()
	if v.Outcome == finding.Clear || v.Unknowns == 0 {
		t.Errorf("%s: outcome %s with %d unknown", where, v.Outcome, v.Unknowns)
	}
}

func checkCredits(t testing.TB, got wire.Trip) {
	t.Helper()
	if diff := cmp.Diff(phrase.English().Each(trip.Cautions()), got.Cautions); diff != "" {
		t.Errorf("cautions:\n%s", diff)
	}
	if diff := cmp.Diff(wire.Attributions(phrase.English(), false), got.Attributions); diff != "" {
		t.Errorf("attributions:\n%s", diff)
	}
	if got.Revision() != service().Planner.Tables.Revision || got.Network.Revision != service().Planner.Network.About.Revision {
		t.Errorf("revisions %q and %q", got.Revision(), got.Network.Revision)
	}
}

// unmarked walks a JSON value. It tells whether an invented structure stands
// anywhere inside, and lists the objects around one that do not say so.
func unmarked(v any, path string, names []string) (uses bool, missing []string) {
	each := func(child any, at string) {
		u, m := unmarked(child, at, names)
		uses, missing = uses || u, append(missing, m...)
	}
	switch v := v.(type) {
	case string:
		return slices.ContainsFunc(names, func(n string) bool { return strings.Contains(v, n) }), nil
	case []any:
		for i, child := range v {
			each(child, fmt.Sprintf("%s[%d]", path, i))
		}
	case object:
		for key, child := range v {
			if key == "says" { // lines of the object, which bears their mark
				u, _ := unmarked(child, path, names)
				uses = uses || u
				continue
			}
			each(child, path+"."+key)
		}
		if uses && v["mark"] != wire.InventedMark {
			missing = append(missing, path)
		}
	}
	return uses, missing
}

// nowhere is an invented structure that stands over no road.
const nowhere = "example-99,Gannet Skyway,46.9,-78.9,,both,5 m,,,,invented,made up for this example,,,,\n"

func TestInventedIsMarked(t *testing.T) {
	names := []string{
		"example-01", "Heron Rise", "example-02", "Cedar Point", "example-03", "Mill Lane", "example-99", "Gannet Skyway",
		"made up for this example", string(finding.Invented),
	}
	request := example(t, "", csvRows([]string{"example-01", "example-02", "example-03"}, nowhere))
	request["invented"] = false // the structures alone must do
	request["unit"].(object)["name"], request["tow"].(object)["name"] = "Thimmerel", "Drumbolk"
	got := read[any](t, post(t, text(request)))
	uses, missing := unmarked(got, "trip", names)
	if !uses || len(missing) > 0 {
		t.Errorf("uses invented structures: %v; without a mark: %v", uses, missing)
	}
	answer := text(got)
	for _, name := range []string{"Heron Rise", "Cedar Point", "Mill Lane", "Gannet Skyway"} {
		if !strings.Contains(answer, name) {
			t.Errorf("%s is nowhere in the answer", name)
		}
	}
	if notice := got.(object)["notice"].(string); !strings.HasPrefix(notice, wire.InventedMark) {
		t.Errorf("notice %q", notice)
	}
}

func structureIDs(structures []wire.Structure) []string {
	var ids []string
	for _, s := range structures {
		ids = append(ids, s.ID)
	}
	return ids
}

// A rig 0.2 m higher than the 4.45 m of an example structure goes round it.
// One that fits passes under it, but an invented figure clears nobody.
func TestGoesRoundLowStructure(t *testing.T) {
	const id = "example-01"
	onWay := func(got wire.Trip) (found []wire.Structure) {
		for _, l := range got.Legs {
			found = append(found, l.Structures...)
		}
		return found
	}
	low := planned(t, text(example(t, "4.05 m", csvRows([]string{id}))))
	if under := onWay(low); len(low.Avoided) != 0 || len(under) != 1 || under[0].ID != id || under[0].Outcome == finding.Clear || under[0].MarginM == nil || *under[0].MarginM != 0.2 {
		t.Errorf("4.05 m: under %+v, avoided %+v; want under %s, 0.2 m to spare, not clear", under, low.Avoided, id)
	}
	high := planned(t, text(example(t, "4.65 m", csvRows([]string{id}))))
	if under := structureIDs(onWay(high)); len(under) != 0 || high.Verdict.Outcome == finding.Forbidden {
		t.Errorf("4.65 m: under %v, %s", under, high.Verdict.Outcome)
	}
	if len(high.Avoided) != 1 || !slices.Equal(structureIDs(high.Avoided[0].Structures), []string{id}) {
		t.Fatalf("4.65 m: avoided %+v, want %s", high.Avoided, id)
	}
	// The way round is slower by what it says; whether it is longer too depends
	// on the roads.
	a := high.Avoided[0]
	if off := high.LengthM - low.LengthM - a.ExtraM; a.ExtraM == 0 || math.Abs(off) > 2 {
		t.Errorf("extra %.0f m, but the trips are %.0f m and %.0f m long", a.ExtraM, low.LengthM, high.LengthM)
	}
	if a.ExtraS == nil || *a.ExtraS <= 0 || math.Abs(*high.DrivingS-*low.DrivingS-*a.ExtraS) > 2 {
		t.Errorf("extra %v s, but the trips take %.0f s and %.0f s", a.ExtraS, *low.DrivingS, *high.DrivingS)
	}
	if s := a.Structures[0]; s.Outcome != finding.Forbidden || s.MarginM == nil || *s.MarginM != -0.4 {
		t.Errorf("%+v: want forbidden, 0.4 m short with the allowances", s)
	}
}

func TestGeoJSON(t *testing.T) {
	request := text(example(t, "", ""))
	want := planned(t, request)
	w := post(t, request, "Accept", "application/geo+json")
	expect(t, w, http.StatusOK, "application/geo+json")
	fc, err := geojson.UnmarshalFeatureCollection(w.Body.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	bounds := orb.Bound{Min: orb.Point{-77, 44}, Max: orb.Point{-72, 47}} // of the network: longitude comes first
	lines := 0
	for _, f := range fc.Features {
		if !bounds.Contains(f.Geometry.Bound().Min) || !bounds.Contains(f.Geometry.Bound().Max) {
			t.Errorf("%v lies at %v", f.Properties, f.Geometry.Bound())
		}
		if line, ok := f.Geometry.(orb.LineString); ok {
			if leg := want.Legs[lines]; len(line) < 2 || f.Properties["mark"] != leg.Mark || f.Properties["outcome"] != string(leg.Verdict.Outcome) || f.Properties["length_m"] != leg.LengthM {
				t.Errorf("leg %d: %v", lines+1, f.Properties)
			}
			lines++
		} else if structure := f.Properties["id"] != nil; f.Geometry.GeoJSONType() != "Point" || structure && f.Properties["mark"] != wire.InventedMark {
			t.Errorf("%s %v: want a marked point", f.Geometry.GeoJSONType(), f.Properties)
		}
	}
	if lines != len(want.Legs) {
		t.Errorf("%d lines for %d legs", lines, len(want.Legs))
	}
	head, _ := fc.ExtraMembers["wayhouse"].(object)
	road, _ := head["road"].(object)
	if findings, _ := road["findings"].([]any); len(findings) == 0 || len(findings) != len(want.Road.Findings) {
		t.Errorf("%d findings of the rig, want %d", len(findings), len(want.Road.Findings))
	}
	if head["notice"] != want.Notice || head["mark"] != want.Mark || head["verdict"] == nil || head["cautions"] == nil || head["attributions"] == nil {
		t.Errorf("the head of the collection is %v", head)
	}
}

// GeoJSON is a promise about the body, so nothing else may carry its name.
func TestOnlyTripsAreGeoJSON(t *testing.T) {
	for path, want := range routes {
		if want.mediaType != "application/json" {
			continue
		}
		w := ask(t.Context(), handler(), http.MethodGet, path, "", "Accept", "application/geo+json")
		if got := w.Header().Get("Content-Type"); w.Code != http.StatusNotAcceptable || got != "application/problem+json" {
			t.Errorf("%s: %d %s", path, w.Code, got)
		}
	}
	expect(t, post(t, `{}`, "Accept", "application/geo+json"), http.StatusUnprocessableEntity, "application/problem+json")
	expect(t, post(t, text(short(object{"height": ""})), "Accept", "application/geo+json"), http.StatusUnprocessableEntity, "application/problem+json")
}

// entry is what one error of a problem must say. Value and problem are parts
// of what it says.
type entry struct{ field, value, problem, fix string }

// refused checks a problem: its type, that every entry names field and fix,
// and that one of them says what is wanted. Without a field it is the detail
// that says the problem and the fix.
func refused(t testing.TB, w *httptest.ResponseRecorder, status int, want entry) api.Problem {
	t.Helper()
	expect(t, w, status, "application/problem+json")
	p := read[api.Problem](t, w)
	if p.Status != status || p.Title == "" || p.Type == "" || p.Detail == "" {
		t.Errorf("problem %+v", p)
	}
	for _, e := range p.Errors {
		if e.Field == "" || e.Problem == "" || e.Fix == "" {
			t.Errorf("entry %+v leaves something out", e)
		}
	}
	if want.field == "" {
		if !strings.Contains(p.Detail, want.problem) || !strings.Contains(p.Detail, want.fix) {
			t.Errorf("detail %q, want %q and %q", p.Detail, want.problem, want.fix)
		}
		return p
	}
	says := func(e wire.Fault) bool {
		return e.Field == want.field && strings.Contains(fmt.Sprint(e.Value), want.value) && strings.Contains(e.Problem, want.problem) && strings.Contains(e.Fix, want.fix)
	}
	if !slices.ContainsFunc(p.Errors, says) {
		t.Errorf("entries %+v, want %+v", p.Errors, want)
	}
	return p
}

const largest = 8 << 20 // bytes of the largest body

func TestRefusesBodies(t *testing.T) {
	for name, tc := range map[string]struct {
		body   string
		status int
		want   entry
	}{
		"empty":          {"", 400, entry{problem: "a body is wanted", fix: "openapi.json"}},
		"no object":      {"[]", 422, entry{"body", "", "is a list, and no fields", "name, pace, unit, quote, route"}},
		"null":           {"null", 422, entry{"body", "", "is one value, and no fields", "name, pace, unit, quote, route"}},
		"nothing in it":  {"{}", 422, entry{"stops", "", "two stops", "add them"}},
		"cut off":        {"{", 400, entry{"body", "{", "it ends too soon", "openapi.json"}},
		"not JSON":       {"unit: 4 m", 400, entry{"body", "unit: 4 m", "does not belong where it stands, at line 1", "openapi.json"}},
		"NaN":            {`{"unit":{"height_m":NaN}}`, 400, entry{"body", "NaN", "does not belong where it stands, at line 1", "openapi.json"}},
		"beyond a float": {`{"unit":{"height_m":1e400}}`, 400, entry{"body", "1e400", "1e400", "openapi.json"}},
		"two documents":  {`{"unit":{}} {}`, 400, entry{"body", "{}", "does not belong where it stands, at line 1, column 13", "openapi.json"}},
		"oversized":      {`{"name":"` + strings.Repeat("x", largest) + `"}`, 413, entry{problem: "more than", fix: fmt.Sprint(largest)}},
	} {
		t.Run(name, func(t *testing.T) { refused(t, post(t, tc.body), tc.status, tc.want) })
	}
}

func TestRefusesRequests(t *testing.T) {
	for name, tc := range map[string]struct {
		method, path, contentType string
		status                    int
		want                      entry
	}{
		"not JSON":           {"POST", "/v1/trips", "text/plain", 415, entry{problem: "text/plain", fix: "send application/json"}},
		"no content type":    {"POST", "/v1/trips", "", 415, entry{problem: "Content-Type", fix: "send application/json"}},
		"wrong method":       {"GET", "/v1/trips", "", 405, entry{problem: "GET is not for /v1/trips", fix: "openapi.json"}},
		"wrong method, JSON": {"PUT", "/v1/places", "application/json", 405, entry{problem: "PUT is not for /v1/places", fix: "openapi.json"}},
		"unknown path":       {"GET", "/v1/nothing", "", 404, entry{problem: "/v1/nothing", fix: "openapi.json"}},
		"unknown parameter":  {"POST", "/v1/trips?fast=1", "application/json", 422, entry{"fast", "", "is no parameter of this address", "openapi.json"}},
		"no name":            {"GET", "/v1/places", "", 422, entry{"q", "", "is missing", "openapi.json"}},
		"unknown quantity":   {"GET", "/v1/limits?quantity=hieght", "", 422, entry{"quantity", "hieght", "no quantity", "height"}},
	} {
		t.Run(name, func(t *testing.T) {
			w := ask(t.Context(), handler(), tc.method, tc.path, text(short(nil)), "Content-Type", tc.contentType)
			refused(t, w, tc.status, tc.want)
		})
	}
}

func TestRefusesUnits(t *testing.T) {
	for name, tc := range map[string]struct {
		unit object
		want entry
	}{
		"unknown field":           {object{"hieght": "4 m"}, entry{"unit.hieght", "", "no field here", "spelling"}},
		"empty":                   {object{"height": ""}, entry{"unit.height", "", "is empty", "4.15 m"}},
		"negative":                {object{"height": "-4 m"}, entry{"unit.height", "-4 m", "is negative", "above zero"}},
		"zero":                    {object{"height": "0 m"}, entry{"unit.height", "0 m", "is zero", "leave the field out"}},
		"absurd":                  {object{"height": "100 m"}, entry{"unit.height", "100 m", "outside 1 m (≈ 3 ft 3 3/8 in) to 8 m (≈ 26 ft 2 15/16 in)", "check the figure"}},
		"wrong unit":              {object{"height": "4.1 kg"}, entry{"unit.height", "4.1 kg", `"kg"`, "4.15 m"}},
		"bare text":               {object{"height": "4.1"}, entry{"unit.height", "4.1", "has no unit", "add one"}},
		"a number without a unit": {object{"height": 4.1}, entry{"unit.height", "4.1", "a number without a unit", "height_m"}},
		"text for a number":       {object{"coupling_to_rear_m": "2.5 m"}, entry{"unit.coupling_to_rear_m", "2.5 m", "is no number", "number in m"}},
		"both":                    {object{"height_m": 4.02}, entry{"unit.height", "4.02 m", "given twice", "exactly one"}},
		"two readings":            {object{"height": "4,150 m"}, entry{"unit.height", "4,150 m", "4.150 m or as 4150 m", "write a point"}},
		"two readings, t":         {object{"mass": "10,900 t"}, entry{"unit.mass", "10,900 t", "10.900 t or as 10900 t", "write a point"}},
		"absurd mass":             {object{"mass": "900 t"}, entry{"unit.mass", "900000 kg", "outside", "check the figure"}},
		"unknown kind":            {object{"kind": "houseboat"}, entry{"unit.kind", "houseboat", "is not known", "tiny_home"}},
		"measured, no day":        {object{"height_basis": "measured"}, entry{"unit.measured_on", "", "is missing", "add the day"}},
		"longer than itself":      {object{"length": "8 m", "coupling_to_rear": "9 m"}, entry{"unit.coupling_to_rear", "9 m", "longer than the unit", "check both"}},
		"more axles than fit":     {object{"axles": 21}, entry{"unit.axles", "21", "outside 0 to 20", "check the figure"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, post(t, text(short(tc.unit))), http.StatusUnprocessableEntity, tc.want)
		})
	}
	for number, want := range map[string]entry{
		"1e300": {"unit.height_m", "1e+300", "absurdly large", "a number in m"},
		"-4":    {"unit.height_m", "-4", "is negative", "above zero"},
		"0":     {"unit.height_m", "0", "is zero", "leave the field out"},
		"1e-12": {"unit.height_m", "1e-12", "is zero", "above zero"},
	} {
		body := `{"unit":{"height_m":` + number + `},"stops":[{"place":"Perth, ON"},{"place":"Cornwall, ON"}]}`
		t.Run(number, func(t *testing.T) { refused(t, post(t, body), http.StatusUnprocessableEntity, want) })
	}
}

// Every value that cannot be used is named in one answer.
func TestNamesEveryValue(t *testing.T) {
	p := refused(t, post(t, text(short(object{"height": "", "width": "-1 m"}, object{"depart": "soon", "stops": []object{{"place": "Qqq"}, {}}}))), 422, entry{"unit.height", "", "is empty", ""})
	var fields []string
	for _, e := range p.Errors {
		fields = append(fields, e.Field)
	}
	slices.Sort(fields)
	if diff := cmp.Diff([]string{"depart", "stops[0].place", "stops[1]", "unit.height", "unit.width"}, fields); diff != "" {
		t.Error(diff)
	}
}

func TestRefusesStops(t *testing.T) {
	const perth, cornwall = "Perth, ON", "Cornwall, ON"
	named := func(names ...string) (out []object) {
		for _, n := range names {
			out = append(out, object{"place": n})
		}
		return out
	}
	from := func(o object) []object { return append([]object{o}, named(cornwall)...) }
	for name, tc := range map[string]struct {
		stops []object
		want  entry
	}{
		"unknown":      {named("Xyzzyville, ON", cornwall), entry{"stops[0].place", "Xyzzyville, ON", "no place is called", "spelling"}},
		"elsewhere":    {named("Cornwall, TX", perth), entry{"stops[0].place", "Cornwall, TX", "Cornwall, ON (", "spelling"}},
		"ambiguous":    {named(perth, "Cornwall"), entry{"stops[1].place", "Cornwall", "Cornwall, PE (46.2", "province or state"}},
		"name and lat": {from(object{"place": perth, "lat": 45, "lon": -75}), entry{"stops[0]", perth, "name and coordinates", "one of the two"}},
		"half a place": {from(object{"lat": 45}), entry{"stops[0]", "", "has no place", "lat and lon"}},
		"off Earth":    {from(object{"lat": 95, "lon": -75}), entry{"stops[0]", "95, -75", "no place on Earth", "-90 to 90"}},
		"swapped":      {from(object{"lat": -75, "lon": 45}), entry{"stops[0]", "-75.00000, 45.00000", "off this network", "near one of its roads"}},
		"off network":  {named("Toronto, ON", cornwall), entry{"stops[0]", "Toronto, ON", "the nearest, 509, is 23", "near one of its roads"}},
		"same place":   {named(perth, perth), entry{"stops[1]", perth, "same place as the stop before", "take one of them out"}},
		"same road":    {[]object{{"lat": 46.18229, "lon": -73.46762}, {"lat": 46.18296, "lon": -73.46806}}, entry{"stops[1]", "46.18296, -73.46806", "same point of the road", "take one of them out"}},
		"one":          {named(perth), entry{"stops", "1", "two stops or more", "order of travel"}},
		"none":         {nil, entry{"stops", "0", "two stops or more", "order of travel"}},
		"26":           {named(slices.Repeat([]string{perth, cornwall}, 13)...), entry{"stops", "", "more than 25", "25 at the most"}},
		"island":       {from(object{"lat": 46.5065, "lon": -74.978}), entry{"stops[1]", cornwall, "no road between", "give the route"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, post(t, text(short(nil, object{"stops": tc.stops}))), http.StatusUnprocessableEntity, tc.want)
		})
	}
}

// line is a GeoJSON line of n points along a parallel.
func line(n int) object {
	points := make([][2]float64, n)
	for i := range points {
		points[i] = [2]float64{-75 + float64(i)*1e-6, 45}
	}
	return object{"type": "LineString", "coordinates": points}
}

func TestRefusesRestOfRequest(t *testing.T) {
	const head = "id,name,lat,lon,road,direction,posted,measured,measured_on,sag_radius,status,source,section,source_year,read_on,note\n"
	route := func(r object) object { return object{"route": r} }
	polygon := object{"type": "Polygon", "coordinates": [][][2]float64{{{-75, 45}, {-74, 45}, {-74, 46}, {-75, 45}}}}
	for name, tc := range map[string]struct {
		fields object
		want   entry
	}{
		"depart":          {object{"depart": "tomorrow"}, entry{"depart", "tomorrow", "is no time", "2027-05-11T08:00"}},
		"use":             {object{"use": "holiday"}, entry{"use", "holiday", "is not known", "commercial"}},
		"allowance":       {object{"allowances": object{"base": "-0.1 m"}}, entry{"allowances.base", "-0.1 m", "is negative", "zero"}},
		"bare allowance":  {object{"allowances": object{"snow": 0.1}}, entry{"allowances.snow", "0.1", "a number without a unit", "snow_m"}},
		"month":           {object{"allowances": object{"winter_months": []int{13}}}, entry{"allowances.winter_months[0]", "13", "outside 1 to 12", "check the figure"}},
		"low rig":         {object{"rig": object{"height": "3 m"}}, entry{"rig.height", "3 m", "below that of the unit", "check both"}},
		"light rig":       {object{"rig": object{"mass": "4 m"}}, entry{"rig.mass", "4 m", `"m"`, "10900 kg"}},
		"cell":            {object{"structures_csv": head + "a,b,45,-75,,both,4.45,,,,invented,x,,,,\n"}, entry{"structures_csv, line 2, column posted", "4.45", "has no unit", "add one"}},
		"cell, latitude":  {object{"structures_csv": head + "\na,b,95,-75,,both,,,,,invented,x,,,,\n"}, entry{"structures_csv, line 3, column lat", "95", "from -90 to 90", "45.42150"}},
		"head line":       {object{"structures_csv": "id,name\n"}, entry{"structures_csv", "", "lacks columns: lat, lon", "head line must be id,name,lat"}},
		"two forms":       {route(object{"geojson": line(2), "roads": []string{"43"}}), entry{"route", "", "2 forms", "exactly one"}},
		"no form":         {route(object{}), entry{"route", "", "0 forms", "exactly one"}},
		"empty GPX":       {route(object{"gpx": `<gpx version="1.1"/>`}), entry{"route.gpx", "", "no line of two points", "track"}},
		"other XML":       {route(object{"gpx": "<kml/>"}), entry{"route.gpx", "", "is no GPX document", "GPX 1.1"}},
		"no XML":          {route(object{"gpx": "north"}), entry{"route.gpx", "", "cannot be read", "GPX 1.1"}},
		"polygon":         {route(object{"geojson": polygon}), entry{"route.geojson", "", "no line of two points", "LineString"}},
		"GPX off Earth":   {route(object{"gpx": `<gpx><trk><trkseg><trkpt lat="45" lon="-75"/><trkpt lat="NaN" lon="-75"/></trkseg></trk></gpx>`}), entry{"route[1]", "NaN", "longitude and latitude", "WGS84"}},
		"no GeoJSON":      {route(object{"geojson": "north"}), entry{"route.geojson", "", "no GeoJSON object", "LineString"}},
		"null feature":    {route(object{"geojson": object{"type": "FeatureCollection", "features": []any{nil}}}), entry{"route.geojson", "", "", "LineString"}},
		"too many points": {route(object{"geojson": line(trip.MaxLinePoints + 1)}), entry{"route", "20001", "more than 20000 points", "thin the line"}},
		"line off Earth":  {route(object{"geojson": object{"type": "LineString", "coordinates": [][2]float64{{-75, 45}, {-75, 95}}}}), entry{"route[1]", "95", "longitude and latitude", "longitude first"}},
		"too many roads":  {route(object{"roads": slices.Repeat([]string{"43"}, 101)}), entry{"route.roads", "", "more than 100", "100 at the most"}},
		"roads apart": {
			object{"route": object{"roads": []string{"43", "401"}}, "stops": []object{{"place": "Perth, ON"}, {"lat": 46.5065, "lon": -74.978}}},
			entry{"route.roads", "43, 401", "do not lead from one to the next", "as a line"},
		},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, post(t, text(short(nil, tc.fields))), http.StatusUnprocessableEntity, tc.want)
		})
	}
}

// A road that the network does not have is a thing to ask about, not a reason
// to plan nothing.
func TestRoadNotInNetwork(t *testing.T) {
	got := planned(t, text(short(nil, object{"route": object{"roads": []string{"43", "9999"}}})))
	i := slices.IndexFunc(got.Findings, func(f wire.Finding) bool { return f.Place == "9999" })
	if i < 0 || !got.GivenRoute {
		t.Fatalf("findings %+v, given route %v", got.Findings, got.GivenRoute)
	}
	if f := got.Findings[i]; f.Outcome != finding.Unknown || f.Ask == "" || !strings.Contains(f.Summary, "9999") {
		t.Errorf("%+v", f)
	}
}

// A figure that is possible but more likely a slip is asked about; whoever
// says yes goes on.
func TestQuestions(t *testing.T) {
	for name, tc := range map[string]struct {
		unit    object
		want    entry
		confirm string
	}{
		"height below width":     {object{"height": "2.4 m", "width": "2.55 m"}, entry{"unit.height", "2.4 m", "below the width, 2.55 m", "height_below_width"}, "height_below_width"},
		"kilograms for pounds":   {object{"mass": "24,000 kg", "length": "8.6 m", "width": "2.55 m"}, entry{"unit.mass", "24000 kg", "24000 lb would fit", "correct the unit"}, "unit_mass"},
		"pounds for kilograms":   {object{"mass": "7,000 lb", "length": "8.6 m", "width": "2.55 m"}, entry{"unit.mass", "lb", "7000 kg would fit", "correct the unit"}, "unit_mass"},
		"kilograms, as a number": {object{"mass_kg": 24000, "length": "8.6 m", "width": "2.55 m"}, entry{"unit.mass", "24000 kg", "24000 lb would fit", "correct the unit"}, "unit_mass"},
	} {
		t.Run(name, func(t *testing.T) {
			p := refused(t, post(t, text(short(tc.unit))), http.StatusUnprocessableEntity, tc.want)
			if len(p.Errors) != 1 || p.Errors[0].Confirm != tc.confirm || p.Type == "about:blank" {
				t.Errorf("%+v", p)
			}
			refused(t, post(t, text(short(tc.unit, object{"confirm": []string{"something_else"}}))), http.StatusUnprocessableEntity, tc.want)
			planned(t, text(short(tc.unit, object{"confirm": []string{tc.confirm}})))
		})
	}
}

// What fails inside is for the log, not for who asks.
func TestInsideStaysInside(t *testing.T) {
	const secret = "dsn with a password"
	for name, tc := range map[string]struct {
		change func(*api.Server)
		path   string
		status int
	}{
		"no tables":    {func(s *api.Server) { s.Planner.Tables = nil }, "/v1/trips", 500},
		"clock panics": {func(s *api.Server) { s.Clock = func() time.Time { panic(secret) } }, "/v1/trips", 500},
		"not ready":    {func(s *api.Server) { s.Ready = func(context.Context) error { return errors.New(secret) } }, "/readyz", 503},
	} {
		t.Run(name, func(t *testing.T) {
			var log bytes.Buffer
			h := changed(func(s *api.Server) {
				tc.change(s)
				s.Log = slog.New(slog.NewTextHandler(&log, nil))
			})
			method := http.MethodPost
			if tc.path == "/readyz" {
				method = http.MethodGet
			}
			w := ask(t.Context(), h, method, tc.path, text(short(nil)))
			refused(t, w, tc.status, entry{problem: "went wrong inside", fix: "logged"})
			for _, inside := range []string{secret, "nil pointer", "runtime", "goroutine", ".go"} {
				if strings.Contains(w.Body.String(), inside) {
					t.Errorf("the answer shows %q: %s", inside, w.Body)
				}
			}
			if !strings.Contains(log.String(), "level=ERROR") || !(strings.Contains(log.String(), secret) || strings.Contains(log.String(), "nil pointer")) {
				t.Errorf("the log says %q", log.String())
			}
		})
	}
	if p, known := api.AsProblem(errors.New(secret)); known || p.Status != 500 || strings.Contains(text(p), secret) {
		t.Errorf("unknown error: %+v, known %v", p, known)
	}
}

// Only this machine may ask, and no page of another site through its browser.
func TestHostAndOrigin(t *testing.T) {
	for _, tc := range []struct {
		host, origin string
		want         int
	}{
		{"127.0.0.1:8080", "", 200},
		{"localhost:8080", "", 200},
		{"localhost", "", 200},
		{"[::1]:8080", "", 200},
		{"[::1]", "", 200},
		{"127.0.0.1:8080", "http://127.0.0.1:8080", 200},
		{"[::1]:8080", "http://[::1]:8080", 200},
		{"example.org", "", 403},
		{"localhost.evil.example", "", 403},
		{"localhost.evil.example:8080", "", 403},
		{"127.0.0.1.evil.example", "", 403},
		{"10.0.0.1:8080", "", 403},
		{"0.0.0.0:8080", "", 403},
		{"127.0.0.1:8080", "http://example.org", 403},
		{"127.0.0.1:8080", "http://127.0.0.1:9090", 403},
		{"127.0.0.1:8080", "http://localhost.evil.example:8080", 403},
		{"127.0.0.1:8080", "null", 403},
		{"example.org", "http://example.org", 403},
	} {
		headers := []string{"Host", tc.host}
		if tc.origin != "" {
			headers = append(headers, "Origin", tc.origin)
		}
		w := post(t, text(short(nil)), headers...)
		if w.Code != tc.want {
			t.Errorf("host %s, origin %q: %d, want %d", tc.host, tc.origin, w.Code, tc.want)
		}
		if tc.want == http.StatusForbidden {
			refused(t, w, tc.want, entry{problem: "service", fix: "; ask"})
		}
	}
}

func TestCheckAddress(t *testing.T) {
	for _, good := range []string{"127.0.0.1:8080", "localhost:0", "[::1]:80", "127.9.9.9:80"} {
		if err := api.CheckAddress(good); err != nil {
			t.Errorf("%s: %v", good, err)
		}
	}
	for _, bad := range []string{":8080", "0.0.0.0:80", "[::]:80", "10.0.0.1:80", "example.org:80", "localhost.evil.example:80", "127.0.0.1", ""} {
		var refused *measure.FieldError
		if err := api.CheckAddress(bad); !errors.As(err, &refused) || refused.Value != bad ||
			!strings.Contains(phrase.English().Say(refused.Fix), "127.0.0.1") {
			t.Errorf("%q: %v; want a refusal that names it and what to use", bad, err)
		}
	}
}

// Nobody waits for the answer any more, so no plan is made and nothing hangs.
func TestCancelledRequest(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	onRoad := object{"type": "LineString", "coordinates": [][2]float64{{-76.2346, 44.90807}, {-76.17740, 44.90706}}}
	for name, fields := range map[string]object{
		"stops": {}, "roads": {"route": object{"roads": []string{"43"}}},
		"line": {"stops": []any{}, "route": object{"geojson": onRoad}}, "line off the roads": {"stops": []any{}, "route": object{"geojson": line(100)}},
	} {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			w := ask(ctx, handler(), http.MethodPost, "/v1/trips", text(short(nil, fields)))
			if took := time.Since(start); took > 5*time.Second {
				t.Errorf("took %v", took)
			}
			refused(t, w, http.StatusServiceUnavailable, entry{problem: "not finished"})
		})
	}
}

// Requests share the service and nothing else: all at once they get what each
// gets alone. The race detector watches.
func TestParallelRequests(t *testing.T) {
	requests := []string{text(example(t, "", "")), text(example(t, "4.65 m", "")), text(short(nil)), text(short(object{"height": ""}))}
	var want []string
	for _, r := range requests {
		want = append(want, post(t, r, "X-Request-Id", "alike").Body.String())
	}
	var all sync.WaitGroup
	for i := range 20 {
		all.Go(func() {
			k := i % len(requests)
			if got := ask(t.Context(), handler(), http.MethodPost, "/v1/trips", requests[k], "Content-Type", "application/json", "X-Request-Id", "alike").Body.String(); got != want[k] {
				t.Errorf("request %d differs from the one asked alone:\n%s", i, cmp.Diff(want[k], got))
			}
			for _, path := range []string{"/v1/limits", "/openapi.json", "/readyz"} {
				if w := ask(t.Context(), handler(), http.MethodGet, path, ""); w.Code != http.StatusOK {
					t.Errorf("%s: %d", path, w.Code)
				}
			}
		})
	}
	all.Wait()
}

// Without rows nothing is allowed and nothing is forbidden: it is not known.
func TestEmptyTable(t *testing.T) {
	h := changed(func(s *api.Server) { s.Planner.Tables = regs.NewTables("x", regs.Rows{}, nil) })
	w := ask(t.Context(), h, http.MethodPost, "/v1/trips", text(example(t, "4.05 m", "")))
	expect(t, w, http.StatusOK, "application/json")
	got := read[wire.Trip](t, w)
	for _, f := range got.Road.Findings {
		if f.Outcome != finding.Unknown {
			t.Errorf("%s: %s with nothing to rest on", f.Rule, f.Outcome)
		}
	}
	for i, l := range got.Legs {
		for _, q := range limit.Quantities() {
			if q.OnlyWhereRuled() { // no law is known to have such a rule
				for _, f := range l.Findings {
					if string(f.Rule) == string(q) {
						t.Errorf("leg %d: %+v", i+1, f)
					}
				}
				continue
			}
			if f := one(t, l.Findings, string(q)); f.Outcome != finding.Unknown || f.Ask == "" || len(f.Rows) != 0 {
				t.Errorf("leg %d: %+v", i+1, f)
			}
		}
		for _, f := range l.Findings {
			if f.Outcome != finding.Unknown {
				t.Errorf("leg %d, %s: %s with nothing to rest on", i+1, f.Rule, f.Outcome)
			}
		}
	}
	if got.Verdict.Outcome != finding.Unknown || got.Revision() != "x" {
		t.Errorf("verdict %+v, tables %q", got.Verdict, got.Revision())
	}
}

// Whatever the body, the answer is a plan or a problem of the request.
func FuzzTripRequest(f *testing.F) {
	handler() // made before the first run, which may take 10 s at most
	for _, q := range []object{
		short(nil), short(object{"height": 4.15}), short(object{"height_m": 1e300}), short(object{"hieght": "4 m"}), short(object{"mass": "10,900 t"}),
		short(nil, object{"stops": []object{{"lat": 45.02, "lon": -74.73}, {"lat": 45.07, "lon": -74.64}}}),
		short(nil, object{"route": object{"roads": []string{"43", "416"}}}), short(nil, object{"route": object{"geojson": line(3)}}),
		short(nil, object{"route": object{"gpx": `<gpx><trk><trkseg><trkpt lat="45" lon="-75"/><trkpt lat="45" lon="-74.9"/></trkseg></trk></gpx>`}}),
		short(nil, object{"depart": "2027-05-11T08:00", "rig": object{"length": "13.5 m"}, "allowances": object{"base": "0 m", "winter_months": []int{}}}),
		short(nil, object{"structures_csv": csvRows([]string{"example-01"})}),
		wishing(object{"no_ferries": true, "not_in": []string{"US-NY"}, "not_by": []string{"401"}, "by": []string{"43"}, "hazmat": "no", "top_speed": "55 mph"}),
		wishing(object{"not_through": square, "no_unmeasured": true, "permit_costs": object{"CA-ON": "2 h"}, "once": true}),
	} {
		f.Add(text(q))
	}
	for _, body := range []string{"", "{", "null", "[]", "{}", `{"unit":null}`, `{"unit":{},"stops":null}`, `{"unit":{},"route":{"geojson":{"type":"FeatureCollection"}}}`, `{"unit":{},"stops":[null,null]}`} {
		f.Add(body)
	}
	f.Fuzz(func(t *testing.T, body string) {
		if len(body) > 4096 {
			t.Skip("a long line takes too long to match for one run")
		}
		w := post(t, body)
		switch {
		case w.Code == http.StatusOK:
			expect(t, w, http.StatusOK, "application/json")
			checkVerdict(t, "trip", read[wire.Trip](t, w).Verdict)
		case w.Code < 400 || w.Code >= 500:
			t.Fatalf("%d %s", w.Code, w.Body)
		default:
			expect(t, w, w.Code, "application/problem+json")
		}
	})
}
