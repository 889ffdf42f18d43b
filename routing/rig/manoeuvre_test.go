package rig

import (
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig/sweep"
)

// What a corner comes to by the room on its narrower side: half a metre is asked for, and
// what reaches over or is not known never reads as clear.
func TestOutcomeOfACorner(t *testing.T) {
	wide := sweep.Combination{TowWidth: 2.4, UnitWidth: 2.6}
	for name, tc := range map[string]struct {
		left, right measure.Distance
		into        measure.Distance
		assumed     bool
		want        finding.Outcome
		reason      finding.Reason
	}{
		"room":                     {0.5, 0.9, 6, false, finding.Clear, ""},
		"a hand less":              {0.9, 0.49, 6, false, finding.Review, finding.Little},
		"none":                     {0, 0, 6, false, finding.Review, finding.Little},
		"over the edge":            {0.6, -0.1, 6, false, finding.Review, finding.Exceeded},
		"a lock that is not given": {0.9, 0.9, 6, true, finding.Unknown, finding.NotGiven},
		"over, and not given":      {0.9, -0.9, 6, true, finding.Review, finding.Exceeded},
		"narrower than the rig":    {-0.5, -0.5, 2.5, false, finding.Forbidden, finding.Exceeded},
	} {
		m := Manoeuvre{
			Place:   sweep.Place{From: 8, Into: tc.into},
			Fit:     measure.Exactly(sweep.Fit{Rig: wide, Left: tc.left, Right: tc.right}),
			Assumed: tc.assumed, Lock: anyLock,
		}
		f := m.Finding()
		if f.Outcome != tc.want || f.Reason != tc.reason || (f.Outcome == finding.Clear) != (len(f.Citations) > 0) {
			t.Errorf("%s: %s, %s, %v", name, f.Outcome, f.Reason, f.Citations)
		}
	}
}
