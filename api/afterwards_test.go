package api_test

import (
	"net/http"
	"strings"
	"testing"
)

// A rig that goes home or on afterwards drives one way more, as if that place were its last stop.
func TestAfterwards(t *testing.T) {
	stops := []object{{"place": "Perth, ON"}, {"place": "Cornwall, ON", "stay": "2 h"}, {"place": "Ottawa, ON"}}
	for to, place := range map[string]string{"home": "Perth, ON", " Home": "Perth, ON", "Montréal, QC": "Montréal, QC"} {
		got := planned(t, text(short(nil, object{"stops": stops, "afterwards": object{"to": to}})))
		want := planned(t, text(short(nil, object{"stops": append(stops[:3:3], object{"place": place})})))
		if got.LengthM != want.LengthM || got.Legs[len(got.Legs)-1].To != place || len(got.Timetable.Stops) != 4 {
			t.Errorf("%s: %.0f m to %s, %.0f m as a stop", to, got.LengthM, got.Legs[len(got.Legs)-1].To, want.LengthM)
		}
	}
	for to, says := range map[string]string{"Ottawa, ON": "ends already", "Xyzzyville": "Xyzzyville"} {
		res := post(t, text(short(nil, object{"stops": stops, "afterwards": object{"to": to}})))
		if body := res.Body.String(); res.Code != http.StatusUnprocessableEntity || !strings.Contains(body, says) ||
			!strings.Contains(body, `"field": "afterwards.to"`) {
			t.Errorf("%s: %d %s", to, res.Code, body)
		}
	}
	line := object{"roads": []string{"43", "416", "401"}}
	res := post(t, text(short(nil, object{"route": line, "afterwards": object{"to": "home"}})))
	if body := res.Body.String(); res.Code != http.StatusUnprocessableEntity || !strings.Contains(body, `"afterwards"`) {
		t.Errorf("beside a route: %d %s", res.Code, body)
	}
}
