package choosing

import (
	"testing"
	"time"
)

// By the time zone database Toronto's clocks go back from 02:00 EDT to 01:00 EST on 2027-11-07
// and forward on 2027-03-14; those of Regina never change, and those of Lord Howe Island, which
// change by half an hour, go back from 02:00 to 01:30 on 2027-04-04.
func TestHoursThatClocksShowTwice(t *testing.T) {
	for _, tc := range []struct {
		zone, at string
		twice    bool
	}{
		{"America/Toronto", "2027-11-07T00:59", false}, {"America/Toronto", "2027-11-07T01:00", true},
		{"America/Toronto", "2027-11-07T01:59", true}, {"America/Toronto", "2027-11-07T02:00", false},
		{"America/Toronto", "2027-03-14T01:30", false}, {"America/Toronto", "2027-03-14T02:30", false},
		{"America/Regina", "2027-11-07T01:30", false}, {"Australia/Lord_Howe", "2027-04-04T01:29", false},
		{"Australia/Lord_Howe", "2027-04-04T01:30", true}, {"Australia/Lord_Howe", "2027-04-04T02:00", false},
	} {
		zone, err := time.LoadLocation(tc.zone)
		if err != nil {
			t.Fatal(err)
		}
		at, err := time.Parse("2006-01-02T15:04", tc.at)
		if err != nil {
			t.Fatal(err)
		}
		if first, ok := (Clock{At: at, Local: true}).Twice(zone); ok != tc.twice || ok && !first.IsDST() {
			t.Errorf("%s in %s: %v, %v", tc.at, tc.zone, first, ok)
		}
		if _, ok := (Clock{At: at}).Twice(zone); ok {
			t.Errorf("%s with an offset is shown twice", tc.at)
		}
	}
}
