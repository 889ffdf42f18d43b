package api_test

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"net/http"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"wayhouse/api/wire"
	"wayhouse/regs/finding"
)

const (
	asGPX = "application/gpx+xml"
	asKML = "application/vnd.google-earth.kml+xml"
)

// sequences are the elements that a schema allows within another, in the order that it
// asks for; those parted by | may be mixed.
type sequences map[string][]string

// gpx11 is of topografix.com/GPX/1/1/gpx.xsd.
var gpx11 = sequences{
	"":         {"gpx"},
	"gpx":      {"metadata", "wpt", "rte", "trk", "extensions"},
	"metadata": {"name", "desc", "author", "copyright", "link", "time", "keywords", "bounds", "extensions"},
	"wpt":      {"ele", "time", "magvar", "geoidheight", "name", "cmt", "desc", "src", "link", "sym", "type", "fix", "sat", "extensions"},
	"trk":      {"name", "cmt", "desc", "src", "link", "number", "type", "extensions", "trkseg"},
	"trkseg":   {"trkpt", "extensions"},
	"trkpt":    {"ele", "time"},
}

// kml22 is of schemas.opengis.net/kml/2.2.0/ogckml22.xsd, which OGC 12-007r2 (KML 2.3)
// extends in its namespace.
var kml22 = sequences{
	"":              {"kml"},
	"kml":           {"Document"},
	"Document":      {"name", "description", "Style", "Folder|Placemark"},
	"Folder":        {"name", "description", "Folder|Placemark"},
	"Placemark":     {"name", "description", "styleUrl", "Point|LineString|MultiGeometry"},
	"MultiGeometry": {"Point|LineString"},
	"LineString":    {"extrude", "tessellate", "altitudeMode", "coordinates"},
	"Point":         {"extrude", "altitudeMode", "coordinates"},
	"Style":         {"IconStyle", "LabelStyle", "LineStyle"},
	"LineStyle":     {"color", "colorMode", "width"},
}

// holds checks a document against the sequences of a schema, and returns every element
// that it has with its attributes and text.
func (s sequences) holds(t *testing.T, doc []byte, namespace string) (found []element) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(doc))
	open := []element{{}}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return found
		}
		if err != nil {
			t.Fatal(err)
		}
		last := &open[len(open)-1]
		switch token := token.(type) {
		case xml.StartElement:
			name := token.Name.Local
			at := slices.IndexFunc(s[last.name], func(of string) bool { return slices.Contains(strings.Split(of, "|"), name) })
			if token.Name.Space != namespace || at < last.at {
				t.Fatalf("<%s> of %q stands in <%s> after %v", name, token.Name.Space, last.name, last.at)
			}
			last.at = at
			open = append(open, element{name: name, attributes: token.Attr})
		case xml.CharData:
			last.text += string(token)
		case xml.EndElement:
			found = append(found, *last)
			open = open[:len(open)-1]
		}
	}
}

type element struct {
	name, text string
	attributes []xml.Attr
	at         int // of its last child, in the sequence
}

func (e element) attribute(name string) string {
	i := slices.IndexFunc(e.attributes, func(a xml.Attr) bool { return a.Name.Local == name })
	if i < 0 {
		return ""
	}
	return e.attributes[i].Value
}

func named(all []element, name string) (out []element) {
	for _, e := range all {
		if e.name == name {
			out = append(out, e)
		}
	}
	return out
}

// A GPX document has what gpx.xsd asks for: the version, who made it, elements in their
// order, and decimals within the bounds of latitude and longitude.
func TestGPX(t *testing.T) {
	q := text(example(t, "", ""))
	want := planned(t, q)
	w := post(t, q, "Accept", asGPX)
	expect(t, w, http.StatusOK, asGPX)
	found := gpx11.holds(t, w.Body.Bytes(), "http://www.topografix.com/GPX/1/1")
	root := found[len(found)-1]
	if root.attribute("version") != "1.1" || root.attribute("creator") == "" {
		t.Errorf("%v", root.attributes)
	}
	decimal := regexp.MustCompile(`^[+-]?\d+(\.\d+)?$`)
	points := 0
	for _, e := range slices.Concat(named(found, "trkpt"), named(found, "wpt")) {
		lat, lon := e.attribute("lat"), e.attribute("lon")
		y, errLat := strconv.ParseFloat(lat, 64)
		x, errLon := strconv.ParseFloat(lon, 64)
		if errLat != nil || errLon != nil || !decimal.MatchString(lat) || !decimal.MatchString(lon) || y < -90 || y > 90 || x < -180 || x >= 180 {
			t.Errorf("%s: %q, %q", e.name, lat, lon)
		}
		points++
	}
	if n := len(want.Legs); len(named(found, "trk")) != n || len(named(found, "trkseg")) != n || points < 300 {
		t.Errorf("%d tracks, %d segments, %d points; %d legs", len(named(found, "trk")), len(named(found, "trkseg")), points, n)
	}
	if len(named(found, "rte")) > 0 {
		t.Error("it has points of a route, between which a device seeks a way of its own")
	}
	types := map[string]int{}
	for _, e := range named(found, "type") {
		types[e.text]++
	}
	if types["structure"] == 0 || types["corner"] == 0 || types["task"] != len(want.Tasks.List) {
		t.Errorf("%v, %d tasks", types, len(want.Tasks.List))
	}
	said := named(found, "desc")
	track := said[len(said)-1].text
	for _, needed := range []string{"Do not recalculate", "height 4.05 m", "length 13.5 m", want.Revision(), "unknown"} {
		if !strings.Contains(track, needed) {
			t.Errorf("%q does not say %q", track, needed)
		}
	}
	if strings.Count(track, wire.InventedMark) != 1 || !strings.Contains(said[0].text+said[len(said)-2].text+w.Body.String(), want.Network.Credit) {
		t.Errorf("%q", track)
	}
}

// Of a trip there is a sheet of each of its lists, with the lines and the words of JSON.
func TestSheetsOfATrip(t *testing.T) {
	q := text(example(t, "", ""))
	want := planned(t, q)
	structures, asks := 0, 0
	for _, l := range want.Legs {
		structures += len(l.Structures)
	}
	for _, task := range want.Tasks.List {
		asks += len(task.Asks)
	}
	for sheet, lines := range map[string]int{"": len(want.Legs), "legs": len(want.Legs), "structures": structures, "tasks": asks} {
		w := ask(t.Context(), handler(), http.MethodPost, "/v1/trips?sheet="+sheet, q, "Accept", "text/csv")
		expect(t, w, http.StatusOK, "text/csv")
		got := must(csv.NewReader(w.Body).ReadAll())
		if len(got) != lines+1 || lines == 0 {
			t.Errorf("%q: %d lines, want %d and a head", sheet, len(got), lines)
		}
	}
	w := ask(t.Context(), handler(), http.MethodPost, "/v1/trips?sheet=bridges", q, "Accept", "text/csv")
	refused(t, w, http.StatusUnprocessableEntity, entry{"sheet", "bridges", "no sheet", "structures"})
}

// Nobody is led along a way that is forbidden, nor along one that no rig may drive.
func TestGPXOfWhatIsForbidden(t *testing.T) {
	fc := must(geojson.UnmarshalFeatureCollection(askRoutes(t, whole(t, nil), "Accept", "application/geo+json").Body.Bytes()))
	i := slices.IndexFunc(fc.Features, func(f *geojson.Feature) bool { return f.Properties["way"] == "free" })
	q := example(t, "", "")
	q["route"] = object{"geojson": fc.Features[i]} // beneath what the rig does not pass
	if got := planned(t, text(q)); got.Verdict.Worst != finding.Forbidden {
		t.Fatalf("%+v", got.Verdict)
	}
	refused(t, post(t, text(q), "Accept", asGPX), http.StatusUnprocessableEntity, entry{"format", "gpx", "forbidden", "geojson"})
	expect(t, post(t, text(q), "Accept", asKML), http.StatusOK, asKML)

	ways := routed(t, whole(t, nil))
	w := askRoutes(t, whole(t, nil), "Accept", asGPX)
	expect(t, w, http.StatusOK, asGPX)
	want := 1
	for _, o := range ways.Alternatives {
		if o.Verdict.Worst != finding.Forbidden {
			want++
		}
	}
	if ways.PermitFree != nil && ways.PermitFree.Verdict.Worst != finding.Forbidden {
		want++
	}
	tracks := named(gpx11.holds(t, w.Body.Bytes(), "http://www.topografix.com/GPX/1/1"), "trk")
	if ways.Free == nil || len(tracks) != want || want < 2 {
		t.Errorf("%d tracks, want %d; a way of a free rig: %v", len(tracks), want, ways.Free != nil)
	}
}

// KML has the order of its schema, longitude first, and a placemark for each leg.
func TestKML(t *testing.T) {
	q := text(example(t, "", ""))
	want := planned(t, q)
	for path, body := range map[string]string{"/v1/trips": q, "/v1/routes": text(whole(t, nil)), "/v1/ladders": text(short(nil))} {
		w := ask(t.Context(), handler(), http.MethodPost, path, body, "Accept", asKML)
		expect(t, w, http.StatusOK, asKML)
		found := kml22.holds(t, w.Body.Bytes(), "http://www.opengis.net/kml/2.2")
		for _, c := range named(found, "coordinates") {
			for _, at := range strings.Fields(c.text) {
				var lon, lat float64
				if n, err := fmt.Sscanf(at, "%g,%g", &lon, &lat); n != 2 || err != nil || lon < -77 || lon > -72 || lat < 44 || lat > 47 {
					t.Fatalf("%s: %q", path, at)
				}
			}
		}
		if path == "/v1/trips" && len(named(found, "LineString")) != len(want.Legs) {
			t.Errorf("%d lines for %d legs", len(named(found, "LineString")), len(want.Legs))
		}
		styles := map[string]bool{}
		for _, s := range named(found, "Style") {
			styles["#"+s.attribute("id")] = true
		}
		for _, s := range named(found, "styleUrl") {
			if !styles[s.text] {
				t.Errorf("%s: there is no style %s", path, s.text)
			}
		}
	}
}

// What is exported is what can be given back: as the given route it gets the same answer,
// but for the way from a stop to the road, which a line does not have.
func TestGivenBack(t *testing.T) {
	q := example(t, "", "")
	want := planned(t, text(q))
	for name, media := range map[string]string{"gpx": asGPX, "kml": asKML, "geojson": "application/geo+json"} {
		w := post(t, text(q), "Accept", media)
		expect(t, w, http.StatusOK, media)
		var way any = w.Body.String()
		if name == "geojson" {
			way = read[object](t, w)
		}
		again := example(t, "", "")
		again["route"] = object{name: way}
		got := planned(t, text(again))
		if off := got.LengthM - want.LengthM; off < -5 || off > 5 || len(got.Legs) != len(want.Legs) || !got.GivenRoute {
			t.Fatalf("%s: %d legs of %.0f m, want %d of %.0f m", name, len(got.Legs), got.LengthM, len(want.Legs), want.LengthM)
		}
		if diff := cmp.Diff(answers(want.Findings), answers(got.Findings)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
		for i, leg := range want.Legs {
			if diff := cmp.Diff(answers(leg.Findings), answers(got.Legs[i].Findings)); diff != "" {
				t.Errorf("%s, leg %d: %s", name, i+1, diff)
			}
			if diff := cmp.Diff(passed(leg), passed(got.Legs[i])); diff != "" {
				t.Errorf("%s, leg %d: %s", name, i+1, diff)
			}
		}
	}
}

// answers are findings without their sentences.
func answers(of []wire.Finding) (out []string) {
	for _, f := range of {
		out = append(out, fmt.Sprint(f.Topic, " ", f.Rule, " ", f.Jurisdiction, " ", f.Place, " ", f.Outcome, " ", f.Reason, " ", f.Value, " ", f.Margin))
	}
	return out
}

func passed(l wire.Leg) (out []string) {
	for _, s := range l.Structures {
		out = append(out, fmt.Sprint(s.ID, " ", s.Outcome, " ", s.Sum))
	}
	return out
}

// A map has the legs with the distance along each of their points, and what is to be
// looked at on them (RFC 7946: longitude first, no crs, properties in every feature).
func TestGeoJSONFeatures(t *testing.T) {
	q := text(example(t, "", ""))
	want := planned(t, q)
	w := post(t, q, "Accept", "application/geo+json")
	fc := must(geojson.UnmarshalFeatureCollection(w.Body.Bytes()))
	if strings.Contains(w.Body.String(), `"crs"`) {
		t.Error("it names a coordinate system, which RFC 7946, section 4, has no more")
	}
	kinds, along := map[string]int{}, 0.0
	for _, f := range fc.Features {
		kind, _ := f.Properties["feature"].(string)
		kinds[kind]++
		at, _ := f.Properties["from_start_m"].(float64)
		switch kind {
		case "leg":
			line, all := f.Geometry.(orb.LineString), f.Properties["distances_m"].([]any)
			if len(all) != len(line) || all[0] != f.Properties["from_m"] || all[len(all)-1] != f.Properties["to_m"] || all[0].(float64) != along {
				t.Errorf("%d distances for %d points, %v to %v after %v", len(all), len(line), all[0], all[len(all)-1], along)
			}
			if !slices.IsSortedFunc(all, func(a, b any) int { return int(a.(float64) - b.(float64)) }) {
				t.Error("the way turns back on itself")
			}
			along = f.Properties["to_m"].(float64)
		case "structure", "corner", "climb", "descent":
			if at < 0 || at > want.LengthM {
				t.Errorf("%s after %v m of %v", kind, at, want.LengthM)
			}
		case "avoided_structure":
		default:
			t.Errorf("%q", kind)
		}
	}
	structures := 0
	for _, l := range want.Legs {
		structures += len(l.Structures)
	}
	if kinds["leg"] != len(want.Legs) || kinds["structure"] != structures || kinds["corner"] != len(want.Road.Corners) || kinds["corner"] == 0 || kinds["climb"] != len(want.Road.Climbs) {
		t.Errorf("%v", kinds)
	}
}

// A ladder is drawn step by step.
func TestLadderOnAMap(t *testing.T) {
	q := example(t, "", "")
	want := laddered(t, q)
	w := ask(t.Context(), handler(), http.MethodPost, "/v1/ladders", text(q), "Accept", "application/geo+json")
	expect(t, w, http.StatusOK, "application/geo+json")
	fc := must(geojson.UnmarshalFeatureCollection(w.Body.Bytes()))
	if len(fc.Features) != len(want.Open.Steps)+len(want.Shut.Steps) || len(fc.Features) < 3 {
		t.Fatalf("%d features", len(fc.Features))
	}
	for i, s := range want.Open.Steps {
		f := fc.Features[i]
		var most any
		if s.MostM != nil {
			most = *s.MostM
		}
		if f.Properties["most_m"] != most || f.Properties["ladder"] != "unmeasured_open" || f.Properties["step"] != float64(i+1) || f.Properties["mark"] != s.Mark || len(f.Geometry.(orb.LineString)) < 100 {
			t.Errorf("step %d: %v", i+1, f.Properties)
		}
	}
	if head, _ := fc.ExtraMembers["wayhouse"].(object); head["notice"] != want.Notice {
		t.Errorf("%v", head)
	}
	expect(t, ask(t.Context(), handler(), http.MethodPost, "/v1/ladders", text(q), "Accept", asGPX), http.StatusNotAcceptable, "application/problem+json")
}

// Sheets are CSV as RFC 4180 has it: a head line, lines of as many cells that end in
// CRLF; each has a line for each thing of its answer.
func TestSheets(t *testing.T) {
	trip := example(t, "", "")
	check := object{"unit": trip["unit"], "in": []string{"CA-ON", "CA-QC"}}
	ways, ladders := routed(t, whole(t, nil)), laddered(t, trip)
	lines := 1 + len(ways.Alternatives)
	if ways.Free != nil {
		lines++
	}
	if ways.PermitFree != nil {
		lines++
	}
	design := read[wire.Design](t, ask(t.Context(), handler(), http.MethodPost, "/v1/checks", text(check)))
	for path, of := range map[string]struct {
		body object
		want int
		head string
	}{
		"/v1/trips":   {trip, len(planned(t, text(trip)).Legs), "leg,from,to"},
		"/v1/routes":  {whole(t, nil), lines, "way,length_m"},
		"/v1/ladders": {trip, len(ladders.Open.Steps) + len(ladders.Shut.Steps), "ladder,step"},
		"/v1/checks":  {check, len(design.Answers), "jurisdiction,quantity"},
	} {
		w := ask(t.Context(), handler(), http.MethodPost, path, text(of.body), "Accept", "text/csv")
		expect(t, w, http.StatusOK, "text/csv")
		raw := w.Body.String()
		if strings.Count(raw, "\r\n") != strings.Count(raw, "\n") || !strings.HasPrefix(raw, of.head) {
			t.Errorf("%s: %.200q", path, raw)
		}
		all, err := csv.NewReader(w.Body).ReadAll() // refuses lines of other lengths
		if err != nil || len(all) != 1+of.want || of.want == 0 {
			t.Errorf("%s: %d lines, want %d and a head: %v", path, len(all), of.want, err)
		}
	}
}
