package osm

import (
	"math"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// sampling is how far apart heights are read, in metres: the spacing of the
// finer tiles. gradeBase is the length over which the steepest grade is taken:
// over less, the error of a height (some metres) makes grades of its own.
const (
	sampling  measure.Distance = 30
	gradeBase measure.Distance = 100
)

// climber works out how parts of one road climb. On bridges and in tunnels the
// terrain is not the road: heights run straight from one end to the other.
type climber struct {
	terrain   Terrain
	straight  bool
	known     bool // both ends, where straight
	first     float64
	perMetre  float64
	travelled measure.Distance // along the road so far
}

func newClimber(t Terrain, road []orb.Point, straight bool) *climber {
	c := &climber{terrain: t, straight: straight}
	if !straight {
		return c
	}
	from, ok := t.Height(road[0])
	to, known := t.Height(road[len(road)-1])
	c.known, c.first = ok && known, from
	if length := geodesic.Length(road); length > 0 {
		c.perMetre = (to - from) / float64(length)
	}
	return c
}

// over returns how the next part of the road climbs; unknown where any height
// is. A nil climber knows nothing.
func (c *climber) over(part []orb.Point) network.Grade {
	if c == nil {
		return network.Grade{}
	}
	heights, step, ok := c.profile(part)
	if !ok {
		return network.Grade{}
	}
	g := network.Grade{Known: 1}
	for i := 1; i < len(heights); i++ {
		if rise := float32(heights[i] - heights[i-1]); rise > 0 {
			g.Ascent += rise
		} else {
			g.Descent -= rise
		}
	}
	g.Steepest = float32(steepest(heights, step))
	return g
}

// profile reads heights at equal steps along a line.
func (c *climber) profile(part []orb.Point) (heights []float64, step measure.Distance, ok bool) {
	length := geodesic.Length(part)
	start := c.travelled
	c.travelled += length
	if c.straight {
		at := func(d measure.Distance) float64 { return c.first + c.perMetre*float64(d) }
		return []float64{at(start), at(start + length)}, length, c.known
	}
	steps := max(1, int(math.Ceil(float64(length/sampling))))
	step = length / measure.Distance(steps)
	for _, p := range spaced(part, step, steps) {
		h, ok := c.terrain.Height(p)
		if !ok {
			return nil, 0, false
		}
		heights = append(heights, h)
	}
	return heights, step, true
}

// spaced returns points at equal steps along a line, both ends included.
func spaced(line []orb.Point, step measure.Distance, steps int) []orb.Point {
	out := []orb.Point{line[0]}
	var at measure.Distance
	for i := 1; i < len(line) && len(out) < steps; i++ {
		length := geodesic.Between(line[i-1], line[i])
		for len(out) < steps && step*measure.Distance(len(out)) <= at+length {
			out = append(out, geodesic.Toward(line[i-1], line[i], step*measure.Distance(len(out))-at))
		}
		at += length
	}
	return append(out, line[len(line)-1])
}

// steepest is the greatest rise over run, up or down, over gradeBase; a
// shorter line is taken to be that long.
func steepest(heights []float64, step measure.Distance) float64 {
	if step == 0 {
		return 0
	}
	span := max(1, int(math.Ceil(float64(gradeBase/step))))
	span = min(span, len(heights)-1)
	run := max(float64(step)*float64(span), float64(gradeBase))
	best := 0.0
	for i := span; i < len(heights); i++ {
		if g := (heights[i] - heights[i-span]) / run; math.Abs(g) > math.Abs(best) {
			best = g
		}
	}
	return best
}
