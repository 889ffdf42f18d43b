package wire

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"wayhouse/regs/measure"
)

const (
	square = `[[-75,45],[-74,45],[-74,46],[-75,45]]`
	other  = `[[-73,45],[-72,45],[-72,46],[-73,46],[-73,45]]`
)

func polygon(rings string) string {
	return `{"type":"Polygon","coordinates":[` + rings + `]}`
}

func TestGeoJSONAreas(t *testing.T) {
	for name, tc := range map[string]struct {
		doc  string
		want int // areas; 0: refused with
		says string
	}{
		"polygon":               {polygon(square), 1, ""},
		"with altitudes":        {polygon(`[[-75,45,9],[-74,45,9],[-74,46,9],[-75,45,9]]`), 1, ""},
		"multipolygon":          {`{"type":"MultiPolygon","coordinates":[[` + square + `],[` + other + `]]}`, 2, ""},
		"feature":               {feature(polygon(square)), 1, ""},
		"collection":            {collection(feature(polygon(square)), feature(polygon(other))), 2, ""},
		"nothing":               {`{}`, 0, `has a ""`},
		"text":                  {`"north"`, 0, "no GeoJSON object"},
		"empty collection":      {collection(), 0, "no polygon"},
		"feature of nothing":    {feature("null"), 0, "no polygon"},
		"line":                  {`{"type":"LineString","coordinates":` + square + `}`, 0, `"LineString", which is no area`},
		"line beside":           {collection(feature(polygon(square)), feature(`{"type":"Point","coordinates":[-75,45]}`)), 0, `"Point"`},
		"hole":                  {polygon(square + "," + other), 0, "2 rings"},
		"no ring":               {polygon(""), 0, "0 rings"},
		"rings that are none":   {`{"type":"Polygon","coordinates":7}`, 0, "no list of rings"},
		"no coordinates":        {`{"type":"Polygon"}`, 0, "no list of rings"},
		"positions that are no": {polygon("7"), 0, "no list of positions"},
		"open":                  {polygon(`[[-75,45],[-74,45],[-74,46]]`), 0, "last point is not its first"},
		"two points":            {polygon(`[[-75,45],[-74,45],[-75,45],[-75,45]]`), 0, "2 different points"},
		"empty ring":            {polygon(`[]`), 0, "0 different points"},
		"off Earth":             {polygon(`[[-75,45],[-74,95],[-74,46],[-75,45]]`), 0, "position 1 that is no longitude and latitude"},
		"null":                  {polygon(`[[-75,null],[-74,45],[-74,46],[-75,null]]`), 0, "without longitude and latitude"},
	} {
		got, err := geoJSONAreas(decoded(t, tc.doc))
		if len(got) != tc.want || (err == nil) != (tc.want > 0) || err != nil && !strings.Contains(english(err), tc.says) {
			t.Errorf("%s: %v, %v; want %d or %q", name, got, err, tc.want, tc.says)
		}
	}
}

// An area that is read bounds something, whatever the document.
func FuzzGeoJSONAreas(f *testing.F) {
	for _, doc := range []string{polygon(square), polygon(square + "," + other), collection(feature(polygon(square))), `{"type":"MultiPolygon","coordinates":[[` + square + `]]}`, `{"type":"Polygon","coordinates":[null]}`, `null`} {
		f.Add(doc)
	}
	f.Fuzz(func(t *testing.T, doc string) {
		var v any
		if json.Unmarshal([]byte(doc), &v) != nil {
			return
		}
		areas, err := geoJSONAreas(v)
		if (err == nil) != (len(areas) > 0) {
			t.Fatalf("%v, %v", areas, err)
		}
		for _, a := range areas {
			if len(a) != 1 || len(a[0]) < 4 || a[0][0] != a[0][len(a[0])-1] {
				t.Fatalf("%v", a)
			}
		}
	})
}

// wish is a trip with one wish.
func wish(name, text string) string { return fmt.Sprintf(`{"wishes": {%q: %q}}`, name, text) }

func TestDurations(t *testing.T) {
	for text, want := range map[string]time.Duration{
		"30 min": 30 * time.Minute, "2 h": 2 * time.Hour, "1 h 30 min": 90 * time.Minute, "1h30m": 90 * time.Minute, "90m": 90 * time.Minute,
		"2 hours": 2 * time.Hour, "1 hour": time.Hour, "1.5 h": 90 * time.Minute, "45 minutes": 45 * time.Minute, "1 minute": time.Minute, "0 min": 0, "90 s": 90 * time.Second,
	} {
		q := Decode[TripRequest]([]byte(wish("permit_cost", text))).Said
		if q.Wishes == nil || q.Wishes.PermitCost.Or(-1) != want {
			t.Errorf("%q: %+v; want %v", text, q.Wishes, want)
		}
	}
	for _, text := range []string{"", " ", "30", "0", "1.5", "half an hour", "30 mins of it", "2 days", "min", "h"} {
		if e := refusedOne(t, wish("permit_cost", text), "wishes.permit_cost"); e.Value != text || !strings.Contains(e.Fix, "30 min") {
			t.Errorf("%q: %+v", text, e)
		}
	}
}

func TestTopSpeed(t *testing.T) {
	for text, want := range map[string]measure.Speed{"90 km/h": 90 * measure.KilometrePerHour, "55 mph": 55 * measure.MilePerHour} {
		q := Decode[TripRequest]([]byte(wish("top_speed", text))).Said
		if q.Wishes == nil || math.Abs(float64(q.Wishes.TopSpeed.Or(0)-want)) > 1e-9 {
			t.Errorf("%q: %+v", text, q.Wishes)
		}
	}
	for text, says := range map[string]string{"90": "no unit", "": "empty", "fast": "", "0 mph": "zero", "-90 km/h": "negative", "90 m": "", "550 mph": "outside", "1 km/h": "outside"} {
		if e := refusedOne(t, wish("top_speed", text), "wishes.top_speed"); e.Value != text || !strings.Contains(e.Problem, says) {
			t.Errorf("%q: %+v, want %q", text, e, says)
		}
	}
}
