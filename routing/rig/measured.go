package rig

import (
	"fmt"

	"wayhouse/regs/measure"
)

// measured fills in what the description of a unit says of its measurements, and
// refuses what contradicts it.
func (u Unit) measured() (Unit, error) {
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
			{"unit.height", &u.Height, height}, {"unit.width", &u.Width, e.Width()}, {"unit.length", &u.Length, e.Length()},
			{"unit.coupling_to_rear", &u.CouplingToRear, e.Rear},
		} {
			if err := agree(m.field, m.of, m.is, "the outline, as it travels,"); err != nil {
				return u, err
			}
		}
	}
	if n := len(u.Frame.Axles); n > 0 {
		if u.Axles != 0 && u.Axles != n {
			return u, &measure.FieldError{Field: "unit.axles", Value: fmt.Sprint(u.Axles), Problem: fmt.Sprintf("differs from the running gear, which has %d", n), Fix: "leave axles out where they are described"}
		}
		u.Axles = n
		if err := agree("unit.coupling_to_last_axle", &u.CouplingToAxle, u.Frame.Axles[n-1].At, "the running gear"); err != nil {
			return u, err
		}
	}
	return u, u.weighed()
}

// weighed takes the mass from the scale's ticket.
func (u *Unit) weighed() error {
	if u.Ticket == nil {
		return nil
	}
	return agree("unit.mass", &u.Mass, u.Ticket.total(), "the scale's ticket")
}

// measured fills in what the description of a tow vehicle says.
func (t Tow) measured() (Tow, error) {
	n := len(t.Truck.Axles)
	if n == 0 {
		return t, nil
	}
	if t.Axles != 0 && t.Axles != n {
		return t, &measure.FieldError{Field: "tow.axles", Value: fmt.Sprint(t.Axles), Problem: fmt.Sprintf("differs from the running gear, which has %d", n), Fix: "leave axles out where they are described"}
	}
	t.Axles = n
	var empty measure.Mass
	for _, a := range t.Truck.Axles {
		if a.Empty == nil {
			return t, nil
		}
		empty += *a.Empty
	}
	return t, agree("tow.mass", &t.Mass, empty, "what its axles carry empty")
}

// agree fills in a measurement, or refuses one that differs.
func agree[T interface {
	~int64
	String() string
}](field string, given **T, is T, by string) error {
	if *given == nil {
		*given = &is
		return nil
	}
	if **given != is {
		return &measure.FieldError{Field: field, Value: (**given).String(), Problem: "differs from what " + by + " comes to, " + is.String(), Fix: "give only one of the two, or correct it"}
	}
	return nil
}
