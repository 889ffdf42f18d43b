package report_test

import (
	"strings"
	"testing"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/tours"
)

// On 2027-11-07 clocks of Quebec go back from 02:00 EDT to 01:00 EST (time zone database, rule
// "US"): an end before that and one after it have each its own zone.
func TestAnEndBeforeClocksGoBack(t *testing.T) {
	p := tours.Show(t, nil)
	zone, err := time.LoadLocation("America/Toronto")
	if err != nil {
		t.Fatal(err)
	}
	day := p.Timetable.Days[0]
	day.Last = day.First
	drive := &p.Timetable.Entries[day.First]
	drive.To = time.Date(2027, 11, 7, 6, 4, 0, 0, time.UTC).In(zone)
	drive.From, drive.Likely = drive.To.Add(-time.Hour), drive.To.Add(-27*time.Minute)
	in := phrase.English()
	if got := in.Say(report.DayHead(in, p, day)); !strings.Contains(got, "01:04 EDT to 01:04 EST (01:37 EDT likely)") {
		t.Error(got)
	}
}
