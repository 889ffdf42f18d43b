package rig

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
)

// loads are axles a metre apart that carry so many kilograms each; -1 is not
// known.
func loads(kilograms ...int64) []limit.AxleLoad {
	var out []limit.AxleLoad
	for i, n := range kilograms {
		l := limit.AxleLoad{At: measure.Length(i) * measure.Metre, Steering: i == 0}
		if n >= 0 {
			l.Mass = measure.Given(kg(n))
		}
		out = append(out, l)
	}
	return out
}

// field is the field that an error names, "" for none.
func field(t testing.TB, err error) string {
	t.Helper()
	if err == nil {
		return ""
	}
	var f *measure.FieldError
	if !errors.As(err, &f) || f.Problem.None() || f.Fix.None() || f.Value == "" {
		t.Errorf("%v does not say field, value, problem and fix", err)
		return "?"
	}
	return f.Field
}

// The axles that are described are those of the rig; a number that unit and tow
// vehicle have together must be the same.
func TestNumberOfAxles(t *testing.T) {
	five := loads(1000, 1000, 1000, 1000, 1000)
	for name, tc := range map[string]struct {
		unit, tow int
		loads     []limit.AxleLoad
		want      int
		refused   string
	}{
		"none":                     {0, 0, nil, 0, ""},
		"of the unit alone":        {3, 0, nil, 0, ""},
		"of both":                  {3, 2, nil, 5, ""},
		"described":                {0, 0, five, 5, ""},
		"described, as given":      {3, 2, five, 5, ""},
		"described, unit given":    {3, 0, five, 5, ""},
		"one more than is given":   {2, 2, five, 0, "rig.axles"},
		"one less than is given":   {4, 2, five, 0, "rig.axles"},
		"masses are not asked for": {3, 2, loads(-1, -1, -1, -1, -1), 5, ""},
	} {
		r, err := Assemble(Unit{Axles: tc.unit}, Tow{Axles: tc.tow}, Overall{Loads: tc.loads}, "")
		if got := field(t, err); got != tc.refused || err == nil && (r.Axles != tc.want || r.Vehicle(clearance.DefaultAllowances()).Axles != tc.want || len(r.Vehicle(clearance.DefaultAllowances()).Loads) != len(tc.loads)) {
			t.Errorf("%s: %d axles, %v; want %d, %q", name, r.Axles, err, tc.want, tc.refused)
		}
	}
}

// What all axles carry is what the rig weighs; one that is not known leaves the
// whole unknown.
func TestMassOnAxles(t *testing.T) {
	for name, tc := range map[string]struct {
		unit, tow, whole *measure.Mass
		loads            []limit.AxleLoad
		want             *measure.Mass
		refused          string
	}{
		"all known":               {nil, nil, nil, loads(1500, 2500, 3000, 3000), kg(10_000), ""},
		"one not known":           {nil, nil, nil, loads(1500, 2500, -1, 3000), nil, ""},
		"none known":              {nil, nil, nil, loads(-1, -1), nil, ""},
		"beside the unit":         {kg(6000), nil, nil, loads(1500, 2500, 3000, 3000), kg(10_000), ""},
		"beside both, the same":   {kg(6000), kg(4000), nil, loads(1500, 2500, 3000, 3000), kg(10_000), ""},
		"beside the rig's":        {nil, nil, kg(10_000), loads(1500, 2500, 3000, 3000), kg(10_000), ""},
		"the rig's, one unknown":  {nil, nil, kg(10_000), loads(1500, -1), kg(10_000), ""},
		"both, one unknown":       {kg(6000), kg(4000), nil, loads(1500, -1), kg(10_000), ""},
		"other than the rig's":    {nil, nil, kg(10_001), loads(1500, 2500, 3000, 3000), nil, "rig.mass"},
		"less than the unit":      {kg(10_001), nil, nil, loads(1500, 2500, 3000, 3000), nil, "rig.mass"},
		"both other than the rig": {kg(6000), kg(4000), kg(9999), nil, nil, "rig.mass"},
	} {
		r, err := Assemble(Unit{Mass: measure.Given(tc.unit)}, Tow{Mass: tc.tow}, Overall{Mass: tc.whole, Loads: tc.loads}, "")
		if got := field(t, err); got != tc.refused {
			t.Errorf("%s: %v, want %q", name, err, tc.refused)
		}
		if d := cmp.Diff(tc.want, r.Mass.Pointer()); err == nil && d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
	}
}

// The order in which axles are weighed does not matter, and no mass is lost.
func TestMassOnAxlesIsTheirSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		masses := rapid.SliceOfN(rapid.Int64Range(1, 20_000), 1, 20).Draw(t, "kilograms")
		var sum int64
		for _, m := range masses {
			sum += m
		}
		r, err := Assemble(Unit{}, Tow{}, Overall{Loads: loads(rapid.Permutation(masses).Draw(t, "order")...)}, "")
		if err != nil || !r.Mass.Known() || of(r.Mass) != *kg(sum) || r.Axles != len(masses) {
			t.Fatalf("%+v of %d axles, %v; want %d kg", r.Mass, r.Axles, err, sum)
		}
	})
}

// What sticks out behind the last axle is worked out from the unit where it is
// not given. Nothing and not known are two things.
func TestOverhangs(t *testing.T) {
	type over struct{ Front, Rear, Kingpin *measure.Length }
	for name, tc := range map[string]struct {
		unit  Unit
		whole Overall
		want  over
	}{
		"before the coupling alone": {Unit{Length: m(9), CouplingToRear: m(8)}, Overall{}, over{}},
		"not known":                 {Unit{CouplingToRear: m(8)}, Overall{}, over{}},
		"worked out":                {Unit{CouplingToRear: m(8), CouplingToAxle: m(5.5)}, Overall{}, over{Rear: m(2.5), Kingpin: m(5.5)}},
		"nothing behind":            {Unit{CouplingToRear: m(8), CouplingToAxle: m(8)}, Overall{}, over{Rear: m(0), Kingpin: m(8)}},
		"axle alone":                {Unit{CouplingToAxle: m(5.5)}, Overall{}, over{Kingpin: m(5.5)}},
		"given":                     {Unit{}, Overall{FrontOverhang: m(0.5), RearOverhang: m(3)}, over{Front: m(0.5), Rear: m(3)}},
		"given as nothing":          {Unit{}, Overall{FrontOverhang: m(0), RearOverhang: m(0)}, over{Front: m(0), Rear: m(0)}},
		"given the same":            {Unit{CouplingToRear: m(8), CouplingToAxle: m(5.5)}, Overall{RearOverhang: m(2.5)}, over{Rear: m(2.5), Kingpin: m(5.5)}},
	} {
		r, err := Assemble(tc.unit, Tow{}, tc.whole, "")
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		v := r.Vehicle(clearance.DefaultAllowances())
		of := func(q limit.Quantity) *measure.Length {
			got, known := v.Measures[q].Value()
			if v.Measures[q].AtLeast() {
				t.Errorf("%s: %s is only a least value", name, q)
			}
			if !known {
				return nil
			}
			l := measure.Length(got)
			return &l
		}
		if d := cmp.Diff(tc.want, over{of(limit.FrontOverhang), of(limit.RearOverhang), of(limit.KingpinToRearAxle)}); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
	}
}

// Nothing of a unit sticks out before its tow vehicle where the places of both are known
// and the rig is one; what is given counts.
func TestFrontOverhang(t *testing.T) {
	unit := Unit{Length: m(9), CouplingToRear: m(8)}
	for name, tc := range map[string]struct {
		unit  Unit
		tow   Tow
		whole Overall
		want  *measure.Length
	}{
		"within":         {unit, Tow{FrontToCoupling: m(5)}, Overall{}, m(0)},
		"as far":         {unit, Tow{FrontToCoupling: m(1)}, Overall{}, m(0)},
		"given":          {unit, Tow{FrontToCoupling: m(5)}, Overall{FrontOverhang: m(0.25)}, m(0.25)},
		"no tow vehicle": {unit, Tow{}, Overall{}, nil},
		"no length":      {Unit{CouplingToRear: m(8)}, Tow{FrontToCoupling: m(5)}, Overall{}, nil},
		"no rear":        {Unit{Length: m(9)}, Tow{FrontToCoupling: m(5)}, Overall{}, nil},
	} {
		r, err := Assemble(tc.unit, tc.tow, tc.whole, "")
		if d := cmp.Diff(tc.want, r.FrontOverhang); err != nil || d != "" {
			t.Errorf("%s: %v, %s", name, err, d)
		}
	}
	beyond := Unit{Length: m(11), CouplingToRear: m(8)}
	if _, err := Assemble(beyond, Tow{FrontToCoupling: m(2.5)}, Overall{}, ""); field(t, err) != "rig.length" {
		t.Errorf("3 m before a coupling that is 2.5 m from the front: %v", err)
	}
}

// Overhangs of nothing are believed, those of no rig are not.
func TestCheckBoundsOfOverhangs(t *testing.T) {
	if err := CheckBounds(Unit{CouplingToAxle: m(1)}, Tow{}, Overall{FrontOverhang: m(0), RearOverhang: m(0)}); err != nil {
		t.Error(err)
	}
	for want, tc := range map[string]struct {
		unit  Unit
		whole Overall
	}{
		"rig.front_overhang":         {whole: Overall{FrontOverhang: m(10.001)}},
		"rig.rear_overhang":          {whole: Overall{RearOverhang: m(20.001)}},
		"unit.coupling_to_last_axle": {unit: Unit{CouplingToAxle: m(0.999)}},
	} {
		if err := CheckBounds(tc.unit, Tow{}, tc.whole); field(t, err) != want {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// The loads reach the rules as they were described.
func TestLoadsReachTheVehicle(t *testing.T) {
	want := []limit.AxleLoad{
		{Mass: measure.Given(kg(2000)), Steering: true, Tires: 2, Width: 235 * measure.Millimetre},
		{At: 4 * measure.Metre, Tires: 4},
		{At: 10 * measure.Metre, Mass: measure.Given(kg(3000))},
	}
	r, err := Assemble(Unit{}, Tow{}, Overall{Loads: want}, limit.Private)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(regs.Vehicle{Subject: limit.Subject{Use: limit.Private, Axles: 3}, Measures: map[limit.Quantity]regs.Measure{}, Loads: want}, r.Vehicle(clearance.DefaultAllowances()), cmp.Exporter(func(reflect.Type) bool { return true })); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// Measurements that contradict each other are refused, whichever two they are.
func TestRefusesContradictionsOfAxles(t *testing.T) {
	for name, tc := range map[string]struct {
		unit    Unit
		tow     Tow
		whole   Overall
		refused string
	}{
		"fewer axles than the unit":        {Unit{Axles: 3}, Tow{}, Overall{Loads: loads(1000, 1000)}, "rig.axles"},
		"no axle left for the tow vehicle": {Unit{Axles: 3}, Tow{}, Overall{Loads: loads(1000, 1000, 1000)}, "rig.axles"},
		"fewer axles than the tow vehicle": {Unit{}, Tow{Axles: 2}, Overall{Loads: loads(1000)}, "rig.axles"},
		"axles weigh more than both":       {Unit{Mass: measure.Given(kg(6000))}, Tow{Mass: kg(4000)}, Overall{Loads: loads(5000, 9000)}, "rig.mass"},
		"known axles weigh more than both": {Unit{Mass: measure.Given(kg(6000))}, Tow{Mass: kg(4000)}, Overall{Loads: loads(9000, 9000, -1)}, "rig.mass"},
		"another rear overhang":            {Unit{CouplingToRear: m(8), CouplingToAxle: m(5.5)}, Tow{}, Overall{RearOverhang: m(0.5)}, "rig.rear_overhang"},
		"last axle behind the unit":        {Unit{Length: m(8), CouplingToAxle: m(9)}, Tow{}, Overall{}, "unit.coupling_to_last_axle"},
		"last axle behind the rear":        {Unit{CouplingToRear: m(8), CouplingToAxle: m(9)}, Tow{}, Overall{}, "unit.coupling_to_last_axle"},
	} {
		if _, err := Assemble(tc.unit, tc.tow, tc.whole, ""); field(t, err) != tc.refused {
			t.Errorf("%s: %v, want %s", name, err, tc.refused)
		}
	}
	// A mass that differs from that on the axles must not be blamed on others.
	if _, err := Assemble(Unit{}, Tow{}, Overall{Mass: kg(9000), Loads: loads(4000, 4000)}, ""); err == nil || !strings.Contains(err.Error(), "error.not_weighed(weighed: 8000 kg") {
		t.Errorf("%v does not say that it is the axles", err)
	}
}

// An axle of no rig is a slip of the unit, as every other mass of none is
// (common practice, no source: no axle on a road carries less than 50 kg or more
// than 30 t).
func TestCheckBoundsOfAxles(t *testing.T) {
	for _, n := range []int64{1, 49, 30_001, 2_000_000} {
		if err := CheckBounds(Unit{}, Tow{}, Overall{Loads: loads(2000, n)}); err == nil || !strings.Contains(err.Error(), "rig.axles[1]") {
			t.Errorf("an axle of %d kg: %v", n, err)
		}
	}
}
