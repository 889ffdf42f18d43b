package area

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
)

// FromGeoJSON reads areas: features with the properties code, name, name_fr, time_zone
// and other_zones.
func FromGeoJSON(raw []byte) ([]Area, error) {
	fc, err := geojson.UnmarshalFeatureCollection(raw)
	if err != nil {
		return nil, fmt.Errorf("jurisdictions: %w", err)
	}
	var out []Area
	for i, f := range fc.Features {
		a, err := areaOf(f)
		if err != nil {
			return nil, fmt.Errorf("jurisdictions: feature %d: %w", i, err)
		}
		out = append(out, a)
	}
	return out, nil
}

func areaOf(f *geojson.Feature) (Area, error) {
	if f == nil {
		return Area{}, errors.New("is null")
	}
	j, err := jurisdiction(f.Properties)
	if err != nil {
		return Area{}, err
	}
	switch g := f.Geometry.(type) {
	case orb.Polygon:
		return Area{j, orb.MultiPolygon{g}}, checkGeometry(orb.MultiPolygon{g})
	case orb.MultiPolygon:
		return Area{j, g}, checkGeometry(g)
	default:
		return Area{}, fmt.Errorf("%s: %w", j.Code, errNoPolygon)
	}
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

var errNoPolygon = errors.New("it has no polygon")

// checkGeometry wants polygons of rings.
func checkGeometry(polygons orb.MultiPolygon) error {
	if len(polygons) == 0 {
		return errNoPolygon
	}
	for _, polygon := range polygons {
		if len(polygon) == 0 {
			return errors.New("it has a polygon without a ring")
		}
		for _, ring := range polygon {
			if err := checkRing(ring); err != nil {
				return err
			}
		}
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
