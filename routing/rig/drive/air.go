// Package drive works out what resists a rig on the road, what it burns, how
// fast it can climb and where it must brake.
//
// Nothing is published on the drag of a house on a trailer, nor is the rest of a
// rig known well: each figure has a likely value and ends that nine of ten lie
// between (see [Band]). The figures err independently of each other, so the ends of
// what is burnt are root sums of squares of what each end alone costs, and hold nine
// of ten too. With all of them at their dear end at once it burns the most, which is
// what a tank is filled for.
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

// Weather is the air of a way. Where From is nil the wind comes from anywhere.
type Weather struct {
	Air  Band[measure.Density]
	Wind measure.Speed
	From *float64 // degrees from north
}

// anyWind is the wind that is reckoned with where none is given: 7 mph, the mean at the
// height of a vehicle that SAE J1252 averages drag over, from memory.
const anyWind = 7 * measure.MilePerHour

// Temperatures of the air where none is given, in K: 15 degrees Celsius, that of the standard
// atmosphere, is likely, -20 and +30 are the ends. This project's choice, for all months
// in which houses move.
const (
	coldest   = 273.15 - 20
	temperate = seaLevelTemperature
	warmest   = 273.15 + 30
)

// pressures is by what weather multiplies the density of air of a known temperature:
// some 3 % either way.
var pressures = Band[float64]{1, 0.97, 1.03}

// AnyWeather is the air at an altitude where nothing else is known of it.
func AnyWeather(altitude measure.Distance) Weather {
	return Weather{Air: Band[measure.Density]{
		Likely: Air(altitude, temperate), Low: Air(altitude, warmest), High: Air(altitude, coldest),
	}, Wind: anyWind}
}

// OfKelvins is the air of a temperature at an altitude, without wind.
func OfKelvins(altitude measure.Distance, kelvins float64) Weather {
	air := Air(altitude, kelvins)
	return Weather{Air: Band[measure.Density]{
		Likely: air, Low: air * measure.Density(pressures.Low), High: air * measure.Density(pressures.High),
	}}
}

// yawGain is by how much drag grows for each degree that the air comes from the
// side, up to yawMost: 1 to 1.5 % for each of 10 degrees, from memory.
var yawGain = Band[float64]{0.0125, 0.010, 0.015}

const yawMost = 10

// pushes is speed squared as the air counts it along the road, in m2/s2: the air that
// meets the rig, times its part along the road, times what yaw adds. Without wind it
// is the square of the speed. A tail wind faster than the rig pushes it. A wind from
// anywhere is likely to cost its mean over all directions; it blows from behind at the
// low end, and from where it costs most at the high one.
func (w Weather) pushes(v measure.Speed, heading float64) Band[float64] {
	switch {
	case w.Wind == 0:
		return Exactly(float64(v * v))
	case w.From == nil:
		return Band[float64]{w.mean(v), relative(v, w.Wind, math.Pi, 0), w.worst(v, yawGain.High)}
	}
	angle := (*w.From - heading) * math.Pi / 180
	out := Band[float64]{relative(v, w.Wind, angle, yawGain.Likely), relative(v, w.Wind, angle, yawGain.Low),
		relative(v, w.Wind, angle, yawGain.High)}
	if out.Low > out.High { // it pushes, and yaw makes it push the more
		out.Low, out.High = out.High, out.Low
	}
	return out
}

// mean is the push of a wind from anywhere, averaged over twelve directions.
func (w Weather) mean(v measure.Speed) float64 {
	const directions = 12
	sum := 0.0
	for i := range directions {
		sum += relative(v, w.Wind, (float64(i)+0.5)*math.Pi/directions, yawGain.Likely)
	}
	return sum / directions
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
