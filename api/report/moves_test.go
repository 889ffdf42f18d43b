package report_test

import (
	"bytes"
	"fmt"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/tours"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/timetable"
)

func movesText(t *testing.T, v report.View, m *trip.Moves) string {
	t.Helper()
	var b bytes.Buffer
	if err := report.Moves(&b, v, m, []string{"credit of the roads"}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// crewed is how a crew moves n units.
func crewed(t *testing.T, n int) *trip.Moves {
	m := &trip.Moves{Plan: tours.Show(t, nil), Sure: true, Steady: true, Loaded: 1_900_000, Empty: 700_000}
	m.Road = &driving.Drive{}
	for i := range 2*n - 1 {
		r := trip.Run{Move: -1, From: say.Text("Perth, ON"), To: say.Text("Gaspé, QC; the quay"), Plan: shutPlan()}
		if i%2 == 0 {
			r.Move, r.ID = i/2, fmt.Sprint("M-", i/2)
			m.Order = append(m.Order, i/2)
		}
		m.Runs = append(m.Runs, r)
	}
	return m
}

// The answer fits the screen however many units there are, in both languages.
func TestMovesFitTheScreen(t *testing.T) {
	for n := range 8 {
		for _, v := range views() {
			fits(t, movesText(t, v, crewed(t, n+1)))
		}
	}
}

func TestMovesSay(t *testing.T) {
	m, v := crewed(t, 2), report.View{In: phrase.English()}
	has(t, movesText(t, v, m), "2 units moved by one crew", "Order M-0, M-1, as listed", "1 M-0 Perth, ON",
		"2 none Perth, ON", "1 NOT KNOWN; FORBIDDEN", "with a unit and")
	m.Steady, m.Given = false, &trip.Dates{Chosen: timetable.Outcome{}, Given: timetable.Outcome{Late: 3_600_000_000_000}}
	has(t, movesText(t, v, m), "no other order is better; that of the list is 1 h 00 min later after its deadlines",
		"rules were NOT asked at the hours of this timetable")
	m.Sure, m.Given.Given.Never = false, true
	has(t, movesText(t, v, m),
		"NOT ALL orders were tried, another may be better; in that of the list the end is never reached")
	m.Given, m.Timetable = nil, nil
	text := movesText(t, v, m)
	has(t, text, "some time is NOT KNOWN, so no better order could be sought", "Times NOT KNOWN: a part of the way")
	if m.Verdict.Outcome() == finding.Clear {
		t.Error("clear")
	}
}
