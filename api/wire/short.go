package wire

import (
	"fmt"
	"strings"
)

// last is the name of a field without what it stands in.
func last(field string) string { return field[strings.LastIndexByte(field, '.')+1:] }

// each makes the entries of a list of an answer; none of them is an empty list and no
// null.
func each[A, B any](in []A, of func(A) B) []B {
	out := make([]B, len(in))
	for i, a := range in {
		out[i] = of(a)
	}
	return out
}

// Short is a value as an error shows it.
func Short(v any) any {
	switch v.(type) {
	case string, float64, int, int64, bool, nil:
		if s := fmt.Sprint(v); len(s) > 100 {
			return s[:100] + "..."
		}
		return v
	default:
		return nil // an object or a list: naming the field is enough
	}
}
