package geodesic

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// Test lines of C. F. F. Karney's geodtest set, as carried in GeographicLib's
// and PROJ's own tests (public domain); azimuth in degrees, length in metres.
func TestKarney(t *testing.T) {
	for _, tc := range []struct {
		lat1, lon1, azimuth, lat2, lon2, length float64
	}{
		{35.60777, -139.44815, 111.098748429560326, -11.17491, -69.95921, 8935244.5604818305},
		{55.52454, 106.05087, 22.020059880982801, 77.03196, 197.18234, 4105086.1713924406},
		{-21.97856, 142.59065, -32.44456876433189, 41.84138, 98.56635, 8394328.894657671},
		{-66.99028, 112.2363, 173.73491240878403, -12.70631, 285.90344, 11150344.2312080241},
		{-17.42761, 173.34268, -159.033557661192928, -15.84784, 5.93557, 16076603.1631180673},
		{40.6, -73.8, 53.47021823943233, 49.01666667, 2.55, 5853226.255613291},
		{0, 539, 90, 0, 541, 222638.9815865333},
	} {
		a, b := orb.Point{tc.lon1, tc.lat1}, orb.Point{tc.lon2, tc.lat2}
		if got := float64(Between(a, b)); math.Abs(got-tc.length) > 1e-3 {
			t.Errorf("%v to %v: %.9f m, want %.9f", a, b, got, tc.length)
		}
		if d := math.Remainder(Bearing(a, b)-tc.azimuth, 360); math.Abs(d) > 1e-7 {
			t.Errorf("%v to %v: azimuth off by %g degrees", a, b, d)
		}
	}
}

// Flinders Peak to Buninyong: 54 972.271 m, azimuth 306°52'05.37". Source:
// Geocentric Datum of Australia technical manual (ICSM), worked example of
// Vincenty's formulae; from memory, the inputs to 1e-5 seconds.
func TestFlindersBuninyong(t *testing.T) {
	dms := func(d, m, s float64) float64 { return d + m/60 + s/3600 }
	a := orb.Point{dms(144, 25, 29.52440), -dms(37, 57, 3.72030)}
	b := orb.Point{dms(143, 55, 35.38390), -dms(37, 39, 10.15610)}
	if got := float64(Between(a, b)); math.Abs(got-54972.271) > 1e-3 {
		t.Errorf("length %.4f m", got)
	}
	if got := Bearing(a, b); math.Abs(got-dms(306, 52, 5.37)) > 0.005/3600 {
		t.Errorf("azimuth %.7f", got)
	}
}
