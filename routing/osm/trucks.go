package osm

import (
	"strings"

	"github.com/paulmach/osm"
)

// forEnds are the service roads that lead to a place and nowhere else (OpenStreetMap wiki, Key:service, 2025).
var forEnds = map[string]bool{"driveway": true, "parking_aisle": true, "alley": true, "drive-through": true}

// truckKeys are the keys that tell of roads designated for heavy goods vehicles, with the values that do
// (OpenStreetMap wiki, Key:hgv, 2025): by any sign, and in the United States by the National Network for trucks, a
// network of the state or of a place. A road on which trucks of such a network may only reach their terminals is
// one too.
var truckKeys = map[string][]string{
	"hgv":                  {"designated"},
	"hgv:national_network": {"yes", "designated", "terminal_access"},
	"hgv:state_network":    {"yes", "designated", "terminal_access"},
	"hgv:local_network":    {"yes", "designated", "terminal_access"},
}

// truckRoad reports whether a road is designated for heavy goods vehicles, along its line and against it.
func truckRoad(tags osm.Tags) (along, against bool) {
	for _, t := range tags {
		key, oneWay := t.Key, ""
		for _, way := range []string{":forward", ":backward"} {
			if base, ok := strings.CutSuffix(t.Key, way); ok {
				key, oneWay = base, way
			}
		}
		for _, value := range truckKeys[key] {
			if strings.EqualFold(t.Value, value) {
				along, against = along || oneWay != ":backward", against || oneWay != ":forward"
			}
		}
	}
	return along, against
}
