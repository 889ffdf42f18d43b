package phrase

import (
	"strconv"
	"time"

	"wayhouse/regs/say"
)

// A moment is a time as a template sees it: with the words that a language has for
// its weekday, its month and its zone.
type moment struct {
	time.Time
	in *Language
}

// MonthWord is the name of the month.
func (m moment) MonthWord() string { return m.word("month", strconv.Itoa(int(m.Month()))) }

// WeekdayWord is the name of the weekday.
func (m moment) WeekdayWord() string { return m.word("weekday", strconv.Itoa(int(m.Weekday()))) }

// ZoneWord is what the zone is called for short, as written where the language has no
// word for it.
func (m moment) ZoneWord() string {
	name, _ := m.Zone()
	if !m.in.Has(say.Word("zone", name)) {
		return name
	}
	return m.word("zone", name)
}

func (m moment) word(family, word string) string {
	return m.in.Say(say.Remark{Code: say.Word(family, word)})
}

// Day writes a date.
func (l *Language) Day(t time.Time) string { return l.Say(say.That("time.day", "at", moment{t, l})) }

// Weekday writes a date with its weekday.
func (l *Language) Weekday(t time.Time) string {
	return l.Say(say.That("time.weekday", "at", moment{t, l}))
}

// Moment writes a time on the clock of its zone.
func (l *Language) Moment(t time.Time) string {
	return l.Say(say.That("time.moment", "at", moment{t, l}))
}

// WeekdayMoment writes a time with its weekday.
func (l *Language) WeekdayMoment(t time.Time) string {
	return l.Say(say.That("time.weekday_moment", "at", moment{t, l}))
}

// Clock writes the time of day alone.
func (l *Language) Clock(t time.Time) string {
	return l.Say(say.That("time.clock", "at", moment{t, l}))
}

// ZonedClock writes the time of day with its zone.
func (l *Language) ZonedClock(t time.Time) string {
	return l.Say(say.That("time.zoned_clock", "at", moment{t, l}))
}
