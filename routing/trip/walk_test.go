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

// Whatever is not settled says why, what it is about, and whom to ask.
func TestEveryFindingIsData(t *testing.T) {
	for name, p := range map[string]*Plan{
		"a road":  plan(t, world(t, fork(road{}), nil), described()),
		"a line":  plan(t, world(t, fork(road{}), nil), house(given([2]float64{-3, 0}, [2]float64{0, 0}, [2]float64{4, -2}, [2]float64{6, -2}))),
		"a fence": plan(t, world(t, fork(road{signs: signs(access(everyone, refused))}), nil), house()),
	} {
		for at, f := range p.All() {
			if f.Topic == "" || len(f.Says) == 0 || f.Outcome == finding.Unknown && f.Reason == "" || f.Outcome != finding.Clear && len(f.Settles) == 0 {
				t.Errorf("%s, %+v: %s %s (%q) says %v, settled by %v", name, at, f.Topic, f.Rule, f.Reason, f.Says, f.Settles)
			}
		}
	}
}
