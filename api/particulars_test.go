package api_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/api/tours"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
)

// What offices ask beside sizes is printed on papers and turns no answer, and where the unit
// stands at a stop is asked until it is told.
func TestParticularsAndGround(t *testing.T) {
	plain := example(t, "", "")
	plain["stops"] = []any{object{"place": "Perth, ON"}, object{"place": "Sorel-Tracy, QC", "nights": 1}}
	q := example(t, "", "")
	q["stops"] = []any{object{"place": "Perth, ON"}, object{"place": "Sorel-Tracy, QC", "nights": 1, "ground": object{
		"slope_percent": 2, "reach": "0.4 m", "circle": "30 m", "way_out": "turning",
	}}}
	party := func(name string) object {
		return object{"name": name, "address": "12 Mill Street", "phone": "555-0142", "email": "a@tern.example", "number": "118"}
	}
	registered := object{"plate": "TEST 1", "registered_in": "CA-ON", "vin": "TERN0118", "make": "Drumbolk", "year": "2024", "registered_mass": "7080 kg"}
	q["papers"] = object{
		"carrier": party("Anvil Movers"), "owner": party("R. Thimm"), "driver": party("A. Drumm"), "escort": party("Forward"),
		"tow": registered, "unit": registered, "insurance": object{"company": "Harbour Mutual", "policy": "P-1", "until": "2027-12-31"},
		"load": "a house", "taken_off": "the chimney", "from": "12 Mill Street", "to": "3 Quay",
	}
	before, after := planned(t, text(plain)), planned(t, text(q))
	open := func(of wire.Trip) (n int) {
		for _, f := range of.Findings {
			if strings.HasPrefix(string(f.Rule), "ground") && f.Outcome == "unknown" {
				n++
			}
		}
		return n
	}
	if len(after.Findings) < len(before.Findings)-5 || open(before) > 0 && open(after) >= open(before) {
		t.Errorf("%d findings, %d of the ground open; then %d, %d", len(before.Findings), open(before), len(after.Findings), open(after))
	}
	w := post(t, text(q), "Accept", "text/html")
	expect(t, w, http.StatusOK, "text/html")
	for _, word := range []string{"Anvil Movers", "TERN0118", "Harbour Mutual", "the chimney"} {
		if !strings.Contains(w.Body.String(), word) {
			t.Errorf("no paper says %q", word)
		}
	}
	numbers := q
	numbers["papers"].(object)["unit"] = object{"registered_mass_kg": 7080}
	numbers["stops"].([]any)[1].(object)["ground"] = object{"reach_m": 0.4, "circle_m": 30}
	planned(t, text(numbers))
}

// How much of a way is on truck roads, and what they cost, stands in JSON.
func TestTruckRoadsInJSON(t *testing.T) {
	p := tours.Show(t, nil)
	p.TruckRoads = measure.Exactly[measure.Distance](106_000)
	r := &trip.Routes{Best: p, Reasons: &choosing.Reasons{Preferred: &choosing.Preferred{Extra: 2600, ExtraTime: 180_000}}}
	raw := must(json.Marshal(wire.NewRoutes(phrase.English(), r)))
	if *update {
		met.Lock()
		docOf(handler()).note(schema{Ref: "#/components/schemas/Routes"}, "", raw)
		met.Unlock()
	}
	var out wire.Routes
	if err := json.Unmarshal(raw, &out); err != nil {
		t.Fatal(err)
	}
	if out.Best.TruckRoadM == nil || *out.Best.TruckRoadM != 106_000 || out.Reasons.Trucks == nil || out.Reasons.Trucks.ExtraM != 2600 || out.Reasons.Trucks.ExtraS != 180 {
		t.Errorf("%s", raw)
	}
}

// The permits of a design are listed where they are asked for.
func TestPermitsOfACheck(t *testing.T) {
	w := ask(t.Context(), handler(), http.MethodPost, "/v1/checks", text(object{"unit": object{"height": "4.3 m"}, "in": []string{"CA-ON"}, "permits": true}))
	expect(t, w, http.StatusOK, "application/json")
	if !strings.Contains(w.Body.String(), `"permits"`) {
		t.Errorf("%s", w.Body)
	}
}
