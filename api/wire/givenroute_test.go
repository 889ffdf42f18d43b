package wire

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// gpxOf is a GPX 1.1 document (topografix.com/GPX/1/1).
func gpxOf(within string) string {
	return `<?xml version="1.0" encoding="UTF-8"?><gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="a test">` + within + `</gpx>`
}

// kmlOf is a KML document (OGC 12-007r2: the namespace is that of 2.2, the version tells
// them apart).
func kmlOf(within string) string {
	return `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2" version="2.3"><Document>` + within + `</Document></kml>`
}

func geo(t *testing.T, text string) (doc any) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), &doc); err != nil {
		t.Fatal(err)
	}
	return doc
}

// One line, as each form has it, is one route.
func TestGivenForms(t *testing.T) {
	want := orb.LineString{{-75.5, 45.25}, {-75.25, 45.5}, {-75, 45.5}}
	const trkpt = `<trkpt lat="45.25" lon="-75.5"><ele>9</ele></trkpt><trkpt lat="45.5" lon="-75.25"/>`
	for name, q := range map[string]GivenRequest{
		"track":     {GPX: gpxOf(`<wpt lat="1" lon="2"/><trk><trkseg>` + trkpt + `<trkpt lat="45.5" lon="-75"/></trkseg></trk>`)},
		"segments":  {GPX: gpxOf(`<trk><trkseg>` + trkpt + `</trkseg><trkseg/><trkseg><trkpt lat="45.5" lon="-75.2499"/><trkpt lat="45.5" lon="-75"/></trkseg></trk>`)},
		"route":     {GPX: gpxOf(`<rte><name>r</name>` + strings.ReplaceAll(trkpt, "trkpt", "rtept") + `<rtept lat="45.5" lon="-75"/></rte>`)},
		"both":      {GPX: gpxOf(`<rte><rtept lat="1" lon="1"/></rte><trk><trkseg>` + trkpt + `<trkpt lat="45.5" lon="-75"/></trkseg></trk>`)},
		"KML":       {KML: kmlOf(`<Placemark><Point><coordinates>1,2</coordinates></Point></Placemark><Placemark><LineString><tessellate>1</tessellate><coordinates> -75.5,45.25,9` + "\n\t" + `-75.25,45.5 -75,45.5</coordinates></LineString></Placemark>`)},
		"two lines": {KML: kmlOf(`<Folder><Placemark><MultiGeometry><LineString><coordinates>-75.5,45.25 -75.25,45.5</coordinates></LineString><LineString><coordinates>-75.25,45.5 -75,45.5</coordinates></LineString></MultiGeometry></Placemark></Folder>`)},
		"KML track": {KML: kmlOf(`<Placemark><gx:Track><when>2027-05-11T08:00:00Z</when><gx:coord>-75.5 45.25 9</gx:coord><gx:coord>-75.25 45.5 9</gx:coord><gx:coord>-75 45.5 9</gx:coord></gx:Track></Placemark>`)},
		"GeoJSON":   {GeoJSON: geo(t, `{"type": "LineString", "coordinates": [[-75.5, 45.25, 9], [-75.25, 45.5], [-75, 45.5]]}`)},
		"legs":      {GeoJSON: geo(t, `{"type": "FeatureCollection", "features": [{"type": "Feature", "geometry": {"type": "LineString", "coordinates": [[-75.5, 45.25], [-75.25, 45.5]]}}, {"type": "Feature", "geometry": {"type": "Point", "coordinates": [0, 0]}}, {"type": "Feature", "geometry": {"type": "LineString", "coordinates": [[-75.25, 45.5], [-75, 45.5]]}}]}`)},
		"parts":     {GeoJSON: geo(t, `{"type": "MultiLineString", "coordinates": [[[-75.5, 45.25], [-75.25, 45.5]], [[-75.25, 45.5], [-75, 45.5]]]}`)},
	} {
		var r reader
		got := r.route(&q)
		if len(r.errs) > 0 {
			t.Errorf("%s: %v", name, r.errs)
			continue
		}
		if name == "segments" { // the pause is a part of the line
			got.Line = append(got.Line[:2:2], got.Line[3:]...)
		}
		if !got.Line.Equal(want) {
			t.Errorf("%s: %v, want %v", name, got.Line, want)
		}
	}
}

// What is no one line is refused, and says why.
func TestGivenFormsRefused(t *testing.T) {
	for name, tc := range map[string]struct {
		q    GivenRequest
		want string
	}{
		"apart":       {GivenRequest{GeoJSON: geo(t, `{"type": "MultiLineString", "coordinates": [[[-75.5, 45.25], [-75.25, 45.5]], [[-75.2, 45.5], [-75, 45.5]]]}`)}, "number 2 does not start where"},
		"backwards":   {GivenRequest{KML: kmlOf(`<LineString><coordinates>-75.25,45.5 -75.5,45.25</coordinates></LineString><LineString><coordinates>-75.25,45.5 -75,45.5</coordinates></LineString>`)}, "number 2 does not start where"},
		"collection":  {GivenRequest{GeoJSON: geo(t, `{"type": "GeometryCollection", "geometries": []}`)}, "GeometryCollection"},
		"no lists":    {GivenRequest{GeoJSON: geo(t, `{"type": "MultiLineString", "coordinates": 5}`)}, "no list of positions"},
		"one point":   {GivenRequest{GeoJSON: geo(t, `{"type": "LineString", "coordinates": [[1, 2]]}`)}, "no line of two points"},
		"two routes":  {GivenRequest{GPX: gpxOf(`<rte/><rte/>`)}, "2 routes"},
		"no points":   {GivenRequest{GPX: gpxOf(`<trk/><trk/>`)}, "no line of two points"},
		"no lat":      {GivenRequest{GPX: gpxOf(`<rte><rtept lon="1"/><rtept lat="1" lon="1"/></rte>`)}, "without lat or lon"},
		"far pause":   {GivenRequest{GPX: gpxOf(`<trk><trkseg><trkpt lat="45" lon="-75"/><trkpt lat="45.1" lon="-75"/></trkseg><trkseg><trkpt lat="45.2" lon="-75"/></trkseg></trk>`)}, "between its segments 1 and 2"},
		"GPX as KML":  {GivenRequest{KML: gpxOf("")}, "begins with <gpx>"},
		"no KML":      {GivenRequest{KML: "north"}, "cannot be read"},
		"cut off":     {GivenRequest{KML: `<kml><Document>`}, "cannot be read"},
		"empty KML":   {GivenRequest{KML: kmlOf("")}, "no line of two points"},
		"words":       {GivenRequest{KML: kmlOf(`<LineString><coordinates>north,west</coordinates></LineString>`)}, "no longitude and latitude"},
		"blanks":      {GivenRequest{KML: kmlOf(`<LineString><coordinates>-75, 45</coordinates></LineString>`)}, "no longitude and latitude"},
		"one number":  {GivenRequest{KML: kmlOf(`<LineString><coordinates>-75</coordinates></LineString>`)}, "without longitude and latitude"},
		"Latin 1":     {GivenRequest{KML: `<?xml version="1.0" encoding="ISO-8859-1"?><kml/>`}, "save it as UTF-8"},
		"three forms": {GivenRequest{KML: "a", GPX: "b", Roads: []string{"417"}}, "3 forms"},
	} {
		var r reader
		if got := r.route(&tc.q); len(r.errs) != 1 || !strings.Contains(english(Refuse(r.errs...)), tc.want) || got != nil && len(got.Line) > 0 {
			t.Errorf("%s: %v, %v, want %q", name, got, r.errs, tc.want)
		}
	}
}

// FuzzKMLLine reads anything without falling over; what it takes is a line.
func FuzzKMLLine(f *testing.F) {
	f.Add(kmlOf(`<LineString><coordinates>-75.5,45.25 -75.25,45.5</coordinates></LineString>`))
	f.Add(`<kml><Track><coord>1 2</coord></Track>`)
	f.Fuzz(func(t *testing.T, text string) {
		if line, err := kmlLine(strings.NewReader(text)); err == nil && len(line) < 2 {
			t.Errorf("%q is the line %v", text, line)
		}
	})
}

// Latitude comes first, as in ISO 6709.
func TestStopsByCoordinates(t *testing.T) {
	for text, want := range map[string]orb.Point{
		"45.42,-75.69": {-75.69, 45.42}, " 45.42 , -75.69 ": {-75.69, 45.42}, "45,-75": {-75, 45},
	} {
		var r reader
		got := r.stops([]StopRequest{{Place: text}}, nil)
		if len(r.errs) > 0 || len(got) != 1 || got[0].Point != want {
			t.Errorf("%q: %v, %v", text, got, r.errs)
		}
	}
	for _, text := range []string{"145.42,-75.69", "NaN,-75", "45,-181"} {
		var r reader
		if r.stops([]StopRequest{{Place: text}}, nil); len(r.errs) != 1 || r.errs[0].Field != "stops[0].place" || !strings.Contains(english(Refuse(r.errs...)), "no place on Earth") {
			t.Errorf("%q: %v", text, r.errs)
		}
	}
}
