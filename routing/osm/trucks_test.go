package osm_test

import (
	"testing"

	"wayhouse/routing/network"
	"wayhouse/routing/osm"
)

// Which roads are for trucks (OpenStreetMap wiki, Key:hgv, Key:hgv:national_network,
// Key:modifier).
func TestTruckRoads(t *testing.T) {
	for _, tc := range []struct {
		tags           []string
		along, against bool
	}{
		{nil, false, false},
		{[]string{"hgv=yes"}, false, false},
		{[]string{"hgv=designated"}, true, true},
		{[]string{"hgv:forward=designated"}, true, false},
		{[]string{"hgv:backward=designated", "hgv:forward=no"}, false, true},
		{[]string{"hgv:national_network=yes"}, true, true},
		{[]string{"hgv:national_network=terminal_access"}, true, true},
		{[]string{"hgv:state_network=yes"}, true, true},
		{[]string{"hgv:state_network=terminal_access"}, true, true},
		{[]string{"hgv:local_network=yes"}, true, true},
		{[]string{"hgv:state_network:forward=yes"}, true, false},
		{[]string{"hgv=local"}, false, false},
		{[]string{"hgv=destination"}, false, false},
		{[]string{"hgv=delivery"}, false, false},
		{[]string{"hgv:national_network=no"}, false, false},
		{[]string{"hgv:national_network=some list of them"}, false, false},
		{[]string{"source:hgv:national_network=yes"}, false, false},
	} {
		n, _ := made(t, osm.Options{}, roadWith(append(tc.tags, "highway=primary")...))
		wantTrucks(t, n, tc.along, tc.against)
	}
	for _, tc := range []struct {
		tags           []string
		role           string
		along, against bool
	}{
		{[]string{"network=US:US", "ref=113", "modifier=Truck"}, "", true, true},
		{[]string{"network=US:US", "ref=113", "modifier=Truck"}, "forward", true, false},
		{[]string{"network=US:US", "ref=113", "modifier=Truck"}, "backward", false, true},
		{[]string{"network=US:DE:Truck", "ref=9"}, "", true, true},
		{[]string{"name=Invented Truck Route", "modifier=Truck"}, "", true, true},
		{[]string{"name=Invented Truck Route", "hgv=designated"}, "", true, true},
		{[]string{"network=US:US", "ref=113", "modifier=Business"}, "", false, false},
		{[]string{"network=US:US", "ref=113"}, "", false, false},
	} {
		s := roadWith("highway=primary")
		s.relation(7, []memberOf{{"way", 1, tc.role}}, append(tc.tags, "type=route", "route=road")...)
		n, _ := made(t, osm.Options{}, s)
		wantTrucks(t, n, tc.along, tc.against)
	}
}

func wantTrucks(t *testing.T, n *network.Network, along, against bool) {
	t.Helper()
	if got := n.TruckRoad(network.MakeArc(0, false)); got != along {
		t.Errorf("along: %t, want %t", got, along)
	}
	if got := n.TruckRoad(network.MakeArc(0, true)); got != against {
		t.Errorf("against: %t, want %t", got, against)
	}
	if lacks := !along && !against; n.Lacks(network.TruckRoads) != lacks {
		t.Errorf("lacks truck roads: %t, want %t", !lacks, lacks)
	}
}
