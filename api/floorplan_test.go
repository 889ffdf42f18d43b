package api_test

import "testing"

// The floor plan of the example has fewer than 60 quantities and no more than 40 entries,
// with every number counted that whoever wrote it had to know.
func TestFloorPlanIsShort(t *testing.T) {
	q := fileFields(t, "floorplan.yaml")
	if n := quantities(q); n >= 60 || n < 30 {
		t.Errorf("%d quantities", n)
	}
	entries := len(q["parts"].([]any))
	for _, s := range q["surfaces"].([]any) {
		openings, _ := s.(map[string]any)["openings"].([]any)
		entries += 1 + len(openings)
	}
	if entries > 40 {
		t.Errorf("%d entries", entries)
	}
}

// quantities counts the numbers in a file, with a unit or without.
func quantities(v any) (n int) {
	switch x := v.(type) {
	case map[string]any:
		for _, of := range x {
			n += quantities(of)
		}
	case []any:
		for _, of := range x {
			n += quantities(of)
		}
	case string:
		if x != "" && (x[0] >= '0' && x[0] <= '9' || x[0] == '-') {
			n = 1
		}
	case float64, int, int64:
		n = 1
	}
	return n
}
