package api_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/api/wire"
)

// A body with two heights reads as the last of them, so that a house of 4.6 m was
// cleared as one of 4.0 m. Names within an object should be unique (RFC 8259,
// section 4).
func TestKeysThatStandTwiceAreRefused(t *testing.T) {
	const stops = `"stops": [{"place": "Perth, ON"}, {"place": "Cornwall, ON"}]`
	for name, tc := range map[string]struct {
		path, body string
		want       entry
	}{
		"same letters":    {"/v1/trips", "{\"unit\": {\"height_m\": 4.6,\n  \"height_m\": 4.0}, " + stops + "}", entry{"unit.height_m", "", "stands twice: 4.6 at line 1, column 11, and 4.0 at line 2, column 3", "keep the one"}},
		"capitals":        {"/v1/trips", `{"unit": {"height_m": 4.6, "Height_m": 4.0}, ` + stops + `}`, entry{"unit.Height_m", "", `"height_m" 4.6 at line 1, column 11, and "Height_m" 4.0 at line 1, column 28`, "openapi.json"}},
		"capitals alone":  {"/v1/trips", `{"unit": {"Height_m": 4.0}, ` + stops + `}`, entry{"unit.Height_m", "", "other letters than height_m", "write height_m"}},
		"letters folding": {"/v1/trips", `{"` + "\u017f" + `tops": [], ` + stops + `}`, entry{"stops", "", "stands twice", "keep one"}},
		"written escaped": {"/v1/trips", `{"unit": {"height_m": 4.6, "height\u005fm": 4.0}, ` + stops + `}`, entry{"unit.height_m", "", "4.6 at line 1, column 11, and 4.0", "keep the one"}},
		"in a list":       {"/v1/trips", `{"unit": {"height_m": 4.0}, "stops": [{"place": "Perth, ON", "place": "Ottawa, ON"}, {"place": "Cornwall, ON"}]}`, entry{"stops[0].place", "", `"Perth, ON" at line 1, column 40, and "Ottawa, ON"`, "keep the one"}},
		"whole objects":   {"/v1/routes", `{"unit": {"height_m": 4.6}, ` + stops + `, "unit": {"height_m": 4.0}}`, entry{"unit", "", "{...} at line 1, column 2, and {...}", "keep the one"}},
		"a check":         {"/v1/checks", `{"unit": {"width_m": 3, "width_m": 2.5}, "in": ["CA-ON"]}`, entry{"unit.width_m", "", "stands twice: 3 at", "keep the one"}},
		"a rig":           {"/v1/rigs", `{"unit": {"mass_kg": 9000, "MASS_KG": 4000}}`, entry{"unit.MASS_KG", "", "stands twice", "openapi.json"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, ask(t.Context(), handler(), http.MethodPost, tc.path, tc.body), http.StatusUnprocessableEntity, tc.want)
		})
	}
}

// Properties of GeoJSON mean nothing here, so "Name" and "name" are two.
func TestForeignKeysMayDifferInCapitals(t *testing.T) {
	if got := wire.RepeatedKeys([]byte(`{"type": "Feature", "properties": {"Name": 1, "name": 2, "in": {"A": 1, "a": 2}}}`)); len(got) > 0 {
		t.Errorf("%v", got)
	}
	if got := wire.RepeatedKeys([]byte(`{"type": "Feature", "properties": {"name": 1, "name": 2}}`)); len(got) != 1 {
		t.Errorf("the same letters in properties: %v, want one error", got)
	}
}

// What an encoder writes of a map has each key once; with one written again it has
// not, wherever that stands.
func TestRepeatedKeysAreFoundAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z_"\\ ]{1,6}`), 1, 6, rapid.ID[string]).Draw(t, "names")
		members := []string{}
		for _, n := range names {
			members = append(members, string(must(json.Marshal(n)))+`: {"a": [1, {"b": null}]}`)
		}
		object := func() string { return `[0, {"in": {` + strings.Join(members, ",\n") + `}}]` }
		if got := wire.RepeatedKeys([]byte(object())); len(got) > 0 {
			t.Fatalf("%s: %v", object(), got)
		}
		members = append(members, members[rapid.IntRange(0, len(names)-1).Draw(t, "again")])
		if got := wire.RepeatedKeys([]byte(object())); len(got) != 1 {
			t.Fatalf("%s: %v, want one error", object(), got)
		}
	})
}
