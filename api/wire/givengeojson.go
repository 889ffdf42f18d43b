package wire

import (
	"encoding/json"

	"github.com/paulmach/orb"

	"wayhouse/regs/say"
)

// geoJSONObject is what is read of a GeoJSON object (RFC 7946).
type geoJSONObject struct {
	Type        string           `json:"type"`
	Coordinates json.RawMessage  `json:"coordinates"`
	Geometry    *geoJSONObject   `json:"geometry"`
	Features    []*geoJSONObject `json:"features"`
}

// readGeoJSON reads what a decoded JSON value says as GeoJSON.
func readGeoJSON(v any) (*geoJSONObject, error) {
	raw, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	var object geoJSONObject
	if err := json.Unmarshal(raw, &object); err != nil {
		return nil, say.Err(say.That("error.no_geojson_object"))
	}
	return &object, nil
}

// geometries lists the geometries of a geometry, a feature or a collection.
func (g *geoJSONObject) geometries() (all []*geoJSONObject) {
	switch {
	case g == nil:
		return nil
	case g.Type == "Feature":
		return g.Geometry.geometries()
	case g.Type == "FeatureCollection":
		for _, f := range g.Features {
			all = append(all, f.geometries()...)
		}
		return all
	default:
		return []*geoJSONObject{g}
	}
}

// geoJSONLine finds the lines in a geometry, a feature or a collection, which must
// follow each other.
func geoJSONLine(v any) (orb.LineString, error) {
	object, err := readGeoJSON(v)
	if err != nil {
		return nil, err
	}
	var found []orb.LineString
	for _, g := range object.geometries() {
		lines, err := g.lines()
		if err != nil {
			return nil, err
		}
		found = append(found, lines...)
	}
	return joined(found)
}

// lines reads those of a geometry.
func (g *geoJSONObject) lines() (all []orb.LineString, err error) {
	parts := []json.RawMessage{g.Coordinates}
	switch g.Type {
	case "GeometryCollection":
		return nil, say.Err(say.That("error.a_geometrycollection_whose_parts"))
	case "MultiLineString":
		if err := json.Unmarshal(g.Coordinates, &parts); err != nil {
			return nil, errNoPositions
		}
	case "LineString":
	default:
		return nil, nil
	}
	for _, part := range parts {
		line, err := positions(part)
		if err != nil {
			return nil, err
		}
		all = append(all, line)
	}
	return all, nil
}

var errNoPositions = say.Err(say.That("error.coordinates_that_are_no_list"))

// positions reads longitude and latitude, and leaves altitudes out.
func positions(raw json.RawMessage) (orb.LineString, error) {
	var in [][]*float64 // a null is no number
	if err := json.Unmarshal(raw, &in); err != nil {
		return nil, errNoPositions
	}
	var line orb.LineString
	for i, p := range in {
		if len(p) < 2 || p[0] == nil || p[1] == nil {
			return nil, say.Err(say.That("error.position_bare", "n", i))
		}
		line = append(line, orb.Point{*p[0], *p[1]})
	}
	return line, nil
}
