package report_test

import (
	"strings"
	"testing"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/tours"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/timetable"
)

// The days say what their fuel stops rest on, in both languages.
func TestDaysSayWhatFuelStopsRestOn(t *testing.T) {
	for by, change := range map[trip.Fuelling]func(*timetable.Journey){
		trip.ByPace: func(j *timetable.Journey) { j.Habits.FuelEvery = 500_000 },
		trip.ByTank: func(j *timetable.Journey) {
			for _, d := range j.Drives {
				for i := range d {
					d[i].Burns = []timetable.Burnt{{Way: d[i].Length, Share: float64(d[i].Length) / 500_000}}
				}
			}
		},
	} {
		p := tours.Show(t, func(j *timetable.Journey) {
			j.Habits.Fuel = 20 * time.Minute
			change(j)
		})
		if got := p.Timetable.Fuelling(); got != by {
			t.Errorf("rests on %s, want %s", got, by)
		}
		for _, in := range []*phrase.Language{phrase.English(), phrase.French()} {
			want := map[trip.Fuelling]map[bool]string{
				trip.ByPace: {true: "spaced as asked", false: "espacés comme demandé"},
				trip.ByTank: {true: "as far as the tank surely lasts", false: "aussi loin que le réservoir tient sûrement"},
			}[by][in == phrase.English()]
			said := ""
			for _, d := range p.Timetable.Days {
				said += in.All(report.DayDetails(in, p, d)) + "\n"
			}
			if n := strings.Count(said, want); n == 0 {
				t.Errorf("%s: %q is not in\n%s", by, want, said)
			}
		}
	}
}
