package trip

import (
	"testing"
	"time"

	"wayhouse/routing/trip/timetable"
)

// Near a border the cycles of both sides are kept: 60 h in 7 days begun anew by 34 h (49 CFR
// 395.3(b), (c)), 70 h in 7 days begun anew by 36 h (SOR/2005-313, ss. 26, 28).
func TestCyclesOfBothSides(t *testing.T) {
	us := timetable.Cycle{OnDuty: 60 * time.Hour, Days: 7, Restart: 34 * time.Hour}
	ca := timetable.Cycle{OnDuty: 70 * time.Hour, Days: 7, Restart: 36 * time.Hour}
	want := timetable.Cycle{OnDuty: 60 * time.Hour, Days: 7, Restart: 36 * time.Hour}
	for _, both := range [][2]timetable.Cycle{{us, ca}, {ca, us}} {
		if got := stricter(timetable.Limits{Cycle: both[0]}, timetable.Limits{Cycle: both[1]}).Cycle; got != want {
			t.Errorf("%+v, want %+v", got, want)
		}
	}
	if got := bothCycles(us, timetable.Cycle{}); got != us {
		t.Errorf("beside none: %+v", got)
	}
	if got := bothCycles(us, timetable.Cycle{OnDuty: 80 * time.Hour, Days: 8}); got != (timetable.Cycle{OnDuty: 60 * time.Hour, Days: 8}) {
		t.Errorf("beside one that nothing begins anew: %+v", got)
	}
}
