package rig

import (
	"fmt"
	"math"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/drive"
)

// Bounds of what a description says, beyond which it is a slip of the unit or the
// point (common practice, no source).
const (
	heaviestUnit                = 100 * measure.Tonne
	lightestUnit                = 200 * measure.Kilogram
	smallestTank, largestTank   = 5 * measure.Litre, 3000 * measure.Litre
	thriftiest, thirstiest      = 5 * measure.LitrePer100Kilometres, 120 * measure.LitrePer100Kilometres
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
			return absurd("unit.scale_ticket", mass, say.That("error.what_no_unit_weighs"))
		}
		if err := w.checkSides(); err != nil {
			return err
		}
	}
	if a := u.RoofBox; a != nil && *a > largestRoofBox {
		return absurd("unit.roof_box_area", *a, say.That("error.more_than_any_roof"))
	}
	if v := t.Tank; v != nil && !(*v >= smallestTank && *v <= largestTank) {
		return absurd("tow.tank", *v, say.That("error.no_tank_of_a"))
	}
	if p := t.Power; p != nil && !(*p >= weakest && *p <= strongest) {
		return absurd("tow.power", *p, say.That("error.no_engine_of_a"))
	}
	for i, a := range u.Anchors {
		if math.Abs(float64(a.Along)) > farthestPlace.Metres() || math.Abs(float64(a.Across)) > widestTrack.Metres() {
			return absurd(fmt.Sprintf("unit.anchors[%d]", i),
				fmt.Sprintf("%g m, %g m", float64(a.Along), float64(a.Across)), say.That("error.no_place_on_a"))
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
			return absurd(field, a.At, say.That("error.no_place_of_an"))
		case i > 0 && a.At-axles[i-1].At < nearestAxles:
			return absurd(field, a.At, say.That("error.nearer_to_the_axle"))
		case a.Track != nil && (*a.Track < narrowestTrack || *a.Track > widestTrack):
			return absurd(field+".track", *a.Track, say.That("error.no_track_of_an"))
		case a.Over != nil && (*a.Over < narrowestTrack || *a.Over > widestTrack+widestTire):
			return absurd(field+".over_tires", *a.Over, say.That("error.no_width_over_tires"))
		case a.Over != nil && a.Track != nil && *a.Over <= *a.Track:
			return absurd(field+".over_tires", *a.Over, say.That("error.within_track", "track", a.Track.String()))
		case a.Width != 0 && (a.Width < narrowestTire || a.Width > widestTire):
			return absurd(field+".tire_width", a.Width, say.That("error.no_width_of_a"))
		}
	}
	return nil
}

func absurd(field string, value any, problem say.Remark) error {
	return &measure.FieldError{
		Field: field, Value: fmt.Sprint(value), Problem: problem, Fix: say.That("fix.check_the_figure_and"),
	}
}

// checkParts bounds the masses of parts, each and together, so that their sum is one
// that a unit may have, and their places.
func checkParts(u Unit) error {
	var sum measure.Mass
	add := func(field string, e Estimate, p Coordinates) error {
		if e.High > heaviestUnit {
			return absurd(field, e.High, say.That("error.more_than_a_whole"))
		}
		sum += e.High
		for name, at := range map[string]*measure.Length{"along": p.Along, "across": p.Across} {
			if at != nil && (*at > farthestPlace || *at < -farthestPlace) {
				return absurd(field+"."+name, *at, say.That("error.no_place_on_a"))
			}
		}
		if p.Up != nil && (*p.Up < 0 || *p.Up > highestPlace) {
			return absurd(field+".up", *p.Up, say.That("error.no_height_on_a"))
		}
		return nil
	}
	for _, p := range u.Parts {
		if err := add(p.Field, p.Mass, p.Place); err != nil {
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
		return absurd("unit.parts", sum, say.That("error.add_up_to_more"))
	}
	return nil
}

// checkTruck refuses lengths of a tow vehicle that contradict one another.
func checkTruck(t Tow) error {
	if err := checkLogs(t.Logs); err != nil {
		return err
	}
	if t.CouplingAt != nil && *t.CouplingAt > longestTruck {
		return absurd("tow.coupling_behind_first_axle", *t.CouplingAt, say.That("error.no_place_on_a_tow"))
	}
	n := len(t.Truck.Axles)
	if n == 0 {
		return nil
	}
	last := t.Truck.Axles[n-1].At
	switch {
	case t.Length != nil && last > *t.Length:
		return absurd("tow.length", *t.Length, say.That("error.shorter_than_wheelbase", "wheelbase", last.String()))
	case t.FrontToCoupling != nil && t.CouplingAt != nil && *t.FrontToCoupling < *t.CouplingAt:
		return absurd("tow.front_to_coupling", *t.FrontToCoupling,
			say.That("error.axle_before_front", "at", t.CouplingAt.String()))
	case t.TurningRadius != nil && *t.TurningRadius < last:
		return absurd("tow.turning_radius", *t.TurningRadius,
			say.That("error.turns_in_wheelbase", "wheelbase", last.String()))
	}
	return nil
}

// checkLogs refuses logs of fuel that no rig burnt.
func checkLogs(logs []drive.Log) error {
	for i, l := range logs {
		field := fmt.Sprintf("tow.fuel_logs[%d]", i)
		burnt := measure.Consumption(float64(l.Fuel) / float64(l.Distance))
		switch {
		case l.Mass != nil && (*l.Mass < lightestUnit || *l.Mass > 2*heaviestUnit):
			return absurd(field+".mass", *l.Mass, say.That("error.no_mass_of_a_rig"))
		case l.Fuel == 0 || l.Distance == 0: // refused as it was read
		case !(burnt >= thriftiest && burnt <= thirstiest):
			return absurd(field+".fuel", l.Fuel, say.That("error.no_rig_burns", "burnt", burnt.String()))
		}
	}
	return nil
}

// checkFit refuses a unit that would stand in its tow vehicle or in the ground. What
// moves is taken as it travels.
func checkFit(u Unit, t Tow) error {
	if t.Truck.Distribution != nil && u.rests() {
		return &measure.FieldError{
			Field: "tow.load_distribution", Value: string(u.Coupling), Problem: say.That("error.bars_of_a_ball"),
			Fix: say.That("fix.leave_out_load_distribution"),
		}
	}
	e, ok := u.extent(Travelling, nil)
	if !ok {
		return nil
	}
	last := e.Rear
	if n := len(u.Frame.Axles); n > 0 {
		last = u.Frame.Axles[n-1].At
	}
	for _, b := range u.OutlineIn(Travelling, nil) {
		if t.CabToCoupling != nil && *t.CabToCoupling+b.From < 0 && (t.Height == nil || b.Bottom < *t.Height) {
			return absurd("tow.cab_to_coupling", *t.CabToCoupling, say.That("error.in_cab", "ahead", (-b.From).String()))
		}
		if u.Clearance != nil && b.From < last && *u.Clearance > b.Bottom {
			return absurd(
				"unit.ground_clearance",
				*u.Clearance,
				say.That("error.beyond_outline", "box", b.label(), "bottom", b.Bottom.String()),
			)
		}
		if u.TailClearance != nil && b.To > last && *u.TailClearance > b.Bottom {
			return absurd(
				"unit.tail_clearance",
				*u.TailClearance,
				say.That("error.beyond_outline", "box", b.label(), "bottom", b.Bottom.String()),
			)
		}
	}
	return nil
}

// label names a box.
func (b Box) label() say.Remark { return say.Or(say.Text(b.Name), say.That("error.a_box")) }

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
			return absurd(fmt.Sprintf("rig.axles[%d].behind_first", i), l.At,
				say.That("error.axle_elsewhere", "at", at.String()))
		}
	}
	return nil
}

// checkSides wants both sides of a ticket to add up to what its axles carry, within
// what scales differ by.
func (t Ticket) checkSides() error {
	fix := say.That("fix.check_sides")
	all := t.group()
	for _, side := range []struct {
		field string
		mass  *measure.Mass
	}{{"unit.scale_ticket.left", t.Left}, {"unit.scale_ticket.right", t.Right}} {
		if side.mass != nil && *side.mass > all {
			return &measure.FieldError{
				Field: side.field, Value: side.mass.String(),
				Problem: say.That("error.side_beyond_all", "all", all.String()), Fix: fix,
			}
		}
	}
	if t.Left == nil || t.Right == nil {
		return nil
	}
	if sum := *t.Left + *t.Right; float64(max(sum-all, all-sum)) > scaleError*float64(all) {
		return &measure.FieldError{
			Field: "unit.scale_ticket.right", Value: t.Right.String(),
			Problem: say.That("error.sides_apart", "sum", sum.String(), "all", all.String()), Fix: fix,
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
