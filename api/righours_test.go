package api_test

import (
	"testing"

	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
)

// Hours of driving are asked of a trip, never of a rig; what else is asked of its driver
// is.
func TestHoursAreNoneOfARig(t *testing.T) {
	r := reported(t, described(t, object{"in": []string{"CA-ON", "CA-QC"}, "use": "commercial"}))
	asked := 0
	for _, f := range r.Findings {
		if finding.Rule(f.Rule) == finding.Rule(duty.AllHours) {
			t.Errorf("%+v", f)
		}
		if f.Jurisdiction != "" {
			asked++
		}
	}
	if asked == 0 {
		t.Error("nothing is asked of the driver")
	}
}
