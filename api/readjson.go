package api

import (
	"github.com/danielgtaylor/huma/v2"

	"wayhouse/api/wire"
)

// repeated stands in the place of a body in which keys stand twice. The library
// validates what its reader gives out and hands back what does not fit: there is no
// other way to tell it more of an error than a text.
type repeated []wire.FieldError

// readJSON reads a body. What is read to be validated is also asked for keys that
// stand twice.
func readJSON(data []byte, v any) error {
	if err := huma.DefaultJSONFormat.Unmarshal(data, v); err != nil {
		return err
	}
	if whole, validated := v.(*any); validated {
		if twice := wire.RepeatedKeys(data); len(twice) > 0 {
			*whole = repeated(twice)
		}
	}
	return nil
}
