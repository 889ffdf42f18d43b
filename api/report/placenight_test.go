package report_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/tours"
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/timetable"
)

// A night at a place of the network is told of with what the map says of the place.
func TestANightAtAPlace(t *testing.T) {
	p := tours.Show(t, nil)
	at := slices.IndexFunc(p.Timetable.Entries, func(e timetable.Entry) bool {
		return e.Kind == timetable.Rest && e.Stop < 0
	})
	e := p.Timetable.Entries[at]
	place := network.Place{Kind: network.TruckParking, Name: "Invented Lot"}
	place.Trucks, place.Hours, place.Toilets = measure.Exactly(12), "24/7", "no"
	p.Timetable.Nights = []trip.Night{{
		Halt: network.Halt{Place: place, There: 400}, Along: e.Begins, Drive: e.Drive, Section: e.Section,
		Later: 12 * time.Minute,
	}}
	for in, want := range map[*phrase.Language]string{
		phrase.English(): "at the truck parking Invented Lot, 809.1 km along the way and 400 m off it, " +
			"12 lots for trucks, open 24/7, toilets: no",
		phrase.French(): "Invented Lot, à 809,1 km du départ et à 400 m du parcours, 12 places pour camions",
	} {
		said := in.All(report.DayDetails(in, p, p.Timetable.Days[0]))
		plain := strings.ReplaceAll(said, "\u00a0", " ")
		if !strings.Contains(plain, want) || strings.Contains(plain, "to be arranged") {
			t.Errorf("%s", said)
		}
	}
}
