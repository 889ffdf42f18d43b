package wire

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

// every has a field of each kind that there is.
type every struct {
	Length   Length   `json:"length,omitzero"`
	Span     Span     `json:"span,omitzero"`
	Offset   Offset   `json:"offset,omitzero"`
	Mass     Mass     `json:"mass,omitzero"`
	Area     Area     `json:"area,omitzero"`
	Volume   Volume   `json:"volume,omitzero"`
	Power    Power    `json:"power,omitzero"`
	Force    Force    `json:"force,omitzero"`
	Pressure Pressure `json:"pressure,omitzero"`
	Speed    Speed    `json:"speed,omitzero"`
	Breeze   Breeze   `json:"breeze,omitzero"`
	Time     Time     `json:"time,omitzero"`
	Masses   []Mass   `json:"masses,omitempty" maxItems:"3"`
}

// A number in the unit of the suffix and a text in that unit are the same quantity.
// Units: SI, NIST SP 811 (2008), B.8.
func TestMeasuredFields(t *testing.T) {
	want := every{}
	set := func(text string, to any) {
		t.Helper()
		if err := json.Unmarshal([]byte(`"`+text+`"`), to); err != nil {
			t.Fatal(err)
		}
	}
	set("4.15 m", &want.Length)
	set("0 m", &want.Span)
	set("-0.3 m", &want.Offset)
	set("10886.2 kg", &want.Mass)
	set("1 m2", &want.Area)
	set("1 L", &want.Volume)
	set("1 kW", &want.Power)
	set("1 kN", &want.Force)
	set("550 kPa", &want.Pressure)
	set("90 km/h", &want.Speed)
	set("0 km/h", &want.Breeze)
	got := Decode[every]([]byte(`{"length_m": 4.15, "span_m": 0, "offset_m": -0.3, "mass_kg": 10886.2, "area_m2": 1, "volume_l": 1, "power_kw": 1, "force_kn": 1, "pressure_kpa": 550,
		"speed_kmh": 90, "breeze_kmh": 0}`))
	if got.Err() != nil || !reflect.DeepEqual(got.Said, want) {
		t.Errorf("%v\n%+v, want\n%+v", got.Err(), got.Said, want)
	}
	if *want.Length.Is != 4150*measure.Millimetre || *want.Offset.Is != -300*measure.Millimetre || *want.Volume.Is != measure.Litre || *want.Power.Is != 1000 || *want.Force.Is != 1000 {
		t.Errorf("%+v", want)
	}
	lists := Decode[every]([]byte(`{"masses_kg": [1000, 2000.5]}`)).Said.Masses
	if len(lists) != 2 || *lists[1].Is != 2000*measure.Kilogram+measure.Kilogram/2 {
		t.Errorf("%+v", lists)
	}
	if got := Decode[every]([]byte(`{"time": "1 h 30 min", "length": null}`)); got.Err() != nil || got.Said.Time.Or(0) != 90*time.Minute || got.Said.Length.Is != nil {
		t.Errorf("%+v", got)
	}
}

func TestMeasuredFieldsRefuse(t *testing.T) {
	for body, want := range map[string]string{
		`{"length": "4.15 m", "length_m": 4.15}`: `length "4.15 m": is given twice, as length and as length_m`,
		`{"length_m": -4}`:                       `length_m -4: is negative`,
		`{"length": 4.15}`:                       `length 4.15: is a number without a unit; say which, such as "4.15 m" or "4.15 ft", or use length_m`,
		`{"length_m": 1e300}`:                    `absurdly large`,
		`{"length_m": true}`:                     `is no number; give a number in m`,
		`{"length": false}`:                      `is no text`,
		`{"length_kg": 4}`:                       `length_kg "length_kg": is no field here`,
		`{"span": "-1 m"}`:                       `span "-1 m": is negative`,
		`{"power_kw": -0.3}`:                     `power_kw -0.3: is negative`,
		`{"time": "30"}`:                         `is no time with a unit; write it like 30 min`,
		`{"time_h": 1}`:                          `is no field here`,
		`{"masses": ["1 t", 5]}`:                 `masses[1] 5: is a number without a unit; say which, such as "5 kg" or "5 lb", or use masses_kg`,
		`{"masses": "1 t"}`:                      `is no list`,
		`{"masses_kg": [1, 2, 3, 4]}`:            `masses_kg: has 4 entries, more than 3`,
		`{"masses_kg": [1, "2 t"]}`:              `masses_kg[1] "2 t": is no number`,
	} {
		if err := Decode[every]([]byte(body)).Err(); err == nil || !strings.Contains(english(err), want) || strings.Contains(english(err), "\n") {
			t.Errorf("%s: %v, want %q", body, english(err), want)
		}
	}
}

// A misspelt field of many is answered with those that it may have been meant for.
func TestAMisspeltFieldIsAnsweredWithItsLikes(t *testing.T) {
	for body, want := range map[string]string{
		`{"unit": {"hieght": "4 m"}}`:  `unit.hieght "hieght": is no field here; check its spelling; there are height, `,
		`{"departure": "2027-05-11"}`:  `departure "departure": is no field here; check its spelling; there are depart, `,
		`{"unit": {"lenght_m": 12.5}}`: `unit.lenght_m "lenght_m": is no field here; check its spelling; there are length, `,
	} {
		if err := Decode[TripRequest]([]byte(body)).Err(); err == nil || !strings.Contains(english(err), want) {
			t.Errorf("%s: %v, want %q", body, english(err), want)
		}
	}
}

// A request that was read is written so that it reads the same, however its
// quantities were given.
func TestRequestsReadAsTheyAreWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		metres := rapid.Float64Range(0.001, 100).Draw(t, "metres")
		body := fmt.Sprintf(`{"unit": {"height_m": %g, "mass": "%g lb"}, "rig": {"front_overhang_m": 0}}`, math.Round(metres*1e6)/1e6, math.Round(metres*1e3))
		first := Decode[TripRequest]([]byte(body))
		raw, err := json.Marshal(first.Said)
		if err != nil || first.Err() != nil {
			t.Fatalf("%s: %v, %v", body, err, first.Err())
		}
		if again := Decode[TripRequest](raw); again.Err() != nil || !reflect.DeepEqual(first.Said, again.Said) {
			t.Fatalf("%s\n%s: %v", body, raw, again.Err())
		}
	})
}

// The published schema has both names of a measured field, and nothing of how it is
// read.
func TestTwins(t *testing.T) {
	r := huma.NewMapRegistry("#/", huma.DefaultSchemaNamer)
	r.Schema(reflect.TypeFor[every](), true, "")
	Twins(r.Map())
	raw, err := json.Marshal(r)
	if err != nil || strings.Contains(string(raw), measured) {
		t.Errorf("%v: %s", err, raw)
	}
	s := r.Map()["every"]
	if s == nil {
		s = r.Map()["Every"]
	}
	for name, kind := range map[string]string{"length": "string", "length_m": "number", "mass_kg": "number", "speed_kmh": "number", "masses": "array", "masses_kg": "array", "time": "string"} {
		if p := s.Properties[name]; p == nil || p.Type != kind {
			t.Errorf("%s: %+v, want %s", name, p, kind)
		}
	}
	if s.Properties["masses_kg"].Items.Type != "number" || s.Properties["masses"].Items.Type != "string" || s.Properties["time_h"] != nil || s.Properties["time"+""].Extensions != nil {
		t.Errorf("%+v", s.Properties)
	}
}

func FuzzDecode(f *testing.F) {
	for _, s := range []string{
		`{"unit": {"height_m": 4.15}}`, `{"unit": 5}`, `[]`, `{`, `{"stops": [null]}`, `{"wishes": {"permit_costs": {"CA-ON": "30 min"}}}`,
		`{"unit": {"scale_ticket": {"axles_kg": [1, null]}}}`, `{"Name": "x", "name": 4}`, `{"unit": {"height_m": 1e400}}`, `{"unit": {"axles": 1e30}}`,
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, body string) {
		a := Decode[TripRequest]([]byte(body))
		for _, e := range append([]FieldError{}, refusedOf(a)...) {
			if e.Field == "" || e.Problem.None() || e.Fix.None() || strings.Contains(e.Problem.String(), "Request") || strings.Contains(e.Problem.String(), "Go ") {
				t.Errorf("%q: %+v", body, e)
			}
		}
	})
}

func refusedOf[Q any](a Asked[Q]) []FieldError {
	if a.Refused == nil {
		return nil
	}
	return a.Refused.Errors
}
