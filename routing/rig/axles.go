package rig

import (
	"fmt"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// scaleError is by how much axles may weigh another sum than the rig is said
// to: a hundredth each for two scales (common practice, no source).
const scaleError = 0.02

// checkAxles refuses axles that contradict the rest of a rig.
func checkAxles(u Unit, t Tow, o Overall) error {
	if n := len(o.Loads); n > 0 && (n <= u.Axles || n <= t.Axles) {
		return &measure.FieldError{
			Field: "rig.axles", Value: fmt.Sprint(n),
			Problem: say.That("error.leaves_no_axle_beside"),
			Fix:     say.That("fix.describe_every_axle_of"),
		}
	}
	if err := checkLastAxle(u, o); err != nil {
		return err
	}
	weighed, all := onScale(o.Loads)
	for _, heavy := range []measure.Known[measure.Mass]{measure.Given(o.Mass),
		measure.Sum(measure.Given(t.Mass), u.Mass)} {
		said, ok := heavy.Value()
		if !ok || len(o.Loads) == 0 {
			continue
		}
		slack := measure.Mass(scaleError * float64(said))
		if weighed > said+slack || all && weighed < said-slack {
			return &measure.FieldError{
				Field: "rig.mass", Value: said.String(),
				Problem: say.That("error.not_weighed", "weighed", weighed.String()),
				Fix:     say.That("fix.weigh_the_rig_again"),
			}
		}
	}
	return nil
}

// checkLastAxle refuses a last axle behind the end of the unit, and an overhang
// that does not fit it.
func checkLastAxle(u Unit, o Overall) error {
	if u.CouplingToAxle == nil {
		return nil
	}
	for _, end := range []*measure.Length{u.CouplingToRear, u.Length} {
		if end != nil && *u.CouplingToAxle > *end {
			return &measure.FieldError{
				Field: "unit.coupling_to_last_axle", Value: u.CouplingToAxle.String(),
				Problem: say.That("error.beyond_end", "end", end.String()), Fix: say.That("fix.check_both_figures"),
			}
		}
	}
	if o.RearOverhang == nil || u.CouplingToRear == nil {
		return nil
	}
	if behind := *u.CouplingToRear - *u.CouplingToAxle; behind != *o.RearOverhang {
		return &measure.FieldError{
			Field: "rig.rear_overhang", Value: o.RearOverhang.String(),
			Problem: say.That("error.not_behind_axle", "behind", behind.String()),
			Fix:     say.That("fix.give_only_one_of"),
		}
	}
	return nil
}

// onScale is what axles carry together as far as it is known, and whether that
// is all of it.
func onScale(loads []limit.AxleLoad) (total measure.Mass, all bool) {
	all = len(loads) > 0
	for _, l := range loads {
		mass, known := l.Mass.Value()
		total, all = total+mass, all && known
	}
	return total, all
}
