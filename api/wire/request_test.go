package wire

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"
	"wayhouse/api/phrase"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"wayhouse/regs/clearance"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// two is the line that every good document of these tests holds.
var two = orb.LineString{{-74.7, 45.03}, {-74.6, 45.06}}

const twoJSON = `{"type":"LineString","coordinates":[[-74.7,45.03],[-74.6,45.06]]}`

func feature(geometry string) string {
	return `{"type":"Feature","properties":{},"geometry":` + geometry + `}`
}

func collection(features ...string) string {
	return `{"type":"FeatureCollection","features":[` + strings.Join(features, ",") + `]}`
}

func TestGeoJSONLine(t *testing.T) {
	const point = `{"type":"Point","coordinates":[-74.7,45.03]}`
	for name, doc := range map[string]string{
		"LineString":             twoJSON,
		"heights left out":       `{"type":"LineString","coordinates":[[-74.7,45.03,81.5],[-74.6,45.06,80]]}`,
		"Feature":                feature(twoJSON),
		"FeatureCollection":      collection(feature(twoJSON)),
		"a line among points":    collection(feature(point), feature(twoJSON), feature(point)),
		"a line of one left out": collection(feature(`{"type":"LineString","coordinates":[[-74.7,45.03]]}`), feature(twoJSON)),
	} {
		got, err := lineOf(t, doc)
		if err != nil || !cmp.Equal(got, two) {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
	for name, doc := range map[string]string{
		"no object":          `"north"`,
		"a list":             `[[-74.7,45.03],[-74.6,45.06]]`,
		"null":               `null`,
		"no type":            `{"coordinates":[[-74.7,45.03],[-74.6,45.06]]}`,
		"unknown type":       `{"type":"Curve","coordinates":[[-74.7,45.03],[-74.6,45.06]]}`,
		"a number for type":  `{"type":5}`,
		"point":              point,
		"polygon":            `{"type":"Polygon","coordinates":[[[-75,45],[-74,45],[-74,46],[-75,45]]]}`,
		"several lines":      `{"type":"MultiLineString","coordinates":[[[-75,45],[-74,45]],[[-74,46],[-75,45]]]}`,
		"one point":          `{"type":"LineString","coordinates":[[-74.7,45.03]]}`,
		"no points":          `{"type":"LineString","coordinates":[]}`,
		"no coordinates":     `{"type":"LineString"}`,
		"texts for numbers":  `{"type":"LineString","coordinates":[["a","b"],["c","d"]]}`,
		"no geometry":        `{"type":"Feature","properties":{}}`,
		"null geometry":      feature("null"),
		"no features":        collection(),
		"two lines":          collection(feature(twoJSON), feature(twoJSON)),
		"a feature is null":  collection("null"),
		"features no list":   `{"type":"FeatureCollection","features":{}}`,
		"half a coordinate":  `{"type":"LineString","coordinates":[[-74.7],[-74.6]]}`,
		"null for a number":  `{"type":"LineString","coordinates":[[-74.7,null],[-74.6,45.06]]}`,
		"null for a point":   `{"type":"LineString","coordinates":[[-74.7,45.03],null,[-74.6,45.06]]}`,
		"coordinates nested": `{"type":"LineString","coordinates":[[[-74.7,45.03]]]}`,
	} {
		if got, err := lineOf(t, doc); err == nil {
			t.Errorf("%s: read as %v", name, got)
		}
	}
}

// lineOf reads a document as a request would bring it. A panic fails the test
// but not the cases behind it.
func lineOf(t testing.TB, doc string) (line orb.LineString, err error) {
	t.Helper()
	defer func() {
		if p := recover(); p != nil {
			t.Errorf("%s: panics: %v", doc, p)
			err = errors.New("a panic")
		}
	}()
	return geoJSONLine(decoded(t, doc))
}

func decoded(t testing.TB, doc string) (v any) {
	t.Helper()
	if err := json.Unmarshal([]byte(doc), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// gpx is a document with one track of these segments.
func gpx(segments ...string) string {
	return `<?xml version="1.0"?><gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><name>a</name>` + strings.Join(segments, "") + `</trk></gpx>`
}

func segment(points ...string) string { return "<trkseg>" + strings.Join(points, "") + "</trkseg>" }

const (
	firstPoint  = `<trkpt lat="45.03" lon="-74.7"><ele>81.5</ele></trkpt>`
	secondPoint = `<trkpt lat="45.06" lon="-74.6"/>`
)

func TestGPXLine(t *testing.T) {
	for name, doc := range map[string]string{
		"one segment":      gpx(segment(firstPoint, secondPoint)),
		"empty segments":   gpx(segment(), segment(firstPoint, secondPoint), segment()),
		"no namespace":     "<gpx><trk>" + segment(firstPoint, secondPoint) + "</trk></gpx>",
		"waypoints beside": `<gpx><wpt lat="1" lon="2"/><trk>` + segment(firstPoint, secondPoint) + `</trk></gpx>`,
		"an empty track":   "<gpx><trk/><trk>" + segment(firstPoint, secondPoint) + "</trk></gpx>",
	} {
		got, err := gpxLine(strings.NewReader(doc))
		if err != nil || !cmp.Equal(got, two) {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
	paused := gpx(segment(firstPoint), segment(`<trkpt lat="45.031" lon="-74.7"/>`, secondPoint))
	if got, err := gpxLine(strings.NewReader(paused)); err != nil || len(got) != 3 {
		t.Errorf("segments 111 m apart: %v, %v", got, err)
	}
	third := `<trkpt lat="45.07" lon="-74.6"/>`
	legs := "<gpx><trk>" + segment(firstPoint, secondPoint) + "</trk><trk>" + segment(secondPoint, third) + "</trk></gpx>"
	if got, err := gpxLine(strings.NewReader(legs)); err != nil || len(got) != 3 {
		t.Errorf("two tracks, one on from the other: %v, %v", got, err)
	}
	for name, doc := range map[string]string{
		"tracks apart":      "<gpx><trk>" + segment(firstPoint, secondPoint) + "</trk><trk>" + segment(firstPoint, secondPoint) + "</trk></gpx>",
		"empty":             "",
		"no XML":            "north",
		"other XML":         "<kml/>",
		"no track":          gpx(),
		"one point":         gpx(segment(firstPoint)),
		"far segments":      gpx(segment(firstPoint), segment(), segment(secondPoint)), // 8.6 km that nobody recorded
		"two tracks":        "<gpx><trk>" + segment(firstPoint) + "</trk><trk>" + segment(secondPoint) + "</trk></gpx>",
		"cut off":           "<gpx><trk>" + segment(firstPoint, secondPoint),
		"words for numbers": gpx(segment(`<trkpt lat="north" lon="-74.7"/>`, secondPoint)),
		"waypoints only":    `<gpx><wpt lat="45" lon="-75"/><wpt lat="46" lon="-75"/></gpx>`,
		"no latitude":       gpx(segment(`<trkpt lon="-74.7"/>`, secondPoint)),
	} {
		if got, err := gpxLine(strings.NewReader(doc)); err == nil {
			t.Errorf("%s: read as %v", name, got)
		}
	}
}

// Whatever the bytes, the answer is a line or an error.
func FuzzGPX(f *testing.F) {
	for _, doc := range []string{"", "<gpx/>", "<gpx><trk>", gpx(segment(firstPoint, secondPoint)), gpx(segment(`<trkpt lat="NaN" lon="1e999"/>`, secondPoint)), `<!DOCTYPE gpx [<!ENTITY a "b">]><gpx>&a;</gpx>`} {
		f.Add(doc)
	}
	f.Fuzz(func(t *testing.T, doc string) {
		line, err := gpxLine(strings.NewReader(doc))
		if (err == nil) != (len(line) >= 2) {
			t.Errorf("%d points and %v", len(line), err)
		}
	})
}

// Whatever the document, the answer is a line with all its coordinates or an
// error.
func FuzzGeoJSONLine(f *testing.F) {
	for _, doc := range []string{twoJSON, feature(twoJSON), collection(feature(twoJSON)), collection("null"), feature("null"), `{"type":"LineString","coordinates":[[null]]}`, `{"type":"Feature","geometry":{"type":"Feature"}}`, "5"} {
		f.Add(doc)
	}
	f.Fuzz(func(t *testing.T, doc string) {
		var v any
		if json.Unmarshal([]byte(doc), &v) != nil {
			t.Skip("not JSON")
		}
		line, err := geoJSONLine(v)
		if (err == nil) != (len(line) >= 2) {
			t.Errorf("%d points and %v", len(line), err)
		}
	})
}

func TestDeparture(t *testing.T) {
	for text, want := range map[string]struct {
		at    string
		local bool
	}{
		"2027-05-11T08:00":          {"2027-05-11T08:00:00Z", true},
		"2027-05-11 08:00":          {"2027-05-11T08:00:00Z", true},
		"2027-05-11T08:00:30":       {"2027-05-11T08:00:30Z", true},
		"2027-05-11T08:00-04:00":    {"2027-05-11T12:00:00Z", false},
		"2027-05-11T08:00:30-04:00": {"2027-05-11T12:00:30Z", false},
		"2027-05-11T08:00Z":         {"2027-05-11T08:00:00Z", false},
		"2027-05-11T08:00:00Z":      {"2027-05-11T08:00:00Z", false},
	} {
		r := &reader{}
		at, local := r.clock("depart", text)
		if got := at.UTC().Format(time.RFC3339); got != want.at || local != want.local || len(r.errs) > 0 {
			t.Errorf("%q: %s, local %v, %v; want %+v", text, got, local, r.errs, want)
		}
	}
	for _, text := range []string{"tomorrow", "2027-05-11", "08:00", "2027-13-11T08:00", "2027-02-30T08:00", "2027-05-11T25:00", "11.05.2027 08:00", "2027-05-11T08:00 EST", "1810000000"} {
		r := &reader{}
		if at, _ := r.clock("depart", text); len(r.errs) != 1 || r.errs[0].Field != "depart" || r.errs[0].Value != text || r.errs[0].Fix.None() {
			t.Errorf("%q: %v, %+v; want one refusal that names it", text, at, r.errs)
		}
	}
}

func TestAllowances(t *testing.T) {
	const mm = measure.Millimetre
	standard := clearance.DefaultAllowances()
	with := func(change func(*clearance.Allowances)) clearance.Allowances {
		a := clearance.DefaultAllowances()
		change(&a)
		return a
	}
	for name, tc := range map[string]struct {
		in   *AllowancesRequest
		want clearance.Allowances
	}{
		"none":        {nil, standard},
		"nothing set": {&AllowancesRequest{}, standard},
		"0 m":         {&AllowancesRequest{Base: span(t, "0 m"), Snow: span(t, "0 in")}, with(func(a *clearance.Allowances) { a.Base, a.Snow = 0, 0 })},
		"0m":          {&AllowancesRequest{Base: span(t, "0m")}, with(func(a *clearance.Allowances) { a.Base = 0 })},
		"0.0 m":       {&AllowancesRequest{Base: span(t, "0.0 m")}, with(func(a *clearance.Allowances) { a.Base = 0 })},
		"above zero": {&AllowancesRequest{Bounce: span(t, "80 mm"), DesignedError: span(t, "4 in"), MeasuredError: span(t, "1 cm")}, with(func(a *clearance.Allowances) {
			a.Bounce, a.DesignedError, a.MeasuredError = 80*mm, 4*measure.Inch, 10*mm
		})},
		"figures of a year": {&AllowancesRequest{FigureDays: 365}, with(func(a *clearance.Allowances) { a.FigureTerm = 365 * 24 * time.Hour })},
		"no winter":         {&AllowancesRequest{WinterMonths: []int{}}, with(func(a *clearance.Allowances) { a.WinterMonths = nil })},
		"winter":            {&AllowancesRequest{WinterMonths: []int{12, 1}}, with(func(a *clearance.Allowances) { a.WinterMonths = []time.Month{time.December, time.January} })},
	} {
		if diff := cmp.Diff(tc.want, allowances(tc.in)); diff != "" {
			t.Errorf("%s:\n%s", name, diff)
		}
	}
	for field, in := range map[string]string{
		"allowances.base":             `{"base": "-0.1 m"}`,
		"allowances.bounce":           `{"bounce": "0.1"}`,
		"allowances.snow":             `{"snow": ""}`,
		"allowances.designed_error":   `{"designed_error": "0 kg"}`,
		"allowances.measured_error":   `{"measured_error": "0 bananas"}`,
		"allowances.side_m":           `{"side_m": -1}`,
		"allowances.winter_months[0]": `{"winter_months": [0]}`,
		"allowances.figure_days":      `{"figure_days": -1}`,
	} {
		refusedOne(t, `{"allowances": `+in+`}`, field)
	}
}

// span reads a length as a request does.
func span(t *testing.T, text string) (s Span) {
	t.Helper()
	if err := json.Unmarshal([]byte(`"`+text+`"`), &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// refusedOne wants a trip to be refused for one field, with a problem and a fix.
func refusedOne(t *testing.T, trip, field string) Fault {
	t.Helper()
	refusal, ok := AsRefusal(Decode[TripRequest]([]byte(trip)).Err())
	if !ok || len(refusal.Errors) != 1 || refusal.Errors[0].Field != field || refusal.Errors[0].Problem.None() || refusal.Errors[0].Fix.None() {
		t.Fatalf("%s: %+v; want one refusal of %s", trip, refusal, field)
	}
	return refusal.Errors[0].In(phrase.English())
}

// english is what an error says to those who read English.
func english(err error) string {
	var lines []string
	if refusal, ok := AsRefusal(err); ok {
		for _, e := range refusal.Errors {
			lines = append(lines, e.In(phrase.English()).String())
		}
		return strings.Join(lines, "\n")
	}
	return phrase.English().Say(say.Of(err))
}

// A route in one form is taken as it is; in none or in several it is refused.
func TestRouteForms(t *testing.T) {
	roads := []string{"43", "416"}
	for i, q := range []GivenRequest{{GeoJSON: decoded(t, twoJSON)}, {GPX: gpx(segment(firstPoint, secondPoint))}, {Roads: roads}} {
		r := &reader{}
		got := r.route(&q)
		if len(r.errs) > 0 || got == nil || !cmp.Equal(got.Line, two) && !slices.Equal(got.Roads, roads) {
			t.Errorf("form %d: %+v, %v", i, got, r.errs)
		}
	}
	for _, q := range []GivenRequest{{}, {GeoJSON: decoded(t, twoJSON), Roads: roads}, {GPX: gpx(), Roads: roads}, {GeoJSON: decoded(t, twoJSON), GPX: gpx(), Roads: roads}} {
		r := &reader{}
		if got := r.route(&q); got != nil || len(r.errs) != 1 || !strings.Contains(english(Refuse(r.errs...)), "exactly one") {
			t.Errorf("%+v: %+v, %v", q, got, r.errs)
		}
	}
}
