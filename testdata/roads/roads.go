// Package roads makes small road networks for tests, as the GeoJSON that a
// bundled network is read from.
package roads

import (
	"encoding/json"
	"fmt"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
)

// Edge is a straight road between two nodes.
type Edge struct {
	From, To     int
	Class, Ref   string
	Jurisdiction string
}

// GeoJSON returns a network of the nodes, in degrees longitude and latitude,
// and the edges. Every node must be an end of an edge. It lacks every kind of
// fact but those carried.
func GeoJSON(nodes []orb.Point, edges []Edge, facts []string, carried ...string) []byte {
	fc := geojson.NewFeatureCollection()
	for _, e := range edges {
		f := geojson.NewFeature(orb.LineString{nodes[e.From], nodes[e.To]})
		f.Properties = geojson.Properties{
			"from": e.From, "to": e.To, "class": e.Class, "ref": e.Ref, "jurisdictions": []string{e.Jurisdiction},
		}
		fc.Append(f)
	}
	lacks := []string{}
	for _, fact := range facts {
		if !slices.Contains(carried, fact) {
			lacks = append(lacks, fact)
		}
	}
	fc.ExtraMembers = geojson.Properties{"network": map[string]any{
		"name": "a network for tests", "caution": "for tests only", "carries": carried, "lacks": lacks,
		"assumed_speeds_km_h": map[string]float64{"freeway": 90, "primary": 80, "secondary": 70, "local connector": 60},
	}}
	raw, err := json.Marshal(fc)
	if err != nil {
		panic(fmt.Sprintf("a network for tests: %v", err))
	}
	return raw
}
