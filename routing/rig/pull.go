package rig

import (
	"wayhouse/regs/measure"
	"wayhouse/routing/rig/drive"
)

// Drag is what the air meets.
type Drag struct {
	Shape   drive.Shape
	Area    drive.Range[measure.Area] // coefficient times area
	Source  string
	Unknown string // why it is not known
}

// Drag works out the drag area of the rig from the outline of its unit. The gap
// behind the cab is known where the coupling and the front of the outline are.
func (r Rig) Drag() Drag {
	u := r.Unit
	if u.Height == nil || u.house() == nil {
		return Drag{Unknown: "the height or the width of the unit is not given"}
	}
	d := Drag{Shape: drive.Shape{Outline: measure.Area(u.Height.Metres() * u.house().Metres()), Nose: u.Nose}}
	if u.RoofBox != nil {
		d.Shape.RoofBox = *u.RoofBox
	}
	if e, ok := u.extent(Travelling, nil); ok && r.Tow.CabToCoupling != nil {
		gap := measure.Distance(max((*r.Tow.CabToCoupling + e.Front).Metres(), 0))
		d.Shape.Gap = &gap
	}
	d.Area, d.Source = d.Shape.DragArea(), d.Shape.Source()
	return d
}

// OnRoad returns what a road sees of the rig. Where something that it needs is
// not known it returns why instead.
func (r Rig) OnRoad() (v drive.Vehicle, unknown string) {
	drag := r.Drag()
	mass := drive.Range[measure.Mass]{}
	s := r.Statics()
	switch {
	case r.Mass != nil:
		mass = drive.Range[measure.Mass]{Low: *r.Mass, High: *r.Mass}
	case s.Rig != nil:
		mass = drive.Range[measure.Mass]{Low: s.Rig.Low, High: s.Rig.High}
	}
	switch {
	case !r.Tow.Fuel.Known():
		return v, "the fuel of the tow vehicle is not given"
	case mass.High == 0:
		return v, "the mass of the rig is not known"
	case drag.Unknown != "":
		return v, drag.Unknown
	}
	return drive.Vehicle{DragArea: drag.Area, Mass: mass, Fuel: r.Tow.Fuel, Power: r.Tow.Power}, ""
}

// Held is the speed that the engine holds on a grade.
type Held struct {
	Grade  float64 // rise over run
	Speed  measure.Speed
	Climbs bool // false: it may not even hold a crawl
}

// grades are those that are shown.
var grades = []float64{0, 0.02, 0.04, 0.06, 0.08, 0.10, 0.12}

// fastest is the speed that is looked up to.
const fastest = 110 * measure.KilometrePerHour

// Held lists the speeds that the engine holds on grades, by all that resists at
// its high end in cold still air at sea level; unknown says why they are not known.
func (r Rig) Held() (out []Held, unknown string) {
	v, unknown := r.OnRoad()
	if unknown == "" && v.Power == nil {
		unknown = "the power of the engine is not given"
	}
	if unknown != "" {
		return nil, unknown
	}
	for _, g := range grades {
		speed, ok := v.Holds(drive.Section{Grade: g, Surface: drive.Paved}, drive.StillAir(0), fastest)
		out = append(out, Held{g, speed, ok})
	}
	return out, ""
}
