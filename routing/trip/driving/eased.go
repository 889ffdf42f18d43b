package driving

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/bend"
	"wayhouse/routing/rig/sweep"
)

// sharp is the turn of a point of a line from which on roads are taken to meet there, and
// not to run on: this project's choice. A ring that is drawn as an octagon turns by less.
const sharp = 50 * math.Pi / 180

// eased is the path by a line, metres, on which corners are driven on a radius, or on as
// great a one as there is. Roads are drawn to where their middles meet, a ring in short
// pieces between which no radius fits: such a corner is cut off, by as little as does, and
// at the most so far before and after it that the road runs within [bend.Drawn] of its
// line at a right angle. What lies between corners stays as it is drawn, and so does a
// line that turns back on itself.
func eased(line orb.LineString, path sweep.Rounded, radius measure.Distance) sweep.Rounded {
	most := bend.Drawn * math.Sqrt2
	for reach := measure.Distance(1); reach <= most && 0 < path.Least && path.Least < radius; reach++ {
		next, err := sweep.Round(cutOff(line, float64(reach)), radius)
		if err == nil && next.Least > path.Least {
			path = next
		}
	}
	return path
}

// cutOff leaves out what of a line lies within a reach of a sharp corner of it.
func cutOff(line orb.LineString, reach float64) orb.LineString {
	at, corners := corners(line)
	end := at[len(at)-1]
	var places []float64 // along the line, where it keeps a point
	for i, s := range at {
		if k := sort.SearchFloat64s(corners, s-reach); i == 0 || i == len(at)-1 || k == len(corners) ||
			corners[k] >= s+reach {
			places = append(places, s)
		}
	}
	for i, s := range corners {
		if s-reach > 0 && (i == 0 || corners[i-1]+reach < s-reach) {
			places = append(places, s-reach)
		}
		if s+reach < end && (i == len(corners)-1 || corners[i+1]-reach > s+reach) {
			places = append(places, s+reach)
		}
	}
	sort.Float64s(places)
	out := make(orb.LineString, len(places))
	for i, s := range places {
		out[i] = placeOn(line, at, s)
	}
	return out
}

// corners lists how far along a line its points lie, and those of them that are sharp.
func corners(line orb.LineString) (at, sharply []float64) {
	way := func(i int) (x, y float64) { return line[i][0] - line[i-1][0], line[i][1] - line[i-1][1] }
	at = make([]float64, len(line))
	for i := 1; i < len(line); i++ {
		x, y := way(i)
		at[i] = at[i-1] + math.Hypot(x, y)
		if i+1 == len(line) {
			break
		}
		if u, v := way(i + 1); math.Abs(math.Atan2(x*v-y*u, x*u+y*v)) >= sharp {
			sharply = append(sharply, at[i])
		}
	}
	return at, sharply
}

// placeOn is where a line is after so far.
func placeOn(line orb.LineString, at []float64, s float64) orb.Point {
	i := min(max(sort.SearchFloat64s(at, s), 1), len(line)-1)
	if at[i] == at[i-1] {
		return line[i]
	}
	share := (s - at[i-1]) / (at[i] - at[i-1])
	a, b := line[i-1], line[i]
	return orb.Point{a[0] + share*(b[0]-a[0]), a[1] + share*(b[1]-a[1])}
}
