package measure

import (
	"fmt"

	"wayhouse/regs/say"
)

// FieldError is a quantity that came in a named field and cannot be used.
type FieldError struct {
	Field   string
	Value   string
	Problem string
	Because say.Remark // what the problem is, where a remark says it; behind Problem
	Fix     string
}

func (e *FieldError) Error() string {
	if !e.Because.None() {
		return fmt.Sprintf("%s %q: %s: %s; %s", e.Field, e.Value, e.Problem, e.Because, e.Fix)
	}
	if e.Value == "" {
		return fmt.Sprintf("%s: %s; %s", e.Field, e.Problem, e.Fix)
	}
	return fmt.Sprintf("%s %q: %s; %s", e.Field, e.Value, e.Problem, e.Fix)
}
