package api_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
)

// axles are those of a rig as a request gives them.
func axles(list ...object) object { return object{"rig": object{"axles": list}} }

// five are the axles of an invented rig: a pickup that steers, and a tridem 8 m
// behind its second axle.
func five() []object {
	return []object{
		{"mass": "2,000 kg", "steering": true, "tires": 2, "tire_width": "275 mm"},
		{"behind_first": "4 m", "mass_kg": 2500, "tires": 4, "tire_width_m": 0.235},
		{"behind_first_m": 12, "mass": "2 t"}, {"behind_first": "12.85 m", "mass": "2000 kg"}, {"behind_first": "13.7 m", "mass": "2000 kg"},
	}
}

// Each axle error names its place in the list, from 0, and its field.
func TestRefusesAxles(t *testing.T) {
	first := object{"mass": "2 t"}
	for name, tc := range map[string]struct {
		axles []object
		want  entry
	}{
		"the first is behind":    {[]object{{"behind_first": "1 m"}}, entry{"rig.axles[0].behind_first", "1 m", "is not 0", "from the first axle"}},
		"the second is not":      {[]object{first, {"mass": "2 t"}}, entry{"rig.axles[1].behind_first", "0 m", "not behind the axle before", "from the front"}},
		"one in another's place": {[]object{first, {"behind_first": "4 m"}, {"behind_first": "4 m"}}, entry{"rig.axles[2].behind_first", "4 m", "not behind the axle before", "from the front"}},
		"not in order":           {[]object{first, {"behind_first": "5 m"}, {"behind_first": "4 m"}}, entry{"rig.axles[2].behind_first", "4 m", "not behind the axle before", "from the front"}},
		"given twice":            {[]object{first, {"behind_first": "4 m", "behind_first_m": 4}}, entry{"rig.axles[1].behind_first", "4 m", "given twice", "exactly one"}},
		"bare place":             {[]object{first, {"behind_first": 4}}, entry{"rig.axles[1].behind_first", "4", "a number without a unit", "behind_first_m"}},
		"bare text":              {[]object{first, {"behind_first": "4"}}, entry{"rig.axles[1].behind_first", "4", "has no unit", "add one"}},
		"a place in kilograms":   {[]object{first, {"behind_first": "4 kg"}}, entry{"rig.axles[1].behind_first", "4 kg", `"kg"`, "4.15 m"}},
		"before the first":       {[]object{first, {"behind_first": "-4 m"}}, entry{"rig.axles[1].behind_first", "-4 m", "is negative", "above zero"}},
		"before it, as a number": {[]object{first, {"behind_first_m": -4}}, entry{"rig.axles[1].behind_first_m", "-4", "is negative", "above zero"}},
		"bare mass":              {[]object{{"mass": 2000}}, entry{"rig.axles[0].mass", "2000", "a number without a unit", "mass_kg"}},
		"mass in metres":         {[]object{{"mass": "2 m"}}, entry{"rig.axles[0].mass", "2 m", `"m"`, "10900 kg"}},
		"mass of nothing":        {[]object{{"mass": "0 kg"}}, entry{"rig.axles[0].mass", "0 kg", "is zero", "leave the field out"}},
		"mass twice":             {[]object{{"mass": "2 t", "mass_kg": 2000}}, entry{"rig.axles[0].mass", "2 t", "given twice", "exactly one"}},
		"mass below nothing":     {[]object{{"mass_kg": -1}}, entry{"rig.axles[0].mass_kg", "-1", "is negative", "above zero"}},
		"tire of no width":       {[]object{{"tire_width": "0 mm"}}, entry{"rig.axles[0].tire_width", "0 mm", "is zero", "leave the field out"}},
		"tire without a unit":    {[]object{{"tire_width": 235}}, entry{"rig.axles[0].tire_width", "235", "a number without a unit", "tire_width_m"}},
		"17 tires":               {[]object{{"tires": 17}}, entry{"rig.axles[0].tires", "17", "outside 0 to 16", "check the figure"}},
		"fewer than no tires":    {[]object{{"tires": -1}}, entry{"rig.axles[0].tires", "-1", "outside 0 to 16", "check the figure"}},
		"half a tire":            {[]object{{"tires": 1.5}}, entry{"rig.axles[0].tires", "1.5", "no whole number", "without quotes"}},
		"steering in words":      {[]object{{"steering": "yes"}}, entry{"rig.axles[0].steering", "yes", "neither true nor false", "true or false"}},
		"unknown field":          {[]object{{"weight": "2 t"}}, entry{"rig.axles[0].weight", "", "no field here", "spelling"}},
		"21 axles":               {slices.Repeat([]object{first}, 21), entry{"rig.axles", "", "more than 20", "20 at the most"}},
	} {
		t.Run(name, func(t *testing.T) {
			body := text(checkOf(object{"height": "4 m"}, axles(tc.axles...)))
			refused(t, ask(t.Context(), handler(), http.MethodPost, "/v1/checks", body), 422, tc.want)
			// A trip refuses the same in the same words.
			refused(t, post(t, text(short(nil, axles(tc.axles...)))), 422, tc.want)
		})
	}
}

// What contradicts the rest of the rig is refused.
func TestRefusesAxlesThatContradict(t *testing.T) {
	heavy := five()
	heavy[1] = object{"behind_first": "4 m", "mass": "2501 kg"}
	for name, tc := range map[string]struct {
		unit, tow, rig object
		want           entry
	}{
		"number":                 {object{"axles": 3}, object{"axles": 3}, object{"axles": five()}, entry{"rig.axles", "5", "together, 6", "every axle"}},
		"mass":                   {object{"mass": "6 t"}, nil, object{"axles": heavy, "mass": "10,500 kg"}, entry{"rig.mass", "10500 kg", "differs from 10501 kg", ""}},
		"lighter than the unit":  {object{"mass": "10,501 kg"}, nil, object{"axles": five()}, entry{"rig.mass", "10500 kg", "below that of the unit alone", "check both"}},
		"last axle off the rear": {object{"coupling_to_rear": "8 m", "coupling_to_last_axle": "8.001 m"}, nil, nil, entry{"unit.coupling_to_last_axle", "8.001 m", "longer than from the coupling to the rear", "check both"}},
		"no overhang of a rig":   {nil, nil, object{"front_overhang": "11 m"}, entry{"rig.front_overhang", "11 m", "outside 0 m (0 in) to 10 m (≈ 32 ft 9 11/16 in)", "check the figure"}},
		"overhang below nothing": {nil, nil, object{"rear_overhang": "-1 m"}, entry{"rig.rear_overhang", "-1 m", "is negative", "above zero"}},
		"as a number":            {nil, nil, object{"rear_overhang_m": -0.5}, entry{"rig.rear_overhang_m", "-0.5", "is negative", "above zero"}},
		"overhang twice":         {nil, nil, object{"front_overhang": "0 m", "front_overhang_m": 0}, entry{"rig.front_overhang", "0 m", "given twice", "exactly one"}},
		"bare overhang":          {nil, nil, object{"front_overhang": 1}, entry{"rig.front_overhang", "1", "a number without a unit", "front_overhang_m"}},
		"last axle at nothing":   {object{"coupling_to_last_axle": "0 m"}, nil, nil, entry{"unit.coupling_to_last_axle", "0 m", "is zero", "leave the field out"}},
	} {
		t.Run(name, func(t *testing.T) {
			q := checkOf(tc.unit)
			if tc.unit == nil {
				q["unit"] = object{}
			}
			if tc.tow != nil {
				q["tow"] = tc.tow
			}
			if tc.rig != nil {
				q["rig"] = tc.rig
			}
			refused(t, ask(t.Context(), handler(), http.MethodPost, "/v1/checks", text(q)), 422, tc.want)
		})
	}
}

// What the axles carry is the mass of the rig, and each quantity of axles is
// asked with them.
func TestAxlesAreChecked(t *testing.T) {
	d := checks(t, checkOf(object{"mass": "6 t"}, axles(five()...), object{"in": []string{"CA-ON", "US-VT"}}))
	for _, code := range []string{"CA-ON", "US-VT"} {
		if f := answerTo(t, d, code, limit.GrossMass).Findings[0]; !strings.HasPrefix(f.Value, "10,500 kg") {
			t.Errorf("%s: gross mass %q", code, f.Value)
		}
		for _, q := range []limit.Quantity{limit.SteeringAxleMass, limit.SingleAxleMass, limit.TandemMass, limit.TridemMass, limit.TireLoadPerWidth} {
			if f := answerTo(t, d, code, q).Findings[0]; strings.HasSuffix(f.Summary, "is not given") {
				t.Errorf("%s: %s", code, f.Summary)
			}
		}
	}
	// One that is not weighed leaves the whole unknown.
	list := five()
	delete(list[4], "mass")
	if f := answerTo(t, checks(t, checkOf(object{"mass": "6 t"}, axles(list...))), "CA-ON", limit.GrossMass).Findings[0]; f.Outcome != finding.Unknown || f.Value != "" {
		t.Errorf("%s for %q", f.Outcome, f.Value)
	}
	// None described: nothing of axles is given.
	if f := answerTo(t, checks(t, checkOf(object{"mass": "6 t"})), "CA-ON", limit.SingleAxleMass).Findings[0]; f.Outcome != finding.Unknown || !strings.HasSuffix(f.Summary, "is not given") {
		t.Errorf("%s: %s", f.Outcome, f.Summary)
	}
}

// Nothing that sticks out is a measurement; not given is unknown.
func TestOverhangOfNothing(t *testing.T) {
	for name, tc := range map[string]struct {
		fields      object
		front, rear string
	}{
		"not given":        {object{}, "", ""},
		"texts":            {object{"rig": object{"front_overhang": "0 m", "rear_overhang": `0"`}}, "0 m (0 in)", "0 m (0 in)"},
		"numbers":          {object{"rig": object{"front_overhang_m": 0, "rear_overhang_m": 0}}, "0 m (0 in)", "0 m (0 in)"},
		"one of them":      {object{"rig": object{"front_overhang_m": 0.5}}, "0.5 m", ""},
		"worked out":       {object{"unit": object{"coupling_to_rear": "8 m", "coupling_to_last_axle": "5.5 m"}}, "", "2.5 m"},
		"worked out as 0":  {object{"unit": object{"coupling_to_rear": "8 m", "coupling_to_last_axle": "8 m"}}, "", "0 m (0 in)"},
		"given beside one": {object{"unit": object{"coupling_to_last_axle": "8 m"}, "rig": object{"rear_overhang": "1 m"}}, "", "1 m"},
	} {
		d := checks(t, checkOf(object{}, tc.fields))
		for q, want := range map[limit.Quantity]string{limit.FrontOverhang: tc.front, limit.RearOverhang: tc.rear} {
			f := answerTo(t, d, "CA-ON", q).Findings[0]
			if !strings.HasPrefix(f.Value, want) || want == "" && (f.Value != "" || f.Outcome != finding.Unknown) || want != "" && strings.Contains(f.Summary, "not given") {
				t.Errorf("%s: %s is %s for %q, want %q", name, q, f.Outcome, f.Value, want)
			}
		}
	}
}

// How far the last axle stands behind the coupling is what kingpin rules ask:
// 41 ft in Vermont (23 V.S.A. 1432, as the row has it).
func TestCouplingToLastAxle(t *testing.T) {
	for given, want := range map[string]finding.Outcome{"41 ft": finding.Clear, `41'1"`: finding.Conditional} {
		q := checkOf(object{"coupling": "fifth_wheel", "coupling_to_last_axle": given}, object{"in": []string{"US-VT"}})
		if f := answerTo(t, checks(t, q), "US-VT", limit.KingpinToRearAxle).Findings[0]; f.Outcome != want {
			t.Errorf("%s: %s, %s", given, f.Outcome, f.Summary)
		}
	}
}

// Forty tires would let an axle carry anything.
func TestAxlesAreBounded(t *testing.T) {
	for field, list := range map[string]string{
		"rig.axles[0].tires": `[{"mass": "2 t", "tires": 40}]`,
		"rig.axles[1].tires": `[{"mass": "2 t", "tires": 2}, {"mass": "2 t", "behind_first": "4 m", "tires": -1}]`,
	} {
		err := wire.Decode[wire.CheckRequest]([]byte(`{"unit": {}, "rig": {"axles": ` + list + `}, "in": ["CA-ON"]}`)).Err()
		if err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("%s: %v", field, err)
		}
	}
}
