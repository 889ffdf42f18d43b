package driving

import (
	"testing"

	"wayhouse/routing/network"
	"wayhouse/routing/rig/drive"
)

// A main road whose surface nobody tells is paved, a lesser one not known; what is told
// counts on any.
func TestSurfaceByRoadClass(t *testing.T) {
	for c := network.Freeway; c <= network.Track; c++ {
		want := drive.SurfaceUnknown
		if c <= network.Primary {
			want = drive.Paved
		}
		if got := surfaceOf(network.Record{}, c); got != want {
			t.Errorf("%v, nothing told: %v, want %v", c, got, want)
		}
		if got := surfaceOf(network.Record{Road: network.Road{Paved: network.Unpaved}}, c); got != drive.Gravel {
			t.Errorf("%v, unpaved: %v", c, got)
		}
		if got := surfaceOf(network.Record{Road: network.Road{Paved: network.Paved}}, c); got != drive.Paved {
			t.Errorf("%v, paved: %v", c, got)
		}
	}
}
