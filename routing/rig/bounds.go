package rig

import (
	"fmt"
	"math"

	"wayhouse/regs/measure"
)

// Bounds of what a description says, beyond which it is a slip of the unit or the
// point (common practice, no source).
const (
	heaviestUnit                = 100 * measure.Tonne
	lightestUnit                = 200 * measure.Kilogram
	smallestTank, largestTank   = 5 * measure.Litre, 3000 * measure.Litre
	weakest, strongest          = 10_000, 1_500_000 * measure.Power(1) // W
	largestRoofBox              = measure.Area(20)
	farthestPlace               = 40 * measure.Metre
	highestPlace                = 10 * measure.Metre
	nearestAxles                = 300 * measure.Millimetre
	longestTruck                = 15 * measure.Metre
	narrowestTrack, widestTrack = measure.Metre, 3500 * measure.Millimetre
	narrowestTire, widestTire   = 100 * measure.Millimetre, 600 * measure.Millimetre
)

// checkDescription refuses what no unit and no tow vehicle has. The error is a
// [*measure.FieldError].
func checkDescription(u Unit, t Tow) error {
	if err := checkParts(u); err != nil {
		return err
	}
	if w := u.Ticket; w != nil {
		if mass := w.total(); mass < lightestUnit || mass > heaviestUnit {
			return absurd("unit.scale_ticket", mass, "is what no unit weighs")
		}
		if err := w.checkSides(); err != nil {
			return err
		}
	}
	if a := u.RoofBox; a != nil && *a > largestRoofBox {
		return absurd("unit.roof_box_area", *a, "is more than any roof carries")
	}
	if v := t.Tank; v != nil && !(*v >= smallestTank && *v <= largestTank) {
		return absurd("tow.tank", *v, "is no tank of a tow vehicle")
	}
	if p := t.Power; p != nil && !(*p >= weakest && *p <= strongest) {
		return absurd("tow.power", *p, "is no engine of a tow vehicle")
	}
	for i, a := range u.Anchors {
		if math.Abs(float64(a.Along)) > farthestPlace.Metres() || math.Abs(float64(a.Across)) > widestTrack.Metres() {
			return absurd(fmt.Sprintf("unit.anchors[%d]", i),
				fmt.Sprintf("%g m, %g m", float64(a.Along), float64(a.Across)), "is no place on a unit")
		}
	}
	if err := checkGear("unit", u.Frame.Axles, farthestPlace); err != nil {
		return err
	}
	if err := checkGear("tow", t.Truck.Axles, longestTruck); err != nil {
		return err
	}
	return checkTruck(t)
}

// checkGear refuses axles that no vehicle has.
func checkGear(of string, axles []Axle, longest measure.Length) error {
	for i, a := range axles {
		field := fmt.Sprintf("%s.running_gear[%d]", of, i)
		switch {
		case a.At > longest:
			return absurd(field, a.At, "is no place of an axle")
		case i > 0 && a.At-axles[i-1].At < nearestAxles:
			return absurd(field, a.At, "is nearer to the axle before it than tires allow")
		case a.Track != nil && (*a.Track < narrowestTrack || *a.Track > widestTrack):
			return absurd(field+".track", *a.Track, "is no track of an axle")
		case a.Over != nil && (*a.Over < narrowestTrack || *a.Over > widestTrack+widestTire):
			return absurd(field+".over_tires", *a.Over, "is no width over tires")
		case a.Over != nil && a.Track != nil && *a.Over <= *a.Track:
			return absurd(field+".over_tires", *a.Over, "is no more than from the middle of one outer tire to that "+
				"of the other, "+a.Track.String())
		case a.Width != 0 && (a.Width < narrowestTire || a.Width > widestTire):
			return absurd(field+".tire_width", a.Width, "is no width of a tire")
		}
	}
	return nil
}

func absurd(field string, value any, problem string) error {
	return &measure.FieldError{
		Field: field, Value: fmt.Sprint(value), Problem: problem, Fix: "check the figure and its unit",
	}
}

// checkParts bounds the masses of parts, each and together, so that their sum is one
// that a unit may have, and their places.
func checkParts(u Unit) error {
	var sum measure.Mass
	add := func(field string, e Estimate, p Coordinates) error {
		if e.High > heaviestUnit {
			return absurd(field, e.High, "is more than a whole unit weighs")
		}
		sum += e.High
		for name, at := range map[string]*measure.Length{"along": p.Along, "across": p.Across} {
			if at != nil && (*at > farthestPlace || *at < -farthestPlace) {
				return absurd(field+"."+name, *at, "is no place on a unit")
			}
		}
		if p.Up != nil && (*p.Up < 0 || *p.Up > highestPlace) {
			return absurd(field+".up", *p.Up, "is no height on a unit")
		}
		return nil
	}
	for i, p := range u.Parts {
		if err := add(fmt.Sprintf("unit.parts[%d]", i), p.Mass, p.Place); err != nil {
			return err
		}
	}
	for i, m := range u.Movables {
		for _, at := range []*Position{m.Travel, m.Stand} {
			if at == nil {
				continue
			}
			if err := add(fmt.Sprintf("unit.movables[%d]", i), m.Mass, at.Place); err != nil {
				return err
			}
		}
	}
	if sum > 2*heaviestUnit {
		return absurd("unit.parts", sum, "add up to more than any unit weighs")
	}
	return nil
}

// checkTruck refuses lengths of a tow vehicle that contradict one another.
func checkTruck(t Tow) error {
	if t.CouplingAt != nil && *t.CouplingAt > longestTruck {
		return absurd("tow.coupling_behind_first_axle", *t.CouplingAt, "is no place on a tow vehicle")
	}
	n := len(t.Truck.Axles)
	if n == 0 {
		return nil
	}
	last := t.Truck.Axles[n-1].At
	switch {
	case t.Length != nil && last > *t.Length:
		return absurd("tow.length", *t.Length, "is shorter than from the first axle to the last, "+last.String())
	case t.FrontToCoupling != nil && t.CouplingAt != nil && *t.FrontToCoupling < *t.CouplingAt:
		return absurd("tow.front_to_coupling", *t.FrontToCoupling, "is less than coupling_behind_first_axle, "+
			t.CouplingAt.String()+": the first axle would stand before the front")
	case t.TurningRadius != nil && *t.TurningRadius < last:
		return absurd("tow.turning_radius", *t.TurningRadius, "is less than the wheelbase, "+last.String()+
			": no such vehicle turns in it")
	}
	return nil
}

// checkFit refuses a unit that would stand in its tow vehicle or in the ground. What
// moves is taken as it travels.
func checkFit(u Unit, t Tow) error {
	e, ok := u.extent(Travelling, nil)
	if !ok {
		return nil
	}
	if t.CabToCoupling != nil && *t.CabToCoupling+e.Front < 0 {
		return absurd("tow.cab_to_coupling", *t.CabToCoupling, "is less than the unit reaches ahead of its coupling, "+
			(-e.Front).String()+": it would stand in the cab")
	}
	last := e.Rear
	if n := len(u.Frame.Axles); n > 0 {
		last = u.Frame.Axles[n-1].At
	}
	for _, b := range u.OutlineIn(Travelling, nil) {
		if u.Clearance != nil && b.From < last && *u.Clearance > b.Bottom {
			return absurd("unit.ground_clearance", *u.Clearance, "is more than the outline has under "+b.label()+", "+
				b.Bottom.String())
		}
		if u.TailClearance != nil && b.To > last && *u.TailClearance > b.Bottom {
			return absurd("unit.tail_clearance", *u.TailClearance, "is more than the outline has under "+b.label()+
				", "+b.Bottom.String())
		}
	}
	return nil
}

// label names a box.
func (b Box) label() string {
	if b.Name == "" {
		return "a box"
	}
	return b.Name
}

// checkScaled refuses axles of the rig that stand elsewhere than the running gear says.
func checkScaled(u Unit, t Tow, o Overall) error {
	tow, unit := t.Truck.Axles, u.Frame.Axles
	if t.CouplingAt == nil || len(tow) == 0 || len(unit) == 0 || len(o.Loads) != len(tow)+len(unit) {
		return nil
	}
	const slack = 100 * measure.Millimetre // a tape's
	for i, l := range o.Loads {
		var at measure.Length
		if i < len(tow) {
			at = tow[i].At
		} else {
			at = *t.CouplingAt + unit[i-len(tow)].At
		}
		if max(l.At-at, at-l.At) > slack {
			return absurd(fmt.Sprintf("rig.axles[%d].behind_first", i), l.At, "differs from where the running gear "+
				"has that axle, "+at.String())
		}
	}
	return nil
}

// checkSides wants both sides of a ticket to add up to what its axles carry, within
// what scales differ by.
func (t Ticket) checkSides() error {
	const fix = "check both sides"
	all := t.group()
	for _, side := range []struct {
		field string
		mass  *measure.Mass
	}{{"unit.scale_ticket.left", t.Left}, {"unit.scale_ticket.right", t.Right}} {
		if side.mass != nil && *side.mass > all {
			return &measure.FieldError{
				Field: side.field, Value: side.mass.String(),
				Problem: "is more on one side than the axles carry together, " + all.String(), Fix: fix,
			}
		}
	}
	if t.Left == nil || t.Right == nil {
		return nil
	}
	if sum := *t.Left + *t.Right; float64(max(sum-all, all-sum)) > scaleError*float64(all) {
		return &measure.FieldError{
			Field: "unit.scale_ticket.right", Value: t.Right.String(),
			Problem: "adds up with left to " + sum.String() + ", and the axles carry " + all.String(), Fix: fix,
		}
	}
	return nil
}

// group is what the axles carried together.
func (t Ticket) group() (mass measure.Mass) {
	for _, m := range t.Axles {
		mass += m
	}
	return mass
}

// total is what a ticket adds up to.
func (t Ticket) total() measure.Mass { return t.Coupling + t.group() }
