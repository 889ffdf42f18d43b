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
// its own tags, or as a part of a truck route.
func truckRoad(tags osm.Tags, route bool) network.Flags {
	const both = network.TruckAlong | network.TruckAgainst
	inNetwork := func(key string) bool { return slices.Contains(partOf, tags.Find(key)) }
	if route || tags.Find("hgv") == "designated" || slices.ContainsFunc(truckNetworks, inNetwork) {
		return both
	}
	f := network.Flags(0)
	if tags.Find("hgv:forward") == "designated" {
		f |= network.TruckAlong
	}
	if tags.Find("hgv:backward") == "designated" {
		f |= network.TruckAgainst
	}
	return f
}

// isTruckRoute reports whether a numbered route is the one for trucks: its sign says
// "Truck" over its number (OpenStreetMap wiki, Key:modifier, 2025).
func isTruckRoute(tags osm.Tags) bool {
	return strings.EqualFold(tags.Find("modifier"), "truck") ||
		strings.HasSuffix(strings.ToLower(tags.Find("network")), ":truck")
}
