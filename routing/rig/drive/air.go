// Package drive works out what resists a rig on the road, what it burns, how
// fast it can climb and where it must brake.
//
// Nothing is published on the drag of a house on a trailer, nor is the rest of a
// rig known well: every answer has a low and a high end, each with everything it
// rests on at that end. Speeds are steady: what starting and stopping burn is not
// in it.
package drive

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
// at a geopotential altitude, 0 to 11 000 m.
func StandardAir(altitude measure.Distance) (kelvins, pascals float64, density measure.Density) {
	kelvins = seaLevelTemperature - lapseRate*float64(altitude)
	pascals = seaLevelPressure * math.Pow(kelvins/seaLevelTemperature, pressureExponent)
	return kelvins, pascals, measure.Density(pascals / (gasConstantAir * kelvins))
}

// Air is the density of air of a temperature in kelvins, at the standard pressure
// of an altitude. Weather moves the pressure by some 3 %, which it leaves out.
func Air(altitude measure.Distance, kelvins float64) measure.Density {
	_, pascals, _ := StandardAir(altitude)
	return measure.Density(pascals / (gasConstantAir * kelvins))
}

// Range is a low and a high end of one figure.
type Range[T ~float64 | ~int64] struct{ Low, High T }

// Add returns the sum of both ends.
func (r Range[T]) Add(o Range[T]) Range[T] { return Range[T]{r.Low + o.Low, r.High + o.High} }

// Weather is the air of a way. Where From is nil the wind comes from where it costs
// most.
type Weather struct {
	Air  Range[measure.Density]
	Wind measure.Speed
	From *float64 // degrees from north
}

// Temperatures of the air where none is given: -20 to +30 degrees Celsius, in K.
const (
	coldest = 273.15 - 20
	warmest = 273.15 + 30
)

// StillAir is the air at an altitude where nothing else is known of it.
func StillAir(altitude measure.Distance) Weather {
	return Weather{Air: Range[measure.Density]{Air(altitude, warmest), Air(altitude, coldest)}}
}

// yawGain is by how much drag grows for each degree that the air comes from the
// side, up to yawMost: 1 to 1.5 % for each of 10 degrees, from memory.
var yawGain = Range[float64]{0.010, 0.015}

const yawMost = 10

// push is speed squared as the air counts it along the road, in m2/s2: the air
// that meets the rig, times its part along the road, times what yaw adds. Without
// wind it is the square of the speed. A tail wind faster than the rig pushes it.
func (w Weather) push(v measure.Speed, heading, gain float64) float64 {
	if w.Wind == 0 {
		return float64(v * v)
	}
	if w.From == nil {
		return w.worst(v, gain)
	}
	return relative(v, w.Wind, (*w.From-heading)*math.Pi/180, gain)
}

// relative is push with the wind at an angle to the road, 0 straight ahead.
func relative(v, wind measure.Speed, angle, gain float64) float64 {
	ahead := float64(v) + float64(wind)*math.Cos(angle)
	aside := float64(wind) * math.Sin(angle)
	yaw := math.Abs(math.Atan2(aside, math.Abs(ahead))) * 180 / math.Pi
	return (1 + gain*min(yaw, yawMost)) * math.Hypot(ahead, aside) * ahead
}

// worst is the greatest push of a wind from any side, at most 0.3 % too small: the
// greatest of a grid of 10 degrees and of the direction at which yaw adds no more,
// where the push has a corner. Beyond square to the road the wind helps.
func (w Weather) worst(v measure.Speed, gain float64) float64 {
	const step = 10 * math.Pi / 180
	most := math.Inf(-1)
	for i := range 10 {
		most = max(most, relative(v, w.Wind, float64(i)*step, gain))
	}
	const last = yawMost * math.Pi / 180
	if sine := float64(v/w.Wind) * math.Sin(last); sine < 1 {
		most = max(most, relative(v, w.Wind, last+math.Asin(sine), gain))
	}
	return most
}
