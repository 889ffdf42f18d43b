package rig

import (
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/drive"
)

// Drag is what the air meets.
type Drag struct {
	Shape  drive.Shape
	Area   drive.Band[measure.Area] // coefficient times area
	Source []say.Remark             // what it rests on
}

// Drag works out the drag area of the rig from the outline of its unit.
func (r Rig) Drag() measure.Known[Drag] {
	u := r.Unit
	house, wide := u.WithoutTires()
	if u.Height == nil || !wide {
		return measure.Because[Drag](say.That("rig.no_height_or_width"))
	}
	d := Drag{Shape: drive.Shape{
		Outline: measure.Area(u.Height.Metres() * house.Metres()), Nose: u.Nose, Stated: u.DragArea,
	}}
	if u.RoofBox != nil {
		d.Shape.RoofBox = *u.RoofBox
	}
	d.Area, d.Source = d.Shape.DragArea(), d.Shape.Source()
	return measure.Exactly(d)
}

// pulledMass is what the engine pulls, 0 where that is not known.
func (r Rig) pulledMass() drive.Band[measure.Mass] {
	if m, ok := r.Mass.Value(); ok {
		return drive.Exactly(m)
	}
	whole, _ := r.Statics().Rig.Value()
	return drive.Band[measure.Mass]{Likely: whole.Likely, Low: whole.Low, High: whole.High}
}

// Untold is the step that tells what keeps [Rig.OnRoad] from being known; ok is false
// where nothing does.
func (r Rig) Untold() (step finding.Step, ok bool) {
	_, shaped := r.Drag().Value()
	switch {
	case !r.Tow.Fuel.Known():
		return finding.Step{By: finding.Answer, Of: "tow.fuel", Asks: say.That("task.range")}, true
	case r.pulledMass().High == 0:
		return weigh(ofAxles, say.That("task.weigh_rig")), true
	case !shaped:
		return describe(shapeOf(r.Unit)), true
	}
	return finding.Step{}, false
}

// shapeOf is the field of a unit that its drag is not known without.
func shapeOf(u Unit) string {
	if u.Height == nil {
		return "unit.height"
	}
	return "unit.width"
}

// OnRoad returns what a road sees of the rig.
func (r Rig) OnRoad() measure.Known[drive.Vehicle] {
	mass, drag := r.pulledMass(), r.Drag()
	air, shaped := drag.Value()
	switch {
	case !r.Tow.Fuel.Known():
		return measure.Because[drive.Vehicle](say.That("rig.no_fuel"))
	case mass.High == 0:
		return measure.Because[drive.Vehicle](say.That("rig.no_mass"))
	case !shaped:
		return measure.Because[drive.Vehicle](drag.Why())
	}
	v := drive.Vehicle{DragArea: air.Area, Mass: mass, Fuel: r.Tow.Fuel, Power: r.Tow.Power}
	v.Learnt = v.Learn(r.Tow.Logs)
	return measure.Exactly(v)
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
// its high end in cold still air at sea level.
func (r Rig) Held() measure.Known[[]Held] {
	road := r.OnRoad()
	v, ok := road.Value()
	switch {
	case !ok:
		return measure.Because[[]Held](road.Why())
	case v.Power == nil:
		return measure.Because[[]Held](say.That("rig.no_power"))
	}
	var out []Held
	for _, g := range grades {
		speed, ok := v.Holds(drive.Section{Grade: g, Surface: drive.Paved}, drive.OfKelvins(0, coldest), fastest)
		out = append(out, Held{g, speed, ok})
	}
	return measure.Exactly(out)
}
