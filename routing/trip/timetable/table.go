package timetable

import (
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Table is what comes of a journey.
type Table struct {
	Departure time.Time // of the rig; from there on no entry leaves a gap
	Arrival   Moment    // at the last stop, before it is set up; zero where it is not reached
	Over      Moment    // when the last stop is done with
	Entries   []Entry
	Days      []Day
	Calls     []Call // one for each stop that is reached
	// Latest is the latest departure at which no deadline is missed; zero: nothing has a deadline,
	// or one is missed whatever the departure.
	Latest time.Time
	Missed *Missed // nil: nothing is
	// IfHolidays: it drives in a span that is open if the list of holidays is right.
	IfHolidays bool
}

// Kind is what an entry is.
type Kind string

// The kinds of entries.
const (
	Driving  Kind = "drive"
	Break    Kind = "break" // as a limit of driving asks for
	Rest     Kind = "rest"  // as limits ask for between two shifts
	Wait     Kind = "wait"  // for a window, a stop to open
	Check    Kind = "check"
	Fuel     Kind = "fuel"
	Border   Kind = "border"
	Handover Kind = "handover" // of escorts
	Ferry    Kind = "ferry"    // boarding and crossing
	SetUp    Kind = "set_up"
	Packing  Kind = "packing"
	Stay     Kind = "stay"
)

// Why is what makes the rig stand, or misses a deadline.
type Why string

// What makes it stand.
const (
	OfWindow  Why = "window"  // travel is not allowed, or not for long enough
	OfHabit   Why = "habit"   // it is, but not at hours at which the crew travels
	OfLimits  Why = "limits"  // of the drivers
	OfArrival Why = "arrival" // the stop receives nobody yet
	OfStop    Why = "stop"    // its stay, its nights, until when it is not left
	OfWay     Why = "way"     // the length of the way itself
)

// Entry is one thing that the crew does, without a gap from one entry to the next.
type Entry struct {
	Kind     Kind
	From, To time.Time // slow, as planned; in the zone of the place
	Likely   time.Time // when it is likely over
	Stop     int       // at a stop; -1: under way
	Leg      int       // the caller's number; -1 at a stop
	Section  int       // of the drive; -1 at a stop
	Drive    int       // from the stop of this number to the next; -1 at a stop
	// Begins and Ends are where, along the whole journey; they are one where the rig stands.
	Begins, Ends measure.Distance
	For          Why  // it stands; "" where it drives and works
	IfHolidays   bool // it drives in a span that is open if the list of holidays is right
}

// Call is a stop in the table.
type Call struct {
	Arrive Moment // the zero moment at the start
	Leave  Moment // the zero moment at the end
	// Slack is how much later the rig may arrive, at the start leave, and miss nothing; nil: nothing
	// that comes later has a deadline.
	Slack *time.Duration
	Late  time.Duration // after its deadline; 0: in time
}

// Moment is a time on the slow end, as planned, and the likely one.
type Moment struct{ Slow, Likely time.Time }

// Day is a day of the calendar, where the crew is when it begins. Its entries are those that
// begin on it.
type Day struct {
	Date        time.Time // its midnight, in the zone of the place
	First, Last int       // of the entries
	Driving     time.Duration
	Way         measure.Distance
}

// Missed is a deadline that the table misses, or a place that it does not come past.
type Missed struct {
	Stop    int           // whose deadline it is, or that is not reached
	Late    time.Duration // at the least; 0 where it is never reached
	Before  bool          // it is due before the trip begins, so that nothing but an earlier departure meets it
	Never   bool          // nothing that is known lets the rig go on from Drive, Section
	Drive   int
	Section int
	Binds   []Why // the least without which nothing would be missed; [OfWay] where that does not help
	Would   []Remedy
}

// Remedy is something that was tried.
type Remedy struct {
	Kind   Remedying
	Does   bool          // nothing is missed then
	Depart time.Time     // with which departure; zero: that of the table
	Late   time.Duration // what is still missed by, at the first stop that is
	Order  []int         // numbers of the stops, in another order

	// Of what the caller tried:
	Jurisdiction string         // of [AnotherPermit]
	Whom         say.Remark     // to ask for it
	Size, Less   measure.Length // of a unit that is smaller: what it is then, and by how much less
}

// Remedying is what is tried.
type Remedying string

// What is tried.
const (
	Earlier      Remedying = "earlier"       // to depart earlier than asked
	BeyondHabit  Remedying = "habit"         // to travel whenever it is allowed
	SecondDriver Remedying = "second_driver" // two drivers
	AnyHour      Remedying = "any_hour"      // travel at any hour, of all days
	AnotherOrder Remedying = "order"         // of the stops between the first and the last; the caller tries it

	AnotherPermit Remedying = "permit"   // one of a jurisdiction, that takes no hours away
	Narrower      Remedying = "narrower" // a unit
	Lower         Remedying = "lower"
	Shorter       Remedying = "shorter"
)
