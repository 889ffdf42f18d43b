package api_test

import (
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wayhouse/api/wire"
)

func askMoves(t testing.TB, q object) *httptest.ResponseRecorder {
	t.Helper()
	return ask(t.Context(), handler(), http.MethodPost, "/v1/moves", text(q))
}

// move is a unit to be moved from one town to another.
func move(id, from, to string, more ...object) object {
	of := object{
		"id":     id,
		"stops":  []object{{"place": from}, {"place": to}},
		"use":    "commercial",
		"depart": "2027-05-11T08:00",
	}
	return short(object{}, append([]object{of}, more...)...)
}

// The better order begins where the crew is; what the tow vehicle drives alone is judged by
// its own sizes, and legs of all runs stand in one timetable.
func TestMovesOfOneCrew(t *testing.T) {
	tow := object{"name": "truck", "height": "2 m", "width": "2.4 m", "length": "6.5 m", "form": "pickup"}
	due := []object{{"place": "Ottawa, ON"}, {"place": "Cornwall, ON", "arrive_by": "2027-05-11T11:00"}}
	w := askMoves(
		t,
		object{"base": "Ottawa, ON", "back": true, "begin": "2027-05-11T07:00", "best_order": true, "moves": []object{
			move(
				"far",
				"Cornwall, ON",
				"Perth, ON",
				object{"tow": tow, "any_order": true},
			), move("near", "Ottawa, ON", "Cornwall, ON", object{"stops": due}),
		}},
	)
	expect(t, w, http.StatusOK, "application/json")
	got := read[wire.Moves](t, w)
	if diff := cmp.Diff([]string{"near", "far"}, got.Order.Moves); diff != "" {
		t.Error(diff)
	}
	if got.Timetable == nil || got.Timetable.Missed != nil || !got.AtItsHours || !got.Order.Best {
		t.Errorf("%+v %+v", got.Order, got.Timetable)
	}
	legs := 0
	for _, r := range got.Runs {
		legs += len(r.Planned.Legs)
		if r.Loaded != (r.ID != "") || r.Planned.LengthM <= 0 {
			t.Errorf("%+v", r)
		}
	}
	if sum := got.LoadedM + got.EmptyM; sum-got.LengthM > 1 || got.LengthM-sum > 1 || legs == 0 {
		t.Errorf("%.0f m with, %.0f m without a unit of %.0f m", got.LoadedM, got.EmptyM, got.LengthM)
	}
}

func TestRefusesMoves(t *testing.T) {
	other := object{"tow": object{"height": "2.2 m"}}
	for name, tc := range map[string]struct {
		q    object
		want entry
	}{
		"none": {object{"moves": []object{}}, entry{"moves", "", "", ""}},
		"a wrong height": {object{"moves": []object{short(object{"height": "x"})}},
			entry{"moves[0].unit.height", "x", "", ""}},
		"another truck": {object{"moves": []object{short(nil), short(nil, other)}},
			entry{"moves[1].tow", "", "first move", "leave it out"}},
		"no base": {object{"back": true, "moves": []object{short(nil)}},
			entry{"back", "true", "no base", "give base"}},
		"nowhere": {object{"base": "Xyzzyx", "moves": []object{short(nil)}}, entry{"base", "Xyzzyx", "", ""}},
		"a route": {object{"moves": []object{short(nil, object{"route": object{"roads": []string{"43"}}})}},
			entry{"moves[0].stops", "2", "one unit", "no route"}},
	} {
		t.Run(name, func(t *testing.T) { refused(t, askMoves(t, tc.q), http.StatusUnprocessableEntity, tc.want) })
	}
}
