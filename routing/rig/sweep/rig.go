// Package sweep works out the swept path of a tow vehicle with one trailer, and
// what its underside clears.
//
// It is plain geometry on a flat local plane in metres; who calls it projects
// the coordinates. The rig is a chain of rigid bodies whose axle groups roll
// without slip, each group standing for its middle: the low-speed tractrix of
// a coupled vehicle. Method: M. W. Sayers, Vehicle Offtracking Models,
// Transportation Research Record 1052 (1986), pages 53 to 62; abstract read.
// It does not consider speed, side slip, tire scrub of a multi-axle group,
// steered trailer axles, crossfall, or a driver who swings wide: who wants
// that gives a wider path.
package sweep

import (
	"math"
	"strconv"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Angle is an angle in radians.
type Angle float64

// Degree is one degree in radians, exact by definition.
const Degree Angle = math.Pi / 180

// Combination is the plan view of a tow vehicle and the unit on its trailer, lengths
// along the bodies in metres.
//
// The tow body ends at its rear axle or at the coupling, whichever is further
// back. A bed that reaches further is not considered: going forward round a
// bend its corners stay between the front corner and the inner side.
type Combination struct {
	Wheelbase       measure.Distance // front axle to the middle of the tow's rear axle group
	HitchBehindRear measure.Distance // that middle back to the coupling point; negative when ahead of it
	CouplingToAxles measure.Distance // coupling point to the middle of the trailer's axle group
	FrontOverhang   measure.Distance // front axle to the foremost point of the tow
	TowWidth        measure.Distance
	UnitWidth       measure.Distance // of the house with its eaves, not of the frame
	UnitFront       measure.Distance // how far the unit reaches ahead of the coupling point
	UnitRear        measure.Distance // how far it reaches behind the middle of its axle group
}

// Check returns a *measure.FieldError that names the first field which is no
// number, not in its range or absurd. The bounds are this project's choice,
// no source: they lie well beyond any road vehicle.
func (r Combination) Check() error {
	for _, f := range []struct {
		name             string
		value, low, high measure.Distance
	}{
		{"wheelbase_m", r.Wheelbase, 0.5, 20},
		{"hitch_behind_rear_m", r.HitchBehindRear, -0.9 * r.Wheelbase, 10},
		{"coupling_to_axles_m", r.CouplingToAxles, 0.5, 40},
		{"front_overhang_m", r.FrontOverhang, 0, 10},
		{"tow_width_m", r.TowWidth, 0.5, 10},
		{"unit_width_m", r.UnitWidth, 0.5, 15},
		{"unit_front_m", r.UnitFront, 0, 20},
		{"unit_rear_m", r.UnitRear, 0, 30},
	} {
		if !(f.low <= f.value && f.value <= f.high) { // NaN fails too
			return &measure.FieldError{
				Field: f.name, Value: number(f.value), Problem: say.That("error.out_of_range_or"),
				Fix: say.That("fix.between", "low", number(f.low)+" m", "high", number(f.high)+" m"),
			}
		}
	}
	return nil
}

func number(d measure.Distance) string { return strconv.FormatFloat(float64(d), 'g', 6, 64) }

// length returns a bound for how far any point of the rig lies behind its
// front axle, whatever the angle at the coupling.
func (r Combination) length() float64 {
	return float64(r.Wheelbase + max(r.HitchBehindRear, 0) + r.CouplingToAxles + r.UnitRear + max(r.UnitWidth, r.TowWidth))
}
