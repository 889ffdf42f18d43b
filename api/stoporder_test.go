package api_test

import (
	"slices"
	"testing"
)

// Under dates the order is that of the best timetable, and a plan says what it saves; without
// leave to change it a plan says that another order would do.
func TestAnyOrderUnderDates(t *testing.T) {
	stops := []object{
		{"place": "Perth, ON"}, {"place": "Montréal, QC", "nights": 2},
		{"place": "Cornwall, ON", "arrive_by": "2027-05-13T18:00"},
		{"place": "Ottawa, ON"},
	}
	asked := object{"stops": stops, "depart": "2027-05-13T08:00"}
	as := planned(t, text(short(nil, asked)))
	asked["any_order"] = true
	got := planned(t, text(short(nil, asked)))
	o := got.StopOrder
	if o == nil || o.By != "dates" || !slices.Equal(o.Stops, []int{0, 2, 1, 3}) || o.LateS != 0 || *o.GivenLateS <= 0 ||
		got.Timetable.Missed != nil {
		t.Errorf("%+v, missed %+v", o, got.Timetable.Missed)
	}
	tried := as.Timetable.Missed.Tried
	if r := tried[len(tried)-1]; as.StopOrder != nil || r.Kind != "order" ||
		!r.Does || !slices.Equal(r.Stops, o.Stops) {
		t.Errorf("%+v", tried)
	}
}
