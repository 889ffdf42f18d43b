package report_test

import (
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/tours"
	"wayhouse/routing/trip/timetable"
)

// A deadline in the past is said to be past: how many hours ago it was helps nobody.
func TestADeadlineInThePast(t *testing.T) {
	p := tours.Show(t, func(j *timetable.Journey) {
		j.Stops[1].By, j.AtOnce = j.Stops[1].By.AddDate(-2, 0, 0), true
	})
	english := planText(t, report.View{In: phrase.English(), Full: true}, p)
	for _, want := range []string{"was to be reached by Wednesday 2025-05-14 18:00 EDT, which is past", "WHICH IS PAST"} {
		if !strings.Contains(strings.Join(strings.Fields(english), " "), want) {
			t.Errorf("%q is missing in %s", want, english)
		}
	}
	if strings.Contains(english, "LATE") || strings.Contains(english, "in the way:") {
		t.Error(english)
	}
	if french := planText(t, report.View{In: phrase.French()}, p); !strings.Contains(french, "date passée") {
		t.Error(french)
	}
}
