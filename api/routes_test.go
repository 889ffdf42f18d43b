package api_test

import (
	"context"
	"math"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/standing"
)

func askRoutes(t testing.TB, q object, headers ...string) *httptest.ResponseRecorder {
	t.Helper()
	return ask(t.Context(), handler(), http.MethodPost, "/v1/routes", text(q), headers...)
}

// routed are the ways that a request must get.
func routed(t testing.TB, q object) wire.Routes {
	t.Helper()
	w := askRoutes(t, q)
	expect(t, w, http.StatusOK, "application/json")
	return read[wire.Routes](t, w)
}

// whole is the example with everything asked for.
func whole(t testing.TB, fields object) object {
	q := example(t, "", "")
	q["alternatives"], q["reasons"] = 2, true
	for k, v := range fields {
		q[k] = v
	}
	return q
}

var square = object{"type": "Polygon", "coordinates": [][][2]float64{{{-75.8, 44.9}, {-75.6, 44.9}, {-75.6, 45.1}, {-75.8, 45.1}, {-75.8, 44.9}}}}

// wishing is a short trip with these wishes.
func wishing(wishes object) object { return short(nil, object{"wishes": wishes}) }

// Each wish that cannot be used is named with its value and how to mend it, by
// all that take wishes.
func TestRefusesWishes(t *testing.T) {
	for name, tc := range map[string]struct {
		wishes object
		want   entry
	}{
		"unknown wish":        {object{"no_bridges": true}, entry{"wishes.no_bridges", "", "no field here", "spelling"}},
		"no yes or no":        {object{"no_tolls": "yes"}, entry{"wishes.no_tolls", "yes", "neither true nor false", "true or false"}},
		"unknown code":        {object{"not_in": []string{"CA-ON", "XX-YY"}}, entry{"wishes.not_in[1]", "XX-YY", "is no jurisdiction", "CA-ON"}},
		"a name misspelt":     {object{"not_in": []string{"Ontaria"}}, entry{"wishes.not_in[0]", "Ontaria", "is no jurisdiction", "there is Ontario (CA-ON)"}},
		"a country":           {object{"not_in": []string{"CA"}}, entry{"wishes.not_in[0]", "CA", "is no jurisdiction", "there is California (US-CA)"}},
		"empty code":          {object{"not_in": []string{""}}, entry{"wishes.not_in[0]", "", "is no jurisdiction", "CA-ON"}},
		"no area":             {object{"not_through": line(3)}, entry{"wishes.not_through", "", "is no area", "Polygon"}},
		"too many points":     {object{"not_through": object{"type": "Polygon", "coordinates": []any{circle(trip.MaxLinePoints)}}}, entry{"wishes.not_through", "20001", "more than", "coarsely"}},
		"empty road":          {object{"not_by": []string{" "}}, entry{"wishes.not_by[0]", " ", "is empty", "401"}},
		"unknown road":        {object{"by": []string{"9999"}}, entry{"wishes.by[0]", "9999", "is no road of this network", "check its number"}},
		"unknown road not by": {object{"not_by": []string{"43", "Xyzzy Lane"}}, entry{"wishes.not_by[1]", "Xyzzy Lane", "is no road of this network", "check its number"}},
		"5 roads":             {object{"by": slices.Repeat([]string{"43"}, 5)}, entry{"wishes.by", "", "more than 4", "4 at the most"}},
		"21 roads":            {object{"not_by": slices.Repeat([]string{"43"}, 21)}, entry{"wishes.not_by", "", "more than 20", "20 at the most"}},
		"hazmat":              {object{"hazmat": "a little"}, entry{"wishes.hazmat", "a little", "is not known", "yes"}},
		"bare speed":          {object{"top_speed": 90}, entry{"wishes.top_speed", "90", "a number without a unit", "90 km/h"}},
		"bare speed in text":  {object{"top_speed": "90"}, entry{"wishes.top_speed", "90", "has no unit", "mph"}},
		"absurd speed":        {object{"top_speed": "900 km/h"}, entry{"wishes.top_speed", "900 km/h", "outside", "check the figure"}},
		"bare cost":           {object{"permit_cost": 30}, entry{"wishes.permit_cost", "30", "a number without a unit", "30 min"}},
		"bare cost in text":   {object{"permit_cost": "30"}, entry{"wishes.permit_cost", "30", "no time with a unit", "30 min"}},
		"negative cost":       {object{"permit_cost": "-30 min"}, entry{"wishes.permit_cost", "-30m", "is no detour", "24 hours"}},
		"a year":              {object{"permit_cost": "8760 h"}, entry{"wishes.permit_cost", "8760h", "is no detour", "24 hours"}},
		"cost of nowhere":     {object{"permit_costs": object{"XX-YY": "2 h"}}, entry{"wishes.permit_costs", "XX-YY", "is no jurisdiction", "CA-ON"}},
		"cost twice":          {object{"permit_costs": object{"ca-on ": "2 h", "CA-ON": "2 h"}}, entry{"wishes.permit_costs", "ca-on ", "is given twice", "one of the two"}},
		"bare of one":         {object{"permit_costs": object{"CA-ON": 2}}, entry{"wishes.permit_costs.CA-ON", "2", "a number without a unit", "2 h"}},
		"bare of one in text": {object{"permit_costs": object{"CA-ON": "2"}}, entry{"wishes.permit_costs.CA-ON", "2", "no time with a unit", "2 h"}},
		"once of none":        {object{"once": true}, entry{"wishes.once", "true", "permit_costs", "name them"}},
	} {
		t.Run(name, func(t *testing.T) {
			for _, path := range []string{"/v1/trips", "/v1/routes", "/v1/ladders"} {
				refused(t, ask(t.Context(), handler(), http.MethodPost, path, text(wishing(tc.wishes))), http.StatusUnprocessableEntity, tc.want)
			}
		})
	}
	// All mistakes come at once.
	bad := object{"not_in": []string{"XX"}, "top_speed": "90", "permit_cost": "30", "by": []string{""}, "not_through": "north"}
	q := wishing(bad)
	q["unit"] = object{"height": ""}
	p := refused(t, askRoutes(t, q), 422, entry{"wishes.by[0]", "", "is empty", ""})
	var fields []string
	for _, e := range p.Errors {
		fields = append(fields, e.Field)
	}
	slices.Sort(fields)
	if diff := cmp.Diff([]string{"unit.height", "wishes.by[0]", "wishes.not_in[0]", "wishes.not_through", "wishes.permit_cost", "wishes.top_speed"}, fields); diff != "" {
		t.Error(diff)
	}
}

// circle is a closed ring of n different points.
func circle(n int) (ring [][2]float64) {
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		ring = append(ring, [2]float64{-75 + cos, 45 + sin})
	}
	return append(ring, ring[0])
}

func TestRefusesRoutes(t *testing.T) {
	for name, tc := range map[string]struct {
		fields object
		want   entry
	}{
		"4 alternatives":   {object{"alternatives": 4}, entry{"alternatives", "4", "outside 0 to 3", "check the figure"}},
		"-1 alternatives":  {object{"alternatives": -1}, entry{"alternatives", "-1", "outside 0 to 3", "check the figure"}},
		"in words":         {object{"alternatives": "two"}, entry{"alternatives", "two", "is no whole number", "without quotes"}},
		"unknown field":    {object{"quantity": "height"}, entry{"quantity", "", "no field here", "spelling"}},
		"one stop":         {object{"stops": []object{{"place": "Perth, ON"}}}, entry{"stops", "1", "two stops", "add them"}},
		"revision of none": {object{"tables_revision": 7}, entry{"tables_revision", "7", "no earlier tables are kept here", "leave it out"}},
		"too many to order": {object{"any_order": true, "stops": slices.Concat([]object{{"place": "Perth, ON"}}, places(11), []object{{"place": "Cornwall, ON"}})},
			entry{"any_order", "11", "more than 10 stops", "split"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, askRoutes(t, short(nil, tc.fields)), http.StatusUnprocessableEntity, tc.want)
		})
	}
}

// places are stops on one road, apart from each other.
func places(n int) (out []object) {
	for i := range n {
		out = append(out, object{"lat": 45.02 + 0.01*float64(i), "lon": -74.73 + 0.01*float64(i)})
	}
	return out
}

// The example goes round one structure, which is what bent it; the way that it
// would take is there and is not one to drive.
func TestRoutesOfExample(t *testing.T) {
	got := routed(t, whole(t, nil))
	if diff := cmp.Diff(planned(t, text(example(t, "", ""))), *got.Best, cmp.AllowUnexported(wire.Trip{})); diff != "" {
		t.Errorf("the best way is not the planned one:\n%s", diff)
	}
	if got.Mark != wire.InventedMark || got.Notice != got.Best.Notice || !slices.Equal(got.Order, []int{0, 1}) || len(got.Alternatives) != 2 || got.Difference != nil {
		t.Errorf("%s, %s, order %v, %d alternatives", got.Mark, got.Notice, got.Order, len(got.Alternatives))
	}
	for i, o := range got.Alternatives {
		checkOption(t, got.Best, o)
		if o.Trip.Verdict.Outcome == finding.Forbidden || *o.ExtraS < 0 || o.New < 0.2 || i > 0 && *o.ExtraS < *got.Alternatives[i-1].ExtraS {
			t.Errorf("alternative %d: %+v", i+1, o)
		}
	}
	if got.Free == nil || got.Free.Verdict.Outcome != finding.Forbidden || *got.Free.ExtraS > 0 {
		t.Fatalf("free: %+v", got.Free)
	}
	checkOption(t, got.Best, *got.Free)
	if got.PermitFree != nil || got.PermitFreeWhy == "" {
		t.Errorf("permit-free: %+v, %q", got.PermitFree, got.PermitFreeWhy)
	}
	r := got.Reasons
	if r == nil || len(r.Bent) != 1 || !r.Complete || r.Together != nil || len(r.Closing)+len(r.Nearest) != 0 {
		t.Fatalf("%+v", r)
	}
	b := r.Bent[0]
	if b.Mark != wire.InventedMark || r.Mark != wire.InventedMark || b.Kind != "structure" || !strings.Contains(b.What, "Mill Lane") || b.AloneS <= 0 || b.SavesS <= 0 || math.Abs(b.Lat-44.978) > 0.01 || math.Abs(b.Lon+75.746) > 0.01 {
		t.Errorf("%+v", b)
	}
}

// A summary says what the trip below it says.
func checkOption(t testing.TB, best *wire.Trip, o wire.Option) {
	t.Helper()
	if o.LengthM != o.Trip.LengthM || *o.DrivingS != *o.Trip.DrivingS || math.Abs(o.ExtraM-(o.LengthM-best.LengthM)) > 0.2 || math.Abs(*o.ExtraS-(*o.DrivingS-*best.DrivingS)) > 1.5 ||
		o.Verdict.Unknowns-best.Verdict.Unknowns != o.ExtraUnknowns || cmp.Diff(o.Verdict, o.Trip.Verdict) != "" || !slices.Equal(o.Jurisdictions, []string{"CA-ON", "CA-QC"}) || len(o.Roads) == 0 {
		t.Errorf("%.0f m in %v s, %.1f m and %v s more, %d unknowns more, in %v by %v", o.LengthM, *o.DrivingS, o.ExtraM, *o.ExtraS, o.ExtraUnknowns, o.Jurisdictions, o.Roads)
	}
}

// What rests on invented structures says so at every level.
func TestRoutesMarkInvented(t *testing.T) {
	q := whole(t, object{"invented": false})
	q["unit"].(object)["name"], q["tow"].(object)["name"] = "Thimmerel", "Drumbolk"
	uses, missing := unmarked(read[any](t, askRoutes(t, q)), "routes", []string{"Heron Rise", "Cedar Point", "Mill Lane", "made up for this example"})
	if !uses || len(missing) > 0 {
		t.Errorf("uses invented structures: %v; without a mark: %v", uses, missing)
	}
}

// Wishes bend a plan as they bend the ways, and are named where they do.
func TestWishesBend(t *testing.T) {
	free := planned(t, text(short(nil)))
	for name, wishes := range map[string]object{
		"not by":      {"not_by": []string{"401"}},
		"not through": {"not_through": square},
		"by":          {"by": []string{"2"}},
	} {
		t.Run(name, func(t *testing.T) {
			q := wishing(wishes)
			q["reasons"] = true
			got := routed(t, q)
			delete(q, "reasons")
			if plan := planned(t, text(q)); plan.LengthM != got.Best.LengthM || plan.LengthM == free.LengthM && name != "by" {
				t.Errorf("planned %.0f m, best %.0f m, without the wish %.0f m", plan.LengthM, got.Best.LengthM, free.LengthM)
			}
			for _, b := range got.Reasons.Bent {
				if b.Kind != "wish" || b.Mark != "" || b.SavesS <= 0 {
					t.Errorf("%+v", b)
				}
			}
			if len(got.Reasons.Bent) == 0 && name != "by" {
				t.Error("no reason")
			}
		})
	}
	slow, fast := planned(t, text(wishing(object{"top_speed": "50 km/h"}))), planned(t, text(wishing(object{"top_speed": "150 km/h", "hazmat": "no", "not_in": []string{"us-ny"}, "permit_cost": "30 min"})))
	if fast.LengthM != free.LengthM || slow.LengthM > free.LengthM {
		t.Errorf("%.0f m when slow, %.0f m when fast, %.0f m as it is", slow.LengthM, fast.LengthM, free.LengthM)
	}
}

// Stops are put in order only where that is asked for.
func TestAnyOrder(t *testing.T) {
	stops := []object{{"place": "Perth, ON"}, {"place": "Cornwall, ON"}, {"place": "Ottawa, ON"}, {"place": "Montréal, QC"}}
	as, any := routed(t, short(nil, object{"stops": stops})), routed(t, short(nil, object{"stops": stops, "any_order": true}))
	if !slices.Equal(as.Order, []int{0, 1, 2, 3}) || !slices.Equal(any.Order, []int{0, 2, 1, 3}) || any.Best.LengthM >= as.Best.LengthM || as.Reasons != nil {
		t.Errorf("%v in %.0f m, %v in %.0f m", as.Order, as.Best.LengthM, any.Order, any.Best.LengthM)
	}
}

// A given route stays as it is and is compared with the best way.
func TestRouteDifference(t *testing.T) {
	got := routed(t, short(nil, object{"route": object{"roads": []string{"43", "416", "401"}}, "reasons": true}))
	best := planned(t, text(short(nil)))
	d := got.Difference
	if !got.Best.GivenRoute || len(got.Order) != 0 || d == nil || d.Best == nil || len(d.Apart) == 0 || d.Best.LengthM != best.LengthM {
		t.Fatalf("%+v", d)
	}
	if math.Abs(*d.ExtraM-(got.Best.LengthM-best.LengthM)) > 0.2 || math.Abs(*d.ExtraS-(*got.Best.DrivingS-*best.DrivingS)) > 1.5 {
		t.Errorf("%v m and %v s more", *d.ExtraM, *d.ExtraS)
	}
	for _, s := range d.Apart {
		if s.LengthM <= 0 || s.AtM+s.LengthM > got.Best.LengthM+1 || len(s.Roads) == 0 {
			t.Errorf("%+v of %.0f m", s, got.Best.LengthM)
		}
	}
}

// Where every way is shut, what closes it and what would pass are there, with
// their marks.
func TestClosedRoutes(t *testing.T) {
	closing := &standing.Barrier{What: say.Text("Gannet Skyway: too low"), Kind: "structure", Point: orb.Point{-75, 45}, Invented: true, When: "Mo-Fr"}
	plan := must(service().Planner.Plan(t.Context(), must(wire.TripRequest{Stops: []wire.StopRequest{{Place: "Perth, ON"}, {Place: "Cornwall, ON"}}}.Read(wire.Known{Places: service().Places, Areas: service().Planner.Areas, Now: noon()}))))
	out := wire.NewRoutes(phrase.English(), &trip.Routes{Best: plan, Reasons: &choosing.Reasons{
		Closing: []*standing.Barrier{closing}, Nearest: []choosing.Nearest{{Quantity: rig.Height, Is: finding.Of(4 * measure.Metre), Most: finding.Of(39 * measure.Metre / 10), By: say.Text("Gannet Skyway"), Invented: true}},
		Together: &choosing.Group{Barriers: []*standing.Barrier{closing}, Costs: 61_500},
	}})
	r := out.Reasons
	if out.Mark != wire.InventedMark || out.Best.Mark != "" || r.Mark != wire.InventedMark || r.Complete || r.Together.Mark != wire.InventedMark || r.Together.CostsS != 61.5 {
		t.Errorf("%+v", r)
	}
	if diff := cmp.Diff([]wire.Barrier{{Mark: wire.InventedMark, What: "Gannet Skyway: too low", Kind: "structure", Lat: 45, Lon: -75, When: "Mo-Fr", Rows: []wire.Citation{}}}, r.Closing); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]wire.NearestSize{{Mark: wire.InventedMark, Quantity: "height", Is: "4 m (≈ 13 ft 1 1/2 in)", IsM: ptr(4.0), Most: "3.9 m (≈ 12 ft 9 1/2 in)", MostM: ptr(3.9), By: "Gannet Skyway"}}, r.Nearest); diff != "" {
		t.Error(diff)
	}
}

// As GeoJSON each way is one feature.
func TestRoutesGeoJSON(t *testing.T) {
	q := whole(t, nil)
	want := routed(t, q)
	w := askRoutes(t, q, "Accept", "application/geo+json")
	expect(t, w, http.StatusOK, "application/geo+json")
	fc := must(geojson.UnmarshalFeatureCollection(w.Body.Bytes()))
	var ways []any
	for _, f := range fc.Features {
		ways = append(ways, f.Properties["way"])
		if lines, ok := f.Geometry.(orb.MultiLineString); !ok || len(lines) < 2 || f.Properties["mark"] != wire.InventedMark || f.Properties["length_m"] == nil {
			t.Errorf("%T, %v", f.Geometry, f.Properties)
		}
		if (f.Properties["way"] == "free") != (f.Properties["outcome"] == "forbidden") {
			t.Errorf("%v", f.Properties)
		}
	}
	if diff := cmp.Diff([]any{"best", "alternative 1", "alternative 2", "free"}, ways); diff != "" {
		t.Error(diff)
	}
	head, _ := fc.ExtraMembers["wayhouse"].(object)
	if head["notice"] != want.Notice || head["mark"] != want.Mark || head["cautions"] == nil || head["attributions"] == nil || head["reasons"] == nil {
		t.Errorf("%v", head)
	}
}

// Nobody waits for the answer any more, so nothing is searched.
func TestCancelledSearches(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	for _, path := range []string{"/v1/routes", "/v1/ladders"} {
		refused(t, ask(ctx, handler(), http.MethodPost, path, text(short(nil))), http.StatusServiceUnavailable, entry{problem: "not finished"})
	}
}
