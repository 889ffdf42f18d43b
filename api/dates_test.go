package api_test

import (
	"net/http"
	"testing"
	"time"

	"wayhouse/api"
)

// dated is a short trip with dates at its stops, a crew and a pace.
func dated(changes ...object) object {
	visits := []object{
		{"place": "Perth, ON", "packing": "1 h"},
		{"place": "Smiths Falls, ON", "arrive_from": "2027-05-14T09:00", "arrive_by": "2027-05-14T18:00", "stay": "2 h",
			"until": "2027-05-15T09:00", "set_up": "45 min", "nights": 1, "packing": "1 h 30 min"},
		{"place": "Cornwall, ON", "arrive_by": "2027-05-15T18:00-04:00"},
	}
	return short(object{"height": "4.05 m"}, append([]object{{
		"stops": visits, "depart": nil, "crew": object{"drivers": 2, "driving": "8 h", "rest": "9 h"},
		"pace": object{
			"not_driven_per_hour": "5 min",
			"load_check_after":    "40 km",
			"load_check_every":    "240 km",
			"load_check":          "10 min",
			"fuel_every":          "400 km",
			"fuel_stop":           "20 min",
			"border":              "1 h",
			"ferry":               "45 min",
			"handover":            "30 min",
			"hours":               "06:00-23:00",
		},
	}}, changes...)...)
}

// A trip without a departure leaves as late as its deadline lets it, and comes in time: its
// leg ends at the deadline, to the minute.
func TestATripIsPlannedFromItsDeadline(t *testing.T) {
	got := planned(t, text(dated()))
	by := time.Date(2027, 5, 14, 22, 0, 0, 0, time.UTC) // 18:00 in Ontario
	if len(got.Legs) != 2 || got.Legs[0].EndSlow == nil || !got.Legs[0].EndSlow.Equal(by) {
		t.Fatalf("departs at %s, legs %+v", got.Departure, got.Legs)
	}
	if got.Legs[1].StartSlow.Before(time.Date(2027, 5, 15, 13, 0, 0, 0, time.UTC)) || got.Arrival == nil {
		t.Errorf("goes on at %s, arrives at %v", got.Legs[1].StartSlow, got.Arrival)
	}
	numbers := object{
		"not_driven_per_hour": "5 min",
		"load_check_after_km": 40,
		"load_check_every_km": 240,
		"load_check":          "10 min",
		"fuel_every_km":       400,
		"fuel_stop":           "20 min",
		"hours":               "06:00-23:00",
	}
	same := planned(t, text(dated(object{"depart": got.Departure.Format(time.RFC3339), "pace": numbers})))
	if !same.Late.Equal(*got.Late) {
		t.Errorf("forwards it arrives at %s, backwards at %s", same.Late, got.Late)
	}
}

// Slips of dates are refused with their fields.
func TestDatesThatCannotBe(t *testing.T) {
	for field, stops := range map[string][]object{
		"stops[1].arrive_by": {{"place": "Perth, ON"}, {
			"place": "Smiths Falls, ON", "arrive_from": "2027-05-14T18:00", "arrive_by": "2027-05-14T09:00",
		}},
		"stops[0].arrive_by": {{"place": "Perth, ON", "arrive_by": "2027-05-14T09:00"}, {"place": "Smiths Falls, ON"}},
		"stops[1].until":     {{"place": "Perth, ON"}, {"place": "Smiths Falls, ON", "until": "Sunday"}},
		"stops[1].stay":      {{"place": "Perth, ON"}, {"place": "Smiths Falls, ON", "stay": "a while"}},
	} {
		w := post(t, text(dated(object{"stops": stops})))
		p := read[api.Problem](t, w)
		if w.Code != http.StatusUnprocessableEntity || len(p.Errors) != 1 || p.Errors[0].Field != field ||
			p.Errors[0].Fix == "" {
			t.Errorf("%s: %d, %s", field, w.Code, w.Body)
		}
	}
}

// Hours that are none are refused.
func TestHoursOfACrewThatAreNone(t *testing.T) {
	w := post(t, text(dated(object{"pace": object{"hours": "by day"}})))
	p := read[api.Problem](t, w)
	if w.Code != http.StatusUnprocessableEntity || len(p.Errors) != 1 || p.Errors[0].Field != "pace.hours" ||
		p.Errors[0].Fix == "" {
		t.Errorf("%d, %s", w.Code, w.Body)
	}
}

// A deadline on a Sunday in Quebec, which its permits keep free (C-24.2, r. 35, s. 10), would
// be met with another permit of Quebec, or by a unit that needs none there.
func TestAMissedDeadlineTriesAnotherPermit(t *testing.T) {
	got := planned(t, text(short(object{}, object{
		"unit": fileFields(t, "unit.yaml"), "tow": fileFields(t, "tow.yaml"), "use": "commercial",
		"stops": []object{
			{"place": "Cornwall, ON"}, {"place": "Sorel-Tracy, QC", "arrive_by": "2027-05-16T14:00"},
		},
		"depart": "2027-05-15T22:00",
	})))
	if got.Timetable == nil || got.Timetable.Missed == nil {
		t.Fatalf("nothing is missed: %+v", got.Timetable)
	}
	met := map[string]bool{}
	for _, r := range got.Timetable.Missed.Tried {
		met[string(r.Kind)+" "+r.Jurisdiction] = r.Does && (r.Kind != "permit" || r.Ask != "") &&
			(r.Kind != "narrower" || r.SizeM != nil && r.LessM != nil && *r.SizeM < 2.55)
	}
	if !met["permit CA-QC"] || !met["narrower "] {
		t.Errorf("tried %+v", got.Timetable.Missed.Tried)
	}
}
