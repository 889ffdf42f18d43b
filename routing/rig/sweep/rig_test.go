package sweep

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

type failer interface {
	Helper()
	Errorf(format string, args ...any)
}

func near[T ~float64](t failer, name string, got, want, tolerance T) {
	t.Helper()
	if !(math.Abs(float64(got-want)) <= float64(tolerance)) {
		t.Errorf("%s: %v, want %v within %v", name, float64(got), float64(want), float64(tolerance))
	}
}

// pickup is a crew-cab pickup with a house on a gooseneck trailer, the rig of
// the check values.
func pickup() Combination {
	return Combination{
		Wheelbase: 4.4, HitchBehindRear: -0.1, CouplingToAxles: 7, FrontOverhang: 1,
		TowWidth: 2, UnitWidth: 2.6, UnitFront: 0.5, UnitRear: 3,
	}
}

func drawRig(t *rapid.T) Combination {
	draw := func(name string, low, high float64) measure.Distance {
		return measure.Distance(rapid.Float64Range(low, high).Draw(t, name))
	}
	return Combination{
		Wheelbase:       draw("wheelbase", 3, 6.5),
		HitchBehindRear: draw("hitch", -1, 1.5),
		CouplingToAxles: draw("coupling", 4, 10),
		FrontOverhang:   draw("front", 0.6, 1.5),
		TowWidth:        draw("tow width", 1.9, 2.6),
		UnitWidth:       draw("unit width", 2.4, 4),
		UnitFront:       draw("unit front", 0, 2.5),
		UnitRear:        draw("unit rear", 0, 4),
	}
}

func TestCheck(t *testing.T) {
	nan, inf := measure.Distance(math.NaN()), measure.Distance(math.Inf(1))
	for _, tc := range []struct {
		field  string
		change func(*Combination)
	}{
		{"", func(*Combination) {}},
		{"", func(r *Combination) { r.HitchBehindRear = 1.5 }},
		{"", func(r *Combination) { r.UnitFront, r.UnitRear, r.FrontOverhang = 0, 0, 0 }},
		{"wheelbase_m", func(r *Combination) { r.Wheelbase = 0 }},
		{"wheelbase_m", func(r *Combination) { r.Wheelbase = nan }},
		{"wheelbase_m", func(r *Combination) { r.Wheelbase = inf }},
		{"hitch_behind_rear_m", func(r *Combination) { r.HitchBehindRear = -4.4 }},
		{"hitch_behind_rear_m", func(r *Combination) { r.HitchBehindRear = 11 }},
		{"coupling_to_axles_m", func(r *Combination) { r.CouplingToAxles = -7 }},
		{"coupling_to_axles_m", func(r *Combination) { r.CouplingToAxles = 700 }},
		{"front_overhang_m", func(r *Combination) { r.FrontOverhang = -1 }},
		{"tow_width_m", func(r *Combination) { r.TowWidth = 0 }},
		{"unit_width_m", func(r *Combination) { r.UnitWidth = 260 }},
		{"unit_width_m", func(r *Combination) { r.UnitWidth = 0 }},
		{"unit_front_m", func(r *Combination) { r.UnitFront = -0.1 }},
		{"unit_rear_m", func(r *Combination) { r.UnitRear = -0.1 }},
		{"unit_rear_m", func(r *Combination) { r.UnitRear = nan }},
	} {
		r := pickup()
		tc.change(&r)
		err := r.Check()
		var field *measure.FieldError
		switch {
		case tc.field == "" && err != nil:
			t.Errorf("%+v: %v", r, err)
		case tc.field != "" && (!errors.As(err, &field) || field.Field != tc.field):
			t.Errorf("%+v: %v, want an error about %s", r, err, tc.field)
		}
	}
}
