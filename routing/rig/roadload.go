package rig

import (
	"math"

	"wayhouse/regs/measure"
)

// Gravity is the standard acceleration of free fall, 9.806 65 m/s2, exact.
// Source: NIST SP 811 (2008), B.8.
const Gravity = 9.80665

// The lower atmosphere of the U.S. Standard Atmosphere, 1976 (NOAA, NASA,
// USAF), valid from 0 to 11 000 m geopotential altitude.
const (
	seaLevelTemperature = 288.15    // K
	seaLevelPressure    = 101_325.0 // Pa
	lapseRate           = 0.0065    // K/m
	pressureExponent    = 5.255876
	gasConstantAir      = 287.05287 // J/(kg K)
)

// StandardAir returns temperature in kelvins, pressure in pascals and density
// at a geopotential altitude in metres, 0 to 11 000.
func StandardAir(altitude float64) (kelvins, pascals float64, density measure.Density) {
	kelvins = seaLevelTemperature - lapseRate*altitude
	pascals = seaLevelPressure * math.Pow(kelvins/seaLevelTemperature, pressureExponent)
	return kelvins, pascals, airDensity(pascals, kelvins)
}

func airDensity(pascals, kelvins float64) measure.Density {
	return measure.Density(pascals / (gasConstantAir * kelvins))
}

// Load is what resists a rig at a steady speed on a straight road without
// wind.
type Load struct {
	DragArea measure.Area // drag coefficient times area
	Air      measure.Density
	Rolling  float64 // rolling resistance coefficient
	Mass     measure.Mass
	Grade    float64 // rise over run
}

// Force returns the force at the wheels, air, rolling and grade.
// Source: the road-load equation, as in T. D. Gillespie, Fundamentals of
// Vehicle Dynamics (SAE, 1992), chapter 4; from memory.
func (l Load) Force(v measure.Speed) (air, rolling, grade measure.Force) {
	angle := math.Atan(l.Grade)
	weight := l.Mass.Kilograms() * Gravity
	air = measure.Force(0.5 * float64(l.Air) * float64(l.DragArea) * float64(v*v))
	return air, measure.Force(l.Rolling * weight * math.Cos(angle)), measure.Force(weight * math.Sin(angle))
}

// Driveline turns fuel into power at the wheels.
type Driveline struct {
	Engine    float64       // brake efficiency
	Driveline float64       // from engine to wheels
	Auxiliary measure.Power // taken off the engine by fan, pumps and lamps
	Heating   float64       // lower heating value of the fuel, J/m3
}

// Fuel returns what is burnt over a distance at a steady speed.
func (d Driveline) Fuel(l Load, v measure.Speed, length measure.Distance) measure.Volume {
	air, rolling, grade := l.Force(v)
	wheels := max(float64(air+rolling+grade)*float64(v), 0)
	rate := (wheels/d.Driveline + float64(d.Auxiliary)) / (d.Engine * d.Heating) // m3/s
	return measure.Volume(rate * float64(length) / float64(v))
}

// Range is a low and a high end of the same figure.
type Range struct{ Low, High measure.Volume }

// Add returns the sum of both ends.
func (r Range) Add(o Range) Range { return Range{r.Low + o.Low, r.High + o.High} }

// An interval of a coefficient whose true value is not known.
type interval struct{ low, high float64 }

// The coefficients of a house behind a pickup or a medium truck. No drag of
// such a house has been published, so fuel is a range and says so.
//
// Drag coefficient on the full outline of the unit: an engineering estimate of
// this project, no source. Rolling resistance: light-truck tires, average
// about 0.010, range 0.007 to 0.017 (Transportation Research Board Special
// Report 286, 2006, read second-hand). Air: sea level, +30 to -20 degrees
// Celsius. Driveline and auxiliaries: from memory.
var (
	dragCoefficient = interval{0.65, 0.90}
	rollingRange    = interval{0.007, 0.017}
	airTemperature  = interval{273.15 - 20, 273.15 + 30} // K; cold air is dense
	drivelineRange  = interval{0.85, 0.92}
	auxiliaryRange  = interval{2000, 5000} // W
)

// fuels gives the lower heating value in J/m3 and the brake efficiency at
// highway load. Diesel 128 450 Btu per US gallon, 35.80 MJ/L, and gasoline
// 32.36 MJ/L: read second-hand. Efficiencies: from memory.
var fuels = map[Fuel]struct {
	heating float64
	engine  interval
}{
	Diesel:   {35.80e9, interval{0.33, 0.38}},
	Gasoline: {32.36e9, interval{0.25, 0.30}},
}

// Burn returns the fuel for a distance at a steady speed on a level road
// without wind. Where something it needs is not known it returns why instead.
// It does not know grades: a route with climbs burns more.
func (r Rig) Burn(v measure.Speed, length measure.Distance) (fuel Range, unknown string) {
	kind, ok := fuels[r.Tow.Fuel]
	switch {
	case !ok:
		return Range{}, "the fuel of the tow vehicle is not given"
	case r.Mass == nil:
		return Range{}, "the mass of the rig is not known"
	case r.Unit.Height == nil || r.Unit.Width == nil:
		return Range{}, "the height or the width of the unit is not given"
	case v <= 0:
		return Range{}, "the speed is not known"
	}
	area := r.Unit.Height.Metres() * r.Unit.Width.Metres()
	_, pascals, _ := StandardAir(0) // no network tells altitudes yet; higher up the air is thinner
	burn := func(drag, rolling, kelvins, engine, driveline, auxiliary float64) measure.Volume {
		l := Load{DragArea: measure.Area(drag * area), Air: airDensity(pascals, kelvins), Rolling: rolling, Mass: *r.Mass}
		d := Driveline{Engine: engine, Driveline: driveline, Auxiliary: measure.Power(auxiliary), Heating: kind.heating}
		return d.Fuel(l, v, length)
	}
	return Range{
		Low:  burn(dragCoefficient.low, rollingRange.low, airTemperature.high, kind.engine.high, drivelineRange.high, auxiliaryRange.low),
		High: burn(dragCoefficient.high, rollingRange.high, airTemperature.low, kind.engine.low, drivelineRange.low, auxiliaryRange.high),
	}, ""
}
