package rig

import (
	"fmt"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// measured fills in what the description of a unit says of its measurements, and
// refuses what contradicts it.
func (u Unit) measured() (Unit, error) {
	if err := u.loaded(); err != nil {
		return u, err
	}
	if e, ok := u.extent(Travelling, nil); ok {
		height := e.Top
		if u.HeightMeasured && u.Height != nil {
			height = *u.Height // the tape counts, not the drawing
		}
		for _, m := range []struct {
			field string
			of    **measure.Length
			is    measure.Length
		}{
			{"unit.height", &u.Height, height}, {"unit.coupling_to_rear", &u.CouplingToRear, e.Rear},
		} {
			if err := agree(m.field, m.of, m.is, say.That("measured.outline")); err != nil {
				return u, err
			}
		}
	}
	if err := u.measuredLength(); err != nil {
		return u, err
	}
	if err := u.measuredWidth(); err != nil {
		return u, err
	}
	if n := len(u.Frame.Axles); n > 0 {
		if err := agreeAxles("unit.axles", &u.Axles, n); err != nil {
			return u, err
		}
		if err := agree("unit.coupling_to_last_axle", &u.CouplingToAxle, u.Frame.Axles[n-1].At,
			say.That("measured.running_gear")); err != nil {
			return u, err
		}
	}
	return u, u.weighed()
}

// measuredLength takes the length from the outline where that reaches ahead of the
// coupling point. Elsewhere the head of the coupling is ahead of it, in no box: a length
// that is given may then be more than the outline's, and one that is not is not known.
// What moves is held to the sizes that are given where there is no outline.
func (u *Unit) measuredLength() error {
	if e, ok := u.extent(Travelling, nil); ok {
		if e.Front < 0 || u.Length != nil && *u.Length < e.Length() {
			return agree("unit.length", &u.Length, e.Length(), say.That("measured.outline"))
		}
		return nil
	}
	for i := range u.Movables {
		at := u.Movables[i].Travel
		if at == nil || at.Box == nil {
			continue
		}
		if u.Height != nil && at.Box.Top > *u.Height {
			return &measure.FieldError{
				Field: fmt.Sprintf("unit.movables[%d].travel.box.top", i), Value: at.Box.Top.String(),
				Problem: say.That("error.higher_than_unit", "height", u.Height.String()),
				Fix:     say.That("fix.correct_one_of_the"),
			}
		}
		wide, given := u.Width.Least()
		if half := at.Box.Left; given && max(half, at.Box.Right) > wide/2 {
			return &measure.FieldError{
				Field: fmt.Sprintf("unit.movables[%d].travel.box", i), Value: max(half, at.Box.Right).String(),
				Problem: say.That("error.beyond_half_width", "width", wide.String()),
				Fix:     say.That("fix.correct_one_of_the_two"),
			}
		}
	}
	return nil
}

// weighed takes the mass from the scale's ticket.
func (u *Unit) weighed() error {
	if u.Ticket == nil {
		return nil
	}
	mass := u.Mass.Pointer()
	err := agree("unit.mass", &mass, u.Ticket.total(), say.That("measured.ticket"))
	u.Mass = measure.Given(mass)
	return err
}

// measured fills in what the description of a tow vehicle says.
func (t Tow) measured() (Tow, error) {
	t.measuredWidth()
	n := len(t.Truck.Axles)
	if n == 0 {
		return t, nil
	}
	if err := agreeAxles("tow.axles", &t.Axles, n); err != nil {
		return t, err
	}
	var empty measure.Mass
	for _, a := range t.Truck.Axles {
		if a.Empty == nil {
			return t, nil
		}
		empty += *a.Empty
	}
	return t, agree("tow.mass", &t.Mass, empty, say.That("measured.axles_empty"))
}

// agreeAxles fills in how many axles there are, or refuses a count that differs.
func agreeAxles(field string, given *int, are int) error {
	if *given != 0 && *given != are {
		return &measure.FieldError{
			Field: field, Value: fmt.Sprint(*given),
			Problem: say.That("error.not_running_gear", "axles", are),
			Fix:     say.That("fix.leave_axles_out_where"),
		}
	}
	*given = are
	return nil
}

// agree fills in a measurement, or refuses one that differs.
func agree[T interface {
	~int64
	String() string
}](field string, given **T, is T, by say.Remark) error {
	if *given == nil {
		*given = &is
		return nil
	}
	if **given != is {
		return &measure.FieldError{
			Field: field, Value: (**given).String(),
			Problem: say.That("error.differs_sum", "by", by, "is", is.String()),
			Fix:     say.That("fix.give_only_one_of_the"),
		}
	}
	return nil
}
