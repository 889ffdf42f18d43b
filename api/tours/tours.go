// Package tours makes plans with timetables for tests, of journeys that nobody drives.
package tours

import (
	"testing"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/timetable"
)

// Show is a trip from Perth to a show in Gaspé on Friday, 14 May 2027 and back, from
// Wednesday on. It may move from 6 to 20 h, and not on Sundays.
func Show(t testing.TB, change func(*timetable.Journey)) *trip.Plan {
	t.Helper()
	zone, err := time.LoadLocation("America/Toronto")
	if err != nil {
		t.Fatal(err)
	}
	at := func(day, hour int) time.Time { return time.Date(2027, time.May, day, hour, 0, 0, 0, zone) }
	hours := &timetable.Hours{}
	for day := 10; day < 31; day++ {
		if at(day, 0).Weekday() != time.Sunday {
			hours.Spans = append(hours.Spans, timetable.Span{From: at(day, 6), To: at(day, 20), Rows: []string{"h"}})
		}
	}
	section := func(leg int, km float64, driving time.Duration) timetable.Section {
		return timetable.Section{
			Leg: leg, Length: measure.Distance(1000 * km), Likely: driving * 9 / 10, Slow: driving, Zone: zone,
			Hours: hours, Limits: timetable.Limits{Driving: 10 * time.Hour, Rest: 8 * time.Hour, Default: true},
		}
	}
	home, show := say.Text("Perth, ON"), say.Text("Gaspé, QC; the quay")
	j := timetable.Journey{
		Depart: at(12, 8),
		Stops: []timetable.Stop{
			{Label: home, Zone: zone},
			{Label: show, Zone: zone, By: at(14, 18), SetUp: time.Hour, Until: at(15, 11), Packing: time.Hour},
			{Label: home, Zone: zone},
		},
		Drives: []timetable.Drive{
			{section(0, 400, 5*time.Hour), section(1, 900, 11*time.Hour)},
			{section(2, 900, 11*time.Hour), section(3, 400, 5*time.Hour)},
		},
		Habits: timetable.Habits{
			CheckFirst: timetable.Interval{Way: 80_000}, CheckEvery: timetable.Interval{Way: 240_000}, Check: 10 * time.Minute,
		},
	}
	if change != nil {
		change(&j)
	}
	table, err := timetable.Plan(j)
	if err != nil {
		t.Fatal(err)
	}
	leg := func(from, to say.Remark, code string) trip.Leg {
		return trip.Leg{From: from, To: to, Jurisdictions: []string{code}}
	}
	border := say.Text("the border")
	return &trip.Plan{
		Name: "A show at the quay", Invented: true, Passable: true, Departure: j.Depart,
		Timetable: &trip.Timetable{Journey: j, Table: *table},
		Legs: []trip.Leg{
			leg(home, border, "CA-ON"), leg(border, show, "CA-QC"), leg(show, border, "CA-QC"), leg(border, home, "CA-ON"),
		},
	}
}
