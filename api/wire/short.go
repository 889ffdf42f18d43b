package wire

import (
	"fmt"
	"strings"
)

// last is the name of a field without what it stands in.
func last(field string) string { return field[strings.LastIndexByte(field, '.')+1:] }

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
