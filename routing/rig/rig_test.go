package rig

import (
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
)

func m(metres float64) *measure.Length {
	l := measure.Length(metres*1000) * measure.Millimetre
	return &l
}

func kg(n int64) *measure.Mass {
	v := measure.Mass(n) * measure.Kilogram
	return &v
}

// What is not given stays unknown, and nothing of the rig is taken from the
// unit alone.
func TestAssemble(t *testing.T) {
	unit := Unit{Height: m(4.0), Width: measure.Given(m(2.5)), Length: m(8), Mass: measure.Given(kg(6000)), CouplingToRear: m(7.5), Axles: 2}
	tow := Tow{Height: m(2), Width: measure.Given(m(2.6)), Length: m(6), FrontToCoupling: m(5), Mass: kg(3500), Axles: 2}
	high, wide := measure.AtLeast(*m(4.0)), measure.AtLeast(*m(2.5)) // of the unit alone
	for name, tc := range map[string]struct {
		unit Unit
		tow  Tow
		all  Overall
		want Rig
	}{
		"nothing":     {Unit{}, Tow{}, Overall{}, Rig{}},
		"unit alone":  {unit, Tow{}, Overall{}, Rig{Height: high, Width: wide}},
		"both":        {unit, tow, Overall{}, Rig{Height: measure.Given(m(4)), Width: measure.Given(m(2.6)), Length: measure.Given(m(12.5)), Mass: measure.Given(kg(9500)), Axles: 4, FrontOverhang: m(0)}},
		"given":       {unit, Tow{}, Overall{Length: m(14), Mass: kg(9900)}, Rig{Height: high, Width: wide, Length: measure.Given(m(14)), Mass: measure.Given(kg(9900))}},
		"no coupling": {unit, Tow{Height: m(5)}, Overall{}, Rig{Height: measure.Given(m(5)), Width: wide}},
	} {
		got, err := Assemble(tc.unit, tc.tow, tc.all, limit.Private)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		tc.want.Unit, tc.want.Tow, tc.want.Use = tc.unit, tc.tow, limit.Private
		if d := cmp.Diff(tc.want, got, cmp.AllowUnexported(wide, measure.Known[measure.Mass]{})); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
	}
}

func TestAssembleRefuses(t *testing.T) {
	unit := Unit{Length: m(8), Mass: measure.Given(kg(6000)), CouplingToRear: m(7.5), Height: m(4)}
	tow := Tow{FrontToCoupling: m(5), Mass: kg(3500)}
	for want, all := range map[string]Overall{
		"rig.length": {Length: m(7)},
		"rig.mass":   {Mass: kg(5000)},
		"rig.height": {Height: m(3.9)},
	} {
		if _, err := Assemble(unit, Tow{}, all, ""); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
	if _, err := Assemble(unit, tow, Overall{Length: m(13)}, ""); err == nil || !strings.Contains(err.Error(), "error.not_sum(sum: 12.5 m") {
		t.Errorf("two lengths: %v", err)
	}
}

func TestVehicle(t *testing.T) {
	unit := Unit{Height: m(4), Width: measure.Given(m(2.5)), Length: m(8), Coupling: Gooseneck, Kind: limit.TinyHome}
	r, err := Assemble(unit, Tow{Form: limit.Pickup}, Overall{Length: m(14)}, limit.Commercial)
	if err != nil {
		t.Fatal(err)
	}
	amount := func(l *measure.Length) limit.Amount { return limit.Amount(*l) }
	want := regs.Vehicle{
		Subject: limit.Subject{Kind: limit.TinyHome, Use: limit.Commercial, Form: limit.FormUnknown, Tow: limit.Pickup},
		Measures: map[limit.Quantity]regs.Measure{
			limit.Height:            measure.AtLeast(amount(m(4))), // the tow vehicle may be higher
			limit.Width:             measure.AtLeast(amount(m(2.5))),
			limit.TrailerLength:     measure.Exactly(amount(m(8))),
			limit.CombinationLength: measure.Exactly(amount(m(14))),
		},
		Uncertain: map[limit.Quantity]regs.Uncertainty{limit.Height: {By: amount(m(0.05)), Designed: true}},
	}
	if d := cmp.Diff(want, r.Vehicle(clearance.DefaultAllowances()), cmp.Exporter(func(reflect.Type) bool { return true })); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// The height is as uncertain before a limit as before a structure: by 0.05 m
// designed, by 0.02 m measured, or what the trip allows. One given for the rig is
// measured only if it is the unit's.
func TestHeightIsAsUncertainBeforeALimitAsBeforeAStructure(t *testing.T) {
	mine := clearance.DefaultAllowances()
	mine.DesignedError, mine.MeasuredError = *m(0.1), *m(0.01)
	for name, tc := range map[string]struct {
		measured bool
		rig      *measure.Length
		a        clearance.Allowances
		want     regs.Uncertainty
	}{
		"designed":                  {false, nil, clearance.DefaultAllowances(), regs.Uncertainty{By: limit.Amount(*m(0.05)), Designed: true}},
		"measured":                  {true, nil, clearance.DefaultAllowances(), regs.Uncertainty{By: limit.Amount(*m(0.02))}},
		"designed, by the trip":     {false, nil, mine, regs.Uncertainty{By: limit.Amount(*m(0.1)), Designed: true}},
		"measured, by the trip":     {true, nil, mine, regs.Uncertainty{By: limit.Amount(*m(0.01))}},
		"the rig's is the unit's":   {true, m(4), clearance.DefaultAllowances(), regs.Uncertainty{By: limit.Amount(*m(0.02))}},
		"the rig's is another one":  {true, m(4.1), clearance.DefaultAllowances(), regs.Uncertainty{By: limit.Amount(*m(0.05)), Designed: true}},
		"no allowances of the trip": {false, nil, clearance.Allowances{}, regs.Uncertainty{Designed: true}},
	} {
		r, err := Assemble(Unit{Height: m(4), HeightMeasured: tc.measured}, Tow{}, Overall{Height: tc.rig}, "")
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Vehicle(tc.a).Uncertain[limit.Height]; got != tc.want {
			t.Errorf("%s: %+v, want %+v", name, got, tc.want)
		}
	}
	if got := (Rig{}).Vehicle(mine).Uncertain; got != nil {
		t.Errorf("no height: %+v", got)
	}
}

func TestForm(t *testing.T) {
	for c, want := range map[Coupling]limit.Form{
		CouplingUnknown: limit.FormUnknown, Gooseneck: limit.FormUnknown, FifthWheel: limit.Semitrailer, Ball: limit.Trailer, Pintle: limit.Trailer,
	} {
		if got := c.Form(); got != want {
			t.Errorf("%q: %q, want %q", c, got, want)
		}
	}
}

func TestCheckBounds(t *testing.T) {
	if err := CheckBounds(Unit{Height: m(4), Width: measure.Given(m(2.5)), Length: m(8), Mass: measure.Given(kg(6000))}, Tow{Height: m(2), Mass: kg(3000)}, Overall{Length: m(14)}); err != nil {
		t.Error(err)
	}
	for field, u := range map[string]Unit{
		"unit.height": {Height: m(41)}, "unit.width": {Width: measure.Given(m(0.25))}, "unit.length": {Length: m(86)}, "unit.mass": {Mass: measure.Given(kg(600_000))},
	} {
		if err := CheckBounds(u, Tow{}, Overall{}); err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("%s: %v", field, err)
		}
	}
}

func TestCheckBoundsOfTheRest(t *testing.T) {
	for field, tc := range map[string]struct {
		tow Tow
		all Overall
	}{
		"rig.height": {all: Overall{Height: m(0.004)}}, "rig.mass": {all: Overall{Mass: kg(1)}},
		"tow.mass": {tow: Tow{Mass: kg(1)}}, "tow.length": {tow: Tow{Length: m(0.001)}},
	} {
		if err := CheckBounds(Unit{}, tc.tow, tc.all); err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("%s: %v", field, err)
		}
	}
	if q := Questions(Unit{}, Overall{Height: m(2.5), Width: m(4)}); len(q) != 1 || q[0].Field != "rig.height" {
		t.Errorf("a rig lower than wide: %v", q)
	}
}

// A height counts as measured only where it is the unit's own that was.
func TestMeasuredHeight(t *testing.T) {
	unit := Unit{Height: m(3), HeightMeasured: true}
	for name, tc := range map[string]struct {
		rig  Rig
		want bool
	}{
		"the unit is highest": {Rig{Unit: unit, Height: measure.Given(m(3))}, true},
		"the tow vehicle is":  {Rig{Unit: unit, Height: measure.Given(m(4))}, false},
		"only the rig's":      {Rig{Unit: Unit{HeightMeasured: true}, Height: measure.Given(m(4))}, false},
	} {
		if h := tc.rig.Clear(); h.Measured != tc.want {
			t.Errorf("%s: measured %v", name, h.Measured)
		}
	}
}

// An envelope worked out from published dead loads (HUD Residential Structural
// Design Guide, table 3.2, read second-hand) with trailer and fixtures comes to
// 6.1 to 6.7 t on 7.3 x 2.44 m: no question may be asked there.
func TestQuestions(t *testing.T) {
	house := func(height, width, length float64, mass *measure.Mass) Unit {
		return Unit{Height: m(height), Width: measure.Given(m(width)), Length: m(length), Mass: measure.Given(mass)}
	}
	pounds := func(n int64) *measure.Mass {
		v := measure.Mass(n) * measure.Pound
		return &v
	}
	for name, tc := range map[string]struct {
		unit Unit
		want []string
		says string
	}{
		"worked out, low":        {house(4, 2.44, 7.3, kg(6100)), nil, ""},
		"worked out, high":       {house(4, 2.44, 7.3, kg(6700)), nil, ""},
		"pounds typed as kg":     {house(4, 2.5, 8, kg(24_000)), []string{"unit_mass"}, "other: 24000 lb"},
		"kg typed as pounds":     {house(4, 2.5, 8, pounds(5500)), []string{"unit_mass"}, "other: 5500 kg"},
		"neither fits":           {house(4, 2.5, 8, kg(90_000)), nil, ""},
		"height below width":     {house(2.5, 4, 8, nil), []string{"height_below_width"}, "error.below_width(width: 4 m"},
		"mass, no size":          {Unit{Mass: measure.Given(kg(24_000))}, nil, ""},
		"height equals width":    {house(2.5, 2.5, 8, nil), nil, ""},
		"both questions at once": {house(2.5, 4, 8, kg(60_000)), []string{"height_below_width", "unit_mass"}, "other: 60000 lb"},
	} {
		var got []string
		var text strings.Builder
		for _, q := range Questions(tc.unit, Overall{}) {
			got = append(got, q.Confirm)
			text.WriteString(q.Error())
		}
		if d := cmp.Diff(tc.want, got); d != "" || !strings.Contains(text.String(), tc.says) {
			t.Errorf("%s: %s\n%s", name, d, text.String())
		}
	}
}
