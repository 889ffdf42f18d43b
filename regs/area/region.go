package area

import (
	"math"
	"sync"

	"github.com/golang/geo/s1"
	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"
)

// region is where one jurisdiction lies. Its polygons are read when a point comes near.
type region struct {
	code     string
	bound    s2.Rect
	polygons func() orb.MultiPolygon
	shapes   func() *s2.ShapeIndex
}

func newRegion(code string, b orb.Bound, polygons func() orb.MultiPolygon) *region {
	bound := s2.RectFromLatLng(latLng(b.Min)).AddPoint(latLng(b.Max))
	if b.Max.Lon()-b.Min.Lon() > 180 { // the other way round would be shorter
		bound.Lng = s1.FullInterval()
	}
	shapes := sync.OnceValue(func() *s2.ShapeIndex { return indexed(polygons()) })
	return &region{code, bound, polygons, shapes}
}

func indexed(polygons orb.MultiPolygon) *s2.ShapeIndex {
	ix := s2.NewShapeIndex()
	for _, polygon := range polygons {
		var loops []*s2.Loop
		for _, ring := range polygon {
			loops = append(loops, loop(ring))
		}
		ix.Add(s2.PolygonFromLoops(loops))
	}
	ix.Build()
	return ix
}

// bow is by how many metres at most a side of an s2 loop leaves the straight line in
// degrees that it stands for, see straight.
const bow = 10

// within reports whether a point may lie in the region, or within reach of its border,
// in metres.
func (r *region) within(p orb.Point, reach float64) bool {
	return r.bound.DistanceToLatLng(latLng(p)) <= s1.Angle((reach+bow)/earthRadius)
}

// holds reports whether a polygon holds the point.
func (r *region) holds(p orb.Point) bool {
	return s2.NewContainsPointQuery(r.shapes(), s2.VertexModelSemiOpen).Contains(point(p))
}

// near reports whether a side of a polygon lies within reach of the point, in metres.
func (r *region) near(p orb.Point, reach float64) bool {
	limit := s1.ChordAngleFromAngle(s1.Angle(reach / earthRadius))
	opts := s2.NewClosestEdgeQueryOptions().DistanceLimit(limit).IncludeInteriors(false).MaxResults(1)
	return len(s2.NewClosestEdgeQuery(r.shapes(), opts).FindEdges(s2.NewMinDistanceToPointTarget(point(p)))) > 0
}

// straight is the longest stretch of longitude, in degrees, that a side of a
// polygon may span in one piece. A border along a parallel is straight in
// degrees, but the side of an s2 loop is a great circle. It bows away from the
// parallel by less than 8 m over a quarter of a degree, and by 47 km between
// corners 22 degrees apart on the 60th, as the thinned border has them.
const straight = 0.25

// loop makes an s2 loop of a closed ring; its inside is the smaller side.
func loop(ring orb.Ring) *s2.Loop {
	var points []s2.Point
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		parts := max(math.Ceil(math.Abs(b.Lon()-a.Lon())/straight), 1)
		for k := range int(parts) {
			r := float64(k) / parts
			points = append(points, point(orb.Point{a[0] + r*(b[0]-a[0]), a[1] + r*(b[1]-a[1])}))
		}
	}
	l := s2.LoopFromPoints(points)
	l.Normalize()
	return l
}

func point(p orb.Point) s2.Point {
	return s2.PointFromLatLng(latLng(p))
}

func latLng(p orb.Point) s2.LatLng { return s2.LatLngFromDegrees(p.Lat(), p.Lon()) }
