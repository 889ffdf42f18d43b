package timetable

import (
	"testing"
	"time"

	"github.com/paulmach/orb"

	sun "wayhouse/regs/window"
)

// at is a moment of the first days of July 2026 in UTC: in so many hours from the 1st.
func at(hours float64) time.Time {
	return time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC).Add(time.Duration(hours * float64(time.Hour)))
}

// straight is one drive of so long under limits, from midnight.
func straight(slow time.Duration, l Limits) Journey {
	return Journey{
		Depart: at(0), Stops: []Stop{{Zone: time.UTC}, {Zone: time.UTC}},
		Drives: []Drive{{{Length: 1000, Slow: slow, Likely: slow, Zone: time.UTC, Limits: l}}},
	}
}

const (
	h = time.Hour
	m = time.Minute
)

// The sections of the hours of driving, below, at and above what they name. Commercial
// Vehicle Drivers Hours of Service Regulations, SOR/2005-313; 49 CFR 395.3.
func TestHoursOfDrivingAtBelowAndAbove(t *testing.T) {
	paused := func(slow, pause time.Duration, l Limits) Journey { // on duty first
		j := straight(slow, l)
		j.Drives[0][0].Pause, j.Drives[0][0].Waits = pause, Border
		return j
	}
	halfWay := func(slow, stay time.Duration, l Limits) Journey { // a stop half way
		j := straight(slow/2, l)
		j.Stops = []Stop{{Zone: time.UTC}, {Zone: time.UTC, Stay: stay}, {Zone: time.UTC}}
		j.Drives = append(j.Drives, j.Drives[0])
		return j
	}
	ca, us := canadaSouth(), usProperty()
	days := ca
	days.FreeOff, days.FreeDays, days.Elapsed = 0, 0, 0
	free := Limits{FreeOff: 24 * h, FreeDays: 14}
	both := us
	both.Elapsed = 0
	for _, c := range []struct {
		section string
		j       Journey
		want    time.Duration // to the arrival
	}{
		{"SOR/2005-313 s. 13(1), below", straight(12*h+59*m, ca), 12*h + 59*m},
		{"s. 13(1), 13 h of driving", straight(13*h, ca), 13 * h},
		{"s. 12(1) and 13(1), above: 8 h off, and a new day", straight(13*h+m, ca), 24*h + m},
		{"s. 13(2), 14 h on duty", paused(12*h, 2*h, ca), 14 * h},
		{"s. 12(2) and 13(2), above", paused(12*h, 2*h+m, ca), 24*h + m},
		{"s. 13(3), 16 h elapsed", halfWay(12*h, 4*h, ca), 16 * h},
		{"s. 13(3), above: the stay becomes the rest", halfWay(12*h, 4*h+m, ca), 20 * h},
		{"s. 25, 13 days without 24 h off", straight(13*24*h, free), 13 * 24 * h},
		{"s. 25, above", straight(13*24*h+m, free), 14*24*h + m},
		{"s. 26, 70 h in 7 days, of 13 a day", straight(70*h, days), 5*24*h + 5*h},
		{"s. 26 and 28(1), above: 36 h off for one night", straight(70*h+m, days), 3*24*h + 13*h + 36*h + 28*h + m},
		{"49 CFR 395.3(a)(3)(i) and (ii), 11 h and a break", straight(11*h, us), 11*h + 30*m},
		{"395.3(a)(3)(i), above: 10 h off", straight(11*h+m, us), 21*h + m},
		{"395.3(a)(3)(ii), 8 h without a break", straight(8*h, us), 8 * h},
		{"395.3(a)(3)(ii), above", straight(8*h+m, us), 8*h + 31*m},
		{"395.3(a)(2), 14 h since 10 h off", halfWay(10*h, 4*h, us), 14 * h},
		{"395.3(a)(2), above: the stay becomes the rest", halfWay(10*h, 4*h+m, us), 20 * h},
		{"395.3(b)(1), 60 h in 7 days: 8, four times 11, 8", straight(60*h, both), 60*h + 5*10*h + 4*30*m},
		{"395.3(b)(1) and (c)(1), above: 34 h off for one night", straight(60*h+m, both), 60*h + m + 4*10*h + 34*h + 5*30*m},
	} {
		table := plan(t, c.j)
		if got := table.Arrival.Slow.Sub(c.j.Depart); got != c.want {
			t.Errorf("%s: %v, want %v\n%s", c.section, got, c.want, describe(c.j, table))
		}
		if wrong := unlawful(c.j, table); len(wrong) > 0 {
			t.Errorf("%s: %v", c.section, wrong[0])
		}
	}
}

// A crew of two drives twice as long, but is on duty as one is: SOR/2005-313 s. 2 counts
// who rides along as on duty.
func TestTwoDrivers(t *testing.T) {
	for _, c := range []struct {
		limits Limits
		slow   time.Duration
		want   time.Duration
	}{
		{planning(), 20 * h, 20 * h},
		{planning(), 20*h + m, 28*h + m},
		{canadaSouth(), 14 * h, 14 * h},
		{canadaSouth(), 14*h + m, 24*h + m},
	} {
		j := straight(c.slow, c.limits)
		j.Crew.Drivers = 2
		if got := plan(t, j).Arrival.Slow.Sub(j.Depart); got != c.want {
			t.Errorf("%v: %v, want %v", c.slow, got, c.want)
		}
	}
}

// daylight are the hours from half an hour before sunrise to half an hour after sunset.
func daylight(from time.Time, days int, place orb.Point) *Hours {
	hours := &Hours{}
	for i := range days {
		day := from.AddDate(0, 0, i)
		if rise, set, ok := sun.SunAt(place)(day); ok {
			hours.Spans = append(hours.Spans, Span{From: rise.Add(-30 * m), To: set.Add(30 * m)})
		}
	}
	return hours
}

// Edmonton on 21 December: 7 h 28 min from sunrise to sunset (NOAA solar calculator), 8 h
// 28 min between the half-hour offsets. 1,300 km at 80 km/h are two such days, and three
// where an hour of each is not driven.
func TestEdmontonInDecember(t *testing.T) {
	zone := zoneOf(t, "America/Edmonton")
	first := time.Date(2026, 12, 21, 0, 0, 0, 0, zone)
	hours := daylight(first, 10, orb.Point{-113.49, 53.55})
	if got := hours.Spans[0].To.Sub(hours.Spans[0].From).Round(m); got != 8*h+28*m {
		t.Errorf("open for %v", got)
	}
	slow := time.Duration(1300.0 / 80 * float64(h))
	for _, c := range []struct {
		limits Limits
		days   int
	}{{planning(), 2}, {Limits{Driving: 10 * h, Rest: 8 * h, BreakAfter: 4 * h, Break: h}, 3}} {
		j := straight(slow, c.limits)
		j.Depart = first
		j.Drives[0][0].Hours, j.Drives[0][0].Zone = hours, zone
		if table := plan(t, j); len(table.Days) != c.days {
			t.Errorf("%d days, want %d\n%s", len(table.Days), c.days, describe(j, table))
		}
	}
}

// Clocks on which hours are lost, gained or kept; half hours; the border of two zones.
// IANA time zone database, 2026.
func TestClocks(t *testing.T) {
	for _, c := range []struct {
		zone, depart, ends, want string
		slow                     time.Duration
	}{
		{"America/Edmonton", "2026-03-08 00:00", "", "2026-03-08 05:00", 4 * h}, // forward at 2:00
		{"America/Regina", "2026-03-08 00:00", "", "2026-03-08 04:00", 4 * h},   // never
		{"America/Toronto", "2026-11-01 00:00", "", "2026-11-01 03:00", 4 * h},  // back at 2:00
		{"America/Toronto", "2026-10-31 15:00", "", "2026-11-01 09:00", 11 * h}, // 8 h of rest are 8 h
		{"America/St_Johns", "2026-07-01 08:00", "", "2026-07-01 12:00", 4 * h}, //
		{"America/Halifax", "2026-07-01 08:00", "America/St_Johns", "2026-07-01 12:30", 4 * h},
		{"America/Winnipeg", "2026-07-01 08:00", "America/Regina", "2026-07-01 11:00", 4 * h},
		{"America/Winnipeg", "2026-12-01 08:00", "America/Regina", "2026-12-01 12:00", 4 * h},
		{"America/Toronto", "2028-02-28 22:00", "", "2028-02-29 02:00", 4 * h}, // a leap day
	} {
		zone, ends := zoneOf(t, c.zone), zoneOf(t, c.zone)
		if c.ends != "" {
			ends = zoneOf(t, c.ends)
		}
		depart, err := time.ParseInLocation("2006-01-02 15:04", c.depart, zone)
		if err != nil {
			t.Fatal(err)
		}
		j := straight(c.slow, planning())
		j.Depart, j.Stops[0].Zone, j.Stops[1].Zone, j.Drives[0][0].Zone = depart, zone, ends, zone
		if got := plan(t, j).Arrival.Slow.Format("2006-01-02 15:04"); got != c.want {
			t.Errorf("%s %s: %s, want %s", c.zone, c.depart, got, c.want)
		}
	}
}

// A night at a stop is over on the morning of the next date, over a leap day and the night
// on which the clocks change too.
func TestNights(t *testing.T) {
	zone := zoneOf(t, "America/Edmonton")
	for _, c := range []struct {
		depart string
		nights int
		want   string
	}{
		{"2028-02-28 10:00", 1, "2028-02-29 07:00"}, {"2028-02-28 10:00", 2, "2028-03-01 07:00"},
		{"2026-03-07 10:00", 1, "2026-03-08 07:00"}, {"2026-10-31 10:00", 1, "2026-11-01 07:00"},
	} {
		depart, err := time.ParseInLocation("2006-01-02 15:04", c.depart, zone)
		if err != nil {
			t.Fatal(err)
		}
		j := straight(2*h, planning())
		j.Depart, j.Habits.Morning = depart, 7*h
		j.Stops = []Stop{{Zone: zone}, {Zone: zone, Nights: c.nights}, {Zone: zone}}
		j.Drives = append(j.Drives, j.Drives[0])
		if got := plan(t, j).Calls[1].Leave.Slow.Format("2006-01-02 15:04"); got != c.want {
			t.Errorf("%s: left at %s, want %s", c.depart, got, c.want)
		}
	}
}

// North of the polar circle the sun does not rise in December: travel by daylight is never
// allowed. In June it does not set, and days that touch are one.
func TestPolarDayAndNight(t *testing.T) {
	resolute := orb.Point{-94.97, 74.7}
	night := time.Date(2026, 12, 1, 0, 0, 0, 0, time.UTC)
	j := straight(30*h, Limits{})
	j.Depart, j.Drives[0][0].Hours = night, daylight(night, 20, resolute)
	table := plan(t, j)
	if table.Missed == nil || !table.Missed.Never || len(table.Missed.Binds) != 1 || table.Missed.Binds[0] != OfWindow {
		t.Errorf("missed %+v", table.Missed)
	}
	if !table.Arrival.Slow.IsZero() {
		t.Error("it arrives")
	}
	day := &Hours{}
	for i := range 5 {
		day.Spans = append(day.Spans, Span{From: at(float64(24 * i)), To: at(float64(24*i + 24))})
	}
	j.Depart, j.Drives[0][0].Hours = at(0), day
	if got := plan(t, j).Arrival.Slow; !got.Equal(at(30)) {
		t.Errorf("arrives %v", got)
	}
}
