package timetable

import (
	"slices"
	"time"
)

// minutes are minutes of time, or a moment counted in them from the Unix epoch.
type minutes int64

const aDay minutes = 24 * 60

// up is a duration in whole minutes, at least as long.
func up(d time.Duration) minutes { return minutes((d + time.Minute - 1) / time.Minute) }

// down is a duration in whole minutes, at most as long.
func down(d time.Duration) minutes { return minutes(d / time.Minute) }

// upTo is the first whole minute that is not before a moment.
func upTo(t time.Time) minutes { return ceil(t.UnixNano(), int64(time.Minute)) }

// downTo is the last whole minute that is not after a moment.
func downTo(t time.Time) minutes { return -ceil(-t.UnixNano(), int64(time.Minute)) }

func ceil(a, b int64) minutes {
	q := a / b
	if a%b > 0 {
		q++
	}
	return minutes(q)
}

func (m minutes) in(zone *time.Location) time.Time { return time.Unix(int64(m)*60, 0).In(zone) }

func (m minutes) long() time.Duration { return time.Duration(m) * time.Minute }

// law is [Limits] in minutes, as they bind a rig with its crew; 0: no limit.
type law struct {
	driving, duty, elapsed, rest minutes
	breakAfter, breaks           minutes
	dayDriving, dayBusy          minutes
	cycle, restart               minutes
	cycleDays                    int
	freeOff, freeWithin          minutes // driving ends so long after freeOff off duty did
}

// maxLaws is how many laws a journey can tell apart; of more the rest is taken together.
const maxLaws = 4

func lawOf(l Limits, drivers int) law {
	each := minutes(max(drivers, 1))
	out := law{
		driving: down(l.Driving) * each, duty: down(l.OnDuty), elapsed: down(l.Elapsed), rest: up(l.Rest),
		breakAfter: down(l.BreakAfter) * each, breaks: up(l.Break), dayDriving: down(l.DayDriving) * each,
		cycle: down(l.Cycle.OnDuty), restart: up(l.Cycle.Restart), cycleDays: l.Cycle.Days,
		freeOff: up(l.FreeOff),
	}
	if l.DayOff > 0 {
		out.dayBusy = aDay - up(l.DayOff)
	}
	if l.FreeDays > 0 {
		out.freeWithin = minutes(l.FreeDays)*aDay - out.freeOff
	}
	return out
}

// number is the place of a law among those of a journey, -1 of one without limits.
func (ln *line) number(l Limits) int {
	w := lawOf(l, ln.journey.Crew.Drivers)
	if w == (law{}) {
		return -1
	}
	if i := slices.Index(ln.laws, w); i >= 0 {
		return i
	}
	if len(ln.laws) < maxLaws {
		ln.laws, ln.lastLaw = append(ln.laws, w), l
	} else {
		ln.lastLaw = ln.lastLaw.Stricter(l)
		ln.laws[maxLaws-1] = lawOf(ln.lastLaw, ln.journey.Crew.Drivers)
	}
	return len(ln.laws) - 1
}

// tracked is what any law of a journey asks about.
type tracked struct{ elapsed, daily, cycle, free bool }

func tracks(laws []law) (out tracked) {
	for _, l := range laws {
		out.elapsed = out.elapsed || l.elapsed > 0
		out.daily = out.daily || l.dayDriving > 0 || l.dayBusy > 0
		out.cycle = out.cycle || l.cycle > 0
		out.free = out.free || l.freeWithin > 0
	}
	return out
}
