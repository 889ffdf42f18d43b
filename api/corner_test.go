package api_test

import (
	"net/http"
	"strings"
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/routing/rig"
)

// A corner is tried without a trip: wide ways let the rig through, narrow ones do not, and
// what is narrower than the rig is forbidden.
func TestCornerIsTried(t *testing.T) {
	try := func(corner object) (passes bool, outcome finding.Outcome) {
		t.Helper()
		r := reported(t, described(t, object{"corner": corner}))
		if r.Corner == nil || r.Corner.Fit == nil || r.Trip != nil {
			t.Fatalf("%+v", r.Corner)
		}
		fit := r.Corner.Fit
		if len(fit.Line) < 3 || fit.RadiusM < r.Corner.LockM || fit.BendsDeg < 0 {
			t.Errorf("%+v", fit)
		}
		for _, f := range r.Findings {
			if f.Rule == rig.RuleCorner {
				return fit.Passes, f.Outcome
			}
		}
		t.Fatal("no finding")
		return
	}
	for _, tc := range []struct {
		corner object
		passes bool
		want   finding.Outcome
	}{
		{object{"from": "12 m", "into": "12 m", "turn": "right", "kerb_radius": "3 m"}, true, finding.Clear},
		{object{"from": "5 m", "into": "5 m", "turn": "left"}, false, finding.Review},
		{object{"from_m": 9, "into_m": 2.4, "angle_deg": 60, "goes_on": true, "kerb_radius_m": 1}, false, finding.Forbidden},
		{
			object{"from": "9 m", "angle_deg": 0, "gate": object{"width": "4 m", "offset": "-0.5 m", "behind": "0 m"}},
			true, finding.Clear,
		},
		{
			object{"from": "9 m", "into": "9 m", "gate": object{"width_m": 2.4, "offset_m": 0, "behind_m": 6}},
			false, finding.Forbidden,
		},
	} {
		if passes, got := try(tc.corner); passes != tc.passes || got != tc.want {
			t.Errorf("%v: passes %t, %s", tc.corner, passes, got)
		}
	}
}

// The drawing that is asked for with a corner is of that corner, in either place that has it.
func TestCornerIsDrawn(t *testing.T) {
	body := text(described(t, object{"corner": object{"from": "12 m", "turn": "left"}}))
	for path, heads := range map[string][]string{"/v1/rigs": {"Accept", "image/svg+xml"}, "/v1/rigs/drawing": nil} {
		w := ask(t.Context(), handler(), http.MethodPost, path, body, heads...)
		if svg := w.Body.String(); w.Code != http.StatusOK || !strings.Contains(svg, "The corner to try, from above") ||
			!strings.Contains(svg, "<title>edge of the way</title>") {
			t.Errorf("%s: %d, without the edges of the corner", path, w.Code)
		}
	}
}

// A rig that touches its tow vehicle as it bends is told at which angle, and bends less.
func TestCornerBends(t *testing.T) {
	tow := fileFields(t, "tow.yaml")
	tow["cab_to_coupling"] = "1.25 m"
	r := reported(t, described(t, object{"tow": tow, "corner": object{"from": "12 m"}}))
	if fit := r.Corner.Fit; fit == nil || fit.MayDeg == nil || fit.BendsDeg > *fit.MayDeg {
		t.Errorf("%+v", r.Corner.Fit)
	}
}

// A place that is none is refused with its field, and a rig that cannot be drawn is told
// why.
func TestCornerRefuses(t *testing.T) {
	w := ask(
		t.Context(),
		handler(),
		http.MethodPost,
		"/v1/rigs",
		text(described(t, object{"corner": object{"from": "5 m", "gate": object{"width": "6 m"}}})),
	)
	if w.Code != http.StatusUnprocessableEntity {
		t.Errorf("%d: %s", w.Code, w.Body)
	}
	r := reported(t, object{"unit": object{"mass": "4 t"}, "corner": object{"from": "5 m"}})
	if r.Corner == nil || r.Corner.Fit != nil || r.Corner.Unknown == "" || !r.Corner.Assumed {
		t.Errorf("%+v", r.Corner)
	}
}
