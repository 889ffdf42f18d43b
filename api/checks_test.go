package api_test

import (
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/routing/trip"
)

// checkOf is a check of a unit in Ontario, with more fields.
func checkOf(unit object, fields ...object) object {
	q := object{"unit": unit, "in": []string{"CA-ON"}}
	for _, f := range fields {
		maps.Copy(q, f)
	}
	return q
}

func checks(t testing.TB, q object) wire.Design {
	t.Helper()
	w := ask(t.Context(), handler(), http.MethodPost, "/v1/checks", text(q))
	expect(t, w, http.StatusOK, "application/json")
	return read[wire.Design](t, w)
}

// answerTo is what a check says of a quantity in a jurisdiction.
func answerTo(t testing.TB, d wire.Design, code string, q limit.Quantity) wire.DesignAnswer {
	t.Helper()
	i := slices.IndexFunc(d.Answers, func(a wire.DesignAnswer) bool { return a.Jurisdiction == code && a.Quantity == q })
	if i < 0 {
		t.Fatalf("no answer on %s in %s", q, code)
	}
	return d.Answers[i]
}

func TestRefusesChecks(t *testing.T) {
	unit := object{"height": "4 m"}
	for name, tc := range map[string]struct {
		body object
		want entry
	}{
		"nowhere":                 {object{"unit": unit}, entry{"in", "", "no jurisdiction is given", "everywhere"}},
		"an empty list":           {checkOf(unit, object{"in": []string{}}), entry{"in", "", "no jurisdiction is given", "everywhere"}},
		"in and everywhere":       {checkOf(unit, object{"everywhere": true}), entry{"everywhere", "true", "stands beside jurisdictions", "one of the two"}},
		"unknown jurisdiction":    {checkOf(unit, object{"in": []string{"CA-ON", "XX-YY"}}), entry{"in", "XX-YY", "is no jurisdiction", "CA-ON"}},
		"an empty code":           {checkOf(unit, object{"in": []string{""}}), entry{"in", "", "is no jurisdiction", "CA-ON"}},
		"unknown town":            {checkOf(unit, object{"in": []string{"CA-ON/Nowhere"}}), entry{"in", "CA-ON/Nowhere", "is no jurisdiction", "CA-ON"}},
		"a name misspelt":         {checkOf(unit, object{"in": []string{"Ontaria"}}), entry{"in", "Ontaria", "is no jurisdiction", "there is Ontario (CA-ON)"}},
		"a part of names":         {checkOf(unit, object{"in": []string{"carolina"}}), entry{"in", "carolina", "is no jurisdiction", "North Carolina (US-NC), South Carolina (US-SC)"}},
		"a country":               {checkOf(unit, object{"in": []string{"Canada"}}), entry{"in", "CA", "is a whole country", "Ontario"}},
		"a country or a state":    {checkOf(unit, object{"in": []string{"CA"}}), entry{"in", "CA", "is a whole country", "US-CA"}},
		"101 of them":             {checkOf(unit, object{"in": slices.Repeat([]string{"CA-ON"}, 101)}), entry{"in", "", "more than 100", "100 at the most"}},
		"no day":                  {checkOf(unit, object{"day": "tomorrow"}), entry{"day", "tomorrow", "is no day", "2027-05-01"}},
		"a day and an hour":       {checkOf(unit, object{"day": "2027-05-11T08:00"}), entry{"day", "2027-05-11T08:00", "is no day", "2027-05-01"}},
		"a day of no month":       {checkOf(unit, object{"day": "2027-02-30"}), entry{"day", "2027-02-30", "is no day", "2027-05-01"}},
		"use":                     {checkOf(unit, object{"use": "holiday"}), entry{"use", "holiday", "is not known", "commercial"}},
		"unknown field":           {checkOf(unit, object{"stops": []object{}}), entry{"stops", "", "no field here", "spelling"}},
		"unknown kind":            {checkOf(object{"kind": "houseboat"}), entry{"unit.kind", "houseboat", "is not known", "tiny_home"}},
		"a number without a unit": {checkOf(object{"height": 4}), entry{"unit.height", "4", "a number without a unit", "height_m"}},
		"absurd":                  {checkOf(object{"height": "40 m"}), entry{"unit.height", "40 m", "outside 1 m (≈ 3 ft 3 3/8 in) to 8 m", "check the figure"}},
		"low rig":                 {checkOf(unit, object{"rig": object{"height": "3 m"}}), entry{"rig.height", "3 m", "below that of the unit", "check both"}},
		"absurd tow vehicle":      {checkOf(unit, object{"tow": object{"height": "9 m"}}), entry{"tow.height", "9 m", "outside 1 m (≈ 3 ft 3 3/8 in) to 5 m", "check the figure"}},
		"unknown tow vehicle":     {checkOf(unit, object{"tow": object{"form": "mule"}}), entry{"tow.form", "mule", "is not known", "truck_tractor"}},
		"revision of none":        {checkOf(unit, object{"tables_revision": 7}), entry{"tables_revision", "7", "no earlier tables are kept here", "leave it out"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, ask(t.Context(), handler(), http.MethodPost, "/v1/checks", text(tc.body)), http.StatusUnprocessableEntity, tc.want)
		})
	}
	// Every value that cannot be used is named in one answer.
	body := object{"unit": object{"height": "", "width": "-1 m"}, "in": []string{"XX-YY"}, "tow": object{"mass": "heavy"}}
	p := refused(t, ask(t.Context(), handler(), http.MethodPost, "/v1/checks", text(body)), 422, entry{"in", "XX-YY", "is no jurisdiction", ""})
	var fields []string
	for _, e := range p.Errors {
		fields = append(fields, e.Field)
	}
	slices.Sort(fields)
	if diff := cmp.Diff([]string{"in", "tow.mass", "unit.height", "unit.width"}, fields); diff != "" {
		t.Error(diff)
	}
}

// The members of an answer are there, lists are lists even when empty, and each
// finding can be checked.
func TestCheckAnswer(t *testing.T) {
	unit := object{"height": "4.05 m", "width": "2.55 m", "length": "8.6 m", "mass": "6,350 kg"}
	for name, q := range map[string]object{"some": checkOf(unit, object{"in": []string{"CA-ON", "CA-QC"}}), "nothing known": checkOf(object{}), "everywhere": {"unit": unit, "everywhere": true}} {
		t.Run(name, func(t *testing.T) {
			w := ask(t.Context(), handler(), http.MethodPost, "/v1/checks", text(q))
			expect(t, w, http.StatusOK, "application/json")
			raw := read[object](t, w)
			for _, member := range []string{"assumed", "answers", "largest_without_permit", "largest_without_escort", "cautions"} {
				if _, ok := raw[member].([]any); !ok {
					t.Errorf("%s is %v, no list", member, raw[member])
				}
			}
			d := read[wire.Design](t, w)
			if d.Revision() != service().Planner.Tables.Revision || d.Day != "2027-05-10" || cmp.Diff(phrase.English().Each(trip.DesignCautions()), d.Cautions) != "" || len(d.Free) != 5 || len(d.NoEscort) != 5 {
				t.Errorf("revision %q, day %q, %d and %d largest values", d.Revision(), d.Day, len(d.Free), len(d.NoEscort))
			}
			for _, a := range d.Answers {
				if len(a.Findings) == 0 || string(a.Findings[0].Rule) != string(a.Quantity) || !slices.Contains(limit.Quantities(), a.Quantity) {
					t.Fatalf("%+v", a)
				}
				for _, f := range a.Findings {
					if f.Jurisdiction != a.Jurisdiction || f.Summary == "" || (f.Ask == "") != (f.Outcome == finding.Clear) {
						t.Errorf("%+v", f)
					}
					for _, r := range f.Rows {
						if r.ID == "" || r.Revision != d.Revision() || r.Source == "" || r.Status == "" {
							t.Errorf("%+v", r)
						}
					}
				}
				if a.ToClear != "" && a.Findings[0].Outcome == finding.Clear {
					t.Errorf("clear, and to clear %q", a.ToClear)
				}
			}
		})
	}
}

// Jurisdictions are answered in the order asked, each once, however written; a
// quantity that nothing limits there is answered too.
func TestCheckOrder(t *testing.T) {
	d := checks(t, checkOf(object{"height": "4 m"}, object{"in": []string{"us-vt", " Ontario ", "Vermont", "ON", "ca-on/dufferin county"}}))
	var codes []string
	quantities := map[string][]limit.Quantity{}
	for _, a := range d.Answers {
		if !slices.Contains(codes, a.Jurisdiction) {
			codes = append(codes, a.Jurisdiction)
		}
		quantities[a.Jurisdiction] = append(quantities[a.Jurisdiction], a.Quantity)
	}
	if diff := cmp.Diff([]string{"US-VT", "CA-ON", "CA-ON/Dufferin County"}, codes); diff != "" {
		t.Error(diff)
	}
	for code, got := range quantities {
		want := slices.DeleteFunc(limit.Quantities(), func(q limit.Quantity) bool { return q.OnlyWhereRuled() && !slices.Contains(got, q) })
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s\n%s", code, diff)
		}
	}
	all := checks(t, object{"unit": object{"height": "4 m"}, "everywhere": true})
	var everywhere []string
	for _, a := range all.Answers {
		if !slices.Contains(everywhere, a.Jurisdiction) {
			everywhere = append(everywhere, a.Jurisdiction)
		}
	}
	for _, j := range service().Planner.Areas.All() {
		if !slices.Contains(everywhere, j.Code) {
			t.Errorf("%s is not among everywhere", j.Code)
		}
	}
	for _, code := range service().Planner.Tables.Jurisdictions() {
		if country := len(code) == len("CA"); slices.Contains(everywhere, code) == country { // nothing is settled for one
			t.Errorf("%s has rows and is not among everywhere", code)
		}
	}
}

// A unit alone is taken for the rig's height and width, and the answer says
// so. A tow vehicle that is described decides, and one that is described only in
// part leaves them open.
func TestCheckOfAUnitAlone(t *testing.T) {
	unit := object{"height": "4.05 m", "width": "2.5 m", "length": "8.6 m", "mass": "6,350 kg"}
	const alone = "the tow vehicle is neither higher nor wider than the unit"
	const drawn = "the height is designed and may turn out 0.05 m (≈ 2 in) more: so much is kept before each limit, and in the largest height"
	for name, tc := range map[string]struct {
		fields  object
		want    finding.Outcome
		value   string
		assumed []string
	}{
		"alone":               {object{}, finding.Clear, "4.05 m", []string{alone, drawn}},
		"a lower tow vehicle": {object{"tow": object{"height": "2 m", "width": "2 m"}}, finding.Clear, "4.05 m", []string{drawn}},
		"a higher one":        {object{"tow": object{"height": "4.2 m"}}, finding.Conditional, "4.2 m", []string{drawn}},
		"one of no height":    {object{"tow": object{"mass": "4 t"}}, finding.Unknown, "at least 4.05 m", []string{drawn}},
		"one of nothing":      {object{"tow": object{}}, finding.Unknown, "at least 4.05 m", []string{drawn}},
		"the whole rig":       {object{"rig": object{"height": "4.1 m"}}, finding.Clear, "4.1 m", []string{drawn}},
		"a rig of a length":   {object{"rig": object{"length": "14 m"}}, finding.Unknown, "at least 4.05 m", []string{drawn}},
	} {
		d := checks(t, checkOf(unit, tc.fields))
		f := answerTo(t, d, "CA-ON", limit.Height).Findings[0]
		if f.Outcome != tc.want || !strings.HasPrefix(f.Value, tc.value) || cmp.Diff(tc.assumed, d.Assumed) != "" {
			t.Errorf("%s: %s for %q, taken for granted %q", name, f.Outcome, f.Value, d.Assumed)
		}
	}
	// What a unit says nothing of stays unknown: the length and mass of the rig.
	d := checks(t, checkOf(unit))
	for _, q := range []limit.Quantity{limit.CombinationLength, limit.GrossMass} {
		if f := answerTo(t, d, "CA-ON", q).Findings[0]; f.Outcome != finding.Unknown || f.Value != "" || !strings.HasSuffix(f.Summary, "is not given") {
			t.Errorf("%s: %s for %q", q, f.Outcome, f.Value)
		}
	}
	if f := answerTo(t, d, "CA-ON", limit.TrailerLength).Findings[0]; !strings.HasPrefix(f.Value, "8.6 m") {
		t.Errorf("trailer length %q", f.Value)
	}
}

// What is left to the next step and what would make it clear come with each
// quantity. The height is Ontario's (row 15 of the check values, SEEN).
func TestCheckSaysHowMuchIsLeft(t *testing.T) {
	for height, want := range map[string]struct{ margin, next, toClear string }{
		"4.05 m": {"0.1 m", "0.1 m", ""}, "4.15 m": {"0 m", "0 m", "0.05 m lower"}, "4.16 m": {"-0.01 m", "0.1 m", "0.06 m lower"}, // designed
	} {
		a := answerTo(t, checks(t, checkOf(object{"height": height})), "CA-ON", limit.Height)
		if metric(a.Findings[0].Margin) != want.margin || a.Next == nil || metric(a.Next.Margin) != want.next || metric(a.ToClear) != want.toClear {
			t.Errorf("%s: margin %q, next %+v, to clear %q", height, a.Findings[0].Margin, a.Next, a.ToClear)
		}
	}
}

// metric leaves the feet and inches out.
func metric(text string) string {
	before, rest, _ := strings.Cut(text, " (")
	_, after, _ := strings.Cut(rest, ")")
	return before + after
}

// The day decides which rows are in force and read recently enough.
func TestCheckOfADay(t *testing.T) {
	for day, want := range map[string]finding.Outcome{"": finding.Clear, "2027-05-11": finding.Clear, "2029-05-11": finding.Unknown, "2020-05-11": finding.Unknown} {
		q := checkOf(object{"height": "4 m"})
		if day != "" {
			q["day"] = day
		}
		d := checks(t, q)
		if f := answerTo(t, d, "CA-ON", limit.Height).Findings[0]; f.Outcome != want || day != "" && d.Day != day {
			t.Errorf("%q: %s, on %s", day, f.Outcome, d.Day)
		}
	}
}

// A figure that is more likely a slip is asked about before anything is said.
func TestCheckAsks(t *testing.T) {
	for name, tc := range map[string]struct {
		unit object
		want entry
		word string
	}{
		"height below width":   {object{"height": "2.4 m", "width": "2.55 m"}, entry{"unit.height", "2.4 m", "below the width", "height_below_width"}, "height_below_width"},
		"kilograms for pounds": {object{"mass": "24,000 kg", "length": "8.6 m", "width": "2.55 m"}, entry{"unit.mass", "24000 kg", "24000 lb would fit", "unit_mass"}, "unit_mass"},
	} {
		t.Run(name, func(t *testing.T) {
			for _, confirm := range [][]string{nil, {"something_else"}} {
				p := refused(t, ask(t.Context(), handler(), http.MethodPost, "/v1/checks", text(checkOf(tc.unit, object{"confirm": confirm}))), 422, tc.want)
				if p.Type == "about:blank" || len(p.Errors) != 1 || p.Errors[0].Confirm != tc.word {
					t.Errorf("%+v", p)
				}
			}
			checks(t, checkOf(tc.unit, object{"confirm": []string{tc.word}}))
		})
	}
	both := checkOf(object{"height": "2.4 m", "width": "2.55 m", "length": "8.6 m", "mass": "24,000 kg"}, object{"confirm": []string{"unit_mass"}})
	if p := refused(t, ask(t.Context(), handler(), http.MethodPost, "/v1/checks", text(both)), 422, entry{"unit.height", "2.4 m", "swapped", ""}); len(p.Errors) != 1 {
		t.Errorf("%+v", p.Errors)
	}
}

// The largest unit for a set of jurisdictions: rows 33 to 35 of the check
// values, SEEN (29-A M.R.S. 2380 and 2390, 23 V.S.A. 1431).
func TestCheckSaysTheLargest(t *testing.T) {
	d := checks(t, checkOf(object{"kind": "tiny_home", "coupling": "ball"}, object{"in": []string{"US-VT", "US-ME"}, "use": "private"}))
	for q, want := range map[limit.Quantity]struct {
		metres  float64
		decides []string
		not     []string
	}{
		limit.Height:            {metres: 4.1148, decides: []string{"US-VT", "US-ME"}},
		limit.Width:             {metres: 2.5908, decides: []string{"US-VT", "US-ME"}},
		limit.CombinationLength: {metres: 19.812, decides: []string{"US-ME"}},
		limit.TrailerLength:     {not: []string{"US-VT"}},
	} {
		l := d.Free[slices.IndexFunc(d.Free, func(l wire.LargestValue) bool { return l.Quantity == q })]
		if want.not != nil && (l.Proven != nil || !slices.Equal(l.NotEstablished, want.not) || len(l.Open) != 1 || l.Unproven == nil) {
			t.Errorf("%s: %s", q, text(l))
		} else if want.not == nil && (l.Proven == nil || *l.Proven.M != want.metres || !slices.Equal(l.Decides, want.decides)) {
			t.Errorf("%s: %s", q, text(l))
		}
	}
}

// Texts with units and numbers in SI units are one.
func TestCheckTakesTextsAndNumbers(t *testing.T) {
	texts := object{"height": `13'2"`, "width": "2.5 m", "length": "860 cm", "mass": "14,000 lb"}
	numbers := object{"height_m": 4.0132, "width_m": 2.5, "length_m": 8.6, "mass_kg": 6350.29318}
	if diff := cmp.Diff(text(checks(t, checkOf(texts))), text(checks(t, checkOf(numbers)))); diff != "" {
		t.Error(diff)
	}
}

// Whatever the body, the answer is a check or a problem of the request.
func FuzzCheckRequest(f *testing.F) {
	handler()
	for _, q := range []object{
		checkOf(nil), checkOf(object{"height": "4 m"}), {"unit": object{"height_m": 1e300}, "everywhere": true}, checkOf(object{"mass": "10,900 t"}, object{"day": "2027-05-11"}),
		checkOf(object{}, object{"rig": object{"axles": []object{{"mass": "2 t", "steering": true}, {"behind_first": "4 m", "mass_kg": 3000, "tires": 4, "tire_width": "235 mm"}}}}),
		checkOf(object{"axles": 3, "coupling_to_rear": "8 m", "coupling_to_last_axle": "6 m"}, object{"tow": object{"axles": 2, "front_to_coupling": "5 m"}, "confirm": []string{"unit_mass"}}),
		checkOf(object{"kind": "tiny_home"}, object{"in": []string{"CA-ON/Dufferin County", "us-vt"}, "use": "private", "tables_revision": 1}),
	} {
		f.Add(text(q))
	}
	for _, body := range []string{"", "{", "null", "[]", "{}", `{"unit":null}`, `{"unit":{},"in":null}`, `{"unit":{},"in":["CA-ON"],"rig":null}`, `{"unit":{},"in":["CA-ON"],"rig":{"axles":[null,null]}}`} {
		f.Add(body)
	}
	f.Fuzz(func(t *testing.T, body string) {
		w := ask(t.Context(), handler(), http.MethodPost, "/v1/checks", body)
		switch {
		case w.Code == http.StatusOK:
			d := read[wire.Design](t, w)
			if len(d.Answers) == 0 || len(d.Cautions) == 0 {
				t.Fatalf("%+v", d)
			}
		case w.Code < 400 || w.Code >= 500:
			t.Fatalf("%d %s", w.Code, w.Body)
		default:
			expect(t, w, w.Code, "application/problem+json")
		}
	})
}

// An answer that rests on an invented row says so in every object around it, the
// next step and the largest value too, as a trip does.
func TestInventedRowsAreMarkedInChecks(t *testing.T) {
	k := keeping(t, nil)
	low := maps.Clone(goodRows()["limits"])
	low["jurisdiction"], low["threshold"], low["published"], low["source"] = "CA-ON", "4.1 m", "4.1 m by the tern", "made up"
	does[wire.Made](t, k, http.MethodPut, rowAt("limits", "zz-tern"), put(low), ifNone...)
	got := read[any](t, k.ask(t, http.MethodPost, "/v1/checks", checkOf(object{"height": "4.05 m"})))
	uses, missing := unmarked(got, "check", []string{"zz-tern", "by the tern", "made up", string(finding.Invented)})
	if !uses || len(missing) > 0 {
		t.Errorf("uses an invented row: %v; without a mark: %v", uses, missing)
	}
	d := does[wire.Design](t, k, http.MethodPost, "/v1/checks", checkOf(object{"height": "4.05 m"}))
	i := slices.IndexFunc(d.Free, func(l wire.LargestValue) bool { return l.Quantity == limit.Height })
	if raw := text(d.Free[i]); d.Free[i].Proven != nil && *d.Free[i].Proven.M == 4.1 && !strings.Contains(raw, wire.InventedMark) {
		t.Errorf("the largest rests on an invented row and does not say so: %s", raw)
	}
}

// What the tow vehicle counts as decides which rows of length speak of the rig
// (GAO-15-235SP, Delaware: a semitrailer, without what draws it); it is unknown
// until given, and to give it alone describes no tow vehicle.
func TestFormOfTheTowVehicleIsAnInput(t *testing.T) {
	unit := object{"height": "4 m", "coupling": "fifth_wheel", "length": "14 m"}
	for form, want := range map[string]finding.Outcome{"": finding.Unknown, "pickup": finding.Unknown, "truck_tractor": finding.Clear} {
		q := object{"in": []string{"US-DE", "CA-ON"}}
		if form != "" {
			q["tow"] = object{"form": form}
		}
		d := checks(t, checkOf(unit, q))
		if f := answerTo(t, d, "US-DE", limit.TrailerLength).Findings[0]; f.Outcome != want {
			t.Errorf("%q: %s (%s), want %s", form, f.Outcome, f.Summary, want)
		}
		if f := answerTo(t, d, "CA-ON", limit.Height).Findings[0]; f.Outcome != finding.Clear || !strings.Contains(text(d.Assumed), "neither higher nor wider") {
			t.Errorf("%q: height %s, assumed %q", form, f.Outcome, d.Assumed)
		}
	}
}
