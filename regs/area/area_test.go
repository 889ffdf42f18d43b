package area

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/golang/geo/s1"
	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/data"
)

func shipped(t testing.TB) *Index {
	t.Helper()
	raw, err := data.Files.ReadFile("areas/jurisdictions.bin")
	if err != nil {
		t.Fatal(err)
	}
	ix, err := Read(raw)
	if err != nil {
		t.Fatal(err)
	}
	return ix
}

// ISO 3166-2 counts 10 provinces and 3 territories for Canada, 50 states and
// the District of Columbia for the United States without its outlying areas
// (from memory).
func TestShippedJurisdictions(t *testing.T) {
	ix := shipped(t)
	perCountry, seen := map[string]int{}, map[string]bool{}
	for _, j := range ix.All() {
		perCountry[j.Country]++
		if seen[j.Code] {
			t.Errorf("%s stands twice", j.Code)
		}
		seen[j.Code] = true
		if got, ok := ix.ByCode(j.Code); !ok || got.Name != j.Name || j.Name == "" {
			t.Errorf("%s: by code %q, in the list %q", j.Code, got.Name, j.Name)
		}
		for _, zone := range append([]string{j.TimeZone}, j.OtherZones...) {
			// Names of the zone database have an area and a place; "Local" and
			// "" load too, and mean another zone on another machine.
			if _, err := time.LoadLocation(zone); err != nil || !strings.Contains(zone, "/") {
				t.Errorf("%s: zone %q: %v", j.Code, zone, err)
			}
		}
		if slices.Contains(j.OtherZones, j.TimeZone) {
			t.Errorf("%s: the zone of most of the area stands among the others", j.Code)
		}
	}
	if perCountry["CA"] != 13 || perCountry["US"] != 51 || len(perCountry) != 2 {
		t.Errorf("areas by country %v, want CA 13 and US 51", perCountry)
	}
	if _, ok := ix.ByCode("CA-XX"); ok {
		t.Error("CA-XX is known")
	}
	if !slices.IsSortedFunc(ix.All(), func(a, b Jurisdiction) int { return strings.Compare(a.Code, b.Code) }) {
		t.Error("the list is not sorted by code")
	}
}

// capitals are the seats of government in degrees north and east, from memory,
// good to a few hundred metres.
var capitals = map[string][2]float64{
	"CA-AB": {53.5461, -113.4938}, "CA-BC": {48.4284, -123.3656}, "CA-MB": {49.8951, -97.1384},
	"CA-NB": {45.9636, -66.6431}, "CA-NL": {47.5615, -52.7126}, "CA-NS": {44.6488, -63.5752},
	"CA-NT": {62.4540, -114.3718}, "CA-NU": {63.7467, -68.5170}, "CA-ON": {43.6532, -79.3832},
	"CA-PE": {46.2382, -63.1311}, "CA-QC": {46.8139, -71.2080}, "CA-SK": {50.4452, -104.6178},
	"CA-YT": {60.7212, -135.0568},
	"US-AK": {58.3019, -134.4197}, "US-AL": {32.3777, -86.3006}, "US-AR": {34.7465, -92.2896},
	"US-AZ": {33.4484, -112.0740}, "US-CA": {38.5767, -121.4936}, "US-CO": {39.7392, -104.9848},
	"US-CT": {41.7640, -72.6822}, "US-DC": {38.8899, -77.0091}, "US-DE": {39.1573, -75.5197},
	"US-FL": {30.4381, -84.2816}, "US-GA": {33.7490, -84.3880}, "US-HI": {21.3069, -157.8583},
	"US-IA": {41.5912, -93.6037}, "US-ID": {43.6178, -116.1996}, "US-IL": {39.7983, -89.6544},
	"US-IN": {39.7687, -86.1625}, "US-KS": {39.0480, -95.6780}, "US-KY": {38.1867, -84.8753},
	"US-LA": {30.4571, -91.1874}, "US-MA": {42.3582, -71.0637}, "US-MD": {38.9788, -76.4909},
	"US-ME": {44.3073, -69.7816}, "US-MI": {42.7336, -84.5553}, "US-MN": {44.9553, -93.1022},
	"US-MO": {38.5791, -92.1729}, "US-MS": {32.3038, -90.1821}, "US-MT": {46.5857, -112.0184},
	"US-NC": {35.7804, -78.6391}, "US-ND": {46.8208, -100.7837}, "US-NE": {40.8081, -96.6997},
	"US-NH": {43.2067, -71.5380}, "US-NJ": {40.2206, -74.7699}, "US-NM": {35.6824, -105.9398},
	"US-NV": {39.1641, -119.7662}, "US-NY": {42.6526, -73.7562}, "US-OH": {39.9614, -82.9988},
	"US-OK": {35.4922, -97.5033}, "US-OR": {44.9388, -123.0301}, "US-PA": {40.2644, -76.8837},
	"US-RI": {41.8308, -71.4150}, "US-SC": {34.0004, -81.0332}, "US-SD": {44.3670, -100.3464},
	"US-TN": {36.1659, -86.7842}, "US-TX": {30.2747, -97.7404}, "US-UT": {40.7774, -111.8882},
	"US-VA": {37.5388, -77.4336}, "US-VT": {44.2624, -72.5805}, "US-WA": {47.0358, -122.9049},
	"US-WI": {43.0747, -89.3844}, "US-WV": {38.3361, -81.6123}, "US-WY": {41.1403, -104.8203},
}

func TestCapitals(t *testing.T) {
	ix := shipped(t)
	if len(capitals) != len(ix.All()) {
		t.Fatalf("%d capitals for %d areas", len(capitals), len(ix.All()))
	}
	// Trenton lies on the Delaware and Washington on the Potomac: the far side
	// may be answered too.
	neighbours := map[string][]string{"US-NJ": {"US-PA"}, "US-DC": {"US-MD", "US-VA"}}
	for want, at := range capitals {
		got := ix.At(orb.Point{at[1], at[0]})
		others := slices.DeleteFunc(slices.Clone(got), func(c string) bool { return c == want || slices.Contains(neighbours[want], c) })
		if !slices.Contains(got, want) || len(others) > 0 {
			t.Errorf("capital of %s at %v: %v", want, at, got)
		}
	}
}

// metresPerDegreeWest is the length of a degree of longitude at 50 N: 71 695 m
// (WGS84, worked out in facts/engineering.md, section 8.1).
const metresPerDegreeWest = 71_695.0

// Places from memory. The border of Ontario and Manitoba runs down the
// meridian 95°09'11.6" W from the north-west angle inlet to 53 N, the 49th
// parallel and the four corners (37 N, 109°03' W) are what their names say.
func TestKnownPoints(t *testing.T) {
	ix := shipped(t)
	for _, tc := range []struct {
		name     string
		lat, lon float64
		want     string
	}{
		{"Plattsburgh", 44.6995, -73.4529, "US-NY"},
		{"Montreal", 45.5019, -73.5674, "CA-QC"},
		{"Vancouver, Washington, on the Columbia", 45.63, -122.66, "US-OR US-WA"},
		{"Gatineau, on the Ottawa", 45.4283, -75.7117, "CA-ON CA-QC"},
		{"Chaudière bridge, Ottawa", 45.4203, -75.7200, "CA-ON CA-QC"},
		{"Lloydminster, across the border", 53.2783, -110.0, "CA-AB CA-SK"},
		{"Windsor, facing Detroit", 42.3149, -83.0364, "CA-ON US-MI"},
		{"Cornwall, facing New York", 45.0213, -74.7281, "CA-ON US-NY"},
		{"49th parallel", 49.0, -98.0, "CA-MB US-ND"},
		{"four corners", 36.99904, -109.04522, "US-AZ US-CO US-NM US-UT"},
		{"1 km west of the border of Ontario", 50, -95.1533 - 1000/metresPerDegreeWest, "CA-MB CA-ON"},
		{"1 km east of the border of Manitoba", 50, -95.1533 + 1000/metresPerDegreeWest, "CA-MB CA-ON"},
		{"20 km west of the border of Ontario", 50, -95.1533 - 20_000/metresPerDegreeWest, "CA-MB"},
		{"20 km east of the border of Manitoba", 50, -95.1533 + 20_000/metresPerDegreeWest, "CA-ON"},
		{"the Atlantic", 45, -50, ""},
		{"Hudson Bay", 59, -85, ""},
		{"Mexico City", 19.4326, -99.1332, ""},
		{"off Africa", 0, 0, ""},
		{"North Pole", 90, 0, ""},
		{"South Pole", -90, 0, ""},
		{"the other side of the world from Ottawa", -45.4215, 104.3028, ""},
		{"no number", math.NaN(), math.NaN(), ""},
	} {
		if got := strings.Join(ix.At(orb.Point{tc.lon, tc.lat}), " "); got != tc.want {
			t.Errorf("%s: %q, want %q", tc.name, got, tc.want)
		}
	}
}

// Towns beside a border that is a parallel of latitude, from memory. Each must
// have its own side among the answers; a few kilometres of the other side do
// no harm.
func TestTownsOnParallels(t *testing.T) {
	ix := shipped(t)
	for _, tc := range []struct {
		name     string
		lat, lon float64
		want     string
	}{
		{"Fort Smith, on 60 N", 60.0050, -111.8833, "CA-NT"},
		{"Osoyoos, 3 km north of 49 N", 49.0325, -119.4682, "CA-BC"},
		{"Emerson, on 49 N", 49.0053, -97.2050, "CA-MB"},
		{"Coronach, 12 km north of 49 N", 49.1136, -105.5156, "CA-SK"},
		{"Sweetgrass, on 49 N", 48.9958, -111.9600, "US-MT"},
		{"Labrador, 3 km north of 52 N", 52.027, -60.4, "CA-NL"},
		{"Kansas, 3 km north of 37 N", 37.027, -98.5, "US-KS"},
		{"North Dakota, 3 km north of its south border", 45.970, -100.3, "US-ND"},
	} {
		if got := ix.At(orb.Point{tc.lon, tc.lat}); !slices.Contains(got, tc.want) {
			t.Errorf("%s: %v, want %s among them", tc.name, got, tc.want)
		}
	}
}

// In GeoJSON the line between two positions is straight in longitude and
// latitude (RFC 7946, 2016, section 3.1.1): between two far corners on a
// parallel the border is the parallel, not the great circle, which passes up
// to 50 km north of the 60th. Every point of a shipped border is answered with
// the area whose border it is.
func TestBordersAreStraightInDegrees(t *testing.T) {
	ix := shipped(t)
	const step = 0.25 // degrees
	for _, r := range ix.areas {
		code := r.code
		asked, missed, at := 0, 0, orb.Point{}
		for _, polygon := range r.polygons() {
			for _, ring := range polygon {
				for _, p := range along(ring, step) {
					asked++
					if !slices.Contains(ix.At(p), code) {
						missed, at = missed+1, p
					}
				}
			}
		}
		if missed > 0 {
			t.Errorf("%s: %d of %d points of its border are not answered with it, such as %v: %v", code, missed, asked, at, ix.At(at))
		}
	}
}

// along lists points on the sides of a ring longer than step, in degrees, a
// step or less apart.
func along(ring orb.Ring, step float64) []orb.Point {
	var out []orb.Point
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		parts := math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1]) / step)
		for k := 1.0; k < parts; k++ {
			out = append(out, orb.Point{a[0] + k/parts*(b[0]-a[0]), a[1] + k/parts*(b[1]-a[1])})
		}
	}
	return out
}

// Parliament Hill stands 1 km from the interprovincial border in the river
// (from memory). Whether the small-scale border is within the tolerance there
// is the data's matter; that Ontario is among the answers is not.
func TestOttawa(t *testing.T) {
	got := shipped(t).At(orb.Point{-75.6972, 45.4215})
	if s := strings.Join(got, " "); s != "CA-ON" && s != "CA-ON CA-QC" {
		t.Errorf("Ottawa: %v", got)
	}
}

// Whoever stands within the tolerance of an area has it among the answers.
func TestNearAnAreaItIsAnswered(t *testing.T) {
	ix := shipped(t)
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) orb.Point {
			return orb.Point{rapid.Float64Range(-141, -52).Draw(t, name+" lon"), rapid.Float64Range(25, 70).Draw(t, name+" lat")}
		}
		p := draw("place")
		by := s1.Angle(rapid.Float64Range(0, 0.99*Tolerance).Draw(t, "metres") / earthRadius)
		ll := s2.LatLngFromPoint(s2.InterpolateAtDistance(by, point(p), point(draw("towards"))))
		q := orb.Point{ll.Lng.Degrees(), ll.Lat.Degrees()}
		at := ix.At(q)
		for _, r := range ix.areas {
			if r.holds(p) && !slices.Contains(at, r.code) {
				t.Fatalf("%v lies in %s; %v, less than the tolerance away, is answered %v", p, r.code, q, at)
			}
		}
	})
}

// feature writes one GeoJSON feature; the empty texts give a square of one
// degree in Ontario.
func feature(properties, geometry string) string {
	if properties == "" {
		properties = `{"code":"CA-ON","name":"Ontario","time_zone":"America/Toronto","other_zones":[]}`
	}
	if geometry == "" {
		geometry = `{"type":"Polygon","coordinates":[[[-80,45],[-79,45],[-79,46],[-80,46],[-80,45]]]}`
	}
	return fmt.Sprintf(`{"type":"Feature","properties":%s,"geometry":%s}`, properties, geometry)
}

func collection(features ...string) string {
	return `{"type":"FeatureCollection","features":[` + strings.Join(features, ",") + `]}`
}

// read reports a panic as an error that no test expects.
func read(raw []byte) (ix *Index, panicked any, err error) {
	defer func() { panicked = recover() }()
	areas, err := FromGeoJSON(raw)
	if err == nil {
		ix, err = New(areas, Tolerance)
	}
	return ix, nil, err
}

// second is a good feature followed by a bad one, so that "feature 1" in an
// error is the right one.
func second(properties, geometry string) string {
	first := feature(`{"code":"CA-QC","name":"Québec","time_zone":"America/Toronto"}`, "")
	return collection(first, feature(properties, geometry))
}

type unfitCase struct{ name, raw, names string }

// unfit lists input that must be refused, by what the error must name. The
// rules of rings are those of RFC 7946 (2016), section 3.1.6: closed, of four
// or more positions.
func unfit() []unfitCase {
	polygon := func(coordinates string) string { return `{"type":"Polygon","coordinates":` + coordinates + `}` }
	return []unfitCase{
		{"nothing", "", "jurisdictions"},
		{"no JSON", "{", "jurisdictions"},
		{"no collection", `{"type":"Feature"}`, "jurisdictions"},
		{"no feature", collection("null"), "feature 0"},
		{"no code", second(`{"name":"x","time_zone":"America/Toronto"}`, ""), "feature 1"},
		{"code without dash", second(`{"code":"CAON","time_zone":"America/Toronto"}`, ""), "feature 1"},
		{"code too short", second(`{"code":"CA-","time_zone":"America/Toronto"}`, ""), "feature 1"},
		{"code a number", second(`{"code":7,"time_zone":"America/Toronto"}`, ""), "feature 1"},
		{"name a list", second(`{"code":"CA-ON","name":[],"time_zone":"America/Toronto"}`, ""), "feature 1"},
		{"no zone", second(`{"code":"CA-ON","name":"x"}`, ""), "feature 1"},
		{"zone unknown", second(`{"code":"CA-ON","time_zone":"America/Ottawa"}`, ""), "feature 1"},
		{"zone of the machine", second(`{"code":"CA-ON","time_zone":"Local"}`, ""), "feature 1"},
		{"zone a number", second(`{"code":"CA-ON","time_zone":-5}`, ""), "feature 1"},
		{"other zone unknown", second(`{"code":"CA-ON","time_zone":"America/Toronto","other_zones":["x"]}`, ""), "feature 1"},
		{"other zones no list", second(`{"code":"CA-ON","time_zone":"America/Toronto","other_zones":"America/Winnipeg"}`, ""), "feature 1"},
		{"twice", collection(feature("", ""), feature("", "")), "CA-ON"},
		{"no geometry", second("", "null"), "feature 1"},
		{"a point", second("", `{"type":"Point","coordinates":[-80,45]}`), "feature 1"},
		{"no polygons", second("", `{"type":"MultiPolygon","coordinates":[]}`), "feature 1"},
		{"no ring", second("", polygon(`[]`)), "feature 1"},
		{"empty ring", second("", polygon(`[[]]`)), "feature 1"},
		{"two positions", second("", polygon(`[[[-80,45],[-79,45]]]`)), "feature 1"},
		{"three positions", second("", polygon(`[[[-80,45],[-79,45],[-80,45]]]`)), "feature 1"},
		{"open ring", second("", polygon(`[[[-80,45],[-79,45],[-79,46],[-80,46]]]`)), "feature 1"},
		{"beyond the pole", second("", polygon(`[[[-80,45],[-79,45],[-79,96],[-80,45]]]`)), "feature 1"},
		{"beyond the world", second("", polygon(`[[[-280,45],[-79,45],[-79,46],[-280,45]]]`)), "feature 1"},
	}
}

func TestFromGeoJSONRefuses(t *testing.T) {
	for _, bad := range unfit() {
		t.Run(bad.name, func(t *testing.T) {
			_, panicked, err := read([]byte(bad.raw))
			switch {
			case panicked != nil:
				t.Errorf("panic: %v", panicked)
			case err == nil:
				t.Error("was read")
			case !strings.Contains(err.Error(), bad.names) || strings.Contains(err.Error(), "%!"):
				t.Errorf("error %q, want one that names %q", err, bad.names)
			}
		})
	}
}

// A hole belongs to no one: a lake is not the province around it.
func TestReadHole(t *testing.T) {
	ring := func(lon, lat, side float64) orb.Ring {
		return orb.Ring{{lon, lat}, {lon + side, lat}, {lon + side, lat + side}, {lon, lat + side}, {lon, lat}}
	}
	hole := ring(-79.75, 45.25, 0.5)
	backwards := hole.Clone()
	backwards.Reverse()
	for name, inner := range map[string]orb.Ring{"wound either way": hole, "wound the other": backwards} {
		coordinates, err := json.Marshal(orb.Polygon{ring(-80, 45, 1), inner})
		if err != nil {
			t.Fatal(err)
		}
		ix, _, err := read([]byte(collection(feature("", `{"type":"Polygon","coordinates":`+string(coordinates)+`}`))))
		if err != nil {
			t.Fatal(err)
		}
		if got := ix.At(orb.Point{-79.5, 45.5}); len(got) != 0 {
			t.Errorf("%s: in the hole %v", name, got)
		}
		if got := ix.At(orb.Point{-79.9, 45.5}); !slices.Equal(got, []string{"CA-ON"}) {
			t.Errorf("%s: beside the hole %v", name, got)
		}
	}
}

func FuzzFromGeoJSON(f *testing.F) {
	f.Add([]byte(collection(feature("", ""))))
	for _, bad := range unfit() {
		f.Add([]byte(bad.raw))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		if len(raw) > 4096 {
			return
		}
		ix, panicked, err := read(raw)
		if panicked != nil {
			t.Fatalf("panic: %v", panicked)
		}
		if err == nil {
			ix.At(orb.Point{-79.5, 45.5})
		}
	})
}

// Cells of s2 by level. Source: S2 Cell Statistics,
// s2geometry.io/resources/s2cell_statistics: average area 85 011 012.19,
// 332 074.27 and 1 297.17 km2 at levels 0, 4 and 8, and 6*4^level cells. It
// holds the radius that turns the angles of s2 into metres here; the printed
// figures round to 1e-5, and their own radius is 6371.01 km.
func TestEarthRadiusAgainstS2Statistics(t *testing.T) {
	for _, tc := range []struct {
		level  int
		square float64 // km2
	}{{0, 85_011_012.19}, {4, 332_074.27}, {8, 1_297.17}} {
		cells := 6 * math.Pow(4, float64(tc.level))
		sphere := 4 * math.Pi * earthRadius * earthRadius / 1e6 / cells
		average := s2.AvgAreaMetric.Value(tc.level) * earthRadius * earthRadius / 1e6
		for name, got := range map[string]float64{"sphere over cells": sphere, "s2": average} {
			if math.Abs(got/tc.square-1) > 1e-5 {
				t.Errorf("level %d, %s: %.2f km2, want %.2f", tc.level, name, got, tc.square)
			}
		}
	}
}

func TestS2CellsCoverTheSphere(t *testing.T) {
	const level = 4
	cells, area := 0, 0.0
	for face := range 6 {
		root := s2.CellIDFromFace(face)
		for id := root.ChildBeginAtLevel(level); id != root.ChildEndAtLevel(level); id = id.Next() {
			cells++
			area += s2.CellFromCellID(id).ExactArea()
		}
	}
	if cells != 1536 || math.Abs(area-4*math.Pi) > 1e-9 {
		t.Errorf("%d cells of %.12f steradians, want 1536 of 4 pi", cells, area)
	}
}

// Where Same says so, every point within reach has the same answer.
func TestSame(t *testing.T) {
	ix := shipped(t)
	sure := 0
	rapid.Check(t, func(t *rapid.T) {
		p := orb.Point{rapid.Float64Range(-140, -55).Draw(t, "lon"), rapid.Float64Range(25, 70).Draw(t, "lat")}
		reach := rapid.Float64Range(0, 50_000).Draw(t, "reach")
		if !ix.Same(p, reach) {
			return
		}
		sure++
		turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
		out := rapid.Float64Range(0, 1).Draw(t, "out") * reach / earthRadius * 180 / math.Pi
		q := orb.Point{p[0] + out*math.Cos(turn)/math.Cos(p[1]*math.Pi/180)*0.99, p[1] + out*math.Sin(turn)*0.99}
		if a, b := ix.At(p), ix.At(q); !slices.Equal(a, b) {
			t.Fatalf("%v: %v, %v within %.0f m of it: %v", p, a, q, reach, b)
		}
	})
	if sure == 0 {
		t.Error("nothing was the same anywhere")
	}
}

func TestNew(t *testing.T) {
	square := func(west float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{west, 0}, {west + 1, 0}, {west + 1, 1}, {west, 1}, {west, 0}}}}
	}
	ix, err := New([]Area{{Jurisdiction{Code: "XA-A"}, square(0)}, {Jurisdiction{Code: "XA-B"}, square(1)}}, 30)
	if err != nil {
		t.Fatal(err)
	}
	const metre = 1 / 111_320.0 // of longitude at the equator, in degrees
	for off, want := range map[float64]string{-100: "[XA-A]", -25: "[XA-A XA-B]", 25: "[XA-A XA-B]", 100: "[XA-B]"} {
		if got := fmt.Sprint(ix.At(orb.Point{1 + off*metre, 0.5})); got != want {
			t.Errorf("%v m east of the border: %s, want %s", off, got, want)
		}
	}
	if _, err := New([]Area{{Jurisdiction{Code: "XA-A"}, square(0)}, {Jurisdiction{Code: "XA-A"}, square(1)}}, 30); err == nil {
		t.Error("a code stands twice")
	}
	if _, err := New([]Area{{Jurisdiction{Code: "XA-A"}, nil}}, 30); err == nil {
		t.Error("an area without a polygon was taken")
	}
}

// What is packed is read back as it was, and bytes that are cut off or of something else
// are refused.
func TestPack(t *testing.T) {
	areas, err := FromGeoJSON([]byte(collection(feature("", ""))))
	if err != nil {
		t.Fatal(err)
	}
	raw, err := Pack(areas)
	if err != nil {
		t.Fatal(err)
	}
	ix, err := Read(raw)
	if err != nil {
		t.Fatal(err)
	}
	if j, _ := ix.ByCode("CA-ON"); !reflect.DeepEqual(j, areas[0].Jurisdiction) || !reflect.DeepEqual(ix.areas[0].polygons(), areas[0].Geometry) {
		t.Errorf("%+v, %v", j, ix.areas[0].polygons())
	}
	for n := range len(raw) {
		if _, err := Read(raw[:n]); err == nil {
			t.Errorf("%d bytes of %d were read", n, len(raw))
		}
	}
	if _, err := Pack(append(areas, areas[0])); err == nil {
		t.Error("an area was packed twice")
	}
}

// A region is asked whenever a point is near enough to count: an answer is that of its
// polygons alone, wherever its bounds are, on both sides of the 180th meridian too.
func TestBoundsHideNothing(t *testing.T) {
	ix := shipped(t)
	rapid.Check(t, func(t *rapid.T) {
		p := orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(15, 85).Draw(t, "lat")}
		reach := rapid.Float64Range(0, 100_000).Draw(t, "reach")
		for _, r := range ix.areas {
			if !r.within(p, reach) && (r.holds(p) || r.near(p, reach)) {
				t.Fatalf("%v is near %s, beyond its bounds", p, r.code)
			}
		}
	})
}
