package api_test

import (
	"net/http"
	"net/http/httptest"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
)

func askLadders(t testing.TB, q object) *httptest.ResponseRecorder {
	t.Helper()
	return ask(t.Context(), handler(), http.MethodPost, "/v1/ladders", text(q))
}

func laddered(t testing.TB, q object) wire.Ladders {
	t.Helper()
	w := askLadders(t, q)
	expect(t, w, http.StatusOK, "application/json")
	return read[wire.Ladders](t, w)
}

func TestRefusesLadders(t *testing.T) {
	for name, tc := range map[string]struct {
		fields object
		want   entry
	}{
		"no such quantity": {object{"quantity": "length"}, entry{"quantity", "length", "is not known", "height"}},
		"a number":         {object{"quantity": 4}, entry{"quantity", "4", "is no text", "in quotes"}},
		"one stop":         {object{"stops": []object{{"place": "Perth, ON"}}}, entry{"stops", "", "", ""}},
		"a route": {object{"route": object{"roads": []string{"43"}}}, entry{"stops", "2", "between stops",
			"no route"}},
		"avoiding": {object{"avoid_unmeasured": true}, entry{"avoid_unmeasured", "true",
			"nothing to ask of a ladder", "leave it out"}},
		"alternatives": {object{"alternatives": 2}, entry{"alternatives", "", "no field here", "spelling"}},
		"bare height": {object{"rig": object{"height": 4}}, entry{"rig.height", "4", "a number without a unit",
			"height_m"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, askLadders(t, short(nil, tc.fields)), http.StatusUnprocessableEntity, tc.want)
		})
	}
	p := refused(
		t,
		askLadders(t, short(object{"height": ""}, object{"avoid_unmeasured": true})),
		422,
		entry{"unit.height", "", "is empty", ""},
	)
	if len(p.Errors) != 2 {
		t.Errorf("%+v", p.Errors)
	}
}

// The steps of the example fall from the greatest height to the fastest way; the
// last that the rig passes by is the way that is planned.
func TestLaddersOfExample(t *testing.T) {
	got := laddered(t, example(t, "", ""))
	if got.Mark != wire.InventedMark || got.Quantity != "height" || got.Rig == nil ||
		*got.Rig != "4.05 m (≈ 13 ft 3 1/2 in)" ||
		!got.Open.Complete ||
		!got.Shut.Complete {
		t.Errorf("%+v", got)
	}
	steps := got.Open.Steps
	var takes wire.LadderStep
	for i, s := range steps {
		if s.Mark != wire.InventedMark || (s.Most == nil) != (s.MostM == nil) || s.MostKG != nil || s.Passes == nil ||
			*s.Passes != (s.MostM == nil || *s.MostM >= 4.05) ||
			(s.By == "") != (s.Most == nil) {
			t.Errorf("step %d: %+v", i, s)
		}
		if i > 0 &&
			(*s.DrivingS >= *steps[i-1].DrivingS || s.MostM == nil || steps[i-1].MostM != nil && *s.MostM >= *steps[i-1].MostM) {
			t.Errorf("step %d: %+v is above %+v", i, steps[i-1], s)
		}
		if !slices.Equal(s.Jurisdictions, []string{"CA-ON", "CA-QC"}) || s.Unknowns == nil {
			t.Errorf("step %d: %+v", i, s)
		}
		if *s.Passes {
			takes = s
		}
	}
	if plan := planned(t, text(example(t, "", ""))); len(steps) < 2 || takes.LengthM != plan.LengthM ||
		*takes.DrivingS != *plan.DrivingS {
		t.Errorf("%d steps; the rig takes %+v, the plan %.0f m", len(steps), takes, plan.LengthM)
	}
	if len(got.Legal) != 2 || got.Legal[0].Jurisdiction != "CA-ON" || got.Legal[0].Most == nil ||
		got.Legal[1].Most != nil {
		t.Errorf("legal %+v", got.Legal)
	}
	if diff := cmp.Diff(phrase.English().Each(trip.LadderCautions()), got.Cautions); diff != "" ||
		len(got.Attributions) == 0 ||
		got.Network.Credit == "" ||
		got.Revision() != service().Planner.Tables.Revision {
		t.Errorf("%+v %s", got.Network, diff)
	}
}

// A tour has one ladder: each step names the drives that bind it, and the one that the rig
// takes is the tour that is planned.
func TestLadderOfATour(t *testing.T) {
	q := example(t, "", "")
	stops := q["stops"].([]any)
	q["stops"] = []any{stops[0], object{"place": "Ottawa, ON"}, stops[len(stops)-1]}
	got, plan := laddered(t, q), planned(t, text(q))
	if !slices.Equal(got.Via, []string{"Ottawa, ON"}) {
		t.Errorf("by way of %v", got.Via)
	}
	bound, takes := map[int]bool{}, wire.LadderStep{}
	for _, s := range got.Open.Steps {
		if (s.Most == nil) != (len(s.Binds) == 0) {
			t.Errorf("%+v", s)
		}
		for _, drive := range s.Binds {
			bound[drive] = true
		}
		if *s.Passes {
			takes = s
		}
	}
	if !bound[1] && !bound[2] || bound[0] || bound[3] || takes.LengthM != plan.LengthM ||
		*takes.DrivingS != *plan.DrivingS {
		t.Errorf("drives %v bind; the rig takes %+v, the plan %.0f m", bound, takes, plan.LengthM)
	}
}

// A ladder needs no rig; other quantities have their own numbers.
func TestOtherLadders(t *testing.T) {
	none := laddered(t, short(nil, object{"unit": object{}}))
	if none.Rig != nil || none.Mark != "" || len(none.Open.Steps) != 1 || none.Open.Steps[0].Passes != nil ||
		none.Open.Steps[0].Most != nil {
		t.Errorf("%+v", none)
	}
	got := laddered(t, short(nil, object{"quantity": "mass", "rig": object{"mass": "10 t"}}))
	if got.Quantity != "mass" || got.Rig == nil || len(got.Open.Steps) == 0 || got.Open.Steps[0].MostM != nil {
		t.Errorf("%+v", got)
	}
}

func TestNewLadders(t *testing.T) {
	for _, tc := range []struct {
		quantity rig.Quantity
		most     int64
		want     wire.LadderStep
	}{
		{rig.Height, 4_000_000_000, wire.LadderStep{Rows: []wire.Citation{}, MostM: ptr(4.0),
			Most: ptr("4 m (≈ 13 ft 1 3/8 in)")}},
		{rig.Mass, 1_000_000_000_000, wire.LadderStep{Rows: []wire.Citation{}, MostKG: ptr(10_000.0),
			Most: ptr("10,000 kg (≈ 22,040 lb)")}},
	} {
		l := wire.NewLadders(
			phrase.English(),
			&trip.Ladders{
				Stops:    []string{"A", "B", "C"},
				Quantity: tc.quantity,
				Shut:     choosing.Ladder{Why: say.Text("no way")},
				Open: choosing.Ladder{
					Steps: []choosing.Step{
						{
							Most:     tc.most,
							Binds:    []int{1},
							By:       say.Text("a bridge"),
							Ferry:    true,
							Unknowns: []say.Remark{say.Text("wire")},
							Time:     driving.Duration{Unknown: say.Text("a ferry")},
						},
					},
				},
			},
		)
		tc.want.By, tc.want.Binds, tc.want.Ferry, tc.want.Unknowns, tc.want.DrivingWhy,
			tc.want.Jurisdictions = "a bridge", []int{
			2,
		}, true, []string{
			"wire",
		}, "a ferry", []string{}
		if diff := cmp.Diff([]wire.LadderStep{tc.want}, l.Open.Steps); diff != "" || l.Shut.Why != "no way" ||
			l.Shut.Steps == nil {
			t.Error(diff)
		}
	}
}

func ptr[T any](v T) *T { return &v }
