package trip

import (
	"cmp"

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

// within are limits that a crew keeps besides: stricter than the law, or in place of what is
// planned where no law is known to bind.
func (c Crew) within(l timetable.Limits) timetable.Limits {
	if l.Default {
		l.Driving, l.Rest = cmp.Or(c.Driving, l.Driving), cmp.Or(c.Rest, l.Rest)
		return l
	}
	return l.Stricter(timetable.Limits{Driving: c.Driving, Rest: c.Rest})
}
