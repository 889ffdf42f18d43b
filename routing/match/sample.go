package match

import (
	"math"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// How a line is read. Points about as close together as its error say one
// thing, and their mean says it with less error; between points farther apart the
// line is looked at once a step.
const (
	leastStep   measure.Distance = 30
	leastMerge  measure.Distance = 4
	mergeErrors                  = 6      // so many errors of the line are close together
	drawnHere   measure.Distance = 1      // a line with no more error was drawn on these roads: each of its points tells
	mostSteps                    = 50_000 // a longer line is looked at in longer steps
	sag         measure.Distance = 5      // how far a road may leave a chord: sqrt(sag * chord / 4) in its middle
	asides      measure.Distance = 200    // the steps of Sample
	mostAside                    = 10_000 // of them; a longer line is sampled more thinly
)

// sample is a place of the line that a road is sought for.
type sample struct {
	at    orb.Point
	along measure.Distance // from the start of the line
	chord float64          // m2: what its being between two points adds to the square of its error
}

// observe reads a line with an error: the means of points that lie close together, where they do
// not tell of a corner a step from its start, both ends as they are, and places on the chords
// between. A place on a chord is as uncertain as a Brownian bridge between its ends: the
// variance of t of a chord grows with t (1 - t) and its length.
func observe(line orb.LineString, off measure.Distance) []sample {
	step := max(leastStep, geodesic.Length(line)/mostSteps)
	radius := min(max(leastMerge, mergeErrors*off), leastStep/2)
	if off <= drawnHere {
		radius = network.Joint
	}
	if step > leastStep {
		radius = step / 2
	}
	var out []sample
	for i, s := range merge(line, radius) {
		if i > 0 {
			out = append(out, between(out[len(out)-1], s, step)...)
		}
		out = append(out, s)
	}
	return out
}

// merge takes the mean of points that lie within a radius of each other. One
// that strays as far again and comes back at once is an error among them.
func merge(line orb.LineString, radius measure.Distance) []sample {
	var out []sample
	var along measure.Distance
	for i := 0; i < len(line); {
		var sum orb.Point
		var s sample
		for n := 1.0; i < len(line); n++ {
			if n > 1 && geodesic.Between(s.at, line[i]) > radius && !strays(s.at, line[i:], radius) {
				break
			}
			if i > 0 {
				along += geodesic.Between(line[i-1], line[i])
			}
			sum[0], sum[1], s.along = sum[0]+line[i][0], sum[1]+line[i][1], s.along+(along-s.along)/measure.Distance(n)
			s.at = orb.Point{sum[0] / n, sum[1] / n}
			i++
		}
		out = append(out, s)
	}
	if len(line) < 2 || len(out) == 0 {
		return out
	}
	out[0].at, out[0].along = line[0], 0
	end := sample{at: line[len(line)-1], along: along}
	if len(out) == 1 {
		if end.along == 0 {
			return out
		}
		return append(out, end)
	}
	out[len(out)-1] = end
	return out
}

// strays reports whether the first of some points lies only a little beyond a
// radius and the second within it.
func strays(centre orb.Point, points []orb.Point, radius measure.Distance) bool {
	return len(points) > 1 && geodesic.Between(centre, points[0]) <= 2*radius &&
		geodesic.Between(centre, points[1]) <= radius
}

// between places samples on the chord from one to another.
func between(a, b sample, step measure.Distance) []sample {
	chord := geodesic.Between(a.at, b.at)
	n := int(math.Ceil(float64(chord / step)))
	var out []sample
	for i := 1; i < n; i++ {
		r := float64(i) / float64(n)
		out = append(out, sample{
			at: part(a.at, b.at, r), along: a.along + measure.Distance(r)*(b.along-a.along),
			chord: float64(sag*chord) * r * (1 - r),
		})
	}
	return out
}

func part(a, b orb.Point, r float64) orb.Point {
	return orb.Point{a[0] + r*(b[0]-a[0]), a[1] + r*(b[1]-a[1])}
}

// Sample places points along a line in equal steps of 200 m, and keeps both
// ends.
func Sample(line orb.LineString) []orb.Point {
	if len(line) == 0 {
		return nil
	}
	step := max(asides, geodesic.Length(line)/mostAside)
	out := []orb.Point{line[0]}
	left := step // to the next sample
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := geodesic.Between(a, b)
		at := left
		for ; at < length; at += step {
			out = append(out, part(a, b, float64(at/length)))
		}
		left = at - length
	}
	if end := line[len(line)-1]; out[len(out)-1] != end {
		out = append(out, end)
	}
	return out
}
