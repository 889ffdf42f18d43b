package window

import (
	"sync"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Holiday is one holiday of a calendar. A calendar is the list that one rule
// of travel speaks of: that of a jurisdiction, named by its code, or one of an
// office's own.
type Holiday struct {
	ID       string
	Calendar string
	Name     string
	Date     string // in the opening_hours grammar: "Jul 01", "Feb Mo[3]", "easter -2 days"
	Moved    Moved
	School   bool
	From, To int // years; 0: any
	rows.Proof

	date *Schedule
}

// Moved says what happens to a holiday that falls on a weekend.
type Moved string

// The ways. A holiday that moves is kept on its own day too: what closes roads
// then is not for this table to guess away.
const (
	Stays       Moved = ""
	ToMonday    Moved = "monday"        // from Saturday or Sunday to the Monday after
	Nearest     Moved = "nearest"       // from Saturday to Friday, from Sunday to Monday
	SundayOnly  Moved = "sunday_monday" // from Sunday to the Monday after
	NextFreeDay Moved = "next_working"  // to the next day that is no weekend and no holiday of the calendar
)

// Holidays is the table of holidays.
func Holidays() rows.Table[Holiday] {
	return rows.Table[Holiday]{
		Name: "holidays",
		Columns: append([]string{"id", "calendar", "name", "date", "moved", "school", "from_year", "to_year"},
			rows.ProofColumns()...),
		Read: (&dateReader{}).holiday,
	}
}

// dateReader reads the dates of holidays. Most rows of a table share a date, and a date is
// tried on every day of a year.
type dateReader struct{ known sync.Map } // by dateKey, of *Schedule that passed

type dateKey struct {
	date   string
	school bool
}

func (r *dateReader) holiday(c *rows.Cells) Holiday {
	h := Holiday{
		ID: c.Need("id"), Calendar: c.Need("calendar"), Name: c.Need("name"), Date: c.Need("date"),
		Moved: rows.OneOf(c, "moved", Stays, ToMonday, Nearest, SundayOnly, NextFreeDay), School: c.Yes("school"),
		From: c.Year("from_year"), To: c.Year("to_year"), Proof: rows.ReadProof(c),
	}
	key := dateKey{h.Date, h.School}
	if s, known := r.known.Load(key); known {
		h.date = s.(*Schedule)
		return h
	}
	s, err := Parse(h.Date)
	switch {
	case err != nil:
		c.Fail("date", say.That("error.no_date", "why", say.Of(err)), say.That("fix.write_it_like_jul"))
	case s.hasTimes():
		c.Fail("date", say.That("error.hours_or_means_every"), say.That("fix.give_days_only"))
	default:
		h.date = s
		if h.check(c) {
			r.known.Store(key, s)
		}
	}
	return h
}

// most is on how many days of a year a holiday can fall.
const most = 31

// check refuses a date that never falls, and one that falls on so many days that
// it can be no holiday; it reports whether the date is good.
func (h Holiday) check(c *rows.Cells) bool {
	h.From, h.To = 0, 0
	for year, days := 2024, 0; year < 2064; year++ {
		for day := time.Date(year, time.January, 1, 0, 0, 0, 0, time.UTC); day.Year() == year; day = day.AddDate(0, 0, 1) {
			if h.on(day) {
				days++
			}
		}
		if days > most && !h.School {
			c.Fail("date", say.That("error.days_of_year", "bound", most), say.That("fix.give_the_days_of"))
			return false
		}
		if days > 0 {
			return true
		}
	}
	c.Fail("date", say.That("error.never_falls"), say.That("fix.write_it_like_jul"))
	return false
}

func (s *Schedule) hasTimes() bool {
	for _, r := range s.rules {
		if len(r.spans) > 0 || len(r.days) == 0 {
			return true
		}
	}
	return false
}

// on reports whether the holiday itself falls on a day.
func (h *Holiday) on(day time.Time) bool {
	if h.From != 0 && day.Year() < h.From || h.To != 0 && day.Year() > h.To {
		return false
	}
	noon := time.Date(day.Year(), day.Month(), day.Day(), 12, 0, 0, 0, day.Location())
	return h.date.At(noon, Env{}) == Open
}

// Calendar is the holidays of one list.
type Calendar []*Holiday

// On lists the holidays that a day is kept for: on their own day, and on the
// one that they move to.
func (c Calendar) On(day time.Time) []*Holiday {
	var out []*Holiday
	for _, h := range c {
		if h.on(day) || c.movedTo(h, day) {
			out = append(out, h)
		}
	}
	return out
}

// furthest is by how many days a holiday is looked for on the move.
const furthest = 7

// movedTo reports whether a holiday that falls on a weekend moves to a day.
func (c Calendar) movedTo(h *Holiday, day time.Time) bool {
	if h.Moved == Stays {
		return false
	}
	for back := -1; back <= furthest; back++ { // the nearest day may come before
		own := day.AddDate(0, 0, -back)
		if back != 0 && h.on(own) && c.target(h, own).Equal(dateOf(day)) {
			return true
		}
	}
	return false
}

func dateOf(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// target is the day on which a holiday that falls on own is taken.
func (c Calendar) target(h *Holiday, own time.Time) time.Time {
	day := dateOf(own)
	switch w := day.Weekday(); {
	case h.Moved == NextFreeDay && weekend(w):
		for moved := 0; moved < most && (weekend(day.Weekday()) || c.others(h, day)); moved++ {
			day = day.AddDate(0, 0, 1)
		}
	case w == time.Sunday && h.Moved != Stays:
		day = day.AddDate(0, 0, 1)
	case w == time.Saturday && h.Moved == Nearest:
		day = day.AddDate(0, 0, -1)
	case w == time.Saturday && h.Moved == ToMonday:
		day = day.AddDate(0, 0, 2)
	}
	return day
}

func weekend(w time.Weekday) bool { return w == time.Saturday || w == time.Sunday }

// others reports whether another holiday of the list falls on a day, or one that
// stands before h moves there.
func (c Calendar) others(h *Holiday, day time.Time) bool {
	before := true
	for _, o := range c {
		if o == h {
			before = false
			continue
		}
		if o.on(day) {
			return true
		}
		for back := 1; before && o.Moved == NextFreeDay && back <= furthest; back++ {
			if own := day.AddDate(0, 0, -back); o.on(own) && c.target(o, own).Equal(day) {
				return true
			}
		}
	}
	return false
}

// Tells returns what an [Env] asks of the list. A day on which a holiday falls
// is one, however its row is known. Any other day is surely none only where the
// list has rows and each of them is firm. What was asked once is remembered: the
// func is for one goroutine.
func (c Calendar) Tells(term time.Duration) func(day time.Time) (public, school bool, known bool) {
	type answer struct{ public, school, known bool }
	told := map[time.Time]answer{}
	return func(day time.Time) (public, school, known bool) {
		key := dateOf(day)
		if a, ok := told[key]; ok {
			return a.public, a.school, a.known
		}
		defer func() { told[key] = answer{public, school, known} }()
		known = len(c) > 0
		for _, h := range c {
			known = known && h.Firm(day, term)
		}
		for _, h := range c.On(day) {
			public, school, known = public || !h.School, school || h.School, known || !h.School
		}
		return public, school, known
	}
}

// Doubt says why the list cannot tell that a day is no holiday, nothing where it
// can.
func (c Calendar) Doubt(name string, term time.Duration, day time.Time) say.Remark {
	if len(c) == 0 {
		return say.That("calendar.none", "calendar", name)
	}
	var why finding.Reason
	known := 0
	for _, h := range c {
		switch doubt := h.Proof.Doubt(day, term); {
		case doubt == "":
			known++
		case why == "" || h.Status == finding.Memory:
			why = doubt
		}
	}
	switch {
	case why == "":
		return say.Remark{}
	case known > 0:
		return say.That("calendar.some", "calendar", name, "how", why)
	}
	return say.That("calendar.all", "calendar", name, "how", why)
}

// Kept says which holidays a day is kept for, nothing where it is for none: which
// are from memory, and which only move there.
func (c Calendar) Kept(day time.Time) say.Remark {
	var names []say.Remark
	for _, h := range c.On(day) {
		names = append(names, say.That("holiday.name", "name", h.Name, "moved", !h.on(day), "status", h.Status,
			"doubt", h.Status.Doubt()))
	}
	if len(names) == 0 {
		return say.Remark{}
	}
	return say.That("holiday.kept", "day", say.Day(day), "names", names)
}
