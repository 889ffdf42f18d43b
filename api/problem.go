package api

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/store"
)

// Problem is an error as RFC 9457 has it. Each entry of Errors names a field,
// its value, what is wrong with it and how to mend it.
type Problem struct {
	Type   string            `json:"type" doc:"What kind of problem this is, a name that never changes its meaning"`
	Title  string            `json:"title"`
	Status int               `json:"status"`
	Detail string            `json:"detail,omitempty"`
	Errors []wire.FieldError `json:"errors,omitempty"`
	// RequestID is that of the request, as its answer's X-Request-Id has it too.
	RequestID string `json:"request_id,omitempty" doc:"Under which the log has it"`

	again time.Duration // after which to ask again; 0 where that is of no use
	cause error         // for the log alone
}

// GetHeaders are asked by the library for the headers of an error (RFC 9110,
// section 10.2.3).
func (p *Problem) GetHeaders() http.Header {
	h := http.Header{}
	if p.again > 0 {
		h.Set("Retry-After", strconv.Itoa(int(p.again.Seconds())))
	}
	return h
}

// Error prints every entry, or the detail where there is none.
func (p *Problem) Error() string {
	if len(p.Errors) == 0 {
		return p.Detail
	}
	var lines []string
	for _, e := range p.Errors {
		lines = append(lines, e.String())
	}
	return strings.Join(lines, "\n")
}

// GetStatus returns the HTTP status.
func (p *Problem) GetStatus() int { return p.Status }

// ContentType makes every problem application/problem+json.
func (p *Problem) ContentType(string) string { return problemType }

const (
	problemType  = "application/problem+json"
	questionType = "urn:wayhouse:question" // values that must be confirmed
)

// insideDetail is all that is shown of what went wrong inside.
const insideDetail = "something went wrong inside; it was logged"

// newProblem makes a problem of the library's own errors: parameters, media
// types, sizes.
func newProblem(status int, message string, errs ...error) huma.StatusError {
	p := &Problem{Type: "about:blank", Title: http.StatusText(status), Status: status, Detail: message}
	if status >= http.StatusInternalServerError {
		p.Detail, p.cause = insideDetail, errors.Join(append(errs, errors.New(message))...)
		return p
	}
	for _, err := range errs {
		var of *Problem // of a body
		if errors.As(err, &of) {
			return of
		}
		if d, ok := err.(huma.ErrorDetailer); ok {
			p.Errors = append(p.Errors, parameter(d.ErrorDetail()))
		} else if err != nil {
			p.Errors = append(p.Errors, wire.FieldError{Problem: err.Error()})
		}
	}
	return p
}

// parameter names a parameter as the user wrote it.
func parameter(d *huma.ErrorDetail) wire.FieldError {
	field := strings.TrimPrefix(d.Location, "query.")
	return wire.FieldError{
		Field: field, Parameter: true, Value: wire.Short(d.Value), Problem: d.Message, Fix: "see /openapi.json for what it takes",
	}
}

// unusable makes the problem of values that cannot be used.
func unusable(errs ...wire.FieldError) *Problem {
	return &Problem{
		Type: "about:blank", Title: http.StatusText(http.StatusUnprocessableEntity), Status: http.StatusUnprocessableEntity,
		Detail: "some values cannot be used", Errors: errs,
	}
}

// refusedProblem makes the problem of a request that is not answered as it is.
func refusedProblem(r *wire.Refusal) *Problem {
	p := unusable(r.Errors...)
	switch {
	case r.Unreadable:
		p.Status, p.Title = http.StatusBadRequest, http.StatusText(http.StatusBadRequest)
	case r.Asks:
		p.Type, p.Detail = questionType, "please check these values: they are possible but more likely a slip"
	}
	return p
}

// AsProblem is the one table from errors to HTTP. An error that it does not
// know shows nothing of the inside; known is then false and the caller logs it.
func AsProblem(err error) (p *Problem, known bool) {
	var (
		problem  *Problem
		revision *store.NoRevisionError
		row      *store.NoRowError
		conflict *store.ConflictError
		edit     *store.EditError
		expect   *store.ExpectError
		trouble  *store.TroubleError
	)
	if refusal, ok := wire.AsRefusal(err); ok {
		return refusedProblem(refusal), true
	}
	switch {
	case errors.As(err, &problem):
		return problem, true
	case errors.As(err, &revision):
		return unusable(wire.FieldError{
			Field: "tables_revision", Value: fmt.Sprint(revision.Number), Problem: revision.Error(),
			Fix: "give a number that wayhouse rules history lists",
		}), true
	case errors.Is(err, service.ErrNotKept):
		return plainProblem(http.StatusForbidden, service.NotKept), true
	case errors.As(err, &row):
		return plainProblem(http.StatusNotFound, row.Error()), true
	case errors.As(err, &conflict):
		return plainProblem(http.StatusPreconditionFailed, conflict.Error()), true
	case errors.As(err, &expect):
		return plainProblem(http.StatusPreconditionFailed, expect.Error()), true
	case errors.As(err, &trouble):
		return inTrouble(trouble), true
	case errors.As(err, &edit):
		field := strings.TrimSpace(edit.Table + " " + edit.ID)
		if field == "" {
			field = "the change"
		}
		return unusable(wire.FieldError{Field: field, Problem: edit.Problem, Fix: "correct it; nothing was changed"}), true
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return &Problem{
			Type: "about:blank", Title: "Not finished", Status: http.StatusServiceUnavailable,
			Detail: "the plan was not finished in time",
		}, true
	default:
		p := plainProblem(http.StatusInternalServerError, insideDetail)
		p.cause = err
		return p, false
	}
}

// inTrouble is the problem of tables that do not answer.
func inTrouble(e *store.TroubleError) *Problem {
	status, detail := http.StatusServiceUnavailable, map[store.Trouble]string{
		store.Full: "there is no room left where the tables are kept: free some, and ask again; nothing was changed",
		store.Busy: "the tables are busy: others had them for longer than a request waits; ask again soon",
		store.Away: "the tables cannot be reached, or take no changes; ask again, and see the log of the service if it lasts",
		store.Slow: "the tables did not answer in time; ask again",
	}[e.Trouble]
	if e.Trouble == store.Full {
		status = http.StatusInsufficientStorage
	}
	p := plainProblem(status, detail)
	p.again, p.cause = e.Again(), e
	return p
}

// plainProblem makes a problem that its detail says all of.
func plainProblem(status int, detail string) *Problem {
	return &Problem{Type: "about:blank", Title: http.StatusText(status), Status: status, Detail: detail}
}
