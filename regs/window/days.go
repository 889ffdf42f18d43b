package window

import (
	"slices"
	"time"

	"wayhouse/regs/say"
)

// A selector tells of which calendar days a rule speaks.
type selector interface {
	test(day time.Time, env Env) truth
	says() say.Remark
}

// weekdayRange is the days of the week from first to last, over the week's end where
// last comes before first.
type weekdayRange struct{ first, last time.Weekday }

func (w weekdayRange) test(day time.Time, _ Env) truth {
	return truthOf(inCycle(int(day.Weekday()), int(w.first), int(w.last)))
}

// inCycle reports whether v lies from first to last in a cycle.
func inCycle(v, first, last int) bool {
	if first <= last {
		return first <= v && v <= last
	}
	return v >= first || v <= last
}

// nthWeekday is the given ones of a weekday in its month: 1 is the first, -1 the last.
type nthWeekday struct {
	day   time.Weekday
	which []int
}

func (n nthWeekday) test(day time.Time, _ Env) truth {
	if day.Weekday() != n.day {
		return no
	}
	last := day.AddDate(0, 1, -day.Day()).Day() // of the month
	return truthOf(slices.Contains(n.which, (day.Day()-1)/7+1) ||
		slices.Contains(n.which, -((last-day.Day())/7+1)))
}

// shifted is so many days after the days of another.
type shifted struct {
	of   selector
	days int
}

func (s shifted) test(day time.Time, env Env) truth {
	return s.of.test(day.AddDate(0, 0, -s.days), env)
}

// holidays is the public holidays, or those of schools.
type holidays struct{ school bool }

func (h holidays) test(day time.Time, env Env) truth {
	if env.Holiday == nil {
		return perhaps
	}
	public, school, known := env.Holiday(day)
	switch {
	case !known:
		return perhaps
	case h.school:
		return truthOf(school)
	default:
		return truthOf(public)
	}
}

// anyOf is the days of each of some.
type anyOf []selector

func (a anyOf) test(day time.Time, env Env) truth {
	out := no
	for _, one := range a {
		out = or(out, one.test(day, env))
	}
	return out
}

// numbers is a range, each step-th of it.
type numbers struct{ first, last, step int }

func (n numbers) hold(v int) truth {
	return truthOf(v >= n.first && v <= n.last && (v-n.first)%n.step == 0)
}

type years numbers

func (y years) test(day time.Time, _ Env) truth { return numbers(y).hold(day.Year()) }

// weeks are those of the year as ISO 8601 numbers them.
type weeks numbers

func (w weeks) test(day time.Time, _ Env) truth {
	_, number := day.ISOWeek()
	return numbers(w).hold(number)
}

// date is a day of a year: of a month, or of Easter.
type date struct {
	year   int // 0: every year
	month  time.Month
	day    int // 0: the whole month
	easter bool
	shift  int // days after it
}

// in returns the first and the last day that a date means in a year. Of a date
// that the year does not have, ok is false: a range that begins with it begins
// on the first of the next month, and one that ends with it ends on the last
// day of its own.
func (d date) in(year int, loc *time.Location) (first, last time.Time, ok bool) {
	if d.easter {
		first = easter(year, loc)
	} else {
		first = time.Date(year, d.month, max(d.day, 1), 0, 0, 0, 0, loc)
	}
	last = first
	if !d.easter && first.Month() != d.month { // 29 February, or 31 April
		last = time.Date(year, d.month+1, 0, 0, 0, 0, 0, loc)
		first = last.AddDate(0, 0, 1)
		return first.AddDate(0, 0, d.shift), last.AddDate(0, 0, d.shift), false
	}
	if d.day == 0 && !d.easter {
		last = first.AddDate(0, 1, -1)
	}
	return first.AddDate(0, 0, d.shift), last.AddDate(0, 0, d.shift), true
}

// dates is from one date to another, over the year's end where the second comes before
// the first.
type dates struct{ from, to date }

func (d dates) test(day time.Time, _ Env) truth {
	if d.from.year != 0 {
		return truthOf(covers(d.from, d.to, d.from.year, day))
	}
	for year := day.Year() - 1; year <= day.Year()+1; year++ {
		if covers(d.from, d.to, year, day) {
			return yes
		}
	}
	return no
}

func covers(from, to date, year int, day time.Time) bool {
	first, _, ok := from.in(year, day.Location())
	if !ok && from == to {
		return false // a single day that the year does not have
	}
	end := year
	if to.year != 0 {
		end = to.year
	}
	_, last, _ := to.in(end, day.Location())
	if to.year == 0 && last.Before(first) {
		_, last, _ = to.in(year+1, day.Location())
	}
	return !day.Before(first) && !day.After(last)
}

// easter returns Easter Sunday of a year of the Gregorian calendar: the
// anonymous algorithm that J. Meeus gives, Astronomical Algorithms, 2nd
// edition, 1998, chapter 8 (from memory; tests hold known dates to it).
func easter(year int, loc *time.Location) time.Time {
	a, b, c := year%19, year/100, year%100
	d, e := b/4, b%4
	g := (8*b + 13) / 25
	h := (19*a + b - d - g + 15) % 30
	i, k := c/4, c%4
	l := (32 + 2*e + 2*i - h - k) % 7
	m := (a + 11*h + 19*l) / 433
	month := (h + l - 7*m + 90) / 25
	dom := (h + l - 7*m + 33*month + 19) % 32
	return time.Date(year, time.Month(month), dom, 0, 0, 0, 0, loc)
}
