package timetable

import (
	"time"

	"pgregory.net/rapid"
)

// planning are those that this project plans with where no law is known to bind.
func planning() Limits {
	return Limits{Driving: 10 * time.Hour, Rest: 8 * time.Hour, Default: true}
}

// canadaSouth are the limits of the Commercial Vehicle Drivers Hours of Service
// Regulations, SOR/2005-313, south of 60 degrees: s. 12(1) 13 h of driving and s. 12(2) 14 h
// on duty in a day, s. 13 8 h off after as much and 16 h elapsed, s. 14 10 h off in a day,
// s. 25 24 h off in 14 days, s. 26 and 28 70 h in 7 days, which 36 h off begin anew.
func canadaSouth() Limits {
	return Limits{
		Driving: 13 * time.Hour, OnDuty: 14 * time.Hour, Elapsed: 16 * time.Hour, Rest: 8 * time.Hour,
		DayDriving: 13 * time.Hour, DayOff: 10 * time.Hour, Cycle: Cycle{70 * time.Hour, 7, 36 * time.Hour},
		FreeOff: 24 * time.Hour, FreeDays: 14,
	}
}

// usProperty are those of 49 CFR 395.3: (a)(1) and (2) 14 h after 10 h off, (a)(3)(i) 11 h of
// driving, (ii) 30 min after 8 h of it, (b)(1) 60 h in 7 days, (c)(1) 34 h off.
func usProperty() Limits {
	return Limits{
		Driving: 11 * time.Hour, Elapsed: 14 * time.Hour, Rest: 10 * time.Hour, BreakAfter: 8 * time.Hour,
		Break: 30 * time.Minute, Cycle: Cycle{60 * time.Hour, 7, 34 * time.Hour},
	}
}

func zoneOf(t rapid.TB, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}
