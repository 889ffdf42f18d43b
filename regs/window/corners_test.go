package window_test

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wayhouse/regs/window"
)

// The hour that comes twice in autumn is looked at twice.
func TestThroughWhenClocksGoBack(t *testing.T) {
	loc := zone(t, "America/Toronto")
	s := parsed(t, "24/7; 01:15-01:45 off")
	from := time.Date(2026, 11, 1, 0, 0, 0, 0, loc).Add(110 * minute) // 01:50 by the old clock
	to := from.Add(90 * minute)                                       // 02:20 by the new one
	if got, want := s.Through(from, to, window.Env{}), through(each(s, from, to, window.Env{})); got != want {
		t.Errorf("from %s to %s: %s, want %s", from, to, got, want)
	}
}

// Two that move past two that stay take two days, not one.
func TestMovedPastALongWeekend(t *testing.T) {
	c := calendar(t, line("a", "Dec 25", "next_working", "published"), line("b", "Dec 26", "next_working", "published"), line("c", "Dec 27", "", "published"), line("d", "Dec 28", "", "published"))
	want := []string{"2027-12-25", "2027-12-26", "2027-12-27", "2027-12-28", "2027-12-29", "2027-12-30"}
	if got := atYearsEnd(c, 2027, 2027); !cmp.Equal(got, want) {
		t.Errorf("(- want, + got) %s", cmp.Diff(want, got))
	}
}

// The Mondays on which the reference of holidays_test.go takes what falls on a
// weekend, and the table does not (its public entries; second-hand). A day that
// is no holiday in a province is left out.
func TestSubstituteDays(t *testing.T) {
	all := shippedCalendars(t)
	everywhere := []string{"2027-12-27", "2028-01-03"} // Christmas on a Saturday, New Year on a Saturday
	for code, more := range map[string][]string{
		"CA-AB": {"2028-11-13", "2029-11-12"}, "CA-BC": nil, "CA-MB": {"2028-10-02", "2029-10-01"}, "CA-NB": nil, "CA-NL": {"2028-07-03", "2029-07-02", "2028-11-13", "2029-11-12"},
		"CA-NS": {"2028-11-13", "2029-11-12"}, "CA-NT": nil, "CA-NU": nil, "CA-ON": {"2026-12-28", "2027-12-28"}, "CA-PE": {"2028-07-03", "2028-11-13", "2029-11-12"}, "CA-QC": nil,
		"CA-SK": {"2028-07-03", "2028-11-13", "2029-11-12"}, "CA-YT": {"2028-07-03", "2028-11-13", "2029-11-12"},
	} {
		var lacks []string
		for _, date := range append(slices.Clone(everywhere), more...) {
			day, err := time.Parse(time.DateOnly, date)
			if err != nil {
				t.Fatal(err)
			}
			if len(all[code].On(day)) == 0 {
				lacks = append(lacks, date)
			}
		}
		if len(lacks) > 0 {
			t.Errorf("%s lacks %v", code, lacks)
		}
	}
	if on := all["CA-NB"].On(time.Date(2027, 9, 30, 0, 0, 0, 0, time.UTC)); len(on) > 0 {
		t.Errorf("CA-NB keeps 30 September, which the reference gives to federal workplaces alone: %d", len(on))
	}
}

// A range of dates holds however many years it spans (opening_hours
// specification, wide_range_selectors: year, month and day at both ends).
func TestDatesOverManyYears(t *testing.T) {
	c := window.ParseCondition("2024 May 11-2029 May 14")
	for day, want := range map[string]window.State{
		"2024-05-10": window.Closed, "2024-05-11": window.Open, "2025-12-31": window.Open, "2027-01-01": window.Open, "2029-05-14": window.Open, "2029-05-15": window.Closed,
	} {
		at, err := time.Parse(time.DateOnly, day)
		if err != nil {
			t.Fatal(err)
		}
		if got := c.At(at, window.Env{}); got != want {
			t.Errorf("%s: %s, want %s", day, got, want)
		}
	}
}
