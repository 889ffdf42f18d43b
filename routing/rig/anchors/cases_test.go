package anchors

import (
	"strings"
	"testing"
)

// The figures of 49 CFR 393.102 (Federal Motor Carrier Safety Administration) and
// of Quebec C-24.2, r. 30, s. 3 (Éditeur officiel du Québec, 2019-05-21), both read.
func TestRules(t *testing.T) {
	for _, tc := range []struct {
		source                               string
		against                              Limit
		forward, rearward, sideways, upwards G
	}{
		{"393.102(a)(1)", BreakingStrength, 0.8, 0.5, 0.5, 0},
		{"393.102(a)(2)", WorkingLoad, 0.435, 0.5, 0.25, 0},
		{"393.102(b)", NoLimit, 0, 0, 0, 0.2},
		{"C-24.2, r. 30", WorkingLoad, 0.8, 0.5, 0.5, 0.2},
	} {
		got := map[Direction]G{}
		for _, r := range Rules() {
			if !strings.Contains(r.Source, tc.source) {
				continue
			}
			if r.Against != tc.against || r.Known == "" {
				t.Errorf("%+v: want against %q and how it is known", r, tc.against)
			}
			got[r.Towards] = r.Share
		}
		for d, want := range map[Direction]G{Forward: tc.forward, Rearward: tc.rearward, Sideways: tc.sideways, Upward: tc.upwards} {
			if got[d] != want {
				t.Errorf("%s, %s: %v, want %v", tc.source, d, got[d], want)
			}
		}
	}
}

// The cases are the strictest of the rules in each direction, each by itself.
func TestCasesStrictest(t *testing.T) {
	strictest, got := map[Direction]G{}, map[Direction]G{}
	for _, r := range Rules() {
		strictest[r.Towards] = max(strictest[r.Towards], r.Share)
	}
	var right, left G
	for _, c := range Cases() {
		directions := 0
		for _, v := range []G{c.Forward, c.Right, c.Up} {
			if v != 0 {
				directions++
			}
		}
		if directions != 1 {
			t.Errorf("%s: goes in %d directions, want 1", c.Name, directions)
		}
		got[Forward] = max(got[Forward], c.Forward)
		got[Rearward] = max(got[Rearward], -c.Forward)
		got[Upward] = max(got[Upward], c.Up)
		right, left = max(right, c.Right), max(left, -c.Right)
		if c.Gust*c.Right < 0 || (c.Gust != 0) != (c.Right != 0) {
			t.Errorf("%s: the wind pushes to %v", c.Name, c.Gust)
		}
	}
	got[Sideways] = min(right, left)
	for d, want := range strictest {
		if got[d] != want {
			t.Errorf("%s: %v, want %v", d, got[d], want)
		}
	}
}
