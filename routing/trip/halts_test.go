package trip

import (
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/routing/network"
	"wayhouse/routing/trip/choosing"
)

// The extract of Delaware of 2016 has two places to stop at (osmium counts as many): the service area in the
// median of I 95 near Newark, open to both carriageways, and the rest area at Smyrna beside US 13. Ways along these roads
// come by them in either direction, for some hundred metres more; a way elsewhere by none.
func TestDelawareHalts(t *testing.T) {
	p := delawarePlanner(t)
	if p.Network.Lacks(network.Stopping) {
		t.Fatal("the network knows no place to stop at")
	}
	newark, wilmington := orb.Point{-75.7590, 39.6420}, orb.Point{-75.6050, 39.7000}
	north, south := orb.Point{-75.6330, 39.4500}, orb.Point{-75.5950, 39.2700}
	for _, tc := range []struct {
		name     string
		from, to orb.Point
		want     network.PlaceKind
		none     bool
	}{
		{"I 95 northward", newark, wilmington, network.ServiceArea, false},
		{"I 95 southward", wilmington, newark, network.ServiceArea, false},
		{"US 13 southward", north, south, network.RestArea, false},
		{"US 13 northward", south, north, network.RestArea, false},
		{"elsewhere", orb.Point{-75.1400, 38.7700}, orb.Point{-75.3850, 38.6900}, 0, true},
	} {
		r := rigs()[0]
		r.Stops = []choosing.Stop{{Label: "A", Point: tc.from}, {Label: "B", Point: tc.to}}
		way, pieces := driven(t, p, r)
		if way == nil {
			t.Fatalf("%s: no way", tc.name)
		}
		got := p.Network.Halts(pieces, 3000)
		switch {
		case tc.none && len(got) > 0:
			t.Errorf("%s: %+v", tc.name, got)
		case tc.none:
		case len(got) != 1 || got[0].Kind != tc.want || got[0].Extra() < -1 || got[0].Extra() > 1500:
			t.Errorf("%s: %+v, want one %s", tc.name, got, tc.want)
		}
	}
}
