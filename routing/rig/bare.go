package rig

import "wayhouse/regs/measure"

// WithoutUnit is the tow vehicle by itself, as it goes to fetch a unit: what is not told of
// it is not known of the rig either.
func (r Rig) WithoutUnit() Rig {
	t := r.Tow
	return Rig{
		Tow: t, Use: r.Use, Height: measure.Given(t.Height), Width: t.across(), Length: measure.Given(t.Length),
		Mass: measure.Given(t.Mass), Rated: measure.Given(t.Truck.Ratings.Gross), Axles: t.Axles,
		Invented: r.Invented, Day: r.Day,
	}
}
