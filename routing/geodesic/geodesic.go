// Package geodesic measures on the WGS84 ellipsoid.
//
// It is a thin layer over a port of Karney's algorithms (C. F. F. Karney,
// "Algorithms for geodesics", Journal of Geodesy 87, 2013), whose stated error
// is below 15 nanometres; the tests hold it to published test lines.
package geodesic

import (
	"github.com/paulmach/orb"
	tidwall "github.com/tidwall/geodesic"

	"wayhouse/regs/measure"
)

// Between returns the length of the shortest line from a to b.
func Between(a, b orb.Point) measure.Distance {
	d, _ := inverse(a, b)
	return d
}

// Bearing returns the azimuth at a of the shortest line to b, in degrees
// clockwise from north, 0 to below 360.
func Bearing(a, b orb.Point) float64 {
	_, azimuth := inverse(a, b)
	if azimuth < 0 {
		return azimuth + 360
	}
	return azimuth
}

// Toward returns the point that lies at a distance from a on the shortest line
// to b.
func Toward(a, b orb.Point, distance measure.Distance) orb.Point {
	_, azimuth := inverse(a, b)
	var lat, lon float64
	tidwall.WGS84.Direct(a.Lat(), a.Lon(), azimuth, float64(distance), &lat, &lon, nil)
	return orb.Point{lon, lat}
}

// Length returns the length along a line.
func Length(line []orb.Point) measure.Distance {
	var sum measure.Distance
	for i := 1; i < len(line); i++ {
		sum += Between(line[i-1], line[i])
	}
	return sum
}

func inverse(a, b orb.Point) (measure.Distance, float64) {
	var s, azimuth float64
	tidwall.WGS84.Inverse(a.Lat(), a.Lon(), b.Lat(), b.Lon(), &s, &azimuth, nil)
	return measure.Distance(s), azimuth
}
