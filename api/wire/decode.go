package wire

import (
	"encoding/json"
	"errors"
	"reflect"
	"sync"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/regs/say"
)

// Asked is a request as it was read. What does not fit is left out of it and named
// in its refusal, to which reading it further adds.
type Asked[Q any] struct {
	Said    Q
	Refused *Refusal // nil: all of it fits
}

// Err is the refusal of a request that is read no further.
func (a Asked[Q]) Err() error {
	if a.Refused == nil {
		return nil
	}
	return a.Refused
}

// Decode reads a request from a JSON text. It is the one reader of requests: what a
// file, flags or a body say is held against the schema that the service publishes.
func Decode[Q any](raw []byte) Asked[Q] {
	var said any
	if err := json.Unmarshal(raw, &said); err != nil {
		e := FieldError{
			Field: "body", Value: Short(string(raw)), Problem: say.That("error.no_json", "why", NoJSON(raw, err)),
			Fix: say.That("fix.correct_it_openapi_json"),
		}
		var large *json.UnmarshalTypeError
		if errors.As(err, &large) { // all else fits what takes anything
			e.Problem = say.That("error.beyond", "value", large.Value)
		}
		return Asked[Q]{Refused: &Refusal{Whole: true, Unreadable: true, Errors: []FieldError{e}}}
	}
	if twice := RepeatedKeys(raw); len(twice) > 0 {
		return Asked[Q]{Refused: &Refusal{Whole: true, Errors: twice}}
	}
	return DecodeValue[Q](said)
}

// DecodeValue is [Decode] for what was read as a JSON value before. A null is not
// given.
func DecodeValue[Q any](said any) (a Asked[Q]) {
	f := formOf(reflect.TypeFor[Q]())
	c := checker{schemas: f.schemas}
	fit := c.value("", f.root, said)
	if len(c.errs) > 0 {
		a.Refused = &Refusal{Whole: fit == nil, Errors: c.errs}
	}
	raw, err := json.Marshal(fit)
	if err == nil {
		err = json.Unmarshal(raw, &a.Said)
	}
	if err != nil && a.Refused == nil { // the schema let through what the type does not take
		a.Refused = Refuse(
			FieldError{Field: "body", Problem: say.That("error.cannot_be_read"), Fix: say.That("fix.see_openapi_json_for")},
		)
	}
	return a
}

// form is the schema of a type of request.
type form struct {
	schemas huma.Registry
	root    *huma.Schema
}

// forms are those that were asked for, by type: making one takes longer than using it.
var forms sync.Map

func formOf(t reflect.Type) *form {
	if f, ok := forms.Load(t); ok {
		return f.(*form)
	}
	r := huma.NewMapRegistry("#/", huma.DefaultSchemaNamer)
	f := &form{r, r.Schema(t, true, "")}
	forms.Store(t, f)
	return f
}

// object is the schema of a request that is an object.
func (f *form) object() *huma.Schema {
	if f.root.Ref != "" {
		return f.schemas.SchemaFromRef(f.root.Ref)
	}
	return f.root
}
