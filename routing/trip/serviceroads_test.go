package trip

import (
	"testing"
	"time"

	"wayhouse/routing/network"
)

// Service roads are for the ends of a way: in between one is driven only where it saves more than 10 minutes, or
// nothing else leads there. The short way of the fork, 7.9 km at 20 m/s, saves 575 s of the 19.4 km of the long one,
// and 575 s and 5 minutes where that has signals.
func TestServiceRoadsAreForTheEnds(t *testing.T) {
	service := road{class: network.Service}
	signals := road{delay: signalled(150*time.Second, 150*time.Second)}
	for _, tc := range []struct {
		name  string
		roads []road
		want  string
	}{
		{"all roads alike", fork(road{}), "short"},
		{"a service road in between", fork(service), "long"},
		{"the long way is one too", fork(service, service), "short"},
		{"it saves more than 10 minutes", fork(service, signals), "short"},
	} {
		p := plan(t, world(t, tc.roads, nil), house())
		takes(t, tc.name, p, tc.want)
		through := tc.roads[1].class == network.Service && tc.want == "short"
		if named := len(byRule(p, "service roads")); named > 0 != through {
			t.Errorf("%s: %d findings of service roads", tc.name, named)
		}
	}
	at := func(roads []road, n int) *Plan {
		return plan(t, world(t, roads, nil), house(func(r *Request) {
			r.Stops[1-n].Point = point([2]float64{6, 0})
		}))
	}
	takes(t, "it ends there", at(fork(service), 0), "short")
	takes(t, "it begins there", at(fork(service), 1), "short")
	ends := fork(road{})
	ends[0].class, ends[4].class = network.Service, network.Service
	p := plan(t, world(t, ends, nil), house())
	takes(t, "service roads at both ends", p, "short")
	if f := byRule(p, "service roads"); len(f) > 0 {
		t.Errorf("service roads at both ends are named: %v", f)
	}
}

// throughService reports whether pieces leave the service roads of the start and drive one again before those of the
// target.
func throughService(n *network.Network, pieces []network.Piece) bool {
	service := func(p network.Piece) bool { return n.Class[p.Arc.Edge()] == network.Service }
	for len(pieces) > 0 && service(pieces[0]) {
		pieces = pieces[1:]
	}
	for len(pieces) > 0 && service(pieces[len(pieces)-1]) {
		pieces = pieces[:len(pieces)-1]
	}
	for _, p := range pieces {
		if service(p) {
			return true
		}
	}
	return false
}
