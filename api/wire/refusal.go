package wire

import (
	"errors"
	"fmt"
	"strings"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/place"
	"wayhouse/routing/rig"
)

// FieldError is one value that cannot be used, as data.
type FieldError struct {
	Field        string
	At           say.Remark // where in it, such as a line of a file; none for the whole
	Value        any
	Problem, Fix say.Remark
	Confirm      string // the word that takes the value after all; "" for none
	Parameter    bool   // it stands in the address or a header, not in the body
}

// String is for logs.
func (e FieldError) String() string {
	return Fault{
		Field:   placedAt(e.Field, e.At.String()),
		Value:   e.Value,
		Problem: e.Problem.String(),
		Fix:     e.Fix.String(),
	}.String()
}

// In is the error in a language.
func (e FieldError) In(tell *phrase.Language) Fault {
	return Fault{
		Field: placedAt(e.Field, tell.Say(e.At)), Value: e.Value, Problem: tell.Say(e.Problem), Fix: tell.Say(e.Fix),
		Confirm: e.Confirm,
	}
}

// placedAt is a field and the place in it.
func placedAt(field, at string) string { return strings.Trim(field+", "+at, ", ") }

// Fault is a value that cannot be used, in words.
type Fault struct {
	Field   string `json:"field"`
	Pointer string `json:"pointer,omitempty" doc:"JSON Pointer (RFC 6901) to it in the body"`
	Value   any    `json:"value,omitempty"`
	Problem string `json:"problem"`
	Fix     string `json:"fix,omitempty"`
	Confirm string `json:"confirm,omitempty" doc:"Where the value is possible after all: the word to put into confirm"`
}

func (e Fault) String() string {
	s := e.Field
	if text, ok := e.Value.(string); ok && text != "" {
		s += fmt.Sprintf(" %q", text)
	} else if !ok && e.Value != nil {
		s += fmt.Sprint(" ", e.Value)
	}
	s = strings.TrimSpace(s) + ": " + e.Problem
	if e.Fix != "" {
		s += "; " + e.Fix
	}
	return strings.TrimPrefix(s, ": ")
}

// Refusal is a request that is not answered as it is.
type Refusal struct {
	Errors []FieldError
	// Asks is set where each value is possible and must be confirmed first.
	Asks bool
	// Whole is set where nothing was read for it, Unreadable where it is no JSON.
	Whole, Unreadable bool
}

// Refuse makes the refusal of values that cannot be used.
func Refuse(errs ...FieldError) *Refusal { return &Refusal{Errors: errs} }

// Error prints every entry.
func (r *Refusal) Error() string {
	var lines []string
	for _, e := range r.Errors {
		lines = append(lines, e.String())
	}
	return strings.Join(lines, "\n")
}

// asked makes the refusal of values that must be confirmed first.
func asked(questions []rig.Question) *Refusal {
	out := &Refusal{Asks: true}
	for _, q := range questions {
		out.Errors = append(out.Errors, FieldError{
			Field: q.Field, Value: q.Value, Problem: q.Problem, Fix: q.Fix, Confirm: q.Confirm,
		})
	}
	return out
}

// AsRefusal reads an error about values that somebody gave; ok is false for any
// other.
func AsRefusal(err error) (r *Refusal, ok bool) {
	var (
		refusal   *Refusal
		field     *measure.FieldError
		ambiguous *place.AmbiguousError
		missing   *place.NotFoundError
	)
	switch {
	case errors.As(err, &refusal):
		return refusal, true
	case errors.As(err, &field):
		return Refuse(FieldError{Field: field.Field, Value: field.Value, Problem: field.Problem, Fix: field.Fix}), true
	case errors.As(err, &ambiguous):
		return Refuse(FieldError{
			Field: "place", Value: ambiguous.Name, Problem: say.Of(err),
			Fix: say.That("fix.add_the_province_or"),
		}), true
	case errors.As(err, &missing):
		return Refuse(FieldError{
			Field: "place", Value: missing.Name, Problem: say.Of(err),
			Fix: say.That("fix.check_the_spelling_or"),
		}), true
	default:
		return nil, false
	}
}
