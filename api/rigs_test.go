package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"math/big"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"wayhouse/api"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
)

// described is a question about the rig of data/example.
func described(t testing.TB, more ...object) object {
	t.Helper()
	q := object{"unit": fileFields(t, "unit.yaml"), "tow": fileFields(t, "tow.yaml")}
	for _, m := range more {
		for k, v := range m {
			q[k] = v
		}
	}
	return q
}

func reported(t testing.TB, q object) wire.RigReport {
	t.Helper()
	w := ask(t.Context(), handler(), http.MethodPost, "/v1/rigs", text(q))
	expect(t, w, http.StatusOK, "application/json")
	return read[wire.RigReport](t, w)
}

// The example has everything: nothing of it is left unknown for want of a figure.
func TestRigOfTheExample(t *testing.T) {
	r := reported(t, described(t, object{"in": []string{"CA-ON"}}))
	if r.Mark != wire.InventedMark || r.Basis != "parts" || len(r.Missing) != 0 || len(r.Centre.Missing) != 0 || len(r.Axles) != 5 || r.Holding == nil || r.Holding.Unknown != "" {
		t.Errorf("%+v", r)
	}
	if r.Stability.RigidG == nil || r.Underneath.CrestM == nil || r.Turning.Unknown != "" || r.Drag.Unknown != "" || r.NoGrades != "" || r.Trip != nil {
		t.Errorf("%+v", r)
	}
	// Planning share of a gooseneck, and the mass that is given, as the example says.
	if r.Share.Likely < 0.15 || r.Share.Likely > 0.25 || r.Parts.LowKG > 6350 || r.Parts.HighKG < 6350 {
		t.Errorf("share %+v, parts %+v", r.Share, r.Parts)
	}
	duties := 0
	for _, f := range r.Findings {
		clear := slices.Contains([]finding.Rule{rig.RuleBending, rig.RuleSteering, rig.RuleLevel}, f.Rule) // by sizes, as described
		if (f.Outcome == finding.Clear) != clear {
			t.Errorf("%s is %s, and nothing was weighed", f.Rule, f.Outcome)
		}
		if f.Mark != wire.InventedMark || f.Ask == "" && !clear {
			t.Errorf("%+v", f)
		}
		if f.Jurisdiction == "CA-ON" {
			duties++
		}
	}
	if duties == 0 {
		t.Error("Ontario asks for nothing")
	}
	sum := 0.0
	for _, a := range r.Axles {
		sum += a.Mass.LikelyKG
	}
	if math.Abs(sum-r.Whole.LikelyKG) > 1e-6 {
		t.Errorf("axles carry %v kg, the rig weighs %v", sum, r.Whole.LikelyKG)
	}
}

// With stops the rig is driven along the way.
func TestRigOnAWay(t *testing.T) {
	r := reported(t, described(t, object{"stops": []object{{"place": "Perth, ON"}, {"place": "Cornwall, ON"}}, "depart": "2027-05-11T08:00",
		"conditions": object{"wind": "30 km/h", "wind_from": 270, "temperature_c": -20, "idle": "1h"}}))
	if r.Trip == nil || r.Trip.Road == nil {
		t.Fatal("no way")
	}
	road := r.Trip.Road
	if road.Fuel.LowL == nil || *road.Fuel.LowL >= *road.Fuel.HighL || road.CarbonKG == nil || len(road.Speeds) == 0 || len(road.Corners) == 0 {
		t.Errorf("%+v", road)
	}
	if !strings.Contains(road.Air, "-20") || !strings.Contains(road.Air, "30 km/h") {
		t.Errorf("%q", road.Air)
	}
	// Those that could not be driven come first, then the widest.
	for i := 1; i < len(road.Corners); i++ {
		before, c := road.Corners[i-1], road.Corners[i]
		if c.SweptM == nil && before.SweptM != nil || c.SweptM != nil && before.SweptM != nil && *c.SweptM > *before.SweptM || (c.SweptM == nil) != (c.Unknown != "") {
			t.Errorf("corner %d after %+v: %+v", i, before, c)
		}
	}
	if road.Corners[len(road.Corners)-1].SweptM == nil {
		t.Error("no corner could be driven")
	}
}

// A scale's ticket clears what it weighs, and nothing else.
func TestTicketClears(t *testing.T) {
	q := described(t)
	q["unit"].(object)["mass"] = nil
	delete(q["unit"].(object), "mass")
	q["unit"].(object)["scale_ticket"] = object{"weighed_on": "2027-04-30", "coupling": "1,180 kg", "axles_kg": []float64{1710, 1725, 1740}, "left": "2,580 kg", "right": "2,595 kg"}
	r := reported(t, q)
	if r.Basis != "the scale" || r.Unit.LikelyKG != 6355 || r.Unit.LowKG != r.Unit.HighKG || *r.Rig.MassKG != 6355+3720 {
		t.Errorf("%q, %+v, %v", r.Basis, r.Unit, r.Rig.MassKG)
	}
	for _, f := range r.Findings {
		// What the tow vehicle carries empty is as given: only a scale under both clears it.
		weighed := slices.Contains([]string{"unit rating", "coupling rating", "towed rating", "unit axle rating", "side to side"}, string(f.Rule)) ||
			// by sizes and places, as described
			f.Rule == rig.RuleBending || f.Rule == "level" || f.Rule == "steering axle"
		if weighed != (f.Outcome == finding.Clear) {
			t.Errorf("%s %s: %s, %q", f.Rule, f.Place, f.Outcome, f.Summary)
		}
	}
}

// inUnits writes every quantity of a request in other units that are exactly the
// same: customary ones are rounded to what is exact in both, then written as they
// are, as metric texts, or as numbers.
func inUnits(v any, form string) any {
	switch v := v.(type) {
	case object:
		out := object{}
		for k, of := range v {
			if s, ok := of.(string); ok && k != "check" && k != "name" {
				key, value := quantity(k, s, form)
				out[key] = value
				continue
			}
			out[k] = inUnits(of, form)
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i := range v {
			out[i] = inUnits(v[i], form)
		}
		return out
	default:
		return v
	}
}

// quantity writes one quantity; what is none stays.
func quantity(key, s, form string) (string, any) {
	write := func(amount *big.Rat, customary, metric, suffix string, factor *big.Rat) (string, any) {
		in := new(big.Rat).Mul(amount, factor)
		switch form {
		case "customary":
			return key, amount.FloatString(4) + " " + customary
		case "metric":
			return key, strings.TrimRight(in.FloatString(18), "0") + "0 " + metric
		default:
			n, _ := in.Float64()
			return key + suffix, n
		}
	}
	nearest := func(v, unit float64, steps int64) *big.Rat {
		return big.NewRat(int64(math.Round(v/unit*float64(steps))), steps)
	}
	rat := func(s string) *big.Rat { r, _ := new(big.Rat).SetString(s); return r }
	if l, err := measure.ParseOffset(s); err == nil {
		return write(nearest(l.Metres(), 0.0254, 16), "in", "m", "_m", rat("0.0254"))
	}
	if m, err := measure.ParseMass(s); err == nil {
		return write(nearest(m.Kilograms(), 0.45359237, 1), "lb", "kg", "_kg", rat("0.45359237"))
	}
	if a, err := measure.ParseArea(s); err == nil {
		return write(nearest(float64(a), 0.09290304, 10), "sq ft", "m2", "_m2", rat("0.09290304"))
	}
	if v, err := measure.ParseVolume(s); err == nil {
		return write(nearest(float64(v), 0.003785411784, 10), "US gal", "L", "_l", rat("3.785411784"))
	}
	if f, err := measure.ParseForce(s); err == nil {
		return write(nearest(float64(f), 4.4482216152605, 1), "lbf", "kN", "_kn", rat("0.0044482216152605"))
	}
	if p, err := measure.ParsePower(s); err == nil {
		return write(nearest(float64(p), 745.69987158227022, 1), "hp", "kW", "_kw", rat("0.74569987158227022"))
	}
	return key, s
}

// No finding changes when the same comes in other units, nor does anything else of
// the answer but what is printed of the figures as they were given.
func TestRigInOtherUnits(t *testing.T) {
	base := described(t)
	delete(base["unit"].(object), "mass")
	customary := reported(t, inUnits(base, "customary").(object))
	for _, form := range []string{"metric", "number"} {
		if diff := cmp.Diff(customary, reported(t, inUnits(base, form).(object)), cmpopts.IgnoreUnexported(wire.RigReport{})); diff != "" {
			t.Errorf("%s (-customary +%s):\n%.3000s", form, form, diff)
		}
	}
}

// A rating at the very mass clears it in either system, and the least bit below it
// does not.
func TestRatingAtTheMass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pounds := rapid.IntRange(2000, 30_000).Draw(t, "pounds")
		units := new(big.Rat).SetInt64(int64(pounds) * int64(measure.Pound))
		kg := func(units *big.Rat) string {
			return new(big.Rat).Quo(units, new(big.Rat).SetInt64(int64(measure.Kilogram))).FloatString(8) + " kg"
		}
		lb := fmt.Sprintf("%d lb", pounds)
		for rating, want := range map[string]finding.Outcome{
			lb: finding.Clear, kg(units): finding.Clear, kg(new(big.Rat).Sub(units, big.NewRat(1, 1))): finding.Forbidden,
		} {
			w := ask(context.Background(), handler(), http.MethodPost, "/v1/rigs", text(object{"unit": object{"gross_rating": rating, "scale_ticket": object{
				"weighed_on": "2027-01-01", "coupling": "1 lb", "axles": []string{fmt.Sprintf("%d lb", pounds-1)},
			}}}))
			var r wire.RigReport
			if err := json.Unmarshal(w.Body.Bytes(), &r); err != nil || w.Code != http.StatusOK {
				t.Fatal(err, w.Body)
			}
			if f := r.Findings[0]; f.Rule != "unit rating" || f.Outcome != want {
				t.Fatalf("%s against %s: %+v", lb, rating, f)
			}
		}
	})
}

// Every mistake is named with its field, value and fix, all at once.
func TestRigMistakes(t *testing.T) {
	for name, tc := range map[string]struct {
		unit  object
		field string
		says  string
	}{
		"unknown entry":           {object{"parts": []object{{"of": "wall-2x4-lap-wod", "area": "10 m2"}}}, "unit.parts[0].of", "wall-2x4-lap-wood"},
		"no mass":                 {object{"parts": []object{{"name": "stove"}}}, "unit.parts[0]", "has no mass"},
		"two masses":              {object{"parts": []object{{"of": "water", "volume": "1 L", "mass": "1 kg"}}}, "unit.parts[0].mass", "beside of"},
		"wrong amount":            {object{"parts": []object{{"of": "water", "area": "10 m2"}}}, "unit.parts[0]", "goes by the L"},
		"two amounts":             {object{"parts": []object{{"of": "water", "volume": "10 L", "area": "10 m2"}}}, "unit.parts[0]", "goes by the L"},
		"bare gallons":            {object{"parts": []object{{"of": "water", "volume": "10 gal"}}}, "unit.parts[0].volume", "which gallon"},
		"overfull":                {object{"parts": []object{{"of": "water", "volume": "10 L", "fill": 1.5}}}, "unit.parts[0].fill", ""},
		"mass and amount":         {object{"parts": []object{{"name": "x", "mass": "1 kg", "area": "1 m2"}}}, "unit.parts[0]", "mass of its own and an amount"},
		"give or take more":       {object{"parts": []object{{"name": "x", "mass": "1 kg", "give_or_take": "2 kg"}}}, "unit.parts[0].give_or_take", "more than the mass"},
		"box without a side":      {object{"outline": []object{{"from": "0 m", "to": "5 m", "left": "1 m", "right": "1 m", "top": "4 m"}}}, "unit.outline[0].bottom", "is missing"},
		"box upside down":         {object{"outline": []object{box("0 m", "5 m", "4 m", "3 m")}}, "unit.outline[0].top", "not above bottom"},
		"box backwards":           {object{"outline": []object{box("5 m", "0 m", "1 m", "4 m")}}, "unit.outline[0].to", "not behind from"},
		"box underground":         {object{"outline": []object{box("0 m", "5 m", "-1 m", "4 m")}}, "unit.outline[0].bottom", "in the ground"},
		"axles in disorder":       {object{"running_gear": []object{{"behind_coupling": "6 m"}, {"behind_coupling": "5 m"}}}, "unit.running_gear[1].behind_coupling", "not behind the axle"},
		"axle nowhere":            {object{"running_gear": []object{{"rating": "2 t"}}}, "unit.running_gear[0].behind_coupling", "is missing"},
		"other axles":             {object{"axles": 2, "running_gear": []object{{"behind_coupling": "6 m"}}}, "unit.axles", "differs from the running gear"},
		"other height":            {object{"height": "4.1 m", "outline": []object{box("0 m", "5 m", "1 m", "4 m")}}, "unit.height", "differs from what the outline"},
		"other mass":              {object{"mass": "5 t", "scale_ticket": object{"weighed_on": "2027-01-01", "coupling": "1 t", "axles": []string{"5 t"}}}, "unit.mass", "scale's ticket"},
		"ticket of no day":        {object{"scale_ticket": object{"weighed_on": "spring", "coupling": "1 t", "axles": []string{"5 t"}}}, "unit.scale_ticket.weighed_on", ""},
		"ticket of others":        {object{"running_gear": []object{{"behind_coupling": "5 m"}, {"behind_coupling": "6 m"}, {"behind_coupling": "7 m"}}, "scale_ticket": object{"weighed_on": "2027-01-01", "coupling": "1 t", "axles": []string{"2 t", "2 t"}}}, "unit.scale_ticket.axles", "another number of axles"},
		"movable nowhere":         {object{"movables": []object{{"name": "step", "does": "folds"}}}, "unit.movables[0]", "is nowhere"},
		"movable that hops":       {object{"movables": []object{{"name": "step", "does": "hops", "stand": object{}}}}, "unit.movables[0].does", ""},
		"anchor nowhere":          {object{"anchors": []object{{"name": "a", "along": "1 m"}}}, "unit.anchors[0].across", "is missing"},
		"huge":                    {object{"parts": []object{{"name": "x", "mass_kg": 1e300}}}, "unit.parts[0].mass", ""},
		"steep offset":            {object{"parts": []object{{"name": "x", "mass": "1 kg", "along_m": 1e300}}}, "unit.parts[0].along", ""},
		"ticket of the day after": {object{"axles": 1, "scale_ticket": object{"weighed_on": "2099-01-01", "coupling": "1 t", "axles": []string{"5 t"}}}, "unit.scale_ticket.weighed_on", "future"},
		"ticket of some axles":    {object{"scale_ticket": object{"weighed_on": "2027-01-01", "coupling": "1 t", "axles": []string{"2 t", "2 t"}}}, "unit.scale_ticket.axles", "how many axles"},
		"ticket of a toy":         {object{"axles": 1, "scale_ticket": object{"weighed_on": "2027-01-01", "coupling": "1 kg", "axles": []string{"1 kg"}}}, "unit.", ""},
		"sides that differ":       {object{"axles": 1, "scale_ticket": object{"weighed_on": "2027-01-01", "coupling": "1 t", "axles": []string{"5 t"}, "left": "3 t", "right": "3 t"}}, "unit.scale_ticket.right", "adds up"},
		"a thousand tonnes":       {object{"parts": []object{{"name": "x", "mass": "1000 t"}}}, "unit.parts[0]", "more than a whole unit"},
		"right above all":         {object{"axles": 1, "scale_ticket": object{"weighed_on": "2027-01-01", "coupling": "1 t", "axles": []string{"5 t"}, "right": "6 t"}}, "unit.scale_ticket.right", "one side"},
		"parts of a train":        {object{"parts": slices.Repeat([]object{{"name": "x", "mass": "90 t"}}, 3)}, "unit.parts", "more than any unit"},
		"part in the sky":         {object{"parts": []object{{"name": "x", "mass": "1 kg", "up": "90 m"}}}, "unit.parts[0].up", "no height"},
		"clearance in the house":  {object{"ground_clearance": "1.5 m", "outline": []object{box("0 m", "5 m", "0.4 m", "4 m")}}, "unit.ground_clearance", "outline"},
		"anchor without a name":   {object{"anchors": []object{{"along": "1 m", "across": "1 m"}}}, "unit.anchors[0]", "name"},
		"unknown field":           {object{"running_geer": []object{}}, "unit.running_geer", ""},
	} {
		w := ask(t.Context(), handler(), http.MethodPost, "/v1/rigs", text(object{"unit": tc.unit}))
		expect(t, w, http.StatusUnprocessableEntity, "application/problem+json")
		p := read[api.Problem](t, w)
		found := false
		for _, e := range p.Errors {
			found = found || strings.HasPrefix(e.Field, tc.field) && strings.Contains(e.String(), tc.says) && e.Fix != ""
		}
		if !found {
			t.Errorf("%s: %+v", name, p.Errors)
		}
	}
}

func box(from, to, bottom, top string) object {
	return object{"from": from, "to": to, "left": "1.2 m", "right": "1.2 m", "bottom": bottom, "top": top}
}

// The schema is a schema by another library's reading, and it takes the examples and
// refuses what the service refuses for its form.
func TestSchemaOfARig(t *testing.T) {
	w := ask(t.Context(), handler(), http.MethodGet, "/v1/schemas/rig", "")
	expect(t, w, http.StatusOK, "application/json")
	expect(t, ask(t.Context(), handler(), http.MethodGet, "/v1/schemas/house", ""), http.StatusNotFound, "application/problem+json")
	c := jsonschema.NewCompiler()
	if err := c.AddResource("rig.json", must(jsonschema.UnmarshalJSON(w.Body))); err != nil {
		t.Fatal(err)
	}
	whole := must(c.Compile("rig.json"))
	unit, tow := must(c.Compile("rig.json#/$defs/UnitRequest")), must(c.Compile("rig.json#/$defs/TowRequest"))
	valid := func(s *jsonschema.Schema, o object) error {
		return s.Validate(must(jsonschema.UnmarshalJSON(strings.NewReader(text(o)))))
	}
	for name, err := range map[string]error{
		"unit": valid(unit, fileFields(t, "unit.yaml")), "tow": valid(tow, fileFields(t, "tow.yaml")), "weighed": valid(unit, fileFields(t, "customary.yaml")),
		"both": valid(whole, described(t)),
	} {
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, o := range map[string]object{
		"misspelt": {"unit": object{"hieght": "4 m"}}, "a number without a unit": {"unit": object{"height": 4}}, "no unit": {}, "unknown word": {"unit": object{"nose": "pointed"}},
	} {
		if valid(whole, o) == nil {
			t.Errorf("%s passes", name)
		}
	}
}

// The drawing is a picture and names what is invented.
func TestDrawing(t *testing.T) {
	w := ask(t.Context(), handler(), http.MethodPost, "/v1/rigs/drawing", text(described(t)))
	expect(t, w, http.StatusOK, "image/svg+xml")
	d := xml.NewDecoder(bytes.NewReader(w.Body.Bytes()))
	for {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	if !strings.Contains(w.Body.String(), wire.InventedMark) {
		t.Error("it does not say that the rig is invented")
	}
}

// The catalogue is listed with sources.
func TestPartsAreListed(t *testing.T) {
	w := ask(t.Context(), handler(), http.MethodGet, "/v1/parts", "")
	expect(t, w, http.StatusOK, "application/json")
	list := read[wire.PartList](t, w)
	for _, p := range list.Parts {
		if p.Source == "" || p.Status == "" || !(0 < p.LowKG && p.LowKG <= p.TypicalKG && p.TypicalKG <= p.HighKG) {
			t.Errorf("%+v", p)
		}
	}
	if len(list.Parts) < 60 || list.Revision == "" {
		t.Errorf("%d parts, revision %q", len(list.Parts), list.Revision)
	}
}

// Whatever the description, the answer is a report or a problem of the request.
func FuzzRigRequest(f *testing.F) {
	handler()
	for _, q := range []object{described(f), {"unit": object{}}, {"unit": fileFields(f, "customary.yaml")}, {"unit": object{"parts": []object{{"of": "water", "volume_l": 1e9}}}}} {
		f.Add(text(q))
	}
	f.Fuzz(func(t *testing.T, body string) {
		w := ask(t.Context(), handler(), http.MethodPost, "/v1/rigs", body)
		if w.Code >= http.StatusInternalServerError && w.Code != http.StatusServiceUnavailable {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
	})
}

// A full report of a rig, over HTTP and back.
func BenchmarkRigReport(b *testing.B) {
	body := text(described(b))
	handler() // made before the first run
	b.ReportAllocs()
	for b.Loop() {
		if w := ask(b.Context(), handler(), http.MethodPost, "/v1/rigs", body); w.Code != http.StatusOK {
			b.Fatal(w.Body)
		}
	}
}

// Absurd tow vehicles are refused before they are driven.
func TestTowMistakes(t *testing.T) {
	for name, tc := range map[string]struct {
		tow   object
		field string
	}{
		"drop of a tank":    {object{"tank": "0.000001 L"}, "tow.tank"},
		"no engine":         {object{"power": "1 W"}, "tow.power"},
		"turns on the spot": {object{"turning_radius": "3.5 m", "running_gear": []object{{}, {"behind_first": "4.4 m"}}}, "tow.turning_radius"},
		"axle beyond it":    {object{"length": "3 m", "running_gear": []object{{}, {"behind_first": "4.4 m"}}}, "tow.length"},
		"front behind":      {object{"front_to_coupling": "3 m", "coupling_behind_first_axle": "4.2 m", "running_gear": []object{{}, {"behind_first": "4.4 m"}}}, "tow.front_to_coupling"},
		"unit in the cab":   {object{"cab_to_coupling": "0.1 m"}, "tow.cab_to_coupling"},
	} {
		q := object{"unit": object{"outline": []object{box("-0.3 m", "8 m", "0.4 m", "4 m")}}, "tow": tc.tow}
		w := ask(t.Context(), handler(), http.MethodPost, "/v1/rigs", text(q))
		expect(t, w, http.StatusUnprocessableEntity, "application/problem+json")
		if p := read[api.Problem](t, w); len(p.Errors) == 0 || p.Errors[0].Field != tc.field || p.Errors[0].Fix == "" {
			t.Errorf("%s: %+v", name, p.Errors)
		}
	}
}

// Parts that may weigh nothing have no centre of gravity; nothing is no number.
func TestPartsOfNothing(t *testing.T) {
	for name, parts := range map[string][]object{
		"empty tank":  {{"of": "water", "volume": "100 L", "fill": 0, "along": "1 m", "across": "0 m", "up": "1 m"}},
		"none of it":  {{"of": "refrigerator", "count": 0, "along": "1 m"}},
		"all or none": {{"name": "x", "mass": "100 kg", "give_or_take": "100 kg", "along": "1 m", "up": "1 m"}},
	} {
		r := reported(t, object{"unit": object{"parts": parts, "running_gear": []object{{"behind_coupling": "5 m", "track": "2 m"}}}, "confirm": []string{"weighs_nothing"}})
		if r.Centre.Along != nil || r.Centre.Up != nil || r.Coupling != nil || r.Stability.RigidG != nil || len(r.Missing) == 0 {
			t.Errorf("%s: %+v", name, r)
		}
	}
}
