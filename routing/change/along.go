package change

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// Trip is a trip along whose ways changes are looked for.
type Trip struct {
	Name string
	Ways []orb.LineString
	Why  say.Remark // why its ways are not known; none: they are
}

// Along keeps the changes that lie within a distance of the ways of trips, and says of which.
// Distances are on a plane at the latitude of each: good to a hundredth.
func Along(changes []Change, trips []Trip, within measure.Distance) (out []Change) {
	for _, c := range changes {
		c.Trips = nil
		for _, t := range trips {
			if slices.ContainsFunc(t.Ways, func(way orb.LineString) bool { return near(way, c.Point, within) }) {
				c.Trips = append(c.Trips, t.Name)
			}
		}
		if len(c.Trips) > 0 {
			out = append(out, c)
		}
	}
	return out
}

// Of keeps the changes along one trip.
func Of(changes []Change, trip string) []Change {
	return slices.DeleteFunc(slices.Clone(changes), func(c Change) bool { return !slices.Contains(c.Trips, trip) })
}

func near(line orb.LineString, p orb.Point, within measure.Distance) bool {
	degree := float64(network.EarthRadius) * math.Pi / 180
	shrink := math.Cos(p.Lat() * math.Pi / 180)
	flat := func(q orb.Point) (x, y float64) {
		return (q.Lon() - p.Lon()) * shrink * degree, (q.Lat() - p.Lat()) * degree
	}
	for i := 1; i < len(line); i++ {
		ax, ay := flat(line[i-1])
		bx, by := flat(line[i])
		dx, dy, along := bx-ax, by-ay, 0.0
		if l := dx*dx + dy*dy; l > 0 {
			along = max(0, min(1, -(ax*dx+ay*dy)/l))
		}
		if math.Hypot(ax+along*dx, ay+along*dy) <= float64(within) {
			return true
		}
	}
	return false
}
