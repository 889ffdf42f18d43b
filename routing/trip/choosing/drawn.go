package choosing

import (
	"math"
	"slices"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"

	"wayhouse/routing/network"
)

// loopOf is the ring of a polygon on the sphere.
func loopOf(polygon orb.Polygon) *s2.Loop {
	var points []s2.Point
	for i, p := range polygon[0][:len(polygon[0])-1] { // the last is the first
		points = append(points, cut(p, polygon[0][i+1])...)
	}
	loop := s2.LoopFromPoints(points)
	loop.Normalize() // whichever way round it was drawn
	return loop
}

// cut returns the start of a side and points along it, near enough to each other
// for the side to be straight in degrees (RFC 7946), which it is not on the sphere.
func cut(from, to orb.Point) (out []s2.Point) {
	const step = 0.05 // degrees
	n := int(max(1, math.Ceil(max(math.Abs(to[0]-from[0]), math.Abs(to[1]-from[1]))/step)))
	for i := range n {
		r := float64(i) / float64(n)
		out = append(out, onSphere(orb.Point{from[0] + r*(to[0]-from[0]), from[1] + r*(to[1]-from[1])}))
	}
	return out
}

func onSphere(p orb.Point) s2.Point {
	return s2.PointFromLatLng(s2.LatLngFromDegrees(p.Lat(), p.Lon()))
}

// drawn reports whether a piece touches a drawn area.
func (bs *barriers) drawn(p network.Piece) bool {
	if len(bs.areas) == 0 {
		return false
	}
	var line s2.Polyline
	for _, at := range bs.stands.Network.Line(p) {
		line = append(line, onSphere(at))
	}
	return slices.ContainsFunc(bs.areas, func(area *s2.Loop) bool { return touches(area, line) })
}

func touches(area *s2.Loop, line s2.Polyline) bool {
	if !area.RectBound().Intersects(line.RectBound()) {
		return false
	}
	for i := range line {
		if area.ContainsPoint(line[i]) {
			return true
		}
		for k := range area.NumEdges() {
			edge := area.Edge(k)
			if i > 0 && s2.CrossingSign(line[i-1], line[i], edge.V0, edge.V1) != s2.DoNotCross {
				return true
			}
		}
	}
	return false
}
