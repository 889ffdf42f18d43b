package api_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"wayhouse/api/wire"
	"wayhouse/regs/finding"
)

// saving is a body that saves the example trip, or a shorter one.
func saving(q object) object {
	return object{"who": "a dealer", "why": "an enquiry", "trip": q}
}

// A trip is saved, listed and planned again; each version stays as it was.
func TestSavedTrip(t *testing.T) {
	k := keeping(t, nil)
	q := example(t, "", "")
	made := does[wire.SavedTrip](t, k, http.MethodPut, "/v1/trips/first", saving(q), ifNone...)
	if made.ID != "first" || made.Version != 1 || made.Who != "a dealer" || made.Mark == "" || made.Network == "" || made.Tables == "" {
		t.Errorf("%+v", made)
	}
	refused(t, k.ask(t, http.MethodPut, "/v1/trips/first", saving(q), ifNone...), http.StatusPreconditionFailed, entry{problem: "first"})
	refused(t, k.ask(t, http.MethodPut, "/v1/trips/first", saving(q)), http.StatusPreconditionRequired, entry{problem: "If-Match"})
	q["name"] = "another name"
	again := does[wire.SavedTrip](t, k, http.MethodPut, "/v1/trips/first", saving(q), "If-Match", `"1"`)
	if again.Version != 2 || again.Name != "another name" {
		t.Errorf("%+v", again)
	}
	list := gets[wire.SavedTrips](t, k, "/v1/trips").Trips
	if len(list) != 1 || list[0].Version != 2 || list[0].Unknowns != planned(t, text(q)).Verdict.Unknowns {
		t.Errorf("%+v", list)
	}
	versions := gets[wire.SavedTrips](t, k, "/v1/trips/first/versions").Trips
	if len(versions) != 2 || versions[0].Version != 2 || versions[1].Name == "another name" {
		t.Errorf("%+v", versions)
	}
	w := k.ask(t, http.MethodGet, "/v1/trips/first/request?version=1", nil)
	expect(t, w, http.StatusOK, "application/json")
	if w.Header().Get("ETag") != `"1"` || read[wire.SavedTrip](t, w).Request == nil {
		t.Errorf("%v, %s", w.Header(), w.Body)
	}
	want, got := planned(t, text(example(t, "", ""))), gets[wire.Trip](t, k, "/v1/trips/first?version=1")
	if got.LengthM != want.LengthM || !slices.Equal(answers(got.Findings), answers(want.Findings)) || got.Name != want.Name {
		t.Errorf("%q of %.0f m, want %q of %.0f m", got.Name, got.LengthM, want.Name, want.LengthM)
	}
	expect(t, k.ask(t, http.MethodGet, "/v1/trips/first", nil, "Accept", asGPX), http.StatusOK, asGPX)
	expect(t, k.ask(t, http.MethodGet, "/v1/trips/first", nil, "Accept", "text/plain"), http.StatusOK, "text/plain")
}

// What cannot be planned, or has no name, is not kept; what is not there is not found.
func TestTripsThatAreNotSaved(t *testing.T) {
	k := keeping(t, nil)
	bad := example(t, "", "")
	bad["stops"] = []any{object{"place": "Perth, ON"}}
	refused(t, k.ask(t, http.MethodPut, "/v1/trips/first", saving(bad), ifNone...), http.StatusUnprocessableEntity, entry{"trip.stops", "1", "two", "order"})
	refused(t, k.ask(t, http.MethodPut, "/v1/trips/First!", saving(example(t, "", "")), ifNone...), http.StatusUnprocessableEntity, entry{"id", "First!", "no name", "thimmerel"})
	for _, path := range []string{"/v1/trips/first", "/v1/trips/first/versions", "/v1/trips/first/changes", "/v1/trips/first/request"} {
		refused(t, k.ask(t, http.MethodGet, path, nil), http.StatusNotFound, entry{problem: "nothing is saved"})
	}
	if list := gets[wire.SavedTrips](t, k, "/v1/trips").Trips; len(list) != 0 {
		t.Errorf("%+v", list)
	}
	k.Tables.Unkept = true
	refused(t, k.ask(t, http.MethodPut, "/v1/trips/first", saving(example(t, "", "")), ifNone...), http.StatusForbidden, entry{problem: "refused"})
}

// What the tables say otherwise now is told with the row that says it.
func TestChangesOfASavedTrip(t *testing.T) {
	k := keeping(t, nil)
	does[wire.SavedTrip](t, k, http.MethodPut, "/v1/trips/first", saving(example(t, "", "")), ifNone...)
	same := gets[wire.Comparison](t, k, "/v1/trips/first/changes")
	if len(same.Findings) != 0 || len(same.Facts) != 0 || same.Alike < 50 {
		t.Fatalf("nothing changed: %+v, %+v, %d alike", same.Facts, same.Findings, same.Alike)
	}
	row := cells{
		"jurisdiction": "CA-ON", "kind": "all", "combination": "any", "quantity": "height", "published": "4 m", "threshold": "4 m",
		"beyond": "over", "outcome": "conditional", "tier": "beyond", "permit": "yes", "escorts_rear": "1", "status": "invented", "source": "invented for this test",
	}
	does[wire.Made](t, k, http.MethodPut, rowAt("limits", "zz-41"), put(row), ifNone...)
	changed := gets[wire.Comparison](t, k, "/v1/trips/first/changes")
	i := slices.IndexFunc(changed.Findings, func(r wire.ComparedRow) bool {
		return r.B != nil && r.B.Rule == "height" && r.B.Jurisdiction == "CA-ON"
	})
	if i < 0 {
		t.Fatalf("%+v", changed.Findings)
	}
	now := changed.Findings[i].B
	if was := changed.Findings[i].A; was == nil || was.Outcome != finding.Clear || now.Outcome == finding.Clear || now.Demands.EscortsRear != 1 {
		t.Errorf("%+v, then %+v", was, now)
	}
	if !strings.Contains(text(now), "zz-41") {
		t.Errorf("%s names no row", text(now))
	}
	w := k.ask(t, http.MethodGet, "/v1/trips/first/changes?full=true", nil, "Accept", "text/plain")
	expect(t, w, http.StatusOK, "text/plain")
	if !strings.Contains(w.Body.String(), "by zz-41") || !strings.Contains(w.Body.String(), "behind: 1") {
		t.Errorf("%s", w.Body)
	}
}

// What an office said of one trip counts for no other.
func TestContactOfASavedTrip(t *testing.T) {
	k := keeping(t, nil)
	for _, name := range []string{"first", "second"} {
		does[wire.SavedTrip](t, k, http.MethodPut, "/v1/trips/"+name, saving(example(t, "", "")), ifNone...)
	}
	does[wire.Made](t, k, http.MethodPut, rowAt("contacts", "zz-1"), put(cells{
		"jurisdiction": "CA-QC", "asked": "whether it may pass", "asked_on": "2027-05-01", "answered_by": "the office", "answered_on": "2027-05-02",
		"permit_number": "QC-118", "outcome": "clear", "settles": "height", "height": "4.3 m", "trip": "first",
	}), ifNone...)
	answered := func(path string) bool {
		return strings.Contains(k.ask(t, http.MethodGet, path, nil).Body.String(), "QC-118")
	}
	if !answered("/v1/trips/first") || answered("/v1/trips/second") || strings.Contains(text(does[wire.Trip](t, k, http.MethodPost, "/v1/trips", example(t, "", ""))), "QC-118") {
		t.Error("the answer counts for another trip, or not for its own")
	}
	if changed := gets[wire.Comparison](t, k, "/v1/trips/first/changes"); len(changed.Findings) == 0 {
		t.Error("a permit that is held now changes nothing")
	}
	if changed := gets[wire.Comparison](t, k, "/v1/trips/second/changes"); len(changed.Findings) != 0 {
		t.Errorf("%+v", changed.Findings)
	}
}
