package export

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/trip"
)

// degrees is a line to seven decimals of a degree, about a centimetre: more is not known
// of a road, and less would not be the same line when it is given back.
func degrees(line orb.LineString) orb.LineString {
	out := make(orb.LineString, len(line))
	for i, p := range line {
		out[i] = degreesOf(p)
	}
	return out
}

func degreesOf(p orb.Point) orb.Point {
	return orb.Point{math.Round(p[0]*1e7) / 1e7, math.Round(p[1]*1e7) / 1e7}
}

// lines are those of the legs of a trip.
func lines(p *trip.Plan) (out orb.MultiLineString) {
	for _, l := range p.Legs {
		out = append(out, degrees(l.Line))
	}
	return out
}

// distances are how far from the first stop each point of a leg is, in metres. They add up
// to the length of the leg, which its roads have and not their drawing.
func distances(line orb.LineString, from, length float64) []float64 {
	out := make([]float64, len(line))
	drawn := float64(geodesic.Length(line))
	var at measure.Distance
	for i := range line {
		if i > 0 {
			at += geodesic.Between(line[i-1], line[i])
		}
		out[i] = tenths(from)
		if drawn > 0 {
			out[i] = tenths(from + float64(at)/drawn*length)
		}
	}
	return out
}

// tenths keeps tenths of a metre: nothing along a road is known finer.
func tenths(v float64) float64 { return math.Round(v*10) / 10 }

// spot is a thing to look at on the way.
type spot struct {
	feature string
	at      measure.Distance // from the first stop
	point   orb.Point
	// folder is what those like it are called together.
	folder, name, says say.Remark
	of                 any // as JSON has it
}

// spots are what a plan has on its way, in the order of travel: structures, corners,
// climbs and descents. Those of the answer in JSON are the same in the same order.
func spots(p *trip.Plan, t *wire.Trip) []spot {
	out := append(structures(p, t), slopes(p, t)...)
	for i, c := range p.Road.Corners {
		says := say.That("export.corner_open", "place", c.Place(), "why", c.Unknown)
		if c.Unknown.None() {
			says = say.That("export.corner_takes", "place", c.Place(), "takes", c.Takes())
		}
		out = append(out, spot{"corner", c.At, degreesOf(c.Point), say.That("export.corners"),
			say.That("export.corner"), says, t.Road.Corners[i]})
	}
	slices.SortStableFunc(out, func(a, b spot) int { return cmp.Compare(a.at, b.at) })
	return out
}

func structures(p *trip.Plan, t *wire.Trip) (out []spot) {
	var from measure.Distance
	for i, l := range p.Legs {
		for k, s := range l.Structures {
			why := slices.DeleteFunc(append(slices.Clone(s.Others), s.Why, s.Doubt, s.Sum()), say.Remark.None)
			says := say.That("export.structure", "state", state(s.Outcome), "says", why)
			out = append(out, spot{"structure", from + s.At, degreesOf(s.Point), say.That("export.structures"), s.Called, says,
				t.Legs[i].Structures[k]})
		}
		from += l.Length
	}
	return out
}

func slopes(p *trip.Plan, t *wire.Trip) (out []spot) {
	for i, c := range p.Road.Climbs {
		says := say.That("export.slope", "place", c.Place(), "length", c.Length, "percent", 100*c.Grade)
		out = append(out, spot{"climb", c.At, degreesOf(c.Point), say.That("export.climbs"),
			say.That("export.climb"), says, t.Road.Climbs[i]})
	}
	for i, d := range p.Road.Descents {
		says := say.That("export.slope", "place", d.Place(), "length", d.Length, "percent", 100*d.Grade)
		out = append(out, spot{"descent", d.At, degreesOf(d.Point), say.That("export.descents"),
			say.That("export.descent"), says, t.Road.Descents[i]})
	}
	return out
}
