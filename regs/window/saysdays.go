package window

import (
	"math"
	"strconv"
	"time"

	"wayhouse/regs/say"
)

// Words of ours for what selectors and times name.
type (
	weekdayWord time.Weekday
	monthWord   time.Month
	nthWord     int // 1 is the first, -1 the last
	sunWord     string
)

func (w weekdayWord) Term() say.Code { return say.Word("weekday", strconv.Itoa(int(w))) }
func (m monthWord) Term() say.Code   { return say.Word("month", strconv.Itoa(int(m))) }
func (n nthWord) Term() say.Code     { return say.Word("nth", strconv.Itoa(int(n))) }

func (s sunWord) Term() say.Code { return say.Word("sun", string(s)) }

var sunWords = map[event]sunWord{sunrise: "rise", sunset: "set", dawn: "dawn", dusk: "dusk"}

func (w weekdayRange) says() say.Remark {
	return say.That("days.week", "first", weekdayWord(w.first), "last", weekdayWord(w.last), "one", w.first == w.last)
}

func (n nthWeekday) says() say.Remark { return n.moved(0) }

func (n nthWeekday) moved(days int) say.Remark {
	var which []say.Term
	for _, w := range n.which {
		which = append(which, nthWord(w))
	}
	return say.That("days.nth", "day", weekdayWord(n.day), "which", which, "moved", max(days, -days), "after", days > 0)
}

func (h holidays) says() say.Remark { return h.moved(0) }

func (h holidays) moved(days int) say.Remark {
	return say.That("days.holidays", "school", h.school, "moved", max(days, -days), "after", days > 0)
}

// says asks one of the two kinds that the grammar shifts.
func (s shifted) says() say.Remark {
	return s.of.(interface{ moved(days int) say.Remark }).moved(s.days)
}

func (a anyOf) says() say.Remark {
	var all []say.Remark
	for _, one := range a {
		all = append(all, one.says())
	}
	if len(all) == 1 {
		return all[0]
	}
	return say.That("days.any", "all", all)
}

func (y years) says() say.Remark {
	return say.That("days.years", "first", y.first, "last", y.last, "step", y.step, "one", y.first == y.last,
		"endless", y.last == lastYear)
}

func (w weeks) says() say.Remark {
	return say.That("days.weeks", "first", w.first, "last", w.last, "step", w.step, "one", w.first == w.last)
}

func (d dates) says() say.Remark {
	switch {
	case d.from == d.to && d.from.day == 0 && !d.from.easter:
		return say.That("dates.month", "month", monthWord(d.from.month), "year", d.from.year)
	case d.from == d.to:
		return say.That("dates.one", "date", d.from.says())
	}
	return say.That("dates.range", "from", d.from.says(), "to", d.to.says())
}

func (d date) says() say.Remark {
	out := say.That("date.easter", "year", d.year)
	switch {
	case d.easter:
	case d.day == 0:
		out = say.That("date.month", "month", monthWord(d.month), "year", d.year)
	default:
		out = say.That("date.day", "day", d.day, "month", monthWord(d.month), "year", d.year)
	}
	switch {
	case d.shift > 0:
		return say.That("date.after", "days", d.shift, "date", out)
	case d.shift < 0:
		return say.That("date.before", "days", -d.shift, "date", out)
	default:
		return out
	}
}

func (s span) says() say.Remark {
	from, open := s.from.saysFrom(), s.openEnd
	if open && s.to == s.from {
		return say.That("schedule.from_on", "from", from)
	}
	days := 0
	if s.overMidnight() {
		days = 1
	}
	return say.That("schedule.span", "from", from, "to", s.to.saysTo(days), "or_later", open)
}

func (c clock) saysFrom() say.Remark {
	if c.event != midnight {
		return say.That(
			"clock.from_sun",
			"sun",
			sunWords[c.event],
			"minutes",
			int(math.Abs(c.minutes)),
			"after",
			c.minutes > 0,
		)
	}
	return say.That("clock.from", "hour", int(c.minutes)/60, "minute", int(c.minutes)%60)
}

// saysTo is the end of hours, so many days after the one on which they begin. The end of
// a day is its hour 24.
func (c clock) saysTo(days int) say.Remark {
	if c.event != midnight {
		return say.That("clock.to_sun", "sun", sunWords[c.event], "minutes", int(math.Abs(c.minutes)), "after", c.minutes > 0,
			"days", days)
	}
	minutes := int(c.minutes) + days*minutesPerDay
	days = max(minutes-1, 0) / minutesPerDay
	minutes -= days * minutesPerDay
	return say.That("clock.to", "hour", minutes/60, "minute", minutes%60, "days", days)
}
