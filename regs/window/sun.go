package window

import (
	"math"
	"time"

	"github.com/paulmach/orb"
)

// Zenith distances of the sun's centre, in degrees. Sunrise and sunset allow
// 0.833 for refraction and the sun's half-width (NOAA Global Monitoring
// Laboratory, Solar Calculation Details); civil twilight is at 96 (US Naval
// Observatory, Rise, Set and Twilight Definitions).
const (
	horizon = 90.833
	civil   = 96.0
)

// SunAt returns what an Env needs to know of the sun at a place. Where it does
// not cross the height in question on a day, ok is false.
//
// The equations are those of the NOAA solar calculator, after J. Meeus,
// Astronomical Algorithms, 1991. NOAA states an error of a minute up to 72
// degrees of latitude and of ten beyond. Hills and the height of the place are
// not considered.
func SunAt(p orb.Point) func(day time.Time) (rise, set time.Time, ok bool) {
	return func(day time.Time) (rise, set time.Time, ok bool) { return crossing(p, day, horizon) }
}

// TwilightAt is SunAt for dawn and dusk, the ends of civil twilight.
func TwilightAt(p orb.Point) func(day time.Time) (dawn, dusk time.Time, ok bool) {
	return func(day time.Time) (dawn, dusk time.Time, ok bool) { return crossing(p, day, civil) }
}

// crossing returns when the sun passes a zenith distance in the morning and in
// the evening of a calendar day, on the clock of the day's location.
func crossing(p orb.Point, day time.Time, zenith float64) (rise, set time.Time, ok bool) {
	y, m, d := day.Date()
	midnight := time.Date(y, m, d, 0, 0, 0, 0, time.UTC) // of the day as the sun has it
	noon := midnight.Add(minutes(720 - 4*p.Lon()))
	if rise, ok = approach(p, midnight, noon, zenith, 1); !ok {
		return rise, set, false
	}
	if set, ok = approach(p, midnight, noon, zenith, -1); !ok {
		return rise, set, false
	}
	return rise.In(day.Location()), set.In(day.Location()), true
}

func minutes(m float64) time.Duration { return time.Duration(m * float64(time.Minute)) }

// approach finds a crossing from a first guess: declination and equation of
// time change over the day, so they are taken again at each answer.
func approach(p orb.Point, midnight, guess time.Time, zenith, side float64) (time.Time, bool) {
	const rounds = 5
	for range rounds {
		declination, equation := sun(guess)
		cos := hourAngle(p, declination, zenith)
		if !(cos >= -1 && cos <= 1) {
			return guess, false // the sun stays above or below all day
		}
		angle := degrees(math.Acos(cos))
		guess = midnight.Add(minutes(720 - 4*(p.Lon()+side*angle) - equation))
	}
	return guess, true
}

// hourAngle is the cosine of the hour angle at which the sun has a zenith distance: above 1
// where it stays below it all day, below -1 where it stays above it.
func hourAngle(p orb.Point, declination, zenith float64) float64 {
	lat := radians(p.Lat())
	return math.Cos(radians(zenith))/(math.Cos(lat)*math.Cos(declination)) - math.Tan(lat)*math.Tan(declination)
}

// LightAt is what an [Env] needs to know of the sun at a place for planning: where it stays
// up, the day is all day, and where it stays down, there is none. What was asked of a day
// is remembered: it is for one goroutine.
func LightAt(p orb.Point) Env { return Env{Sun: light(p, horizon), Twilight: light(p, civil)} }

func light(p orb.Point, zenith float64) func(day time.Time) (rise, set time.Time, ok bool) {
	known := map[time.Time][2]time.Time{}
	return func(at time.Time) (rise, set time.Time, ok bool) {
		start := day(at)
		ends, ok := known[start]
		if !ok {
			if ends[0], ends[1], ok = crossing(p, start, zenith); !ok {
				ends = [2]time.Time{start.AddDate(0, 0, 1), start} // no hour lies between
				declination, _ := sun(start.Add(12 * time.Hour))
				if hourAngle(p, declination, zenith) < -1 {
					ends = [2]time.Time{start, start.AddDate(0, 0, 1)}
				}
			}
			known[start] = ends
		}
		return ends[0], ends[1], true
	}
}

// sun returns the declination of the sun in radians and the equation of time
// in minutes.
func sun(at time.Time) (declination, equation float64) {
	const j2000, dayLength, century = 946728000, 86400, 36525 // 2000-01-01 12:00 UTC, s, days
	t := (float64(at.Unix()) - j2000) / dayLength / century
	l := radians(math.Mod(280.46646+t*(36000.76983+t*0.0003032), 360)) // geometric mean longitude
	m := radians(357.52911 + t*(35999.05029-t*0.0001537))              // mean anomaly
	e := 0.016708634 - t*(0.000042037+t*0.0000001267)                  // eccentricity of the orbit
	centre := math.Sin(m)*(1.914602-t*(0.004817+t*0.000014)) + math.Sin(2*m)*(0.019993-t*0.000101) + math.Sin(3*m)*0.000289
	node := radians(125.04 - 1934.136*t)
	longitude := l + radians(centre-0.00569-0.00478*math.Sin(node)) // apparent
	obliquity := radians(23 + (26+(21.448-t*(46.815+t*(0.00059-t*0.001813)))/60)/60 + 0.00256*math.Cos(node))
	y := math.Pow(math.Tan(obliquity/2), 2)
	equation = 4 * degrees(y*math.Sin(2*l)-2*e*math.Sin(m)+4*e*y*math.Sin(m)*math.Cos(2*l)-y*y*math.Sin(
		4*l)/2-1.25*e*e*math.Sin(2*m))
	return math.Asin(math.Sin(obliquity) * math.Sin(longitude)), equation
}

func radians(d float64) float64 { return d * math.Pi / 180 }
func degrees(r float64) float64 { return r * 180 / math.Pi }
