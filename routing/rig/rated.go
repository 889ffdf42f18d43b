package rig

import (
	"wayhouse/regs/measure"
	"wayhouse/regs/trucks"
)

// Truck is what decides whether signs for trucks mean the rig. A vehicle that is not said
// to be rated is rated for what it weighs at least.
func (r Rig) Truck() trucks.Case {
	tow, unit := measure.Given(r.Tow.Truck.Ratings.Gross), measure.Given(r.Unit.Frame.Ratings.Gross)
	if tow.Open() {
		tow = measure.Given(r.Tow.Mass).OrMore()
	}
	if unit.Open() {
		unit = r.Unit.Mass.OrMore()
	}
	whole := r.Rated
	if whole.Open() {
		whole = measure.Greatest(r.Mass, tow, unit).OrMore()
	}
	return trucks.Case{Use: r.Use, Vehicle: measure.Greatest(tow, unit), Rig: whole}
}

// Unrated are the fields that say what the rig is rated for, those that were not given.
func (r Rig) Unrated() []string {
	if r.Rated.Known() {
		return nil
	}
	var out []string
	if r.Tow.Truck.Ratings.Gross == nil {
		out = append(out, "tow.gross_rating")
	}
	if r.Unit.Frame.Ratings.Gross == nil {
		out = append(out, "unit.gross_rating")
	}
	return out
}
