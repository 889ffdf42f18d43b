package wire

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/trip"
)

func (r *reader) route(q *GivenRequest) *trip.Given {
	if q == nil {
		return nil
	}
	given := 0
	for _, has := range []bool{q.GeoJSON != nil, q.GPX != "", len(q.Roads) > 0} {
		if has {
			given++
		}
	}
	if given != 1 {
		r.fail("route", nil, fmt.Sprintf("is given in %d forms", given), "give exactly one of geojson, gpx, roads")
		return nil
	}
	switch {
	case q.GeoJSON != nil:
		line, err := geoJSONLine(q.GeoJSON)
		if err != nil {
			r.fail("route.geojson", nil, err.Error(), "give a LineString with longitude first")
		}
		return &trip.Given{Line: line}
	case q.GPX != "":
		line, err := gpxLine(strings.NewReader(q.GPX))
		if err != nil {
			r.fail("route.gpx", nil, err.Error(), "give a GPX 1.1 document with one track")
		}
		return &trip.Given{Line: line}
	default:
		return &trip.Given{Roads: q.Roads}
	}
}

var errNoLine = errors.New("has no line of two points or more")

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
		return nil, errors.New("is no GeoJSON object")
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

// geoJSONLine finds the one line in a geometry, a feature or a collection.
func geoJSONLine(v any) (orb.LineString, error) {
	object, err := readGeoJSON(v)
	if err != nil {
		return nil, err
	}
	var found []orb.LineString
	for _, g := range object.geometries() {
		line, err := g.line()
		if err != nil {
			return nil, err
		}
		if line != nil {
			found = append(found, line)
		}
	}
	switch len(found) {
	case 0:
		return nil, errNoLine
	case 1:
		return found[0], nil
	default:
		return nil, fmt.Errorf("has %d lines", len(found))
	}
}

// line reads the line of a geometry; nil where it has none.
func (g *geoJSONObject) line() (orb.LineString, error) {
	switch g.Type {
	case "MultiLineString", "GeometryCollection":
		return nil, fmt.Errorf("has a %s, whose parts need not follow each other", g.Type)
	case "LineString":
		line, err := positions(g.Coordinates)
		if err != nil || len(line) < 2 {
			return nil, err
		}
		return line, nil
	default:
		return nil, nil
	}
}

// positions reads longitude and latitude, and leaves altitudes out.
func positions(raw json.RawMessage) (orb.LineString, error) {
	var in [][]*float64 // a null is no number
	if err := json.Unmarshal(raw, &in); err != nil {
		return nil, errors.New("has coordinates that are no list of positions")
	}
	var line orb.LineString
	for i, p := range in {
		if len(p) < 2 || p[0] == nil || p[1] == nil {
			return nil, fmt.Errorf("has a position %d without longitude and latitude", i)
		}
		line = append(line, orb.Point{*p[0], *p[1]})
	}
	return line, nil
}

// segmentGap is how far apart two segments of a track may be and still be one
// line, as after a pause.
const segmentGap measure.Distance = 1000

// gpxLine reads the track points of a GPX 1.1 document (topografix.com/GPX/1/1)
// in order.
func gpxLine(in io.Reader) (orb.LineString, error) {
	var doc struct {
		XMLName xml.Name `xml:"gpx"`
		Tracks  []struct {
			Segments []struct {
				Points []struct {
					Lat *float64 `xml:"lat,attr"`
					Lon *float64 `xml:"lon,attr"`
				} `xml:"trkpt"`
			} `xml:"trkseg"`
		} `xml:"trk"`
	}
	d := xml.NewDecoder(in)
	d.CharsetReader = func(name string, _ io.Reader) (io.Reader, error) {
		return nil, fmt.Errorf("it is written in %s; save it as UTF-8", name)
	}
	if err := d.Decode(&doc); err != nil {
		return nil, fmt.Errorf("cannot be read: %w", err)
	}
	if len(doc.Tracks) > 1 {
		return nil, fmt.Errorf("has %d tracks", len(doc.Tracks))
	}
	var line orb.LineString
	for _, t := range doc.Tracks {
		for i, s := range t.Segments {
			for k, p := range s.Points {
				if p.Lat == nil || p.Lon == nil {
					return nil, errors.New("has a track point without lat or lon")
				}
				at := orb.Point{*p.Lon, *p.Lat}
				if k == 0 && len(line) > 0 && geodesic.Between(line[len(line)-1], at) > segmentGap {
					return nil, fmt.Errorf("has %s between its segments %d and %d: what was driven there is not known",
						geodesic.Between(line[len(line)-1], at), i, i+1)
				}
				line = append(line, at)
			}
		}
	}
	if len(line) < 2 {
		return nil, errNoLine
	}
	return line, nil
}
