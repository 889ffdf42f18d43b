package measure

import (
	"fmt"

	"wayhouse/regs/say"
)

// FieldError is a value that came in a named field and cannot be used: what is wrong
// with it, and how to mend it.
type FieldError struct {
	Field        string
	Value        string
	Problem, Fix say.Remark
}

func (e *FieldError) Error() string {
	if e.Value == "" {
		return fmt.Sprintf("%s: %s; %s", e.Field, e.Problem, e.Fix)
	}
	return fmt.Sprintf("%s %q: %s; %s", e.Field, e.Value, e.Problem, e.Fix)
}

// Remark is all of it in one sentence.
func (e *FieldError) Remark() say.Remark {
	return say.That("error.of_field", "field", e.Field, "value", e.Value, "problem", e.Problem, "fix", e.Fix)
}
