package osm

import (
	"slices"
	"strings"

	"github.com/paulmach/osm"

	"wayhouse/routing/network"
)

// truckNetworks are the keys that say that a road is in a network of truck roads, and
// partOf their values that say so (OpenStreetMap wiki, Key:hgv:national_network and
// Key:hgv, 2025). A road of terminal access leads from the network to where trucks load.
var (
	truckNetworks = []string{"hgv:national_network", "hgv:state_network", "hgv:local_network"}
	partOf        = []string{"yes", "terminal_access", "designated"}
)

// truckRoad reads in which directions a road is one for trucks: designated for them by
// its own tags, beside those in which it is a part of a truck route.
func truckRoad(tags osm.Tags, route network.Flags) network.Flags {
	f := route
	for suffix, way := range map[string]network.Flags{
		"": bothWays, ":both_ways": bothWays, ":forward": network.TruckAlong, ":backward": network.TruckAgainst,
	} {
		inNetwork := func(key string) bool { return slices.Contains(partOf, tags.Find(key+suffix)) }
		if tags.Find("hgv"+suffix) == "designated" || slices.ContainsFunc(truckNetworks, inNetwork) {
			f |= way
		}
	}
	return f
}

const bothWays = network.TruckAlong | network.TruckAgainst

// directions reads in which directions a way belongs to a route (OpenStreetMap wiki,
// Relation:route, Members, 2025).
func directions(role string) network.Flags {
	switch role {
	case "forward":
		return network.TruckAlong
	case "backward":
		return network.TruckAgainst
	default:
		return bothWays
	}
}

// isTruckRoute reports whether a route is one for trucks: its sign says "Truck" over its
// number (OpenStreetMap wiki, Key:modifier, 2025), or the relation has the tags that a road
// of a network of truck roads has.
func isTruckRoute(tags osm.Tags) bool {
	return strings.EqualFold(tags.Find("modifier"), "truck") ||
		strings.HasSuffix(strings.ToLower(tags.Find("network")), ":truck") || truckRoad(tags, 0) != 0
}
