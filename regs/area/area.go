// Package area tells in which jurisdictions a point lies.
//
// The shipped polygons are small-scale and thinned, so a point near a border
// is answered with both sides, and a point in no polygon with none: it is
// never given to the nearest.
package area

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"
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
	areas     []*region
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
		if err := checkGeometry(a.Geometry); err != nil {
			return nil, fmt.Errorf("%s: %w", a.Code, err)
		}
		held := func() orb.MultiPolygon { return a.Geometry }
		if err := ix.put(a.Jurisdiction, newRegion(a.Code, a.Geometry.Bound(), held)); err != nil {
			return nil, err
		}
	}
	slices.Sort(ix.codes)
	return ix, nil
}

func empty(tolerance float64) *Index {
	return &Index{byCode: map[string]Jurisdiction{}, tolerance: tolerance}
}

func (ix *Index) put(j Jurisdiction, r *region) error {
	if _, twice := ix.byCode[j.Code]; twice {
		return fmt.Errorf("%s stands twice", j.Code)
	}
	ix.byCode[j.Code] = j
	ix.codes = append(ix.codes, j.Code)
	ix.areas = append(ix.areas, r)
	return nil
}

// At returns the codes of the jurisdictions whose polygon holds the point, or
// whose border is within the tolerance of it, sorted. None is an answer: the
// jurisdiction is unknown.
func (ix *Index) At(p orb.Point) []string {
	var codes []string
	for _, r := range ix.areas {
		if r.within(p, ix.tolerance) && (r.holds(p) || r.near(p, ix.tolerance)) {
			codes = append(codes, r.code)
		}
	}
	slices.Sort(codes)
	return codes
}

// Same reports whether [Index.At] surely answers the same for every point within
// reach of p, in metres.
func (ix *Index) Same(p orb.Point, reach float64) bool {
	const slack = 1.01 // of the sphere that distances are taken on
	reach = ix.tolerance + reach*slack
	return !slices.ContainsFunc(ix.areas, func(r *region) bool { return r.within(p, reach) && r.near(p, reach) })
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
