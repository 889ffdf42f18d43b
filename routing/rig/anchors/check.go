package anchors

import (
	"slices"
	"strconv"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Bounds of what is taken, far beyond any house: this project's choice, no source.
const (
	farthest    = 100.0 // m, from the coupling or above the anchors
	mostAtPlace = 1000  // fasteners
	densest     = 2.0   // kg/m3
	fastest     = 100.0 // m/s
	largest     = 10e3  // m2
	strongest   = 1e9   // N
)

// check returns a *measure.FieldError about the first figure that cannot be used.
func check(b Body, anchors []Anchor, w Wind) error {
	if e := b.check(); e != nil {
		return e
	}
	if e := w.check(); e != nil {
		return e
	}
	if len(anchors) == 0 {
		return &measure.FieldError{
			Field:   "anchors",
			Problem: say.That("error.none_are_given"),
			Fix:     say.That("fix.give_at_least_one"),
		}
	}
	for i, a := range anchors {
		if e := a.check(); e != nil {
			e.Field = "anchors[" + strconv.Itoa(i) + "]." + e.Field
			return e
		}
	}
	return nil
}

func (b Body) check() *measure.FieldError {
	if b.Mass <= 0 || b.Mass > measure.MaxMass {
		return outside("mass_kg", b.Mass.Kilograms(), say.That("fix.give_the_mass_of"))
	}
	// A centre of mass in the very plane of the anchors is one that was not filled in.
	if b.Up == 0 {
		return outside("centre_up_m", 0, say.That("fix.give_its_height_above"))
	}
	return within(
		span{"centre_along_m", float64(b.Along), -farthest, farthest},
		span{"centre_across_m", float64(b.Across), -farthest, farthest},
		span{"centre_up_m", float64(b.Up), -farthest, farthest},
	)
}

func (w Wind) check() *measure.FieldError {
	return within(
		span{"air_kg_m3", float64(w.Air), 0, densest},
		span{"road_speed_m_s", float64(w.Road), 0, fastest},
		span{"side_wind_m_s", float64(w.Across), 0, fastest},
		span{"side_area_m2", float64(w.Side), 0, largest},
		span{"side_up_m", float64(w.SideUp), 0, farthest},
		span{"roof_area_m2", float64(w.Roof), 0, largest},
	)
}

func (a Anchor) check() *measure.FieldError {
	if a.Count < 1 || a.Count > mostAtPlace {
		return outside("count", float64(a.Count), say.That("fix.between", "low", "1", "high", strconv.Itoa(mostAtPlace)))
	}
	if a.Kind != "" && !slices.Contains(Kinds(), a.Kind) {
		return &measure.FieldError{
			Field: "kind", Value: string(a.Kind), Problem: say.That("error.not_one_of_the"),
			Fix: say.That("fix.give_hold_down_bolt"),
		}
	}
	if e := rated("uplift_rating_n", a.Uplift); e != nil {
		return e
	}
	if e := rated("shear_rating_n", a.Shear); e != nil {
		return e
	}
	return within(
		span{"along_m", float64(a.Along), -farthest, farthest},
		span{"across_m", float64(a.Across), -farthest, farthest},
	)
}

// rated refuses a rating of 0: one that is not known is left out instead.
func rated(field string, rating *measure.Force) *measure.FieldError {
	if rating == nil || (*rating > 0 && *rating <= strongest) {
		return nil
	}
	return outside(field, float64(*rating), say.That("fix.give_a_force_above"))
}

// span is a figure and the range it is taken from.
type span struct {
	field            string
	value, low, high float64
}

func within(spans ...span) *measure.FieldError {
	for _, s := range spans {
		if !(s.low <= s.value && s.value <= s.high) { // NaN fails too
			return outside(s.field, s.value, say.That("fix.between", "low", number(s.low), "high", number(s.high)))
		}
	}
	return nil
}

func outside(field string, value float64, fix say.Remark) *measure.FieldError {
	return &measure.FieldError{Field: field, Value: number(value), Problem: say.That("error.out_of_range_or"), Fix: fix}
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
