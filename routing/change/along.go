package change

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// Along keeps the changes that lie within a distance of ways, on a plane at the latitude of
// each: good to a hundredth of the distance.
func Along(changes []Change, ways []orb.LineString, within measure.Distance) []Change {
	return slices.DeleteFunc(slices.Clone(changes), func(c Change) bool {
		return !slices.ContainsFunc(ways, func(way orb.LineString) bool { return near(way, c.Point, within) })
	})
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
