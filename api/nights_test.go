package api_test

import (
	"slices"
	"testing"
	"time"

	"wayhouse/api/tours"
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/timetable"
)

// The JSON of a timetable names the place at which a rest is taken, with what the map says of it.
func TestANightAtAPlaceInJSON(t *testing.T) {
	p := tours.Show(t, nil)
	at := slices.IndexFunc(p.Timetable.Entries, func(e timetable.Entry) bool {
		return e.Kind == timetable.Rest && e.Stop < 0
	})
	e := p.Timetable.Entries[at]
	place := network.Place{Kind: network.TruckParking, Name: "Invented Lot"}
	place.Trucks, place.Hours, place.Fee, place.Toilets = measure.Exactly(12), "24/7", "no", "yes"
	p.Timetable.Nights = []trip.Night{{
		Halt: network.Halt{Place: place, There: 400}, Along: e.Begins, Drive: e.Drive, Section: e.Section,
		Later: 12 * time.Minute,
	}}
	places := 0
	for _, d := range answered(t, p).Days {
		for _, e := range d.Entries {
			if e.RestsAt == nil {
				continue
			}
			places++
			if r := *e.RestsAt; e.Kind != timetable.Rest || r.Kind != "truck parking" || *r.TruckLots != 12 ||
				r.OffM != 400 || r.LaterS != 720 || r.OpeningHours != "24/7" || r.Charge != "no" ||
				r.Toilets != "yes" || r.AlongM != e.BeginsM {
				t.Errorf("%+v", r)
			}
		}
	}
	if places != 1 {
		t.Errorf("%d places", places)
	}
}
