package api_test

import (
	"net/http"
	"strings"
	"testing"

	"wayhouse/api/wire"
)

// Two requests of each kind are compared; what cannot be used is named where it stands,
// and two kinds at once or none are refused.
func TestComparisons(t *testing.T) {
	low, high := object{"height": "4 m", "width": "2.5 m"}, object{"height": "4.3 m", "width": "2.5 m"}
	compared := func(q object) wire.Comparison {
		w := ask(t.Context(), handler(), http.MethodPost, "/v1/comparisons", text(q))
		expect(t, w, http.StatusOK, "application/json")
		return read[wire.Comparison](t, w)
	}
	got := compared(object{"checks": object{"a": checkOf(low), "b": checkOf(high)}})
	if f := got.Findings[0]; !f.Turns || f.B.Rule != "height" || *f.A.ValueM != 4 || *f.B.ValueM != 4.3 || got.Alike == 0 || len(got.Facts) != 1 {
		t.Errorf("%+v", got)
	}
	if got := compared(object{"rigs": object{"a": object{"unit": low}, "b": object{"unit": low}}}); len(got.Findings)+len(got.Facts) != 0 || got.Alike == 0 {
		t.Errorf("%+v", got)
	}
	trip := func(unit object) object { return short(nil, object{"unit": unit}) }
	if got := compared(object{"trips": object{"a": trip(low), "b": trip(high)}}); len(got.Findings) == 0 {
		t.Errorf("%+v", got)
	}
	for want, q := range map[string]object{
		"exactly one of":      {},
		"exactly one of them": {"checks": object{"a": checkOf(low), "b": checkOf(low)}, "rigs": object{"a": object{"unit": low}, "b": object{"unit": low}}},
		"checks.b.in":         {"checks": object{"a": checkOf(low), "b": checkOf(low, object{"in": []string{"XX-YY"}})}},
		"checks.a.unit":       {"checks": object{"a": checkOf(object{"height": "four"}), "b": checkOf(low)}},
	} {
		w := ask(t.Context(), handler(), http.MethodPost, "/v1/comparisons", text(q))
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), strings.TrimSuffix(want, " them")) {
			t.Errorf("%s: %d, %s", want, w.Code, w.Body)
		}
	}
}
