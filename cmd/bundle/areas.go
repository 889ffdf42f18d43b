package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/simplify"

	"wayhouse/regs/area"
)

// thinning is how far a thinned border may leave the source's, in metres.
const thinning = 100.0

// metresPerDegree of latitude, rounded up from its greatest, 111 694 m at the
// poles (WGS84), so that thinning stays below its bound everywhere.
const metresPerDegree = 111_700.0

// buildAreas makes the jurisdictions: codes and time zones added, lines
// thinned.
func buildAreas(path string) ([]byte, error) {
	fc, err := readSource(path)
	if err != nil {
		return nil, err
	}
	var out []*geojson.Feature
	for _, f := range fc.Features {
		name := f.Properties.MustString("name", "")
		known, ok := jurisdictions[name]
		if !ok {
			return nil, fmt.Errorf("%s: no code for %q", path, name)
		}
		shape := geojson.NewFeature(thin(f.Geometry))
		shape.Properties = geojson.Properties{
			"code": known.code, "name": name, "time_zone": known.zones[0], "other_zones": known.zones[1:],
		}
		if french[name] != "" {
			shape.Properties["name_fr"] = french[name]
		}
		out = append(out, shape)
	}
	slices.SortFunc(out, func(a, b *geojson.Feature) int {
		return strings.Compare(a.Properties.MustString("code"), b.Properties.MustString("code"))
	})
	raw, err := collection("", out)
	if err != nil {
		return nil, err
	}
	areas, err := area.FromGeoJSON(raw)
	if err != nil {
		return nil, err
	}
	return area.Pack(areas)
}

func thin(g orb.Geometry) orb.Geometry {
	var polygons orb.MultiPolygon
	switch g := g.(type) {
	case orb.Polygon:
		polygons = orb.MultiPolygon{g}
	case orb.MultiPolygon:
		polygons = g
	}
	out := orb.MultiPolygon{}
	for _, polygon := range polygons {
		var rings orb.Polygon
		for _, ring := range polygon {
			rings = append(rings, thinRing(ring))
		}
		out = append(out, rings)
	}
	return out
}

// thinRing drops the points of a ring that lie within the bound of the line
// between those kept. The plane of degrees overstates distances east and west,
// so the bound holds everywhere. An island that would vanish stays whole.
func thinRing(ring orb.Ring) orb.Ring {
	thinned := simplify.DouglasPeucker(thinning / metresPerDegree).Ring(ring.Clone())
	if len(thinned) < 4 {
		return ring
	}
	return thinned
}

// known is what the source does not say of a jurisdiction: its code and its
// time zones, that of most of the area first.
type known struct {
	code  string
	zones []string
}

// jurisdictions by the name the source gives them. Codes: ISO 3166-2. Zones:
// names of the IANA time zone database; which area keeps which is told from
// memory. Where more than one is kept, an answer says that it assumed the
// first.
var jurisdictions = map[string]known{
	"Alberta": {"CA-AB", []string{"America/Edmonton"}},
	"British Columbia": {"CA-BC", []string{"America/Vancouver", "America/Edmonton", "America/Creston",
		"America/Dawson_Creek", "America/Fort_Nelson"}},
	"Manitoba":                  {"CA-MB", []string{"America/Winnipeg"}},
	"New Brunswick":             {"CA-NB", []string{"America/Moncton"}},
	"Newfoundland and Labrador": {"CA-NL", []string{"America/St_Johns", "America/Goose_Bay"}},
	"Nova Scotia":               {"CA-NS", []string{"America/Halifax", "America/Glace_Bay"}},
	"Northwest Territories":     {"CA-NT", []string{"America/Edmonton", "America/Inuvik"}},
	"Nunavut": {"CA-NU", []string{"America/Iqaluit", "America/Rankin_Inlet",
		"America/Cambridge_Bay", "America/Resolute"}},
	"Ontario":              {"CA-ON", []string{"America/Toronto", "America/Winnipeg", "America/Atikokan"}},
	"Prince Edward Island": {"CA-PE", []string{"America/Halifax"}},
	"Québec":               {"CA-QC", []string{"America/Toronto", "America/Halifax", "America/Blanc-Sablon"}},
	"Saskatchewan":         {"CA-SK", []string{"America/Regina", "America/Swift_Current", "America/Edmonton"}},
	"Yukon":                {"CA-YT", []string{"America/Whitehorse"}},
	"Alabama":              {"US-AL", []string{"America/Chicago"}},
	"Alaska":               {"US-AK", []string{"America/Anchorage", "America/Adak", "America/Metlakatla"}},
	"Arizona":              {"US-AZ", []string{"America/Phoenix", "America/Denver"}},
	"Arkansas":             {"US-AR", []string{"America/Chicago"}},
	"California":           {"US-CA", []string{"America/Los_Angeles"}},
	"Colorado":             {"US-CO", []string{"America/Denver"}},
	"Connecticut":          {"US-CT", []string{"America/New_York"}},
	"Delaware":             {"US-DE", []string{"America/New_York"}},
	"District of Columbia": {"US-DC", []string{"America/New_York"}},
	"Florida":              {"US-FL", []string{"America/New_York", "America/Chicago"}},
	"Georgia":              {"US-GA", []string{"America/New_York"}},
	"Hawaii":               {"US-HI", []string{"Pacific/Honolulu"}},
	"Idaho":                {"US-ID", []string{"America/Boise", "America/Los_Angeles"}},
	"Illinois":             {"US-IL", []string{"America/Chicago"}},
	"Indiana":              {"US-IN", []string{"America/Indiana/Indianapolis", "America/Chicago"}},
	"Iowa":                 {"US-IA", []string{"America/Chicago"}},
	"Kansas":               {"US-KS", []string{"America/Chicago", "America/Denver"}},
	"Kentucky":             {"US-KY", []string{"America/New_York", "America/Chicago"}},
	"Louisiana":            {"US-LA", []string{"America/Chicago"}},
	"Maine":                {"US-ME", []string{"America/New_York"}},
	"Maryland":             {"US-MD", []string{"America/New_York"}},
	"Massachusetts":        {"US-MA", []string{"America/New_York"}},
	"Michigan":             {"US-MI", []string{"America/Detroit", "America/Menominee"}},
	"Minnesota":            {"US-MN", []string{"America/Chicago"}},
	"Mississippi":          {"US-MS", []string{"America/Chicago"}},
	"Missouri":             {"US-MO", []string{"America/Chicago"}},
	"Montana":              {"US-MT", []string{"America/Denver"}},
	"Nebraska":             {"US-NE", []string{"America/Chicago", "America/Denver"}},
	"Nevada":               {"US-NV", []string{"America/Los_Angeles", "America/Denver"}},
	"New Hampshire":        {"US-NH", []string{"America/New_York"}},
	"New Jersey":           {"US-NJ", []string{"America/New_York"}},
	"New Mexico":           {"US-NM", []string{"America/Denver"}},
	"New York":             {"US-NY", []string{"America/New_York"}},
	"North Carolina":       {"US-NC", []string{"America/New_York"}},
	"North Dakota":         {"US-ND", []string{"America/Chicago", "America/Denver"}},
	"Ohio":                 {"US-OH", []string{"America/New_York"}},
	"Oklahoma":             {"US-OK", []string{"America/Chicago", "America/Denver"}},
	"Oregon":               {"US-OR", []string{"America/Los_Angeles", "America/Boise"}},
	"Pennsylvania":         {"US-PA", []string{"America/New_York"}},
	"Rhode Island":         {"US-RI", []string{"America/New_York"}},
	"South Carolina":       {"US-SC", []string{"America/New_York"}},
	"South Dakota":         {"US-SD", []string{"America/Chicago", "America/Denver"}},
	"Tennessee":            {"US-TN", []string{"America/Chicago", "America/New_York"}},
	"Texas":                {"US-TX", []string{"America/Chicago", "America/Denver"}},
	"Utah":                 {"US-UT", []string{"America/Denver"}},
	"Vermont":              {"US-VT", []string{"America/New_York"}},
	"Virginia":             {"US-VA", []string{"America/New_York"}},
	"Washington":           {"US-WA", []string{"America/Los_Angeles"}},
	"West Virginia":        {"US-WV", []string{"America/New_York"}},
	"Wisconsin":            {"US-WI", []string{"America/Chicago"}},
	"Wyoming":              {"US-WY", []string{"America/Denver"}},
}

// french are the names in French of the jurisdictions that have another there, as
// ISO 3166-2 has those of Canada and the Unicode CLDR those of the United States
// (from memory).
var french = map[string]string{
	"British Columbia":          "Colombie-Britannique",
	"New Brunswick":             "Nouveau-Brunswick",
	"Newfoundland and Labrador": "Terre-Neuve-et-Labrador",
	"Nova Scotia":               "Nouvelle-Écosse",
	"Northwest Territories":     "Territoires du Nord-Ouest",
	"Prince Edward Island":      "Île-du-Prince-Édouard",
	"California":                "Californie",
	"District of Columbia":      "District de Columbia",
	"Florida":                   "Floride",
	"Georgia":                   "Géorgie",
	"Hawaii":                    "Hawaï",
	"Louisiana":                 "Louisiane",
	"New Mexico":                "Nouveau-Mexique",
	"North Carolina":            "Caroline du Nord",
	"North Dakota":              "Dakota du Nord",
	"Pennsylvania":              "Pennsylvanie",
	"South Carolina":            "Caroline du Sud",
	"South Dakota":              "Dakota du Sud",
	"Virginia":                  "Virginie",
	"West Virginia":             "Virginie-Occidentale",
}
