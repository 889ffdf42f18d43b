// Package timetable turns a way that is known into days: when the rig may move, when its
// drivers must rest, when it arrives. It knows time alone: no roads, no tables, no rules
// but the figures that it is given, and it makes no sentences.
//
// A table is planned on the slow times of the road, to the minute: durations and the
// beginnings of windows are rounded up, ends of windows and deadlines down. The likely
// times beside them are those of a crew that drives likely and rests as planned.
//
// The crew begins rested and without hours in its cycle. It is on duty while it drives,
// waits at a border or for a ferry, rides one, checks, fuels, sets up and packs; all other
// standing is off duty, a stay at a stop too. A rig never stands on the road outside its
// window: it is parked.
package timetable

import (
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Journey is what is planned.
type Journey struct {
	Depart time.Time // not before; zero: as late as the deadlines let it
	Stops  []Stop    // the first is the start; at least two
	Drives []Drive   // from each stop to the next, one fewer than stops
	Crew   Crew
	Habits Habits
	AtOnce bool // it departs now, so that no earlier departure is of use
}

// Stop is a place that the rig stays at.
type Stop struct {
	Label    say.Remark
	Zone     *time.Location
	From, By time.Time     // the window of arrival; zero: none. The rig that is early waits
	Stay     time.Duration // at least, between setting up and packing; off duty
	Until    time.Time     // not left before; zero: none
	Nights   int           // not left before [Habits.Morning] of so many days after arrival
	SetUp    time.Duration // after arrival, on duty
	Packing  time.Duration // before leaving, on duty
}

// Drive is the way between two stops.
type Drive []Section

// Section is a stretch of one way, on which one set of hours and limits holds.
type Section struct {
	Leg    int // the caller's number
	Length measure.Distance
	Likely time.Duration // of driving
	Slow   time.Duration // of driving, at least Likely
	Zone   *time.Location
	Hours  *Hours        // when it may be travelled; nil: at any hour
	Habit  *Hours        // when the crew travels by its own choice; nil: whenever it may
	Limits Limits        // of the driver there
	Pause  time.Duration // standing before it: a border, boarding, escorts' hand-over
	Waits  Kind          // what Pause is: [Border], [Ferry] or [Handover]
	Halt   time.Duration // off duty in a row before it and Pause, at the least: a rest at a place there; 0: none
	Burns  []Burnt       // of the tank, by its way; none: not known, or nobody asks
	Ferry  bool          // Slow and Likely are of a crossing: on duty, but not driven; it sails at once
}

// Hours are the times at which travel is allowed, sorted and apart. Outside of them it is
// not; nor is it after the last, beyond which nothing was looked up.
type Hours struct{ Spans []Span }

// Span is a time of travel, to its last moment but not with it.
type Span struct {
	From, To   time.Time
	IfHolidays bool     // open if the list of holidays is right
	Rows       []string // that say so
}

// Limits are what binds a driver. A limit of 0 binds nobody.
type Limits struct {
	Driving    time.Duration // at most, between two rests
	OnDuty     time.Duration // no driving after so long on duty since a rest
	Elapsed    time.Duration // no driving so long after a rest ended
	Rest       time.Duration // off duty in a row, after which these three begin anew
	BreakAfter time.Duration // of driving since time off duty of Break in a row
	Break      time.Duration
	DayDriving time.Duration // at most, in each day of 24 h
	DayOff     time.Duration // off duty in each day of 24 h, in stretches of 30 min or more
	Cycle      Cycle
	FreeOff    time.Duration // off duty in a row, once in the last FreeDays at any moment of driving
	FreeDays   int
	Default    bool     // for planning, not law
	Rows       []string // that say so
}

// Cycle is a limit of time on duty in some days in a row, today being one.
type Cycle struct {
	OnDuty  time.Duration // no driving after so much of it; 0: none
	Days    int           // at most 14
	Restart time.Duration // off duty in a row, a day or more, after which it begins anew; 0: none does
}

// Crew is who drives. With two drivers each drives half: limits of driving and the driving
// before a break count twice, all others once, since who rides along is on duty; a sleeper
// berth is not assumed.
type Crew struct{ Drivers int } // 1, or 2; 0 is 1

// Habits are how the crew travels.
type Habits struct {
	NotDriven  time.Duration    // of each hour under way; it lengthens the driving; below 1 h
	CheckFirst Interval         // the first check of the load, after each stop
	CheckEvery Interval         // and every further one
	Check      time.Duration    // what one takes
	FuelEvery  measure.Distance // 0: never
	Fuel       time.Duration
	Morning    time.Duration // after midnight, when a night at a stop is over
}

// Interval is a way or a time of driving, whichever is over first. A zero one of both is
// left out; both zero: never.
type Interval struct {
	Way     measure.Distance
	Driving time.Duration
}
