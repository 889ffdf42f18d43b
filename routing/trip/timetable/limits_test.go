package timetable

import (
	"testing"
	"time"
)

// Near a border the cycles of both sides are kept: 60 h in 7 days begun anew by 34 h (49 CFR
// 395.3(b), (c)), 70 h in 7 days begun anew by 36 h (SOR/2005-313, ss. 26, 28).
func TestCyclesOfBothSides(t *testing.T) {
	us := Cycle{OnDuty: 60 * time.Hour, Days: 7, Restart: 34 * time.Hour}
	ca := Cycle{OnDuty: 70 * time.Hour, Days: 7, Restart: 36 * time.Hour}
	want := Cycle{OnDuty: 60 * time.Hour, Days: 7, Restart: 36 * time.Hour}
	for _, both := range [][2]Cycle{{us, ca}, {ca, us}} {
		if got := both[0].stricter(both[1]); got != want {
			t.Errorf("%+v, want %+v", got, want)
		}
	}
	if got := us.stricter(Cycle{}); got != us {
		t.Errorf("beside none: %+v", got)
	}
	if got := us.stricter(Cycle{OnDuty: 80 * time.Hour, Days: 8}); got != (Cycle{OnDuty: 60 * time.Hour, Days: 8}) {
		t.Errorf("beside one that nothing begins anew: %+v", got)
	}
}
