// Package area tells in which jurisdictions a point lies.
//
// The shipped polygons are small-scale and thinned, so a point near a border
// is answered with both sides, and a point in no polygon with none: it is
// never given to the nearest.
package area

import (
	"encoding/json"
	"fmt"
	"math"
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
	French  string // its name in French, where that is another
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
// is given to the wrong side alone, at 1500 m one is (see
// TestAreasAgainstRoads in routing/network).
const Tolerance = 2500.0

// earthRadius is the mean radius of the Earth in metres, enough for nearness
// to a border.
const earthRadius = 6_371_008.8

// Read reads jurisdictions from GeoJSON: features with the properties code,
// name, name_fr, time_zone and other_zones.
func Read(raw []byte) (*Index, error) {
	fc, err := geojson.UnmarshalFeatureCollection(raw)
	if err != nil {
		return nil, fmt.Errorf("jurisdictions: %w", err)
	}
	ix := empty(Tolerance)
	for i, f := range fc.Features {
		if err := ix.add(f); err != nil {
			return nil, fmt.Errorf("jurisdictions: feature %d: %w", i, err)
		}
	}
	slices.Sort(ix.codes)
	ix.shapes.Build()
	return ix, nil
}

func empty(tolerance float64) *Index {
	return &Index{
		byCode: map[string]Jurisdiction{}, shapes: s2.NewShapeIndex(), codeOf: map[s2.Shape]string{},
		tolerance: tolerance,
	}
}

// Area is a jurisdiction with its polygons.
type Area struct {
	Jurisdiction
	Geometry orb.MultiPolygon
}

// New indexes areas. Within the tolerance of a border, in metres, both sides
// are answered. The error names the area whose geometry cannot be used, or
// whose code stands twice.
func New(areas []Area, tolerance float64) (*Index, error) {
	ix := empty(tolerance)
	for _, a := range areas {
		if err := ix.put(a.Jurisdiction, a.Geometry); err != nil {
			return nil, err
		}
	}
	slices.Sort(ix.codes)
	ix.shapes.Build()
	return ix, nil
}

func (ix *Index) add(f *geojson.Feature) error {
	if f == nil {
		return fmt.Errorf("is null")
	}
	j, err := jurisdiction(f.Properties)
	if err != nil {
		return err
	}
	return ix.put(j, f.Geometry)
}

func (ix *Index) put(j Jurisdiction, g orb.Geometry) error {
	if _, twice := ix.byCode[j.Code]; twice {
		return fmt.Errorf("%s stands twice", j.Code)
	}
	ix.byCode[j.Code] = j
	ix.codes = append(ix.codes, j.Code)
	return ix.addShape(j.Code, g)
}

func jurisdiction(p geojson.Properties) (Jurisdiction, error) {
	var in struct {
		Code, Name string
		French     string   `json:"name_fr"`
		TimeZone   string   `json:"time_zone"`
		OtherZones []string `json:"other_zones"`
	}
	raw, err := json.Marshal(p)
	if err != nil {
		return Jurisdiction{}, err
	}
	if err := json.Unmarshal(raw, &in); err != nil {
		return Jurisdiction{}, err
	}
	if len(in.Code) < 4 || in.Code[2] != '-' {
		return Jurisdiction{}, fmt.Errorf("%q is no ISO 3166-2 code", in.Code)
	}
	for _, z := range append([]string{in.TimeZone}, in.OtherZones...) {
		if _, err := time.LoadLocation(z); err != nil || z == "" || z == "Local" {
			return Jurisdiction{}, fmt.Errorf("%s: time zone %q is not known", in.Code, z)
		}
	}
	return Jurisdiction{
		Code: in.Code, Name: in.Name, French: in.French, Country: in.Code[:2],
		TimeZone: in.TimeZone, OtherZones: in.OtherZones,
	}, nil
}

func (ix *Index) addShape(code string, g orb.Geometry) error {
	var polygons orb.MultiPolygon
	switch g := g.(type) {
	case orb.Polygon:
		polygons = orb.MultiPolygon{g}
	case orb.MultiPolygon:
		polygons = g
	default:
		return fmt.Errorf("%s has no polygon", code)
	}
	if len(polygons) == 0 {
		return fmt.Errorf("%s has no polygon", code)
	}
	for _, polygon := range polygons {
		var loops []*s2.Loop
		for _, ring := range polygon {
			if err := checkRing(ring); err != nil {
				return fmt.Errorf("%s: %w", code, err)
			}
			loops = append(loops, loop(ring))
		}
		if len(loops) == 0 {
			return fmt.Errorf("%s has a polygon without a ring", code)
		}
		shape := s2.PolygonFromLoops(loops)
		ix.shapes.Add(shape)
		ix.codeOf[shape] = code
	}
	return nil
}

// checkRing wants a closed ring of four positions or more (RFC 7946, 3.1.6) in
// degrees.
func checkRing(ring orb.Ring) error {
	if len(ring) < 4 || ring[0] != ring[len(ring)-1] {
		return fmt.Errorf("a ring of %d positions is not closed or too short", len(ring))
	}
	for _, p := range ring {
		if !(p.Lat() >= -90 && p.Lat() <= 90 && p.Lon() >= -180 && p.Lon() <= 180) {
			return fmt.Errorf("%v is no longitude and latitude", p)
		}
	}
	return nil
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
	return s2.PointFromLatLng(s2.LatLngFromDegrees(p.Lat(), p.Lon()))
}

// At returns the codes of the jurisdictions whose polygon holds the point, or
// whose border is within the tolerance of it, sorted. None is an answer: the
// jurisdiction is unknown.
func (ix *Index) At(p orb.Point) []string {
	codes := ix.containing(p)
	for _, r := range ix.borders(p, ix.tolerance, s2.NewClosestEdgeQueryOptions()) {
		codes = append(codes, ix.codeOf[ix.shapes.Shape(r.ShapeID())])
	}
	slices.Sort(codes)
	return slices.Compact(codes)
}

// borders finds the sides of polygons within reach of a point, in metres.
func (ix *Index) borders(p orb.Point, reach float64, opts *s2.EdgeQueryOptions) []s2.EdgeQueryResult {
	limit := s1.ChordAngleFromAngle(s1.Angle(reach / earthRadius))
	opts = opts.DistanceLimit(limit).IncludeInteriors(false)
	return s2.NewClosestEdgeQuery(ix.shapes, opts).FindEdges(s2.NewMinDistanceToPointTarget(point(p)))
}

// Same reports whether [Index.At] surely answers the same for every point within
// reach of p, in metres.
func (ix *Index) Same(p orb.Point, reach float64) bool {
	const slack = 1.01 // of the sphere that distances are taken on
	return len(ix.borders(p, ix.tolerance+reach*slack, s2.NewClosestEdgeQueryOptions().MaxResults(1))) == 0
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
