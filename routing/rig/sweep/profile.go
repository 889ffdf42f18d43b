package sweep

import (
	"math"
	"slices"
	"sort"

	"wayhouse/regs/measure"
)

// Profile is the surface of a road along the way, a polyline with strictly
// growing distances.
type Profile []ProfilePoint

// ProfilePoint is one vertex of a profile.
type ProfilePoint struct {
	Distance measure.Distance // horizontal
	Height   measure.Distance // above any level
}

// Touch is the worst place of a profile for a belly.
type Touch struct {
	Need measure.Distance // the clearance that just touches, 0 where nothing rises above the line of the supports
	At   measure.Distance // the distance on the profile where it touches, nothing where Need is 0
}

// A standing is a position of the two supports and the heights under them.
type standing struct{ rear, rearHeight, frontHeight float64 }

// Need returns the greatest height by which the profile rises above the
// straight line between two supports a span apart, as they roll over it from
// one end to the other. The span is taken as horizontal: on a 10 percent grade
// that is too long by half a percent.
//
//  1. Between two positions where a support is at a vertex, both heights under
//     the supports are linear in the position.
//  2. For a fixed position the surface rises highest above the line at a
//     vertex between the supports.
//  3. So the rise at one vertex is a quadratic of the position on each such
//     interval, and its greatest value is found exactly.
//
// The work grows with the square of the number of vertices. False where the
// profile does not hold the span, its distances do not grow, or a number is
// not finite. It does not consider the ground outside the profile.
func (p Profile) Need(span measure.Distance) (Touch, bool) {
	if !known(span) || !p.usable() || p[len(p)-1].Distance-p[0].Distance < span {
		return Touch{}, false
	}
	s := p.standings(float64(span))
	var worst Touch
	for _, v := range p {
		at := float64(v.Distance)
		for i := 1; i < len(s); i++ {
			if s[i-1].rear < at-float64(span) || s[i].rear > at {
				continue
			}
			if h := measure.Distance(rise(s[i-1], s[i], v, float64(span))); h > worst.Need {
				worst = Touch{Need: h, At: v.Distance}
			}
		}
	}
	return worst, true
}

// usable reports whether the distances grow and all is finite and sane.
func (p Profile) usable() bool {
	before := measure.Distance(math.Inf(-1))
	for _, v := range p {
		ok := v.Distance > before && math.Abs(float64(v.Distance)) <= farthest && math.Abs(float64(v.Height)) <= farthest
		if !ok {
			return false
		}
		before = v.Distance
	}
	return len(p) >= 2
}

// standings returns every position at which a support is at a vertex, from one
// end of the profile to the other.
func (p Profile) standings(span float64) []standing {
	first, last := float64(p[0].Distance), float64(p[len(p)-1].Distance)-span
	at := make([]float64, 0, 2*len(p))
	for _, v := range p {
		d := float64(v.Distance)
		if d <= last {
			at = append(at, d)
		}
		if d-span >= first {
			at = append(at, d-span)
		}
	}
	slices.Sort(at)
	at = slices.Compact(at)
	s := make([]standing, len(at))
	for i, x := range at {
		s[i] = standing{x, p.height(x), p.height(x + span)}
	}
	if len(s) == 1 { // as long as the span: one position, an interval of no length
		s = append(s, s[0])
	}
	return s
}

// height returns the height at a distance, that of the ends beyond them.
func (p Profile) height(at float64) float64 {
	i := sort.Search(len(p), func(i int) bool { return float64(p[i].Distance) >= at })
	if i == 0 || i == len(p) {
		return float64(p[min(i, len(p)-1)].Height)
	}
	a, b := p[i-1], p[i]
	f := (at - float64(a.Distance)) / float64(b.Distance-a.Distance)
	return float64(a.Height) + f*float64(b.Height-a.Height)
}

// rise returns how far a vertex rises at most above
// the line of the supports as they go from one standing to the next. The rise
// is the quadratic through the values at both and midway.
func rise(a, b standing, v ProfilePoint, span float64) float64 {
	above := func(s standing) float64 {
		f := (float64(v.Distance) - s.rear) / span
		return float64(v.Height) - (1-f)*s.rearHeight - f*s.frontHeight
	}
	start, end := above(a), above(b)
	middle := above(standing{(a.rear + b.rear) / 2, (a.rearHeight + b.rearHeight) / 2,
		(a.frontHeight + b.frontHeight) / 2})
	second, first := 2*(start+end-2*middle), 4*middle-3*start-end
	if peak := -first / (2 * second); second < 0 && 0 < peak && peak < 1 {
		return start + first*peak + second*peak*peak
	}
	return max(start, end)
}
