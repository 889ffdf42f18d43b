package report_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/tours"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/timetable"
)

func daysOf(in *phrase.Language, p *trip.Plan) (out []string) {
	for _, d := range p.Timetable.Days {
		out = append(out, in.Say(report.DayHead(in, p, d)), "- "+in.All(report.DayDetails(in, p, d)))
	}
	return out
}

// A day says when it is driven, what it passes and where it ends; the Sunday on which
// nothing may move is spent where the Saturday ended.
func TestDays(t *testing.T) {
	p := tours.Show(t, nil)
	english := []string{
		"Wednesday 2027-05-12: 08:00 EDT to 18:40 (17:40 likely), 809.1 km in 10 h 00 min, then parked on the way",
		"- travel is allowed from 06:00 until 20:00; CA-QC 13:20; 4 load checks; then parked until Thursday 2027-05-13 06:00 EDT, " +
			"when travel is allowed again, " +
			"809.1 km along the way: place to park to be arranged",
		"Thursday 2027-05-13: 06:00 EDT to Gaspé, QC; the quay 12:20 (11:44 likely), 490.9 km in 6 h 00 min",
		"- travel is allowed from 06:00 until 20:00; reaches Gaspé, QC; the quay 12:20 (11:44 likely), due by Friday 2027-05-14 18:00 EDT, " +
			"29 h 40 min to spare; setting up 12:20 to 13:20; 2 load checks; then at Gaspé, QC; the quay until Saturday 2027-05-15 10:00 EDT",
		"Saturday 2027-05-15: 11:00 EDT to 20:00 (19:09 likely), 695.5 km in 8 h 30 min, then parked on the way",
		"- travel is allowed from 06:00 until 20:00; packing 10:00 to 11:00; 3 load checks; then parked until Monday 2027-05-17 06:00 EDT, " +
			"when travel is allowed again, 1,995.5 km along the way: place to park to be arranged",
		"Monday 2027-05-17: 06:00 EDT to Perth, ON 14:00 (12:24 likely), 604.5 km in 7 h 30 min",
		"- travel is allowed from 06:00 until 20:00; CA-ON 08:40; 3 load checks",
	}
	if got := daysOf(phrase.English(), p); !cmp.Equal(got, english) {
		t.Errorf("(- want, + got) %s", cmp.Diff(english, got))
	}
	french := "- circulation permise dès 6 h 00 jusqu'à 20 h 00; préparation au départ de 10 h 00 à 11 h 00; " +
		"3 vérifications de la charge; puis stationné jusqu'au lundi 17 mai 2027, 6 h 00 HAE, quand la circulation est de nouveau permise, " +
		"à 1 995,5 km du départ\u00a0: place de stationnement à trouver"
	if got := daysOf(phrase.French(), p)[5]; strings.ReplaceAll(got, "\u202f", " ") != french {
		t.Errorf("(- want, + got) %s", cmp.Diff(french, got))
	}
}

// What cannot be met is said with what would do and what would not, both tried.
func TestMissedDeadlines(t *testing.T) {
	p := tours.Show(t, func(j *timetable.Journey) { j.Stops[1].By = j.Stops[1].By.Add(-34 * time.Hour) })
	for _, v := range views() {
		fits(t, planText(t, v, p))
	}
	full := planText(t, report.View{In: phrase.English(), Full: true}, p)
	for _, want := range []string{
		"MISSED: Gaspé, QC; the quay is reached 4 h 20 min late at the least", "in the way: hours of travel, hours of driving",
		"would do: to leave earlier, on Tuesday 2027-05-11 15:30 EDT", "would not do: a second driver (still 3 h 00 min late)",
		"travel at any hour (still 1 h 00 min late)", "due by 08:00, 4 h 20 min LATE",
	} {
		if !strings.Contains(strings.Join(strings.Fields(full), " "), want) {
			t.Errorf("%q is missing in %s", want, full)
		}
	}
}

// A deadline that is kept is said with the latest departure that keeps it, and hours that
// hang on a list of holidays with that.
func TestLatestDeparture(t *testing.T) {
	p := tours.Show(t, func(j *timetable.Journey) {
		for _, d := range j.Drives {
			for i := range d {
				spans := slices.Clone(d[i].Hours.Spans)
				spans[2].IfHolidays = true
				d[i].Hours = &timetable.Hours{Spans: spans}
			}
		}
	})
	text := strings.Join(strings.Fields(planText(t, report.View{In: phrase.English()}, p)), " ")
	for _, want := range []string{"latest departure Thursday 2027-05-13", "later than this plan", "to spare: Gaspé, QC; the quay 29 h 40 min", "IF THE LIST OF HOLIDAYS IS RIGHT"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in %s", want, text)
		}
	}
}
