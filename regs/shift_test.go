package regs

import (
	"reflect"
	"testing"
	"time"

	"wayhouse/regs/duty"
	"wayhouse/regs/limit"
)

// Shifts of the shipped rows: SOR/2005-313 ss. 12 to 14, 25, 26, 28 and 39, and the planner for
// 49 CFR 395.3 (rows 44 to 47 of the check values, SEEN). Who travels for himself, or does
// not say how, has the planned one, which is no law.
func TestShifts(t *testing.T) {
	tables := duties(dutyRows(t)...)
	h := func(n float64) time.Duration { return time.Duration(n * float64(time.Hour)) }
	south := Shift{Driving: h(13), OnDuty: h(14), Elapsed: h(16), Rest: h(8), DayDriving: h(13), DayOff: h(10), FreeOff: h(24), FreeDays: 14,
		Cycle: h(70), CycleDays: 7, Restart: h(36)}
	north := Shift{Driving: h(15), OnDuty: h(18), Elapsed: h(20), Rest: h(8), FreeOff: h(24), FreeDays: 14, Cycle: h(80), CycleDays: 7, Restart: h(36)}
	states := Shift{Driving: h(11), Elapsed: h(14), Rest: h(10), BreakAfter: h(8), Break: h(0.5), Cycle: h(60), CycleDays: 7, Restart: h(34)}
	both := south
	for _, tc := range []struct {
		name string
		d    Drive
		use  limit.Use
		want Shift
	}{
		{"south of 60", heavy("CA-ON", southern, 0), limit.Commercial, south},
		{"north of 60", heavy("CA-YT", northern, 0), limit.Commercial, north},
		{"across it, the stricter", heavy("CA-NT", across, 0), limit.Commercial, both},
		{"United States", heavy("US-VT", southern, 0), limit.Commercial, states},
		{"where no row is known", heavy("MX-SON", southern, 0), limit.Commercial, PlannedShift()},
		{"for himself", heavy("CA-ON", southern, 0), limit.Private, PlannedShift()},
		{"nobody knows how", heavy("US-VT", southern, 0), limit.UseUnknown, PlannedShift()},
	} {
		tc.d.Use = tc.use
		got := tables.Shift(tc.d)
		if (len(got.Rows) == 0) != tc.want.Default {
			t.Errorf("%s: %d rows, by default %v", tc.name, len(got.Rows), tc.want.Default)
		}
		got.Rows = nil
		if !reflect.DeepEqual(got, tc.want) {
			t.Errorf("%s: %+v, want %+v", tc.name, got, tc.want)
		}
	}
}

// A break that no row gives the length of is as long as a rest, and what only perhaps binds
// counts.
func TestAShiftErrsToTheStrictSide(t *testing.T) {
	rows := dutyRows(t)
	for i := range rows {
		if rows[i].Topic == duty.Break {
			rows[i].Off = 0
		}
	}
	open := heavy("US-VT", southern, 0)
	open.Unit, open.Rig = Drive{}.Unit, Drive{}.Rig
	open.Use = limit.Commercial
	if got := duties(rows...).Shift(open); got.Break != 10*time.Hour || got.BreakAfter != 8*time.Hour {
		t.Errorf("%+v", got)
	}
}
