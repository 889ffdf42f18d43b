package trip

import (
	"slices"
	"time"

	"wayhouse/regs"
	"wayhouse/routing/trip/timetable"
)

// limitsOf is a shift as the timetable has it.
func limitsOf(s regs.Shift) timetable.Limits {
	out := timetable.Limits{
		Driving: s.Driving, OnDuty: s.OnDuty, Elapsed: s.Elapsed, Rest: s.Rest, BreakAfter: s.BreakAfter, Break: s.Break,
		DayDriving: s.DayDriving, DayOff: s.DayOff, FreeOff: s.FreeOff, FreeDays: s.FreeDays, Default: s.Default,
		Cycle: timetable.Cycle{OnDuty: s.Cycle, Days: s.CycleDays, Restart: s.Restart},
	}
	for _, r := range s.Rows {
		out.Rows = append(out.Rows, r.ID)
	}
	return out
}

// stricter keeps two sets of limits at once.
func stricter(a, b timetable.Limits) timetable.Limits {
	out := timetable.Limits{
		Driving: least(a.Driving, b.Driving), OnDuty: least(a.OnDuty, b.OnDuty), Elapsed: least(a.Elapsed, b.Elapsed),
		Rest: max(a.Rest, b.Rest), BreakAfter: least(a.BreakAfter, b.BreakAfter), Break: max(a.Break, b.Break),
		DayDriving: least(a.DayDriving, b.DayDriving), DayOff: max(a.DayOff, b.DayOff),
		FreeOff: max(a.FreeOff, b.FreeOff), FreeDays: least(a.FreeDays, b.FreeDays), Default: a.Default && b.Default,
		Cycle: bothCycles(a.Cycle, b.Cycle), Rows: slices.Concat(a.Rows, b.Rows),
	}
	slices.Sort(out.Rows)
	out.Rows = slices.Compact(out.Rows)
	return out
}

// bothCycles is a cycle within two: no more on duty, counted over the more days, begun anew
// by the longer time off, and by none where one of them never begins anew.
func bothCycles(a, b timetable.Cycle) timetable.Cycle {
	switch {
	case a.OnDuty == 0:
		return b
	case b.OnDuty == 0:
		return a
	}
	out := timetable.Cycle{OnDuty: min(a.OnDuty, b.OnDuty), Days: max(a.Days, b.Days)}
	if a.Restart > 0 && b.Restart > 0 {
		out.Restart = max(a.Restart, b.Restart)
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

// within are limits that a crew keeps besides: stricter than the law, or in place of what is
// planned where no law is known to bind.
func (c Crew) within(l timetable.Limits) timetable.Limits {
	switch {
	case c.Driving > 0 && l.Default:
		l.Driving = c.Driving
	case c.Driving > 0:
		l.Driving = least(l.Driving, c.Driving)
	}
	switch {
	case c.Rest > 0 && l.Default:
		l.Rest = c.Rest
	default:
		l.Rest = max(l.Rest, c.Rest)
	}
	return l
}
