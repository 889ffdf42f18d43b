package sweep

import (
	"math"
	"testing"

	"wayhouse/regs/measure"
)

// A municipal engineering chart for a city-delivery tractor-semitrailer
// (United States, public document RVPublic 17311, page 53, no year known; read,
// in a copy whose signs are poor and were taken as minus) has its own formula with a correction for
// half the front track. With the steering radius that it implies it equals the
// sum of squares. Values: worked from the chart's formula, in feet.
func TestMunicipalChart(t *testing.T) {
	const foot, wheelbase, halfTrack, kingpin = 0.3048, 8.75, 3.21, 1.0
	for _, tc := range []struct{ outerWheel, semitrailer, want float64 }{
		{50, 21, 5.883}, {50, 19, 4.918}, {100, 21, 2.706}, {100, 19, 2.282},
	} {
		rear := math.Sqrt(tc.outerWheel*tc.outerWheel-wheelbase*wheelbase) - halfTrack
		chart := math.Sqrt(wheelbase*wheelbase+rear*rear) - math.Sqrt(kingpin*kingpin+rear*rear-tc.semitrailer*tc.semitrailer)
		near(t, "chart", chart, tc.want, 0.0005)
		r := pickup()
		r.Wheelbase, r.HitchBehindRear, r.CouplingToAxles = wheelbase*foot, kingpin*foot, measure.Distance(tc.semitrailer*foot)
		c, ok := Steady(r, measure.Distance(math.Hypot(wheelbase, rear)*foot))
		if !ok {
			t.Fatal("no answer")
		}
		near(t, "sum of squares", float64(c.OffTracking)/foot, chart, 1e-9)
	}
}

// Inside radii of single-unit design vehicles. Published: P 14.4 ft and City
// bus 24.5 ft, design vehicle table of the U.S. Army Surface Deployment and
// Distribution Command (no year known; read, its two column labels taken as
// swapped); SU 28 ft 4 in (source not named, read second-hand). Radii of the
// steered axle (21, 38 and 37.8 ft), the wheelbase of the bus (25 ft) and the
// widths of P and bus: from memory, so this is no check of one publication
// against another. Tolerance 0.15 m; the differences are +0.01, -0.04 and
// -0.14 m.
func TestInsideRadiusSingleUnit(t *testing.T) {
	for _, tc := range []struct {
		name                                string
		radius, wheelbase, width, published measure.Distance
	}{
		{"SU", 11.6, 6.1, 2.44, 8.64},
		{"P", 6.4, 3.4, 2.14, 4.39},
		{"City bus", 11.5, 7.6, 2.6, 7.47},
	} {
		tow, _, ok := (Combination{Wheelbase: tc.wheelbase}).axleRadii(tc.radius)
		if !ok {
			t.Errorf("%s: no answer", tc.name)
		}
		near(t, tc.name, tow-tc.width/2, tc.published, 0.15)
	}
}

// Inside radii of combinations at the end of a 180 degree turn. Published
// (same table, read): WB-40 19.3 ft, WB-62 7.4 ft. Steering radii 36 and 41 ft:
// from memory. Dimensions: AASHTO Green Book (2004), design vehicle table;
// read in a copy. Tolerance 0.6 m; the model lies 0.53 and 0.21 m further in,
// on the safe side. The middle figure is worked out with another integrator.
func TestInsideRadiusCombination(t *testing.T) {
	for _, tc := range []struct {
		name                             string
		tractor, semitrailer, radius     measure.Distance
		width, axleRadius, publishedSide measure.Distance
	}{
		{"WB-40", 3.81, 8.38, 10.97, 2.44, 6.57, 5.88},
		{"WB-62", 6.6, 12.3, 12.5, 2.6, 3.34, 2.26},
	} {
		r := pickup()
		r.Wheelbase, r.HitchBehindRear, r.CouplingToAxles = tc.tractor, 0, tc.semitrailer
		axle := tc.radius - drive(t, r, arc(180*Degree, tc.radius, 40)).OffTracking
		near(t, tc.name+", axle", axle, tc.axleRadius, 0.01)
		near(t, tc.name+", side", axle-tc.width/2, tc.publishedSide, 0.6)
	}
}

// Greatest off-tracking of single turns, worked out with another integrator of
// the tractrix; not published.
func TestTransient(t *testing.T) {
	for _, tc := range []struct {
		name                   string
		wheelbase, hitch, span measure.Distance
		radius                 measure.Distance
		turn                   Angle
		want                   measure.Distance
	}{
		{"gooseneck", 4.4, -0.1, 7, 12.5, 30, 1.29},
		{"gooseneck", 4.4, -0.1, 7, 12.5, 60, 2.08},
		{"gooseneck", 4.4, -0.1, 7, 12.5, 90, 2.54},
		{"gooseneck", 4.4, -0.1, 7, 12.5, 120, 2.80},
		{"gooseneck", 4.4, -0.1, 7, 12.5, 180, 3.03},
		{"bumper", 4.4, 1.2, 7, 12.5, 90, 2.50},
		{"WB-12", 3.81, 0, 8.38, 10.97, 90, 3.27},
		{"WB-15", 4.45, 0, 10.82, 12.5, 90, 4.41},
		{"WB-62", 6.6, 0, 12.3, 12.5, 90, 5.81},
	} {
		r := pickup()
		r.Wheelbase, r.HitchBehindRear, r.CouplingToAxles = tc.wheelbase, tc.hitch, tc.span
		near(t, tc.name, drive(t, r, arc(tc.turn*Degree, tc.radius, 40)).OffTracking, tc.want, 0.006)
	}
}

// The same corner by plain means: the differential equation of the tractrix in
// steps of 1 mm by the midpoint rule, and points every 0.25 m all round both
// bodies, measured where they cross rays from the centre of the arc. It shares
// no code with Drive, and shows that corners and axle ends bound the sweep.
func TestWidthByPlainMeans(t *testing.T) {
	const radius, step = 12.5, 0.001
	r := pickup()
	var d Driver
	if _, err := d.Drive(r, arc(90*Degree, radius, 40)); err != nil {
		t.Fatal(err)
	}
	rays := []float64{5, 25, 45, 65, 85} // degrees after the start of the arc
	low, high := []float64{99, 99, 99, 99, 99}, make([]float64, 5)
	var before, now [][2]float64
	tow, unit := 0.0, 0.0
	for s := -1.0; s < radius*math.Pi/2+40; s += step {
		x, y, way := radius*math.Sin(s/radius), -radius*math.Cos(s/radius), s/radius
		switch {
		case s < 0:
			x, y, way = s, -radius, 0
		case s > radius*math.Pi/2:
			x, y, way = radius, s-radius*math.Pi/2, math.Pi/2
		}
		now = bodyPoints(now[:0], r, [2]float64{x, y}, tow, unit)
		for i := range before {
			crossRays(before[i], now[i], rays, low, high)
		}
		before, now = now, before
		mid := tow + math.Sin(way-tow)/4.4*step/2
		turn := math.Sin(way-mid) / 4.4
		// The coupling lies -0.1 m behind the rear axle: it moves with the
		// axle and sideways with the turn of the tow vehicle.
		ahead, aside := math.Cos(way-mid), 0.1*turn
		pull := unit + (ahead*math.Sin(mid-unit)+aside*math.Cos(mid-unit))/7*step/2
		unit += (ahead*math.Sin(mid-pull) + aside*math.Cos(mid-pull)) / 7 * step
		tow += turn * step
	}
	for i, degrees := range rays {
		s := stationAt(d.stations, 40+radius*degrees*math.Pi/180)
		near(t, "inner", radius-s.high, low[i], 0.003)
		near(t, "outer", radius-s.low, high[i], 0.003)
	}
}

// bodyPoints appends points every 0.25 m all round both bodies.
func bodyPoints(out [][2]float64, r Combination, front [2]float64, tow, unit float64) [][2]float64 {
	at := func(from [2]float64, heading, ahead, left float64) [2]float64 {
		sin, cos := math.Sincos(heading)
		return [2]float64{from[0] + ahead*cos - left*sin, from[1] + ahead*sin + left*cos}
	}
	round := func(from [2]float64, heading, rear, nose, half float64) {
		for a := rear; a <= nose+1e-9; a += 0.25 {
			out = append(out, at(from, heading, a, half), at(from, heading, a, -half))
		}
		for l := -half; l <= half; l += 0.25 {
			out = append(out, at(from, heading, rear, l), at(from, heading, nose, l))
		}
	}
	coupling := at(front, tow, -4.3, 0)
	round(front, tow, -4.4, 1, float64(r.TowWidth)/2)
	round(coupling, unit, -10, 0.5, float64(r.UnitWidth)/2)
	return out
}

// crossRays records the radius at which a point crosses rays from the origin.
func crossRays(a, b [2]float64, rays, low, high []float64) {
	from := math.Atan2(a[1], a[0])*180/math.Pi + 90
	to := math.Atan2(b[1], b[0])*180/math.Pi + 90
	for i, ray := range rays {
		if from < ray && ray <= to && to-from < 90 {
			radius := math.Hypot(b[0], b[1])
			low[i], high[i] = min(low[i], radius), max(high[i], radius)
		}
	}
}

// stationAt returns the offsets at a path distance, between two stations.
func stationAt(stations []station, s float64) station {
	for i := range stations {
		if b := stations[i]; b.s >= s {
			a := stations[i-1]
			f := (s - a.s) / (b.s - a.s)
			return station{s: s, low: a.low + f*(b.low-a.low), high: a.high + f*(b.high-a.high)}
		}
	}
	return station{}
}
