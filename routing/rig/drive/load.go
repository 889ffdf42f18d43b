package drive

import (
	"math"

	"wayhouse/regs/measure"
)

// Load is what resists a rig at a steady speed.
type Load struct {
	DragArea measure.Area // drag coefficient times area
	Air      measure.Density
	Rolling  float64 // rolling resistance coefficient
	Mass     measure.Mass
	Grade    float64 // rise over run
}

// against is the force at the wheels of air, rolling and grade; push is the square of
// the speed against the air. Source: the road-load equation, as in T. D. Gillespie,
// Fundamentals of Vehicle Dynamics (SAE, 1992), chapter 4; from memory.
func (l Load) against(push float64) (air, rolling, grade measure.Force) {
	weight := l.Mass.Kilograms() * Gravity
	run := 1 / math.Sqrt(1+l.Grade*l.Grade) // cosine of the slope
	air = measure.Force(0.5 * float64(l.Air) * float64(l.DragArea) * push)
	return air, measure.Force(l.Rolling * weight * run), measure.Force(weight * run * l.Grade)
}

// Driveline turns fuel into power at the wheels.
type Driveline struct {
	Engine    float64       // brake efficiency
	Driveline float64       // from engine to wheels
	Auxiliary measure.Power // taken off the engine by fan, pumps and lamps
	Heating   float64       // lower heating value of the fuel, J/m3
}

// burn is the fuel for a force at the wheels, 0 or more: downhill they need nothing, the
// auxiliaries do.
func (d Driveline) burn(force float64, v measure.Speed, length measure.Distance) measure.Volume {
	rate := (force*float64(v)/d.Driveline + float64(d.Auxiliary)) / (d.Engine * d.Heating) // m3/s
	return measure.Volume(rate * float64(length) / float64(v))
}

// Fuel is what a tow vehicle burns.
type Fuel string

// The fuels.
const (
	FuelUnknown Fuel = ""
	Diesel      Fuel = "diesel"
	Gasoline    Fuel = "gasoline"
)

// driveline is what a driveline of a pickup or medium truck passes on to the wheels, and
// auxiliary what fan, pumps and lamps take; from memory.
var (
	driveline = Band[float64]{0.89, 0.85, 0.92}
	auxiliary = Band[measure.Power]{3000, 2000, 5000}
)

// fuels gives the lower heating value in J/m3, the brake efficiency at highway load, and
// the carbon dioxide of burning it in kg/m3. Diesel 128 450 Btu per US gallon, 35.80
// MJ/L, and gasoline 32.36 MJ/L: read second-hand. Diesel engines: 0.33 to 0.38 of
// pickups and 0.38 to 0.42 of heavy trucks, from memory (0.36 lb per horsepower hour of a
// 7 L one, 0.38, read second-hand). Gasoline engines: 0.25 to 0.30 of older ones, up to
// 0.35 of newer ones, from memory. Nine of ten are taken to lie within what stands here,
// a little narrower. Carbon dioxide: 22.38 lb per US gallon of diesel and
// 19.64 lb of gasoline without ethanol (U.S. Energy Information Administration,
// Frequently Asked Questions 307, 2014, read).
var fuels = map[Fuel]struct {
	heating float64
	engine  Band[float64]
	carbon  float64
}{
	Diesel:   {35.80e9, Band[float64]{0.375, 0.34, 0.41}, 22.38 * 0.45359237 / float64(measure.USGallon)},
	Gasoline: {32.36e9, Band[float64]{0.29, 0.26, 0.33}, 19.64 * 0.45359237 / float64(measure.USGallon)},
}

// withDriveline widens the efficiency of an engine by what is not known of the driveline
// behind it, as the root of the sum of squares: no log can tell one from the other.
func withDriveline(engine Band[float64]) Band[float64] {
	low := math.Hypot(math.Log(engine.Likely/engine.Low), math.Log(driveline.Likely/driveline.Low))
	high := math.Hypot(math.Log(engine.High/engine.Likely), math.Log(driveline.High/driveline.Likely))
	return Band[float64]{engine.Likely, engine.Likely * math.Exp(-low), engine.Likely * math.Exp(high)}
}

// Known reports whether anything is known of a fuel.
func (f Fuel) Known() bool { _, ok := fuels[f]; return ok }

// CarbonDioxide is what burning an amount gives off, in kilograms; 0 where the fuel
// is not known.
func (f Fuel) CarbonDioxide(v measure.Volume) float64 { return fuels[f].carbon * float64(v) }

// idling is what an engine burns at idle in m3/s: 0.44 US gallons an hour of a
// medium heavy diesel truck to 0.90 of a bucket truck, 0.59 of a tow truck between them
// (U.S. Department of Energy, Vehicle Technologies Fact 861, 2015, read). No lighter
// vehicle is in it: pickups burn less than the high end says.
var idling = Band[measure.Volume]{
	0.59 * measure.USGallon / 3600, 0.44 * measure.USGallon / 3600, 0.90 * measure.USGallon / 3600,
}

// overrun is what an engine burns in m3/s where nothing drives the wheels: nothing where
// it shuts the fuel off, or what it burns at idle; half of the least of that is likely.
var overrun = Band[measure.Volume]{idling.Low / 2, 0, idling.High}

// Idle is what is burnt at idle in so many seconds.
func Idle(seconds float64) Burn {
	second := measure.Volume(seconds)
	b := Burn{Likely: idling.Likely * second, dear: idling.High * second}
	b.less[ByAuxiliary] = (idling.Low - idling.Likely) * second
	b.more[ByAuxiliary] = (idling.High - idling.Likely) * second
	return b
}
