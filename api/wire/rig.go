package wire

import (
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
)

// Rig is the rig as it was understood.
type Rig struct {
	Unit     string   `json:"unit,omitempty"`
	Tow      string   `json:"tow,omitempty"`
	Kind     string   `json:"kind" doc:"unknown where not given"`
	Use      string   `json:"use"`
	Coupling string   `json:"coupling"`
	TowForm  string   `json:"tow_form" doc:"What the law takes the tow vehicle for"`
	HeightM  *float64 `json:"height_m"`
	WidthM   *float64 `json:"width_m"`
	LengthM  *float64 `json:"length_m"`
	MassKG   *float64 `json:"mass_kg"`
	UnitM    Size     `json:"unit_size"`
	Load     *Part    `json:"load_size,omitempty" doc:"Of a load on a trailer, by itself"`
	Trailer  *Part    `json:"trailer_size,omitempty" doc:"Of the trailer under a load, by itself"`
}

// Part is the size and mass of a part of a unit by itself.
type Part struct {
	WidthM  *float64 `json:"width_m"`
	LengthM *float64 `json:"length_m"`
	MassKG  *float64 `json:"mass_kg"`
}

// Size is the size and mass of the unit by itself.
type Size struct {
	HeightM     *float64 `json:"height_m"`
	HeightBasis string   `json:"height_basis"`
	WidthM      *float64 `json:"width_m" doc:"The greater of house and tires"`
	LeastM      *float64 `json:"width_at_least_m,omitempty" doc:"Where something that is not known may be wider, such as tires that are not described"`
	HouseM      *float64 `json:"house_width_m,omitempty" doc:"Where its tires are wider"`
	LengthM     *float64 `json:"length_m"`
	MassKG      *float64 `json:"mass_kg"`
}

func newRig(r rig.Rig) Rig {
	basis := "designed"
	if r.Unit.HeightMeasured {
		basis = "measured on " + r.Unit.MeasuredOn.Format(time.DateOnly)
	}
	u := r.Unit
	out := Rig{
		Unit: r.Unit.Name, Tow: r.Tow.Name, Kind: unknownWhenEmpty(r.Unit.Kind), Use: unknownWhenEmpty(r.Use),
		Coupling: unknownWhenEmpty(r.Unit.Coupling), TowForm: unknownWhenEmpty(r.Tow.Form),
		HeightM: metres(r.Height.Pointer()), WidthM: metres(r.Width.Pointer()),
		LengthM: metres(r.Length.Pointer()), MassKG: kilograms(r.Mass.Pointer()),
		UnitM: Size{
			HeightM: metres(u.Height), HeightBasis: basis, WidthM: metres(u.Width.Pointer()),
			HouseM: metres(u.House), LengthM: metres(u.Length), MassKG: kilograms(u.Mass.Pointer()),
		},
	}
	if least, ok := u.Width.Least(); ok && u.Width.AtLeast() {
		out.UnitM.LeastM = metres(&least)
	}
	if u.Kind == limit.LoadOnTrailer {
		out.Load, out.Trailer = newPart(u.Load), newPart(u.Trailer)
	}
	return out
}

func newPart(o rig.Own) *Part {
	return &Part{WidthM: metres(o.Width), LengthM: metres(o.Length), MassKG: kilograms(o.Mass)}
}

func unknownWhenEmpty[T ~string](s T) string {
	if s == "" {
		return "unknown"
	}
	return string(s)
}

func metres(l *measure.Length) *float64  { return given(l, measure.Length.Metres) }
func kilograms(m *measure.Mass) *float64 { return given(m, measure.Mass.Kilograms) }

// exactly is a length in metres or a mass in kilograms, both null for what is not known.
func exactly(q finding.Quantity) (m, kg *float64) {
	if l, ok := q.Length(); ok {
		m = metres(&l)
	}
	if weight, ok := q.Mass(); ok {
		kg = kilograms(&weight)
	}
	return m, kg
}

// given is a quantity in its unit, null for one that is not known.
func given[Q any](q *Q, in func(Q) float64) *float64 {
	if q == nil {
		return nil
	}
	v := in(*q)
	return &v
}
