package report_test

import (
	"slices"
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/tours"
	"wayhouse/routing/trip/timetable"
)

// A night before a border is spent on this side of it: it is entered on the next morning.
func TestANightBeforeABorder(t *testing.T) {
	p := tours.Show(t, nil)
	at := slices.IndexFunc(
		p.Timetable.Entries,
		func(e timetable.Entry) bool { return e.Kind == timetable.Driving && e.Leg == 1 },
	)
	night := p.Timetable.Entries[at]
	night.Kind, night.Stop, night.To = timetable.Rest, -1, night.From
	p.Timetable.Entries = slices.Insert(p.Timetable.Entries, at, night)
	for i := range p.Timetable.Days {
		d := &p.Timetable.Days[i]
		if d.First >= at {
			d.First++
		}
		if d.Last >= at {
			d.Last++
		}
	}
	days := daysOf(phrase.English(), p)
	if n := strings.Count(strings.Join(days, "\n"), "CA-QC 13:20"); n != 1 {
		t.Errorf("entered %d times: %q", n, days)
	}
	d := p.Timetable.Days[0]
	d.Last = at // the day ends with that night
	if said := phrase.English().All(report.DayDetails(phrase.English(), p, d)); strings.Contains(said, "CA-QC") {
		t.Errorf("%s", said)
	}
}
