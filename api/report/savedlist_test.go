package report_test

import (
	"strings"
	"testing"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/wire"
)

// The list of saved trips keeps to the screen, and the days of a quote are said as its own day is.
func TestListOfSavedTrips(t *testing.T) {
	quoted := wire.SavedQuote{Version: 1, Quoted: "2026-11-29", ValidUntil: "2026-12-29"}
	list := wire.SavedTrips{Trips: []wire.SavedTrip{{
		ID: "first", Version: 2, Who: "me", Why: "QC-117", Name: strings.Repeat("a long name ", 10),
		MadeAt: time.Date(2026, 11, 29, 12, 0, 0, 0, time.UTC), Outcome: "review", Quote: &quoted,
	}}}
	var b strings.Builder
	if err := report.SavedTrips(&b, report.View{In: phrase.French()}, list); err != nil {
		t.Fatal(err)
	}
	has(t, b.String(), "version 1 du 29 novembre 2026", "valide jusqu'au 29 décembre 2026")
	for line := range strings.Lines(b.String()) {
		if n := len([]rune(strings.TrimSpace(line))); n > 100 {
			t.Errorf("%d columns: %s", n, line)
		}
	}
}
