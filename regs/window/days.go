package window

import (
	"slices"
	"time"
)

// weekday holds on days of the week from first to last, over the week's end
// where last comes before first.
func weekday(first, last time.Weekday) dayTest {
	return func(day time.Time, _ Env) truth {
		return truthOf(inCycle(int(day.Weekday()), int(first), int(last)))
	}
}

// inCycle reports whether v lies from first to last in a cycle.
func inCycle(v, first, last int) bool {
	if first <= last {
		return first <= v && v <= last
	}
	return v >= first || v <= last
}

// nth holds on the given ones of a weekday in its month: 1 is the first, -1
// the last.
func nth(w time.Weekday, which []int) dayTest {
	return func(day time.Time, _ Env) truth {
		if day.Weekday() != w {
			return no
		}
		last := day.AddDate(0, 1, -day.Day()).Day() // of the month
		return truthOf(slices.Contains(which, (day.Day()-1)/7+1) || slices.Contains(which, -((last-day.Day())/7+1)))
	}
}

// shifted holds so many days after another test does.
func shifted(test dayTest, days int) dayTest {
	return func(day time.Time, env Env) truth { return test(day.AddDate(0, 0, -days), env) }
}

func publicHoliday(day time.Time, env Env) truth { return holiday(day, env, true) }
func schoolHoliday(day time.Time, env Env) truth { return holiday(day, env, false) }

func holiday(day time.Time, env Env, wantPublic bool) truth {
	if env.Holiday == nil {
		return perhaps
	}
	public, school, known := env.Holiday(day)
	switch {
	case !known:
		return perhaps
	case wantPublic:
		return truthOf(public)
	default:
		return truthOf(school)
	}
}

// anyOf holds where one of the tests does.
func anyOf(tests []dayTest) dayTest {
	if len(tests) == 1 {
		return tests[0]
	}
	return func(day time.Time, env Env) truth {
		out := no
		for _, t := range tests {
			out = or(out, t(day, env))
		}
		return out
	}
}

// numbers is a range of years or weeks, each step-th of it.
type numbers struct{ first, last, step int }

func (n numbers) holds(v int) bool { return v >= n.first && v <= n.last && (v-n.first)%n.step == 0 }

func years(n numbers) dayTest {
	return func(day time.Time, _ Env) truth { return truthOf(n.holds(day.Year())) }
}

// weeks holds in weeks of the year as ISO 8601 numbers them.
func weeks(n numbers) dayTest {
	return func(day time.Time, _ Env) truth {
		_, w := day.ISOWeek()
		return truthOf(n.holds(w))
	}
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

// dates holds from one date to another, over the year's end where the second
// comes before the first.
func dates(from, to date) dayTest {
	return func(day time.Time, _ Env) truth {
		if from.year != 0 {
			return truthOf(covers(from, to, from.year, day))
		}
		for year := day.Year() - 1; year <= day.Year()+1; year++ {
			if covers(from, to, year, day) {
				return yes
			}
		}
		return no
	}
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
