package rig

import (
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/sweep"
)

// Turning is what a rig measures in plan, and what it sweeps in steady circles.
type Turning struct {
	Rig     measure.Known[sweep.Combination]
	Radius  *measure.Length // of the middle of the first axle at full lock; nil: not given
	Circles []Circle
}

// Circle is a steady circle of the middle of the first axle.
type Circle struct {
	Radius measure.Distance
	sweep.Circle
	Held bool // false: no such rig holds that circle, or it is below its lock
	Lock bool // it is that of full lock
}

// circles are the radii that are shown: city corner, wide corner, ramp, curve.
var circles = []measure.Distance{10, 12.5, 15, 20, 30, 50, 100}

// Turning works out how the rig turns. The tow vehicle is taken as wide as it is
// given, the unit as its outline is, eaves included, and over its tires as far as those are known.
func (r Rig) Turning() Turning {
	out := Turning{Rig: r.inPlan(), Radius: r.Tow.TurningRadius}
	plan, ok := out.Rig.Value()
	if !ok {
		return out
	}
	radii := slices.Clone(circles)
	lock := measure.Distance(0)
	if out.Radius != nil {
		lock = measure.Distance(out.Radius.Metres())
		radii = append(radii, lock)
		slices.Sort(radii)
	}
	for _, radius := range slices.Compact(radii) {
		c := Circle{Radius: radius, Lock: radius == lock}
		c.Circle, c.Held = sweep.Steady(plan, radius)
		c.Held = c.Held && radius >= lock
		out.Circles = append(out.Circles, c)
	}
	return out
}

// inPlan is the rig in plan.
func (r Rig) inPlan() measure.Known[sweep.Combination] {
	unknown := measure.Because[sweep.Combination]
	t, u := r.Tow, r.Unit
	e, shaped := u.extent(Travelling, nil)
	width, wide := u.Width.Value()
	if shaped {
		tires, _ := overTires(u.Frame.Axles)
		whole := e.over(tires)
		width, wide = max(width, 2*max(whole.Left, whole.Right)), true
	}
	body, given := t.Width.Least()
	front := -min(e.Front, 0)
	if !shaped && u.Length != nil && u.CouplingToRear != nil {
		front = max(*u.Length-*u.CouplingToRear, 0)
	}
	rests := u.rests()
	switch {
	case rests && !shaped && (u.Length == nil || u.CouplingToRear == nil):
		return unknown(say.That("rig.no_reach_ahead"))
	case len(t.Truck.Axles) < 2 || t.CouplingAt == nil:
		return unknown(say.That("rig.no_tow_axles"))
	case len(u.Frame.Axles) == 0:
		return unknown(say.That("rig.no_unit_axles"))
	case !given || t.FrontToCoupling == nil:
		return unknown(say.That("rig.no_tow_width"))
	case !wide || u.CouplingToRear == nil:
		return unknown(say.That("rig.no_unit_width"))
	}
	rear := axlesAt(t.Truck.Axles[1:]).Metres() / float64(len(t.Truck.Axles)-1)
	axles := axlesAt(u.Frame.Axles).Metres() / float64(len(u.Frame.Axles))
	p := sweep.Combination{
		Wheelbase: measure.Distance(rear), HitchBehindRear: measure.Distance(t.CouplingAt.Metres() - rear),
		CouplingToAxles: measure.Distance(axles),
		FrontOverhang:   measure.Distance((*t.FrontToCoupling - *t.CouplingAt).Metres()),
		TowWidth:        measure.Distance(body.Metres()), UnitWidth: measure.Distance(width.Metres()),
		UnitFront: measure.Distance(front.Metres()),
		UnitRear:  measure.Distance(u.CouplingToRear.Metres() - axles),
	}
	if err := p.Check(); err != nil {
		return unknown(say.That("rig.refused", "problem", say.Of(err)))
	}
	return measure.Exactly(p)
}

// Underneath is what the underside of a unit clears.
type Underneath struct {
	// Span is between the last axle of the tow vehicle and the middle of the unit's
	// axles, Clearance the lowest place between them.
	Span, Clearance measure.Distance
	Crest           measure.Distance // the least radius of a crest that it passes
	// Crossing is the clearance that the steepest level crossing within the usual
	// standard needs. Few crossings are known to keep it.
	Crossing measure.Distance // 0: the standard says nothing of so long a span
	Hump     measure.Distance // the clearance that the highest published speed hump needs
	// Departure is the greatest change of grade, rise over run, that the tail
	// passes; 0: not known.
	Departure float64
}

// Underneath works out what the unit passes over.
func (r Rig) Underneath() measure.Known[Underneath] {
	t, u := r.Tow.Truck, r.Unit
	n := len(u.Frame.Axles)
	if n == 0 || u.Clearance == nil {
		return measure.Because[Underneath](say.That("rig.no_clearance"))
	}
	if rests := u.rests(); !rests && (len(t.Axles) == 0 || t.CouplingAt == nil) {
		return measure.Because[Underneath](say.That("rig.no_coupling_place"))
	}
	middle := axlesAt(u.Frame.Axles).Metres() / float64(n)
	span := middle // from the coupling: behind the tow vehicle's last axle it is nearer than that axle
	if len(t.Axles) > 0 && t.CouplingAt != nil {
		span += max((*t.CouplingAt - t.Axles[len(t.Axles)-1].At).Metres(), 0)
	}
	under := sweep.Underside{AxleSpan: measure.Distance(span), Clearance: measure.Distance(u.Clearance.Metres())}
	if u.TailClearance != nil && u.CouplingToRear != nil {
		under.RearOverhang = measure.Distance((*u.CouplingToRear - u.Frame.Axles[n-1].At).Metres())
		under.TailClearance = measure.Distance(u.TailClearance.Metres())
	}
	out := Underneath{Span: under.AxleSpan, Clearance: under.Clearance}
	out.Crest, _ = under.CrestRadius()
	if touch, ok := sweep.RailCrossing().Profile().Need(under.AxleSpan); ok {
		out.Crossing = touch.Need
	}
	if touch, ok := sweep.SpeedHump().Need(under.AxleSpan); ok {
		out.Hump = touch.Need
	}
	departure, _ := under.DepartureGrade()
	out.Departure = float64(departure)
	return measure.Exactly(out)
}
