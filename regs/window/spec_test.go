package window_test

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/window"
)

const (
	closed  = window.Closed
	open    = window.Open
	unknown = window.Unknown
)

// layout carries the weekday so that a slip in a table is caught, not just a wrong answer.
const layout = "Mon 2006-01-02 15:04"

type moment struct {
	at   string
	want window.State
}

type example struct {
	value   string
	env     window.Env
	moments []moment
}

func clock(t testing.TB, s string) time.Time {
	t.Helper()
	at, err := time.Parse(layout, s)
	if err != nil {
		t.Fatalf("bad moment %q: %v", s, err)
	}
	if got := at.Format(layout); got != s {
		t.Fatalf("bad moment %q: the date is %q", s, got)
	}
	return at
}

// sixToEight is a sun that rises at 06:00 and sets at 20:00 every day.
func sixToEight(day time.Time) (rise, set time.Time, ok bool) {
	y, m, d := day.Date()
	return time.Date(y, m, d, 6, 0, 0, 0, day.Location()), time.Date(y, m, d, 20, 0, 0, 0, day.Location()), true
}

func noSun(time.Time) (rise, set time.Time, ok bool) { return }

func noCalendar(time.Time) (public, school, known bool) { return }

// days is a full calendar: a date marked p is a public holiday, s a school holiday, ps both.
type days map[string]string

func (d days) holiday(day time.Time) (public, school, known bool) {
	switch d[day.Format(time.DateOnly)] {
	case "p":
		return true, false, true
	case "s":
		return false, true, true
	case "ps":
		return true, true, true
	}
	return false, false, true
}

var (
	plain  = window.Env{Holiday: days{}.holiday}
	sunny  = window.Env{Sun: sixToEight}
	christ = window.Env{Holiday: days{"2026-12-25": "p"}.holiday}
	// Mon-Wed 2026-06-01..03: public, school, both.
	june = window.Env{Holiday: days{"2026-06-01": "p", "2026-06-02": "s", "2026-06-03": "ps"}.holiday}
)

// Source: OpenStreetMap wiki, Key:opening_hours and its tutorial, examples.
var keyPage = []example{
	{value: "24/7", moments: []moment{
		{"Mon 2026-06-01 00:00", open},
		{"Wed 2026-06-03 03:17", open},
		{"Sun 2028-12-31 23:59", open},
	}},
	{value: "Mo-Fr 08:00-17:00", moments: []moment{
		{"Mon 2026-06-01 07:59", closed},
		{"Mon 2026-06-01 08:00", open},
		{"Fri 2026-06-05 16:59", open},
		{"Fri 2026-06-05 17:00", closed},
		{"Sat 2026-06-06 12:00", closed},
	}},
	{value: "Mo-Fr 08:00-12:00,13:00-17:30", moments: []moment{
		{"Tue 2026-06-02 11:59", open},
		{"Tue 2026-06-02 12:00", closed},
		{"Tue 2026-06-02 12:59", closed},
		{"Tue 2026-06-02 13:00", open},
		{"Tue 2026-06-02 17:29", open},
		{"Tue 2026-06-02 17:30", closed},
		{"Sun 2026-06-07 10:00", closed},
	}},
	{value: "Mo,We 08:00-12:00", moments: []moment{
		{"Mon 2026-06-01 09:00", open},
		{"Tue 2026-06-02 09:00", closed},
		{"Wed 2026-06-03 09:00", open},
		{"Wed 2026-06-03 12:00", closed},
	}},
	{value: "Mo-Fr 08:00-12:00,13:00-17:30; Sa 08:00-12:00", moments: []moment{
		{"Fri 2026-06-05 17:00", open},
		{"Sat 2026-06-06 08:00", open},
		{"Sat 2026-06-06 13:00", closed},
		{"Sun 2026-06-07 09:00", closed},
	}},
	{value: "Mo-Fr 08:00-12:00,13:00-17:30; Sa 08:00-12:00; PH off", env: june, moments: []moment{
		{"Mon 2026-06-01 09:00", closed},
		{"Tue 2026-06-02 09:00", open},
		{"Wed 2026-06-03 14:00", closed},
		{"Thu 2026-06-04 14:00", open},
		{"Sat 2026-06-06 11:59", open},
		{"Sat 2026-06-06 14:00", closed},
	}},
	{value: "Mo-Fr 08:00-12:00,13:00-17:30; Sa 08:00-12:00; PH off; SH off", env: june, moments: []moment{
		{"Mon 2026-06-01 09:00", closed},
		{"Tue 2026-06-02 09:00", closed},
		{"Wed 2026-06-03 09:00", closed},
		{"Thu 2026-06-04 09:00", open},
	}},
	{value: "Mo-Fr 08:00-12:00,13:00-17:30; Sa 08:00-12:00; PH 09:00-12:00", env: june, moments: []moment{
		{"Mon 2026-06-01 08:30", closed},
		{"Mon 2026-06-01 09:00", open},
		{"Mon 2026-06-01 14:00", closed},
		{"Thu 2026-06-04 08:30", open},
		{"Thu 2026-06-04 14:00", open},
	}},
	{value: "Sa-Su 00:00-24:00", moments: []moment{
		{"Fri 2026-06-05 23:59", closed},
		{"Sat 2026-06-06 00:00", open},
		{"Sun 2026-06-07 00:00", open},
		{"Sun 2026-06-07 23:59", open},
		{"Mon 2026-06-08 00:00", closed},
	}},
	{value: "Mo 10:00-12:00,12:30-15:00; Tu-Fr 08:00-12:00,12:30-15:00; Sa 08:00-12:00", moments: []moment{
		{"Mon 2026-06-01 09:00", closed},
		{"Mon 2026-06-01 10:00", open},
		{"Mon 2026-06-01 12:15", closed},
		{"Mon 2026-06-01 12:30", open},
		{"Tue 2026-06-02 09:00", open},
		{"Fri 2026-06-05 15:00", closed},
		{"Sat 2026-06-06 11:59", open},
		{"Sat 2026-06-06 13:00", closed},
	}},
	{value: "Mo-Su 08:00-18:00; Apr 10-15 off; Jun 08:00-14:00; Aug off; Dec 25 off", moments: []moment{
		{"Thu 2026-04-09 12:00", open},
		{"Fri 2026-04-10 12:00", closed},
		{"Wed 2026-04-15 12:00", closed},
		{"Thu 2026-04-16 12:00", open},
		{"Mon 2026-06-01 13:59", open},
		{"Mon 2026-06-01 15:00", closed},
		{"Fri 2026-07-31 15:00", open},
		{"Sat 2026-08-01 12:00", closed},
		{"Mon 2026-08-31 12:00", closed},
		{"Thu 2026-12-24 12:00", open},
		{"Fri 2026-12-25 12:00", closed},
	}},
	{value: "sunrise-sunset", env: sunny, moments: []moment{
		{"Mon 2026-06-01 05:59", closed},
		{"Mon 2026-06-01 06:00", open},
		{"Mon 2026-06-01 19:59", open},
		{"Mon 2026-06-01 20:01", closed},
	}},
	{value: "sunrise-sunset", moments: []moment{
		{"Mon 2026-06-01 12:00", unknown},
	}},
	{value: "sunrise-sunset", env: window.Env{Sun: noSun}, moments: []moment{
		{"Mon 2026-06-01 12:00", unknown},
	}},
	{value: "(sunrise+02:00)-(sunset-02:00)", env: sunny, moments: []moment{
		{"Mon 2026-06-01 07:59", closed},
		{"Mon 2026-06-01 08:00", open},
		{"Mon 2026-06-01 17:59", open},
		{"Mon 2026-06-01 18:01", closed},
	}},
	{value: `Mo-We 10:00-18:00; Th,Fr 16:00-23:00; PH off || "on appointment"`, env: plain, moments: []moment{
		{"Mon 2026-06-01 10:00", open},
		{"Wed 2026-06-03 18:00", unknown},
		{"Thu 2026-06-04 12:00", unknown},
		{"Thu 2026-06-04 16:00", open},
		{"Sat 2026-06-06 12:00", unknown},
	}},
}

// Source: OpenStreetMap wiki, proposal "Time domains", examples.
var proposalPage = []example{
	{value: "Mo-Fr 08:00-20:00; Sa 08:00-16:00", moments: []moment{
		{"Fri 2026-06-05 19:59", open},
		{"Sat 2026-06-06 15:59", open},
		{"Sat 2026-06-06 16:00", closed},
		{"Sun 2026-06-07 10:00", closed},
	}},
	{value: "06:00-20:00", moments: []moment{
		{"Sun 2026-06-07 05:59", closed},
		{"Sun 2026-06-07 06:00", open},
		{"Wed 2027-01-06 20:00", closed},
	}},
	{value: "Mo-Fr 08:00-16:00; We 08:00-20:00", moments: []moment{
		{"Tue 2026-06-02 17:00", closed},
		{"Wed 2026-06-03 17:00", open},
		{"Wed 2026-06-03 20:00", closed},
	}},
	// The second rule is for every day, so the first never counts.
	{value: "Mo-Fr 08:00-12:00; 14:00-20:00", moments: []moment{
		{"Mon 2026-06-01 09:00", closed},
		{"Mon 2026-06-01 15:00", open},
		{"Sun 2026-06-07 15:00", open},
	}},
	{value: "Jan 1-Apr 15 Mo-Fr", moments: []moment{
		{"Thu 2026-01-01 00:00", open},
		{"Sat 2026-01-03 12:00", closed},
		{"Wed 2026-04-15 23:59", open},
		{"Thu 2026-04-16 00:00", closed},
		{"Thu 2026-12-31 12:00", closed},
	}},
}

// Source: OpenStreetMap wiki, Conditional restrictions and Key:maxspeed:conditional, examples.
var conditionalPage = []example{
	{value: "06:00-19:00", moments: []moment{
		{"Mon 2026-06-01 06:00", open},
		{"Mon 2026-06-01 19:00", closed},
	}},
	{value: "22:00-06:00", moments: []moment{
		{"Mon 2026-06-01 21:59", closed},
		{"Mon 2026-06-01 22:00", open},
		{"Tue 2026-06-02 00:00", open},
		{"Tue 2026-06-02 05:59", open},
		{"Tue 2026-06-02 06:00", closed},
	}},
	{value: "23:00-05:00", moments: []moment{
		{"Mon 2026-06-01 23:00", open},
		{"Tue 2026-06-02 04:59", open},
		{"Tue 2026-06-02 05:00", closed},
		{"Tue 2026-06-02 22:59", closed},
	}},
	{value: "Mo-Fr 08:00-09:30,14:30-16:00; PH off; SH off", env: june, moments: []moment{
		{"Mon 2026-06-01 08:30", closed},
		{"Tue 2026-06-02 08:30", closed},
		{"Thu 2026-06-04 08:30", open},
		{"Thu 2026-06-04 09:30", closed},
		{"Thu 2026-06-04 15:00", open},
		{"Sat 2026-06-06 08:30", closed},
	}},
}

// Source: OpenStreetMap wiki, opening_hours specification, examples; the values are from memory.
var specPage = []example{
	// Rules and what joins them.
	{value: "Mo-Sa 10:00-20:00; Tu off", moments: []moment{
		{"Mon 2026-06-01 10:00", open},
		{"Tue 2026-06-02 10:00", closed},
		{"Wed 2026-06-03 10:00", open},
		{"Sun 2026-06-07 10:00", closed},
	}},
	{value: "Mo-Fr 08:00-12:00, We 14:00-18:00", moments: []moment{
		{"Wed 2026-06-03 09:00", open},
		{"Wed 2026-06-03 13:00", closed},
		{"Wed 2026-06-03 15:00", open},
		{"Thu 2026-06-04 09:00", open},
		{"Thu 2026-06-04 15:00", closed},
	}},
	{value: "Su-Tu 11:00-01:00, We-Th 11:00-03:00, Fr 11:00-06:00, Sa 11:00-07:00", moments: []moment{
		{"Sun 2026-06-07 06:59", open},
		{"Sun 2026-06-07 07:00", closed},
		{"Sun 2026-06-07 11:00", open},
		{"Mon 2026-06-08 00:59", open},
		{"Mon 2026-06-08 01:00", closed},
		{"Thu 2026-06-11 02:59", open},
		{"Sat 2026-06-13 05:59", open},
		{"Sat 2026-06-13 06:00", closed},
	}},
	{value: `Mo-Fr 09:00-18:00 || "call us"`, moments: []moment{
		{"Mon 2026-06-01 09:00", open},
		{"Mon 2026-06-01 18:00", unknown},
		{"Sat 2026-06-06 12:00", unknown},
	}},
	{value: `We-Fr 10:00-24:00 open "it is open" || "please call"`, moments: []moment{
		{"Wed 2026-06-03 09:59", unknown},
		{"Wed 2026-06-03 10:00", open},
		{"Fri 2026-06-05 23:59", open},
		{"Sat 2026-06-06 00:00", unknown},
	}},

	// Modifiers.
	{value: "open", moments: []moment{{"Mon 2026-06-01 03:00", open}}},
	{value: "off", moments: []moment{{"Mon 2026-06-01 12:00", closed}}},
	{value: `closed "for repair"`, moments: []moment{{"Mon 2026-06-01 12:00", closed}}},
	{value: "unknown", moments: []moment{{"Mon 2026-06-01 12:00", unknown}}},
	{value: `"by appointment"`, moments: []moment{
		{"Mon 2026-06-01 03:00", unknown},
		{"Sun 2026-06-07 12:00", unknown},
	}},
	{value: `Fr 08:30-20:00 open "reduced service"`, moments: []moment{
		{"Thu 2026-06-04 09:00", closed},
		{"Fri 2026-06-05 08:30", open},
		{"Fri 2026-06-05 20:00", closed},
	}},
	{value: "Mo-Fr 09:00-12:00 unknown", moments: []moment{
		{"Mon 2026-06-01 08:59", closed},
		{"Mon 2026-06-01 09:00", unknown},
		{"Sat 2026-06-06 09:00", closed},
	}},
	{value: `Mo-Fr 09:00-12:00 "by appointment"`, moments: []moment{
		{"Mon 2026-06-01 08:59", closed},
		{"Mon 2026-06-01 10:00", unknown},
	}},
	// A closed rule with hours takes only those hours away.
	{value: "Mo-Su 10:00-18:00; We 12:00-14:00 off", moments: []moment{
		{"Wed 2026-06-03 11:00", open},
		{"Wed 2026-06-03 12:00", closed},
		{"Wed 2026-06-03 14:00", open},
		{"Thu 2026-06-04 13:00", open},
	}},

	// Times.
	{value: "22:00-02:00", moments: []moment{
		{"Mon 2026-06-01 22:00", open},
		{"Tue 2026-06-02 01:59", open},
		{"Tue 2026-06-02 02:00", closed},
		{"Tue 2026-06-02 12:00", closed},
	}},
	{value: "Sa 22:00-26:00", moments: []moment{
		{"Sat 2026-06-06 01:00", closed},
		{"Sat 2026-06-06 22:00", open},
		{"Sun 2026-06-07 01:59", open},
		{"Sun 2026-06-07 02:00", closed},
		{"Mon 2026-06-08 01:00", closed},
	}},
	{value: "(sunset+01:00)-(sunrise-01:00)", env: sunny, moments: []moment{
		{"Mon 2026-06-01 20:30", closed},
		{"Mon 2026-06-01 21:30", open},
		{"Tue 2026-06-02 04:59", open},
		{"Tue 2026-06-02 05:30", closed},
		{"Tue 2026-06-02 12:00", closed},
	}},
	{value: "08:00-sunset", env: sunny, moments: []moment{
		{"Mon 2026-06-01 07:59", closed},
		{"Mon 2026-06-01 19:59", open},
		{"Mon 2026-06-01 20:01", closed},
	}},
	{value: "17:00+", moments: []moment{
		{"Mon 2026-06-01 14:00", closed},
		{"Mon 2026-06-01 16:59", closed},
	}},
	{value: "Sa 18:00-22:00+", moments: []moment{
		{"Sat 2026-06-06 17:59", closed},
		{"Sat 2026-06-06 18:00", open},
		{"Sat 2026-06-06 21:59", open},
		{"Wed 2026-06-10 23:00", closed},
	}},

	// Weekdays.
	{value: "Fr-Mo 10:00-12:00", moments: []moment{
		{"Thu 2026-06-04 11:00", closed},
		{"Fri 2026-06-05 11:00", open},
		{"Sun 2026-06-07 11:00", open},
		{"Mon 2026-06-08 11:00", open},
		{"Tue 2026-06-09 11:00", closed},
	}},
	{value: "Mo[-1] 10:00-12:00", moments: []moment{
		{"Mon 2026-06-22 11:00", closed},
		{"Mon 2026-06-29 11:00", open},
		{"Tue 2026-06-30 11:00", closed},
		{"Mon 2027-02-22 11:00", open},
	}},
	{value: "Th[1,2-3] 10:00-12:00", moments: []moment{
		{"Thu 2026-06-04 11:00", open},
		{"Thu 2026-06-11 11:00", open},
		{"Thu 2026-06-18 11:00", open},
		{"Thu 2026-06-25 11:00", closed},
		{"Fri 2026-06-05 11:00", closed},
	}},
	{value: "Su[-2] 10:00-12:00", moments: []moment{
		{"Sun 2026-06-21 11:00", open},
		{"Sun 2026-06-28 11:00", closed},
	}},
	{value: "Th[5] 10:00-12:00", moments: []moment{
		{"Thu 2026-06-25 11:00", closed},
		{"Thu 2026-07-30 11:00", open},
	}},
	{value: "Su[1] -1 day 10:00-12:00", moments: []moment{
		{"Sat 2026-06-06 11:00", open},
		{"Sun 2026-06-07 11:00", closed},
		{"Sat 2026-06-13 11:00", closed},
	}},

	// Holidays.
	{value: "SH Mo-Fr 10:00-12:00", env: june, moments: []moment{
		{"Mon 2026-06-01 11:00", closed},
		{"Tue 2026-06-02 11:00", open},
		{"Wed 2026-06-03 11:00", open},
		{"Thu 2026-06-04 11:00", closed},
	}},
	{value: "PH Mo-Fr 10:00-12:00", env: window.Env{Holiday: days{"2026-06-05": "p", "2026-06-06": "p"}.holiday}, moments: []moment{
		{"Thu 2026-06-04 11:00", closed},
		{"Fri 2026-06-05 11:00", open},
		{"Sat 2026-06-06 11:00", closed},
	}},
	{value: "Sa,PH 10:00-12:00", env: june, moments: []moment{
		{"Mon 2026-06-01 11:00", open},
		{"Tue 2026-06-02 11:00", closed},
		{"Sat 2026-06-06 11:00", open},
	}},
	{value: "PH,Sa 10:00-12:00", env: june, moments: []moment{
		{"Mon 2026-06-01 11:00", open},
		{"Tue 2026-06-02 11:00", closed},
		{"Sat 2026-06-06 11:00", open},
	}},
	{value: "PH -1 day 10:00-12:00", env: christ, moments: []moment{
		{"Wed 2026-12-23 11:00", closed},
		{"Thu 2026-12-24 11:00", open},
		{"Fri 2026-12-25 11:00", closed},
	}},

	// Weeks, numbered as in ISO 8601: 2026 has 53, and week 53 reaches into 2027.
	{value: "week 01-53/2 Fr 09:00-12:00; week 02-52/2 We 09:00-12:00", moments: []moment{
		{"Wed 2026-06-03 10:00", closed},
		{"Fri 2026-06-05 10:00", open},
		{"Wed 2026-06-10 10:00", open},
		{"Fri 2026-06-12 10:00", closed},
		{"Fri 2027-01-01 10:00", open},
		{"Wed 2027-01-06 10:00", closed},
		{"Fri 2027-01-08 10:00", open},
	}},
	{value: "week 23 10:00-12:00", moments: []moment{
		{"Sun 2026-05-31 11:00", closed},
		{"Mon 2026-06-01 11:00", open},
		{"Sun 2026-06-07 11:00", open},
		{"Mon 2026-06-08 11:00", closed},
	}},

	// Months and days.
	{value: "24/7; Dec 25-26 off", moments: []moment{
		{"Thu 2026-12-24 23:59", open},
		{"Fri 2026-12-25 00:00", closed},
		{"Sat 2026-12-26 23:59", closed},
		{"Sun 2026-12-27 00:00", open},
	}},
	{value: "Mo-Fr 09:00-17:00; Dec 24-26,Jan 1 off", moments: []moment{
		{"Wed 2026-12-23 10:00", open},
		{"Thu 2026-12-24 10:00", closed},
		{"Thu 2026-12-31 10:00", open},
		{"Fri 2027-01-01 10:00", closed},
		{"Mon 2027-01-04 10:00", open},
	}},
	{value: "Jan 23-Feb 11: 00:00-24:00", moments: []moment{
		{"Thu 2026-01-22 23:59", closed},
		{"Fri 2026-01-23 00:00", open},
		{"Wed 2026-02-11 23:59", open},
		{"Thu 2026-02-12 00:00", closed},
	}},
	{value: "Jan 23-Feb 11,Sep 12 00:00-24:00", moments: []moment{
		{"Fri 2026-01-23 00:00", open},
		{"Thu 2026-02-12 00:00", closed},
		{"Fri 2026-09-11 23:59", closed},
		{"Sat 2026-09-12 12:00", open},
		{"Sun 2026-09-13 00:00", closed},
	}},
	{value: "Dec 24-Jan 2: 18:00-22:00", moments: []moment{
		{"Wed 2026-12-23 19:00", closed},
		{"Thu 2026-12-24 19:00", open},
		{"Thu 2026-12-31 17:59", closed},
		{"Sat 2027-01-02 19:00", open},
		{"Sun 2027-01-03 19:00", closed},
	}},
	{value: "Oct-Mar 07:00-19:30", moments: []moment{
		{"Wed 2026-09-30 12:00", closed},
		{"Thu 2026-10-01 12:00", open},
		{"Fri 2027-01-01 12:00", open},
		{"Wed 2027-03-31 19:29", open},
		{"Thu 2027-04-01 12:00", closed},
	}},
	{value: "Apr-Sep: Mo-Fr 09:00-13:00,14:00-18:00; Apr-Sep: Sa 09:00-13:00", moments: []moment{
		{"Tue 2026-03-31 10:00", closed},
		{"Wed 2026-04-01 10:00", open},
		{"Wed 2026-04-01 13:30", closed},
		{"Sat 2026-04-04 12:00", open},
		{"Sat 2026-04-04 15:00", closed},
		{"Wed 2026-09-30 17:59", open},
		{"Thu 2026-10-01 10:00", closed},
	}},
	{value: "Feb 29 10:00-12:00", moments: []moment{
		{"Sun 2027-02-28 11:00", closed},
		{"Mon 2027-03-01 11:00", closed},
		{"Tue 2028-02-29 11:00", open},
	}},
	{value: "Dec 31 22:00-02:00", moments: []moment{
		{"Thu 2026-12-31 01:00", closed},
		{"Thu 2026-12-31 22:00", open},
		{"Fri 2027-01-01 01:59", open},
		{"Fri 2027-01-01 22:00", closed},
	}},

	// Easter Sunday: 2026-04-05, 2027-03-28, 2028-04-16.
	{value: "10:00-16:00; easter off", moments: []moment{
		{"Sat 2026-04-04 12:00", open},
		{"Sun 2026-04-05 12:00", closed},
		{"Mon 2026-04-06 12:00", open},
		{"Sun 2027-03-28 12:00", closed},
		{"Sun 2028-04-16 12:00", closed},
	}},
	{value: "10:00-16:00; easter -2 days off", moments: []moment{
		{"Fri 2026-04-03 12:00", closed},
		{"Sun 2026-04-05 12:00", open},
		{"Fri 2027-03-26 12:00", closed},
	}},
	{value: "easter +1 day 10:00-12:00", moments: []moment{
		{"Sun 2026-04-05 11:00", closed},
		{"Mon 2026-04-06 11:00", open},
		{"Mon 2028-04-17 11:00", open},
	}},
	{value: "10:00-16:00; Dec 25,easter off", moments: []moment{
		{"Sun 2026-04-05 12:00", closed},
		{"Fri 2026-12-25 12:00", closed},
		{"Sat 2026-12-26 12:00", open},
	}},

	// Years.
	{value: "2013,2015,2050-2053,2020-2029/3,2060+ 10:00-20:00", moments: []moment{
		{"Sat 2013-06-01 12:00", open},
		{"Sun 2014-06-01 12:00", closed},
		{"Mon 2015-06-01 12:00", open},
		{"Mon 2020-06-01 12:00", open},
		{"Tue 2021-06-01 12:00", closed},
		{"Mon 2026-06-01 12:00", open},
		{"Mon 2026-06-01 20:00", closed},
		{"Tue 2027-06-01 12:00", closed},
		{"Fri 2029-06-01 12:00", open},
		{"Sun 2053-06-01 12:00", open},
		{"Mon 2054-06-01 12:00", closed},
		{"Wed 2061-06-01 12:00", open},
	}},
	{value: "2013,2015,2050-2053,2055/2,2020-2029/3 10:00-20:00", moments: []moment{
		{"Mon 2026-06-01 12:00", open},
		{"Thu 2028-06-01 12:00", closed},
		{"Mon 2054-06-01 12:00", closed},
		{"Tue 2055-06-01 12:00", open},
		{"Thu 2056-06-01 12:00", closed},
	}},
	{value: "2027 Dec 24-2028 Jan 2 10:00-12:00", moments: []moment{
		{"Thu 2026-12-24 11:00", closed},
		{"Fri 2027-12-24 11:00", open},
		{"Sun 2028-01-02 11:00", open},
		{"Mon 2028-01-03 11:00", closed},
		{"Sun 2028-12-24 11:00", closed},
	}},
}

// Not from a page: what follows from the rule that a state is unknown only where the answer hangs on the env.
var missing = []example{
	{value: "Mo-Fr 08:00-12:00,13:00-17:30; Sa 08:00-12:00; PH off", moments: []moment{
		{"Mon 2026-06-01 09:00", unknown},
		{"Mon 2026-06-01 12:30", closed},
		{"Sat 2026-06-06 09:00", unknown},
		{"Sun 2026-06-07 09:00", closed},
	}},
	{value: "Mo-Fr 08:00-12:00; SH off", env: window.Env{Holiday: noCalendar}, moments: []moment{
		{"Mon 2026-06-01 09:00", unknown},
		{"Mon 2026-06-01 13:00", closed},
	}},
	// Open on the holiday and on the plain Monday alike.
	{value: "Mo-Fr 08:00-12:00; PH 09:00-12:00", moments: []moment{
		{"Mon 2026-06-01 08:30", unknown},
		{"Mon 2026-06-01 10:00", open},
		{"Sun 2026-06-07 10:00", unknown},
		{"Sun 2026-06-07 14:00", closed},
	}},
	{value: "SH Mo-Fr 10:00-12:00", moments: []moment{
		{"Mon 2026-06-01 11:00", unknown},
		{"Mon 2026-06-01 13:00", closed},
		{"Sat 2026-06-06 11:00", closed},
	}},
	{value: "Mo-Fr sunrise-sunset", moments: []moment{
		{"Mon 2026-06-01 12:00", unknown},
		{"Sun 2026-06-07 12:00", closed},
	}},
}

func TestExamples(t *testing.T) {
	for _, table := range []struct {
		name  string
		cases []example
	}{
		{"key page", keyPage},
		{"proposal page", proposalPage},
		{"conditional page", conditionalPage},
		{"specification", specPage},
		{"missing knowledge", missing},
	} {
		t.Run(table.name, func(t *testing.T) {
			for _, c := range table.cases {
				t.Run(c.value, func(t *testing.T) {
					s, err := window.Parse(c.value)
					if err != nil {
						t.Fatalf("Parse(%q): %v", c.value, err)
					}
					for _, m := range c.moments {
						if got := s.At(clock(t, m.at), c.env); got != m.want {
							t.Errorf("%q at %s: got %v, want %v", c.value, m.at, got, m.want)
						}
					}
				})
			}
		})
	}
}

// Source: OpenStreetMap wiki, opening_hours specification, open end; from memory.
// The page leaves open whether such hours are open or unknown, so only closed is wrong.
func TestOpenEnd(t *testing.T) {
	for _, c := range []struct{ value, at string }{
		{"17:00+", "Mon 2026-06-01 17:00"},
		{"17:00+", "Mon 2026-06-01 18:30"},
		{"Sa 22:00+", "Sat 2026-06-06 22:30"},
		{"Sa 18:00-22:00+", "Sat 2026-06-06 22:30"},
	} {
		s, err := window.Parse(c.value)
		if err != nil {
			t.Errorf("Parse(%q): %v", c.value, err)
			continue
		}
		if got := s.At(clock(t, c.at), window.Env{}); got == closed {
			t.Errorf("%q at %s: got closed, want open or unknown", c.value, c.at)
		}
	}
}

// One instant is two clock times in two places; the place of t decides.
func TestClockOfLocation(t *testing.T) {
	s, err := window.Parse("Mo 10:00-12:00")
	if err != nil {
		t.Fatal(err)
	}
	at := clock(t, "Mon 2026-06-01 10:30")
	for _, c := range []struct {
		offset int
		want   window.State
	}{
		{0, open},
		{1, open},
		{3, closed},
		{-3, closed},
		{-11, closed},
	} {
		zone := time.FixedZone(fmt.Sprintf("%+03d", c.offset), c.offset*3600)
		if got := s.At(at.In(zone), window.Env{}); got != c.want {
			t.Errorf("at %v: got %v, want %v", at.In(zone), got, c.want)
		}
	}
}

func TestStateString(t *testing.T) {
	for s, want := range map[window.State]string{closed: "closed", open: "open", unknown: "unknown"} {
		if got := s.String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// Source of the limits: OpenStreetMap wiki, opening_hours specification, grammar; number ranges from memory.
var malformed = []string{
	"",
	"   ",
	"25:99",
	"09:60-10:00",
	"10:00-12:75",
	"99:00-99:30",
	"10:00-49:00",
	"ab:cd-ef:gh",
	"09:00-",
	"Mo-Fr 09:00-",
	"-09:00",
	"Mo-",
	"Mo-Fx",
	"Mo-Fx 09:00-12:00",
	"Xx 09:00-12:00",
	"Mo 09:00-12:00 maybe",
	"Mo-Fr 09:00-17:00 @",
	"Mo[ 10:00-12:00",
	"Mo[] 10:00-12:00",
	"Mo[0] 10:00-12:00",
	"Mo[6] 10:00-12:00",
	"Mo[x] 10:00-12:00",
	"week",
	"week Mo 10:00-12:00",
	"week 00 10:00-12:00",
	"week 54 10:00-12:00",
	"Jan 0 10:00-12:00",
	"Jan 32 10:00-12:00",
	"(sunrise+01:00",
	"(sunrise+)-20:00",
	"(12:00+01:00)-20:00",
	"sunrise-moonrise",
	"easter +x days off",
	`"no end`,
	`Mo 10:00-12:00 open "no end`,
	"{Mo} 10:00-12:00",
	"\x00",
	"\xff\xfe",
	"Mo 10:00-12:00 \xff",
}

func TestMalformed(t *testing.T) {
	for _, text := range malformed {
		t.Run(fmt.Sprintf("%q", text), func(t *testing.T) {
			s, err := window.Parse(text)
			if err == nil {
				t.Fatalf("Parse(%q): no error", text)
			}
			if s != nil {
				t.Errorf("Parse(%q): a schedule beside the error", text)
			}
			var pe *window.ParseError
			if !errors.As(err, &pe) {
				t.Fatalf("Parse(%q): error is a %T", text, err)
			}
			if pe.Text != text {
				t.Errorf("Text is %q, want %q", pe.Text, text)
			}
			if pe.Offset < 0 || pe.Offset > len(text) {
				t.Errorf("Offset %d is outside %q", pe.Offset, text)
			}
			if pe.Problem.None() || pe.Error() == "" {
				t.Errorf("Problem %q, message %q: both must say something", pe.Problem, pe.Error())
			}
		})
	}
}

func FuzzParse(f *testing.F) {
	for _, table := range [][]example{keyPage, proposalPage, conditionalPage, specPage, missing} {
		for _, c := range table {
			f.Add(c.value)
		}
	}
	for _, text := range malformed {
		f.Add(text)
	}
	for _, text := range []string{"dawn-dusk", "10:00-16:00/90", "Mo-Fr 15:00", "Dec 25 +Su 10:00-12:00", `"in term": Mo 10:00-12:00`} {
		f.Add(text)
	}
	var moments []time.Time
	for _, s := range []string{
		"Thu 2026-01-01 00:00",
		"Sun 2026-04-05 12:00",
		"Mon 2026-06-01 09:30",
		"Thu 2026-12-31 23:59",
		"Fri 2027-01-01 01:00",
		"Tue 2028-02-29 17:00",
		"Sun 2028-12-31 23:59",
	} {
		moments = append(moments, clock(f, s))
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := window.Parse(text)
		if err != nil {
			var pe *window.ParseError
			if !errors.As(err, &pe) {
				t.Fatalf("error is a %T", err)
			}
			if pe.Offset < 0 || pe.Offset > len(text) {
				t.Fatalf("Offset %d is outside the text", pe.Offset)
			}
			return
		}
		for _, at := range moments {
			switch got := s.At(at, window.Env{}); got {
			case closed, open, unknown:
			default:
				t.Fatalf("at %v: no such state %d", at, got)
			}
		}
	})
}

const day = 24 * 60

// span draws a start and an end in minutes of the day; the end may be past 24:00 as the grammar allows.
// Equal ends are left out, since the page does not say whether they mean nothing or the whole day.
func span(t *rapid.T) (text string, from, to int) {
	from = rapid.IntRange(0, day-1).Draw(t, "from")
	to = rapid.OneOf(rapid.IntRange(0, day), rapid.IntRange(0, 2*day)).
		Filter(func(m int) bool { return m != from }).Draw(t, "to")
	return fmt.Sprintf("%02d:%02d-%02d:%02d", from/60, from%60, to/60, to%60), from, to
}

// instant draws a second near a bound as often as anywhere else.
func instant(t *rapid.T, from, to int) time.Time {
	start := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	at := start.AddDate(0, 0, rapid.IntRange(0, 3*365).Draw(t, "day"))
	minute := rapid.OneOf(
		rapid.IntRange(0, day-1),
		rapid.SampledFrom([]int{from, to, from + 1, to + 1, from + day - 1, to + day - 1}),
	).Draw(t, "minute") % day
	second := rapid.SampledFrom([]int{0, 1, 59}).Draw(t, "second")
	return at.Add(time.Duration(minute)*time.Minute + time.Duration(second)*time.Second)
}

func TestDailySpan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, from, to := span(t)
		s, err := window.Parse(text)
		if err != nil {
			t.Fatalf("Parse(%q): %v", text, err)
		}
		at := instant(t, from, to)
		m := at.Hour()*60 + at.Minute()
		var in bool
		switch {
		case to > day:
			in = m >= from || m < to-day
		case to > from:
			in = m >= from && m < to
		default:
			in = m >= from || m < to
		}
		want := closed
		if in {
			want = open
		}
		if got := s.At(at, window.Env{}); got != want {
			t.Fatalf("%q at %s: got %v, want %v", text, at.Format(time.RFC3339), got, want)
		}
	})
}

// The hours past midnight belong to the weekday they start on.
func TestWeekdaySpan(t *testing.T) {
	names := []string{"Su", "Mo", "Tu", "We", "Th", "Fr", "Sa"}
	rapid.Check(t, func(t *rapid.T) {
		text, from, to := span(t)
		weekday := rapid.IntRange(0, 6).Draw(t, "weekday")
		text = names[weekday] + " " + text
		s, err := window.Parse(text)
		if err != nil {
			t.Fatalf("Parse(%q): %v", text, err)
		}
		at := instant(t, from, to)
		if to < from {
			to += day
		}
		// Minutes since the chosen weekday last began; no span is longer than two days.
		m := (int(at.Weekday())-weekday+7)%7*day + at.Hour()*60 + at.Minute()
		want := closed
		if m >= from && m < to {
			want = open
		}
		if got := s.At(at, window.Env{}); got != want {
			t.Fatalf("%q at %s: got %v, want %v", text, at.Format(time.RFC3339), got, want)
		}
	})
}
