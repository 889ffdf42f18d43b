package limit

import (
	"strings"
	"testing"

	"wayhouse/regs/roads"
)

// Words that no data decides may mean any road.
func TestRowBound(t *testing.T) {
	two := []roads.Road{{Lanes: 2}}
	for _, tc := range []struct {
		words, data string
		somewhere   Applies
		everywhere  bool
	}{
		{"", "", Yes, true},
		{"bridges", "", Perhaps, false},
		{"two_lane", "lanes=1", No, false},
		{"multi_lane", "lanes=2+", Yes, true},
		{"", "lanes=2+", Yes, true},
	} {
		r, err := Table().Row(2, good(map[string]string{"road": tc.words, "roads": tc.data}))
		if somewhere, everywhere := r.Bound(two); err != nil || somewhere != tc.somewhere || everywhere != tc.everywhere {
			t.Errorf("%q %q: %d and %v, %v; want %d and %v", tc.words, tc.data, somewhere, everywhere, err, tc.somewhere, tc.everywhere)
		}
		if tc.data != "" && r.Road == "" {
			t.Errorf("%q: the row has no words for its roads", tc.data)
		}
	}
}

func TestRowOfRoadsThatAreNoTerms(t *testing.T) {
	if _, err := Table().Row(2, good(map[string]string{"roads": "bridges"})); err == nil || !strings.Contains(err.Error(), "column roads") {
		t.Errorf("a row of roads that are no terms: %v", err)
	}
}
