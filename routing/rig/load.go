package rig

import (
	"cmp"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Own is the size of a part of a unit by itself. What is nil is not known.
type Own struct {
	Length, Width *measure.Length
	Mass          *measure.Mass
}

// loaded takes the length, the width and the mass that are given of a load on a trailer
// for those of the load, and works out those of the two together: neither is taken for
// the other. Where the load may reach beyond its trailer the length of both is not known.
func (u *Unit) loaded() error {
	if u.Kind != limit.LoadOnTrailer {
		if u.Trailer != (Own{}) {
			return &measure.FieldError{
				Field: "unit.trailer", Value: "kind " + cmp.Or(string(u.Kind), "not given"),
				Problem: say.That("error.does_not_say_that"),
				Fix:     say.That("fix.give_kind_load_on"),
			}
		}
		return nil
	}
	if u.Load != (Own{}) {
		return nil
	}
	u.Load = Own{u.Length, u.Width.Pointer(), u.Mass.Pointer()}
	u.Length = u.trailerLength().Pointer()
	u.Width = measure.Greatest(measure.Given(u.Load.Width), measure.Given(u.Trailer.Width))
	u.Mass = measure.Sum(measure.Given(u.Load.Mass), measure.Given(u.Trailer.Mass))
	return nil
}

// trailerLength is how long the trailer is. That of a trailer under a load that may reach
// beyond it is a least one: many laws count what is on it.
func (u Unit) trailerLength() measure.Known[measure.Length] {
	if u.Kind != limit.LoadOnTrailer {
		return measure.Given(u.Length)
	}
	own, load := measure.Given(u.Trailer.Length), u.Load.Length
	if long, ok := own.Value(); ok && load != nil && *load <= long {
		return own
	}
	return own.OrMore()
}
