package area

import (
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"

	"wayhouse/data"
)

func shipped(t testing.TB) *Index {
	t.Helper()
	raw, err := data.Files.ReadFile("areas/jurisdictions.geojson")
	if err != nil {
		t.Fatal(err)
	}
	ix, err := Read(raw)
	if err != nil {
		t.Fatal(err)
	}
	return ix
}

func TestShipped(t *testing.T) {
	count := map[string]int{}
	for _, j := range shipped(t).All() {
		count[j.Country]++
		if j.Name == "" || j.TimeZone == "" {
			t.Errorf("%+v", j)
		}
	}
	if count["CA"] != 13 || count["US"] != 51 {
		t.Errorf("areas by country: %v", count)
	}
}

// Places told from memory; a point in no area is unknown, never the nearest,
// and near a border both sides are answered. The border of Ontario and Manitoba
// runs along about 95.153 degrees west at 50 degrees north (from memory).
func TestAt(t *testing.T) {
	ix := shipped(t)
	for name, tc := range map[string]struct {
		at   orb.Point
		want string
	}{
		"Toronto":              {orb.Point{-79.45, 43.75}, "CA-ON"},
		"Regina":               {orb.Point{-104.6, 50.45}, "CA-SK"},
		"Denver":               {orb.Point{-104.9, 39.7}, "US-CO"},
		"Ottawa, by the river": {orb.Point{-75.70, 45.425}, "CA-ON CA-QC"},
		"west of the border":   {orb.Point{-95.165, 50}, "CA-MB CA-ON"},
		"east of the border":   {orb.Point{-95.140, 50}, "CA-MB CA-ON"},
		"well east of it":      {orb.Point{-94.85, 50}, "CA-ON"},
		"the Atlantic":         {orb.Point{-40, 45}, ""},
		"Mexico City":          {orb.Point{-99.13, 19.43}, ""},
		"zero":                 {orb.Point{0, 0}, ""},
		"the pole":             {orb.Point{0, 90}, ""},
	} {
		if got := strings.Join(ix.At(tc.at), " "); got != tc.want {
			t.Errorf("%s: %q, want %q", name, got, tc.want)
		}
	}
}

// S2 cell statistics (s2geometry.io/resources/s2cell_statistics): the average
// area of a cell is 332 074.27 km2 at level 4 and 1 297.17 km2 at level 8, with
// 6*4^level cells. The sphere that nearness is measured on must give the same.
func TestSphere(t *testing.T) {
	for level, want := range map[int]float64{4: 332_074.27, 8: 1_297.17} {
		got := s2.AvgAreaMetric.Value(level) * earthRadius * earthRadius / 1e6
		if got/want < 0.999 || got/want > 1.001 {
			t.Errorf("level %d: %.2f km2, want %.2f", level, got, want)
		}
	}
}

func TestReadRefuses(t *testing.T) {
	feature := func(properties string) string {
		return `{"type":"FeatureCollection","features":[{"type":"Feature","properties":` + properties +
			`,"geometry":{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,0]]]}}]}`
	}
	for raw, want := range map[string]string{
		"":            "jurisdictions",
		"{":           "jurisdictions",
		feature(`{}`): "feature 0",
		feature(`{"code":"CA-ON","time_zone":"Nowhere/Town"}`): "Nowhere/Town",
		feature(`{"code":"CA-ON","time_zone":""}`):             "time zone",
	} {
		if _, err := Read([]byte(raw)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", raw, err)
		}
	}
	if !slices.IsSorted(shipped(t).codes) {
		t.Error("codes are not sorted")
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(`{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"code":"CA-ON","time_zone":"UTC"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,0]]]}}]}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		if ix, err := Read(raw); err == nil {
			ix.At(orb.Point{0.5, 0.5})
		}
	})
}
