package trip

import (
	"testing"
	"time"

	"wayhouse/routing/trip/timetable"
)

// Nights are the midnights at which the rig stands; a wait that crosses none is waiting by day.
func TestScheduledDeal(t *testing.T) {
	zone := time.FixedZone("", -5*3600)
	at := func(day, hour int) time.Time { return time.Date(2027, 5, day, hour, 0, 0, 0, zone) }
	entry := func(k timetable.Kind, from, to time.Time) timetable.Entry {
		return timetable.Entry{Kind: k, From: from, To: to}
	}
	table := &Timetable{Table: timetable.Table{
		Departure: at(11, 8), Arrival: timetable.Moment{Slow: at(14, 10)},
		Entries: []timetable.Entry{
			entry(timetable.Driving, at(11, 8), at(11, 12)), entry(timetable.Wait, at(11, 12), at(11, 15)), entry(timetable.Driving, at(11, 15), at(11, 18)),
			entry(timetable.Rest, at(11, 18), at(12, 6)), entry(timetable.Driving, at(12, 6), at(12, 8)), entry(timetable.Wait, at(12, 8), at(14, 7)),
			entry(timetable.Driving, at(14, 7), at(14, 10)),
		},
	}}
	d := Deal{}.scheduled(table)
	if *d.Nights != 3 || *d.Standby != 3*time.Hour {
		t.Errorf("%d nights, %v of waiting", *d.Nights, *d.Standby)
	}
	two, hour := 2, time.Hour
	if d := (Deal{Nights: &two, Standby: &hour}).scheduled(table); *d.Nights != 2 || *d.Standby != hour || d.waits {
		t.Errorf("what was said: %d nights, %v", *d.Nights, *d.Standby)
	}
	table.Arrival = timetable.Moment{}
	if d := (Deal{}).scheduled(table); d.Nights != nil || d.Standby != nil {
		t.Errorf("never there: %v, %v", d.Nights, d.Standby)
	}
	for _, tc := range []struct {
		from, to time.Time
		want     int
	}{{at(11, 0), at(12, 0), 2}, {at(11, 1), at(11, 23), 0}, {at(11, 20), at(12, 0), 1}, {at(12, 0), at(12, 6), 1}} {
		if got := midnights(tc.from, tc.to); len(got) != tc.want {
			t.Errorf("from %s to %s: %v", tc.from, tc.to, got)
		}
	}
	// Who stops at midnight stands there for that night, once however many entries it takes.
	still := &Timetable{Table: timetable.Table{Departure: at(11, 20), Arrival: timetable.Moment{Slow: at(13, 1)}, Entries: []timetable.Entry{
		entry(timetable.Driving, at(11, 20), at(12, 0)), entry(timetable.Rest, at(12, 0), at(12, 8)), entry(timetable.Wait, at(12, 8), at(13, 0)),
		entry(timetable.Rest, at(13, 0), at(13, 0)), entry(timetable.Driving, at(13, 0), at(13, 1)),
	}}}
	if d := (Deal{}).scheduled(still); *d.Nights != 2 {
		t.Errorf("%d nights from midnight to midnight", *d.Nights)
	}
}
