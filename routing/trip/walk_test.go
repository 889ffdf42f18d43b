package trip

import (
	"testing"

	"wayhouse/regs/finding"
)

// The walk comes by every finding once, the trip's first, and stops where it is left.
func TestAllWalksOverEveryFinding(t *testing.T) {
	p := plan(t, world(t, fork(road{}), nil), described())
	want := len(p.Findings) + len(p.Road.Findings)
	for _, l := range p.Legs {
		want += len(l.Findings)
	}
	got := map[Where][]finding.Finding{}
	n := 0
	for at, f := range p.All() {
		got[at] = append(got[at], f)
		n++
	}
	if n != want || len(got[Where{}]) != len(p.Findings) || len(got[Where{Rig: true}]) != len(p.Road.Findings) {
		t.Errorf("%d of %d findings: %d of the trip, %d of the rig", n, want, len(got[Where{}]), len(got[Where{Rig: true}]))
	}
	for i, l := range p.Legs {
		if len(got[Where{Leg: i + 1}]) != len(l.Findings) || len(l.Findings) == 0 {
			t.Errorf("leg %d: %d of %d", i+1, len(got[Where{Leg: i + 1}]), len(l.Findings))
		}
	}
	for stop := range want {
		left := stop
		for range p.All() {
			if left--; left < 0 {
				break
			}
		}
	}
}
