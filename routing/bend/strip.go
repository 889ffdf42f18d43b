package bend

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
)

// strip is the workspace for the narrowest strip that holds a part of a line.
type strip struct{ path, sorted, hull []orb.Point } // metres

// off is how far the line runs at the most from the straight that it keeps nearest to,
// within a reach of a point of it, metres; infinity where it turns back on that straight
// by more than [Drawn].
func (t *Tracer) off(i int, reach float64) float64 {
	s := &t.strip
	s.path = append(s.path[:0], orb.Point{})
	s.path = t.walk(s.path, i-1, -1, reach)
	slices.Reverse(s.path)
	s.path = t.walk(s.path, i, 1, reach)
	width, along := s.narrowest()
	farthest := math.Inf(-1)
	for _, p := range s.path {
		at := dot(p, along)
		if farthest = max(farthest, at); farthest-at > float64(Drawn) {
			return math.Inf(1)
		}
	}
	return width / 2
}

// walk appends the points of the line from a piece on, forward or back, from 0, 0.
func (t *Tracer) walk(path []orb.Point, piece, step int, left float64) []orb.Point {
	at := orb.Point{}
	for ; piece >= 0 && piece < len(t.length) && left > 0; piece += step {
		share := float64(step)
		if t.length[piece] > left {
			share *= left / t.length[piece]
		}
		at = orb.Point{at[0] + share*t.dx[piece], at[1] + share*t.dy[piece]}
		path, left = append(path, at), left-t.length[piece]
	}
	return path
}

// narrowest is the width of the narrowest strip that holds the path, and its direction
// from the first point towards the last: one of its sides lies on an edge of the hull.
func (s *strip) narrowest() (width float64, along orb.Point) {
	s.enclose()
	width = math.Inf(1)
	for i, a := range s.hull {
		b := s.hull[(i+1)%len(s.hull)]
		edge := orb.Point{b[0] - a[0], b[1] - a[1]}
		length := math.Hypot(edge[0], edge[1])
		if length == 0 {
			continue
		}
		edge = orb.Point{edge[0] / length, edge[1] / length}
		across := 0.0
		for _, p := range s.hull {
			across = max(across, math.Abs(cross(edge, orb.Point{p[0] - a[0], p[1] - a[1]})))
		}
		if across < width {
			width, along = across, edge
		}
	}
	first, last := s.path[0], s.path[len(s.path)-1]
	if dot(orb.Point{last[0] - first[0], last[1] - first[1]}, along) < 0 {
		along = orb.Point{-along[0], -along[1]}
	}
	return width, along
}

// enclose works out the convex hull of the path (Andrew's monotone chain).
func (s *strip) enclose() {
	s.sorted = append(s.sorted[:0], s.path...)
	slices.SortFunc(s.sorted, func(a, b orb.Point) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	s.hull = s.hull[:0]
	for range 2 {
		from := len(s.hull)
		for _, p := range s.sorted {
			for n := len(s.hull); n >= from+2 && !left(s.hull[n-2], s.hull[n-1], p); n-- {
				s.hull = s.hull[:n-1]
			}
			s.hull = append(s.hull, p)
		}
		s.hull = s.hull[:len(s.hull)-1] // the first of the other half
		slices.Reverse(s.sorted)
	}
}

func left(a, b, c orb.Point) bool {
	return cross(orb.Point{b[0] - a[0], b[1] - a[1]}, orb.Point{c[0] - b[0], c[1] - b[1]}) > 0
}

func cross(a, b orb.Point) float64 { return a[0]*b[1] - a[1]*b[0] }

func dot(a, b orb.Point) float64 { return a[0]*b[0] + a[1]*b[1] }

// Window is the part of a line within a distance along it of a place, in metres
// east and north of that place.
func Window(line orb.LineString, at, reach measure.Distance) orb.LineString {
	var out orb.LineString
	var along float64
	var x, y float64
	from, to := float64(at-reach), float64(at+reach)
	for i := 1; i < len(line); i++ {
		dx, dy := offset(line[i-1], line[i])
		length := math.Hypot(dx, dy)
		if along+length >= from && along <= to && length > 0 {
			first, last := max((from-along)/length, 0), min((to-along)/length, 1)
			if len(out) == 0 {
				out = append(out, orb.Point{x + first*dx, y + first*dy})
			}
			out = append(out, orb.Point{x + last*dx, y + last*dy})
		}
		along, x, y = along+length, x+dx, y+dy
		if along > to {
			break
		}
	}
	return out
}
