package timetable

import (
	"slices"
	"time"
)

// Stricter keeps two sets of limits at once.
func (l Limits) Stricter(o Limits) Limits {
	out := Limits{
		Driving: least(l.Driving, o.Driving), OnDuty: least(l.OnDuty, o.OnDuty), Elapsed: least(l.Elapsed, o.Elapsed),
		Rest: max(l.Rest, o.Rest), BreakAfter: least(l.BreakAfter, o.BreakAfter), Break: max(l.Break, o.Break),
		DayDriving: least(l.DayDriving, o.DayDriving), DayOff: max(l.DayOff, o.DayOff),
		FreeOff: max(l.FreeOff, o.FreeOff), FreeDays: least(l.FreeDays, o.FreeDays), Default: l.Default && o.Default,
		Cycle: l.Cycle.stricter(o.Cycle), Rows: slices.Concat(l.Rows, o.Rows),
	}
	slices.Sort(out.Rows)
	out.Rows = slices.Compact(out.Rows)
	return out
}

// stricter is a cycle within two: no more on duty, counted over the more days, begun anew by
// the longer time off, and by none where one of them never begins anew.
func (c Cycle) stricter(o Cycle) Cycle {
	switch {
	case c.OnDuty == 0:
		return o
	case o.OnDuty == 0:
		return c
	}
	out := Cycle{OnDuty: min(c.OnDuty, o.OnDuty), Days: max(c.Days, o.Days)}
	if c.Restart > 0 && o.Restart > 0 {
		out.Restart = max(c.Restart, o.Restart)
	}
	return out
}

// least is the lesser of two limits, of which 0 is none.
func least[T time.Duration | int](a, b T) T {
	if a == 0 || b > 0 && b < a {
		return b
	}
	return a
}
