package rig

import (
	"testing"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig/drive"
)

// pulled is a rig of which everything that a road asks about is given.
func pulled() Rig {
	power := 250_000 * measure.Power(1)
	cab, coupling := at(1.3), at(4.2)
	return Rig{
		Unit: Unit{Height: m(4), Width: measure.Given(m(2.5)), Frame: Frame{Nose: drive.Flat, Outline: []Box{*boxOf(-0.3, 8, 1.25, 0.5, 4)}}},
		Tow:  Tow{Fuel: drive.Diesel, Truck: Truck{Power: &power, CabToCoupling: &cab, CouplingAt: &coupling}}, Mass: measure.Given(kg(9000)),
	}
}

// What a road needs and is not given is named; nothing is taken for 0.
func TestOnRoadUnknown(t *testing.T) {
	if road := pulled().OnRoad(); !road.Known() {
		t.Fatal(road.Why())
	}
	if step, untold := pulled().Untold(); untold {
		t.Errorf("nothing is missing, and %+v would tell it", step)
	}
	for name, change := range map[string]func(*Rig){
		"tow.fuel":    func(r *Rig) { r.Tow.Fuel = drive.FuelUnknown },
		"rig.axles":   func(r *Rig) { r.Mass = measure.Known[measure.Mass]{} }, // a scale tells the mass
		"unit.height": func(r *Rig) { r.Unit.Height = nil },
		"unit.width":  func(r *Rig) { r.Unit.Width = measure.Known[measure.Length]{} },
	} {
		r := pulled()
		change(&r)
		if step, untold := r.Untold(); !untold || step.Of != name {
			t.Errorf("without %s: %+v would tell it", name, step)
		}
		if road := r.OnRoad(); !road.Open() || road.Why().None() {
			t.Errorf("without %s: %+v", name, road)
		}
		if held := r.Held(); !held.Open() || held.Why().None() {
			t.Errorf("without %s: holds %v", name, held)
		}
	}
	r := pulled()
	r.Tow.Power = nil
	if held := r.Held(); !held.Open() || held.Why().None() {
		t.Errorf("without power: holds %v", held)
	}
}

// Masses that were only added up are a range on the road too.
func TestOnRoadByParts(t *testing.T) {
	r := pulled()
	r.Mass, r.Tow.Mass = measure.Known[measure.Mass]{}, kg(3500)
	r.Unit.Parts = []Part{part("house", 0, 4)}
	r.Unit.Parts[0].Mass = Estimate{*kg(4000), *kg(4500), *kg(5200)}
	r.Unit.Frame.Axles = []Axle{{At: at(5)}}
	road := r.OnRoad()
	if v := of(road); v.Mass != (drive.Band[measure.Mass]{Likely: *kg(8000), Low: *kg(7500), High: *kg(8700)}) {
		t.Errorf("%+v, %v", v.Mass, road.Why())
	}
}

// A drag area that somebody measured counts before the outline.
func TestStatedDrag(t *testing.T) {
	r := pulled()
	area := measure.Area(5)
	r.Unit.DragArea = &area
	if d := of(r.Drag()); d.Area.Likely != 5 || d.Area.High > 5.5 {
		t.Errorf("%v", d.Area)
	}
}

// The steeper, the slower; on the level it holds more than on any climb.
func TestHeld(t *testing.T) {
	held := of(pulled().Held())
	for i := 1; i < len(held); i++ {
		if held[i].Speed > held[i-1].Speed || held[i].Grade <= held[i-1].Grade {
			t.Errorf("%v after %v", held[i], held[i-1])
		}
	}
	if len(held) == 0 || held[len(held)-1].Speed >= held[0].Speed {
		t.Errorf("%v", held)
	}
}

// described is a rig with axles, measured from the front.
func inPlanRig() Rig {
	r := pulled()
	r.Tow.Width, r.Tow.FrontToCoupling = measure.Given(m(2.4)), m(5.2)
	r.Tow.Truck.Axles = []Axle{{}, {At: at(4.0)}, {At: at(4.8)}}
	r.Unit.Frame.Axles = []Axle{{At: at(5)}, {At: at(6)}}
	r.Unit.CouplingToRear = m(8)
	r.Unit.Clearance, r.Unit.TailClearance, r.Unit.Coupling = m(0.4), m(0.5), Gooseneck
	return r
}

// The plan of a rig is measured from its axles: the middle of the tow vehicle's rear
// axles, the coupling before it, the middle of the unit's axles.
func TestInPlan(t *testing.T) {
	p, known := inPlanRig().inPlan().Value()
	if !known {
		t.Fatal(inPlanRig().inPlan().Why())
	}
	for name, tc := range map[string][2]float64{
		"wheelbase": {float64(p.Wheelbase), 4.4}, "hitch": {float64(p.HitchBehindRear), -0.2}, "coupling to axles": {float64(p.CouplingToAxles), 5.5},
		"front overhang": {float64(p.FrontOverhang), 1.0}, "tow width": {float64(p.TowWidth), 2.4}, "unit width": {float64(p.UnitWidth), 2.5},
		"unit front": {float64(p.UnitFront), 0.3}, "unit rear": {float64(p.UnitRear), 2.5},
	} {
		near(t, name, tc[0], tc[1], 1e-9)
	}
	for name, change := range map[string]func(*Rig){
		"axles of the tow":  func(r *Rig) { r.Tow.Truck.Axles = nil },
		"coupling at":       func(r *Rig) { r.Tow.CouplingAt = nil },
		"axles of the unit": func(r *Rig) { r.Unit.Frame.Axles = nil },
		"width of the tow":  func(r *Rig) { r.Tow.Width = measure.Known[measure.Length]{} },
		"front to coupling": func(r *Rig) { r.Tow.FrontToCoupling = nil },
		"coupling to rear":  func(r *Rig) { r.Unit.CouplingToRear = nil },
	} {
		r := inPlanRig()
		change(&r)
		if turning := r.Turning(); turning.Rig.Known() || turning.Rig.Why().None() || len(turning.Circles) != 0 {
			t.Errorf("without %s: %+v", name, turning)
		}
	}
}

// Under the middle of the span: a gooseneck hangs from the coupling, which lies ahead
// of the last axle of the tow vehicle, so the span is from the coupling to the axles.
func TestUnderneath(t *testing.T) {
	u := of(inPlanRig().Underneath())
	near(t, "span", float64(u.Span), 5.5, 1e-9)
	near(t, "crest", float64(u.Crest), 5.5*5.5/(8*0.4), 1e-9) // Lw2/8c
	near(t, "departure", u.Departure, 0.5/2.0, 1e-9)
	if u.Crossing <= 0 || u.Crossing > 0.033 { // 10 m needs 33 mm within the published profile
		t.Errorf("a crossing needs %v", u.Crossing)
	}
	ball := inPlanRig()
	behind := at(6.0)
	ball.Tow.CouplingAt = &behind
	near(t, "span behind the axle", float64(of(ball.Underneath()).Span), 5.5+1.2, 1e-9)
	for name, change := range map[string]func(*Rig){"clearance": func(r *Rig) { r.Unit.Clearance = nil }, "axles": func(r *Rig) { r.Unit.Frame.Axles = nil }} {
		r := inPlanRig()
		change(&r)
		if u := r.Underneath(); !u.Open() || u.Why().None() {
			t.Errorf("without %s: %+v", name, u)
		}
	}
}

// Circles below the lock are not held, and that of the lock is among them; on a ball
// without its tow vehicle the span is not known.
func TestLockAndHitch(t *testing.T) {
	r := inPlanRig()
	r.Tow.TurningRadius = m(14)
	locks := 0
	for _, c := range r.Turning().Circles {
		if c.Held != (c.Radius >= 14) {
			t.Errorf("%v m: held %v", float64(c.Radius), c.Held)
		}
		if c.Lock {
			locks++
		}
	}
	if locks != 1 {
		t.Errorf("%d circles of the lock", locks)
	}
	r.Unit.Coupling, r.Tow.Truck.Axles = Ball, nil
	if u := r.Underneath(); !u.Open() || u.Why().None() {
		t.Errorf("%+v", u)
	}
}
