package api

import (
	"context"
	"encoding/json"
	"reflect"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/api/wire"
)

// body is a request with a body, and how the answer is to be given.
type body[Q any] struct {
	Viewing
	Body asked[Q]
}

// asked is a body, read by the one reader of requests and by nothing of the
// library's: a file and a body meet the same rules.
type asked[Q any] struct{ wire.Asked[Q] }

func (a *asked[Q]) read(raw []byte) { a.Asked = wire.Decode[Q](raw) }

// Schema is asked by the library for what is published of the body.
func (*asked[Q]) Schema(r huma.Registry) *huma.Schema {
	return r.Schema(reflect.TypeFor[Q](), true, "")
}

// Resolve is asked by the library whether the request can be answered.
func (b *body[Q]) Resolve(huma.Context) []error {
	if b.Body.Refused == nil || !b.Body.Refused.Whole {
		return nil
	}
	return []error{refusedProblem(b.Body.Refused)}
}

// change is a body that is read no further.
type change[Q any] struct {
	Speaking
	Body asked[Q]
}

// Resolve is asked by the library whether the request can be answered.
func (c *change[Q]) Resolve(huma.Context) []error {
	if c.Body.Refused == nil {
		return nil
	}
	return []error{refusedProblem(c.Body.Refused)}
}

// readJSON lets a body read itself.
func readJSON(raw []byte, v any) error {
	if a, ok := v.(interface{ read([]byte) }); ok {
		a.read(raw)
		return nil
	}
	return json.Unmarshal(raw, v)
}

// register adds a route whose body, if it has one, is read by [asked].
func register[I, O any](api huma.API, op huma.Operation, answer func(context.Context, *I) (*O, error)) {
	op.SkipValidateBody, op.Errors = true, refusals(&op)
	huma.Register(api, op, answer)
}
