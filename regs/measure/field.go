package measure

import "fmt"

// FieldError is a quantity that came in a named field and cannot be used.
type FieldError struct {
	Field   string
	Value   string
	Problem string
	Fix     string
}

func (e *FieldError) Error() string {
	if e.Value == "" {
		return fmt.Sprintf("%s: %s; %s", e.Field, e.Problem, e.Fix)
	}
	return fmt.Sprintf("%s %q: %s; %s", e.Field, e.Value, e.Problem, e.Fix)
}
