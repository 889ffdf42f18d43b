package window_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// What a schedule says means what the schedule does: its remarks are read here as a
// person reads the words, and compared with it minute by minute.
func TestSaysMeansTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := scheduleText(t)
		s, err := window.Parse(text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		start := time.Date(2026, time.Month(rapid.IntRange(1, 12).Draw(t, "month")), 20, 0, 0, 0, 0, time.UTC)
		for at := start; at.Before(start.AddDate(0, 0, 16)); at = at.Add(23 * time.Minute) {
			if got, want := (reader{at}).state(s.Says()), s.At(at, plainEnv()); got != want {
				t.Fatalf("%q says %s: at %s %s, want %s", text, s.Says(), at.Format("Mon 2006-01-02 15:04"), got, want)
			}
		}
	})
}

// plainEnv has a sun at 06:00 and 18:00, twilight an hour around it, and holidays on the
// days of a month that 9 divides.
func plainEnv() window.Env {
	sun := func(early, late int) func(day time.Time) (time.Time, time.Time, bool) {
		return func(day time.Time) (time.Time, time.Time, bool) {
			return day.Add(time.Duration(early) * time.Hour), day.Add(time.Duration(late) * time.Hour), true
		}
	}
	holiday := func(day time.Time) (bool, bool, bool) { return day.Day()%9 == 0, day.Day()%10 == 0, true }
	return window.Env{Sun: sun(6, 18), Twilight: sun(5, 19), Holiday: holiday}
}

// scheduleText draws a text of the grammar, without open ends.
func scheduleText(t *rapid.T) string {
	pick := func(of ...string) string { return rapid.SampledFrom(of).Draw(t, "word") }
	days := func() string {
		return pick("", "Mo-Fr", "Sa", "Fr-Mo", "Sa,Su", "PH", "PH -1 day", "SH", "Tu[1,3]", "Fr[-1]", "Mo[1] +1 day", "Sa,PH",
			"Dec", "Nov-Mar", "Dec 24-Jan 02", "Dec 25", "easter -2 days", "2026", "2025-2035/2", "week 40-53/3", "Mo-We",
			"Nov-Mar Mo-Fr", "2026 Dec 24-2027 Jan 02", "week 52 Sa", "Dec 25 +1 day")
	}
	times := func() string {
		return pick("", "07:00-09:00", "22:00-06:00", "20:00-26:00", "12:00-24:00", "sunrise-sunset", "sunset-sunrise",
			"(sunrise-00:30)-(sunset+00:30)", "(dusk+01:00)-dawn", "00:00-08:00,09:30-24:00", "24:00-25:00", "18:00-00:00")
	}
	text := ""
	for i := range rapid.IntRange(1, 4).Draw(t, "rules") {
		if i > 0 {
			text += pick("; ", ", ", " || ")
		}
		rule := strings.TrimSpace(days() + " " + times())
		if rule == "" {
			rule = "24/7"
		}
		text += rule + pick("", "", "", " off", " unknown", ` "by call"`)
	}
	return text
}

// reader reads remarks of schedules at a moment.
type reader struct{ at time.Time }

func (r reader) state(says say.Remark) window.State {
	state := window.Closed
	for _, rule := range says.Get("rules").([]say.Remark) {
		state = r.rule(rule, state)
	}
	return state
}

func (r reader) rule(rule say.Remark, before window.State) window.State {
	join, means := "", window.Open
	for rule.Get("says") != nil {
		if rule.Code != "schedule.noted" {
			join = string(rule.Code)
		}
		rule = rule.Get("says").(say.Remark)
	}
	switch rule.Code {
	case "schedule.except":
		means, rule = window.Closed, rule.Get("when").(say.Remark)
	case "schedule.perhaps":
		means, rule = window.Unknown, rule.Get("when").(say.Remark)
	}
	holds := r.holds(rule)
	switch {
	case join == "schedule.otherwise" && before != window.Closed:
		return before
	case holds:
		return means
	case join == "schedule.in_place" && r.speaks(rule, 0):
		return window.Closed
	default:
		return before
	}
}

func (r reader) holds(when say.Remark) bool {
	hours, _ := when.Get("hours").([]say.Remark)
	if len(hours) == 0 {
		return r.speaks(when, 0)
	}
	for back := range 3 {
		for _, span := range hours {
			now := back*24*60 + r.at.Hour()*60 + r.at.Minute()
			from, to := minuteOf(span.Get("from").(say.Remark)), minuteOf(span.Get("to").(say.Remark))
			if r.speaks(when, back) && from <= now && now < to {
				return true
			}
		}
	}
	return false
}

// minuteOf reads a time of day, as a minute of the day on which its hours begin.
func minuteOf(clock say.Remark) int {
	days, _ := clock.Get("days").(int)
	if sun, ok := clock.Get("sun").(say.Term); ok {
		by := clock.Get("minutes").(int)
		if !clock.Get("after").(bool) {
			by = -by
		}
		rises := map[say.Code]int{"sun.dawn": 5, "sun.rise": 6, "sun.set": 18, "sun.dusk": 19}
		return (days*24+rises[sun.Term()])*60 + by
	}
	return (days*24+clock.Get("hour").(int))*60 + clock.Get("minute").(int)
}

// speaks reports whether all days of a rule hold so many days back.
func (r reader) speaks(when say.Remark, back int) bool {
	day := r.at.AddDate(0, 0, -back).Truncate(24 * time.Hour)
	days, _ := when.Get("days").([]say.Remark)
	for _, d := range days {
		if !on(d, day) {
			return false
		}
	}
	return true
}

func on(d say.Remark, day time.Time) bool {
	number := func(name string) int { v, _ := d.Get(name).(int); return v }
	moved := number("moved")
	if moved > 0 && d.Get("after").(bool) {
		moved = -moved
	}
	asked := day.AddDate(0, 0, moved)
	_, week := day.ISOWeek()
	switch d.Code {
	case "days.week":
		v, first, last := int(day.Weekday()), ofTerm(d.Get("first")), ofTerm(d.Get("last"))
		return first <= v && v <= last || last < first && (v >= first || v <= last)
	case "days.nth":
		for _, w := range d.Get("which").([]say.Term) {
			if asked.Weekday() == time.Weekday(ofTerm(d.Get("day"))) && nthIn(asked) == ofTerm(w) || ofTerm(w) < 0 &&
				asked.Weekday() == time.Weekday(ofTerm(d.Get("day"))) && asked.AddDate(0, 0, -7*ofTerm(w)).Month() != asked.Month() &&
				asked.AddDate(0, 0, -7*ofTerm(w)-7).Month() == asked.Month() {
				return true
			}
		}
		return false
	case "days.holidays":
		return asked.Day()%map[bool]int{false: 9, true: 10}[d.Get("school").(bool)] == 0
	case "days.any":
		for _, one := range d.Get("all").([]say.Remark) {
			if on(one, day) {
				return true
			}
		}
		return false
	case "days.years":
		return inSteps(day.Year(), number("first"), number("last"), number("step"))
	case "days.weeks":
		return inSteps(week, number("first"), number("last"), number("step"))
	case "dates.month":
		return int(day.Month()) == ofTerm(d.Get("month"))
	case "dates.one":
		return between(d.Get("date").(say.Remark), d.Get("date").(say.Remark), day)
	case "dates.range":
		return between(d.Get("from").(say.Remark), d.Get("to").(say.Remark), day)
	}
	panic(fmt.Sprintf("%s is not read", d))
}

func nthIn(day time.Time) int { return (day.Day() + 6) / 7 }

func inSteps(v, first, last, step int) bool { return v >= first && v <= last && (v-first)%step == 0 }

func ofTerm(v any) int {
	_, word, _ := strings.Cut(string(v.(say.Term).Term()), ".")
	n, err := strconv.Atoi(word)
	if err != nil {
		panic(err)
	}
	return n
}

// between reads dates as their words do: from the first day of one to the last of the
// other, over the end of the year where the second comes first.
func between(from, to say.Remark, day time.Time) bool {
	for year := day.Year() - 1; year <= day.Year(); year++ {
		first, _ := dateOf(from, year)
		_, last := dateOf(to, year)
		if last.Before(first) {
			_, last = dateOf(to, year+1)
		}
		if !day.Before(first) && !day.After(last) {
			return true
		}
	}
	return false
}

func dateOf(d say.Remark, year int) (first, last time.Time) {
	if days, moved := d.Get("days").(int); moved {
		if d.Code == "date.before" {
			days = -days
		}
		first, last = dateOf(d.Get("date").(say.Remark), year)
		return first.AddDate(0, 0, days), last.AddDate(0, 0, days)
	}
	if named := d.Get("year").(int); named != 0 {
		year = named
	}
	switch d.Code {
	case "date.easter": // 2025 to 2027, Astronomical Applications Department of the US Naval Observatory, Dates of Easter
		easter := map[int]time.Time{2025: dayOf(2025, 4, 20), 2026: dayOf(2026, 4, 5), 2027: dayOf(2027, 3, 28)}[year]
		return easter, easter
	case "date.month":
		first = dayOf(year, ofTerm(d.Get("month")), 1)
		return first, first.AddDate(0, 1, -1)
	default:
		first = dayOf(year, ofTerm(d.Get("month")), d.Get("day").(int))
		return first, first
	}
}

func dayOf(y, m, d int) time.Time { return time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC) }
