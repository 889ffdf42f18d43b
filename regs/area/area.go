// Package area tells in which jurisdictions a point lies.
//
// The shipped polygons are small-scale and thinned, so a point near a border
// is answered with both sides, and a point in no polygon with none: it is
// never given to the nearest.
package area

import (
	"fmt"
	"slices"
	"time"

	"github.com/golang/geo/s1"
	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
)

// Jurisdiction is an area with rules of its own.
type Jurisdiction struct {
	Code    string // ISO 3166-2
	Name    string
	Country string // ISO 3166-1 alpha-2
	// TimeZone is the IANA zone of most of the area. OtherZones lists those of
	// the rest; where there are any, the zone of a point is an assumption.
	TimeZone   string
	OtherZones []string
}

// Index answers which jurisdictions a point lies in. It is safe for use by
// many goroutines.
type Index struct {
	byCode    map[string]Jurisdiction
	codes     []string // sorted
	shapes    *s2.ShapeIndex
	codeOf    map[s2.Shape]string
	tolerance float64 // metres
}

// Tolerance is how far from a shipped border both sides are answered, in
// metres. The source is drawn for 1:10 000 000 and thinned to 100 m. Measured
// on the bundled roads, whose own source names the province: at 2000 m no road
// is given to the wrong side alone, at 1500 m two are (see
// TestAreasAgainstRoads in routing/network).
const Tolerance = 2500.0

// earthRadius is the mean radius of the Earth in metres, enough for nearness
// to a border.
const earthRadius = 6_371_008.8

// Read reads jurisdictions from GeoJSON: features with the properties code,
// name, time_zone and other_zones.
func Read(raw []byte) (*Index, error) {
	fc, err := geojson.UnmarshalFeatureCollection(raw)
	if err != nil {
		return nil, fmt.Errorf("jurisdictions: %w", err)
	}
	ix := &Index{byCode: map[string]Jurisdiction{}, shapes: s2.NewShapeIndex(), codeOf: map[s2.Shape]string{}, tolerance: Tolerance}
	for i, f := range fc.Features {
		j, err := jurisdiction(f.Properties)
		if err != nil {
			return nil, fmt.Errorf("jurisdictions: feature %d: %w", i, err)
		}
		if _, twice := ix.byCode[j.Code]; twice {
			return nil, fmt.Errorf("jurisdictions: %s stands twice", j.Code)
		}
		ix.byCode[j.Code] = j
		ix.codes = append(ix.codes, j.Code)
		ix.addShape(j.Code, f.Geometry)
	}
	slices.Sort(ix.codes)
	ix.shapes.Build()
	return ix, nil
}

func jurisdiction(p geojson.Properties) (Jurisdiction, error) {
	j := Jurisdiction{Code: p.MustString("code", ""), Name: p.MustString("name", ""), TimeZone: p.MustString("time_zone", "")}
	if len(j.Code) < 4 || j.Code[2] != '-' {
		return j, fmt.Errorf("%q is no ISO 3166-2 code", j.Code)
	}
	j.Country = j.Code[:2]
	list, _ := p["other_zones"].([]any)
	for _, z := range list {
		j.OtherZones = append(j.OtherZones, fmt.Sprint(z))
	}
	for _, z := range append([]string{j.TimeZone}, j.OtherZones...) {
		if _, err := time.LoadLocation(z); err != nil || z == "" {
			return j, fmt.Errorf("%s: time zone %q: %w", j.Code, z, err)
		}
	}
	return j, nil
}

func (ix *Index) addShape(code string, g orb.Geometry) {
	var polygons orb.MultiPolygon
	switch g := g.(type) {
	case orb.Polygon:
		polygons = orb.MultiPolygon{g}
	case orb.MultiPolygon:
		polygons = g
	}
	for _, polygon := range polygons {
		var loops []*s2.Loop
		for _, ring := range polygon {
			loops = append(loops, loop(ring))
		}
		shape := s2.PolygonFromLoops(loops)
		ix.shapes.Add(shape)
		ix.codeOf[shape] = code
	}
}

// loop makes an s2 loop of a closed ring; its inside is the smaller side.
func loop(ring orb.Ring) *s2.Loop {
	points := make([]s2.Point, 0, len(ring))
	for _, p := range ring[:len(ring)-1] {
		points = append(points, point(p))
	}
	l := s2.LoopFromPoints(points)
	l.Normalize()
	return l
}

func point(p orb.Point) s2.Point {
	return s2.PointFromLatLng(s2.LatLngFromDegrees(p.Lat(), p.Lon()))
}

// At returns the codes of the jurisdictions whose polygon holds the point, or
// whose border is within the tolerance of it, sorted. None is an answer: the
// jurisdiction is unknown.
func (ix *Index) At(p orb.Point) []string {
	codes := ix.containing(p)
	limit := s1.ChordAngleFromAngle(s1.Angle(ix.tolerance / earthRadius))
	opts := s2.NewClosestEdgeQueryOptions().DistanceLimit(limit).IncludeInteriors(false)
	for _, r := range s2.NewClosestEdgeQuery(ix.shapes, opts).FindEdges(s2.NewMinDistanceToPointTarget(point(p))) {
		codes = append(codes, ix.codeOf[ix.shapes.Shape(r.ShapeID())])
	}
	slices.Sort(codes)
	return slices.Compact(codes)
}

// containing returns the codes of the polygons that hold the point.
func (ix *Index) containing(p orb.Point) []string {
	var codes []string
	for _, shape := range s2.NewContainsPointQuery(ix.shapes, s2.VertexModelSemiOpen).ContainingShapes(point(p)) {
		codes = append(codes, ix.codeOf[shape])
	}
	return codes
}

// ByCode returns one jurisdiction.
func (ix *Index) ByCode(code string) (Jurisdiction, bool) {
	j, ok := ix.byCode[code]
	return j, ok
}

// All lists the jurisdictions by code.
func (ix *Index) All() []Jurisdiction {
	out := make([]Jurisdiction, 0, len(ix.codes))
	for _, c := range ix.codes {
		out = append(out, ix.byCode[c])
	}
	return out
}
