package finding

import "testing"

// Unknown meets no bar: nobody may read it as clear.
func TestUnknownMeetsNoBar(t *testing.T) {
	order := []Outcome{Clear, Conditional, Review, Forbidden}
	for i, worst := range order {
		for k, bar := range Bars() {
			if got := (RollUp{Worst: worst}).Meets(bar); got != (i <= k) {
				t.Errorf("%s meets %s: %v", worst, bar, got)
			}
			if (RollUp{Worst: worst, Unknowns: 1}).Meets(bar) {
				t.Errorf("%s with an unknown meets %s", worst, bar)
			}
		}
	}
	for _, bar := range Bars() {
		if Roll(nil).Meets(bar) || (RollUp{Worst: Unknown}).Meets(bar) || (RollUp{}).Meets(bar) {
			t.Errorf("nothing known meets %s", bar)
		}
	}
}
