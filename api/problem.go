package api

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/api/phrase"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
)

// Problem is an error as RFC 9457 has it. Each entry of Errors names a field,
// its value, what is wrong with it and how to mend it.
type Problem struct {
	Type   string       `json:"type" doc:"What kind of problem this is, a name that never changes its meaning"`
	Title  string       `json:"title"`
	Status int          `json:"status"`
	Detail string       `json:"detail,omitempty"`
	Errors []wire.Fault `json:"errors,omitempty"`
	// RequestID is that of the request, as its answer's X-Request-Id has it too.
	RequestID string `json:"request_id,omitempty" doc:"Under which the log has it"`

	detail say.Remark        // what Detail says, in no language
	errors []wire.FieldError // what Errors are
	again  time.Duration     // after which to ask again; 0 where that is of no use
	cause  error             // for the log alone
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

// In is the problem in the words of a language.
func (p *Problem) In(tell *phrase.Language) *Problem {
	out := *p
	out.Title, out.Detail, out.Errors = tell.Say(wire.StatusTitle(p.Status)), tell.Say(p.detail), nil
	for _, e := range p.errors {
		out.Errors = append(out.Errors, e.In(tell))
	}
	return &out
}

// Error is for logs: every entry, or the detail where there is none.
func (p *Problem) Error() string {
	if len(p.errors) == 0 {
		return p.detail.String()
	}
	return wire.Refuse(p.errors...).Error()
}

// GetStatus returns the HTTP status.
func (p *Problem) GetStatus() int { return p.Status }

// ContentType makes every problem application/problem+json.
func (p *Problem) ContentType(string) string { return problemType }

const (
	problemType  = "application/problem+json"
	questionType = "urn:wayhouse:question" // values that must be confirmed
)

// inside is all that is shown of what went wrong inside.
func inside() *Problem {
	return plainProblem(http.StatusInternalServerError, say.That("problem.inside"))
}

// newProblem makes a problem of the library's own errors: parameters, media
// types, sizes.
func newProblem(status int, message string, errs ...error) huma.StatusError {
	p := plainProblem(status, unreadBody(status, message))
	if status >= http.StatusInternalServerError {
		p.detail, p.cause = say.That("problem.inside"), errors.Join(append(errs, errors.New(message))...)
		return p
	}
	for _, err := range errs {
		var of *Problem // of a body
		if errors.As(err, &of) {
			return of
		}
		if d, ok := err.(huma.ErrorDetailer); ok {
			p.errors = append(p.errors, parameter(d.ErrorDetail()))
		} else if err != nil {
			p.errors = append(p.errors, wire.FieldError{Problem: say.Of(err)})
		}
	}
	return p
}

// unusable makes the problem of values that cannot be used.
func unusable(errs ...wire.FieldError) *Problem {
	p := plainProblem(http.StatusUnprocessableEntity, say.That("problem.unusable"))
	p.errors = errs
	return p
}

// refusedProblem makes the problem of a request that is not answered as it is.
func refusedProblem(r *wire.Refusal) *Problem {
	p := unusable(r.Errors...)
	switch {
	case r.Unreadable:
		p.Status = http.StatusBadRequest
	case r.Asks:
		p.Type, p.detail = questionType, say.That("problem.question")
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
		document *store.NoDocumentError
		conflict *store.ConflictError
		stale    *store.StaleDocumentError
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
			Field: "tables_revision", Value: fmt.Sprint(revision.Number), Problem: revision.Remark(),
			Fix: say.That("fix.give_a_number_that"),
		}), true
	case errors.Is(err, service.ErrNotKept):
		return plainProblem(http.StatusForbidden, service.NotKept()), true
	case errors.As(err, &document):
		return plainProblem(http.StatusNotFound, document.Remark()), true
	case errors.As(err, &row):
		return plainProblem(http.StatusNotFound, row.Remark()), true
	case errors.As(err, &stale):
		return plainProblem(http.StatusPreconditionFailed, stale.Remark()), true
	case errors.As(err, &conflict):
		return plainProblem(http.StatusPreconditionFailed, conflict.Remark()), true
	case errors.As(err, &expect):
		return plainProblem(http.StatusPreconditionFailed, expect.Remark()), true
	case errors.As(err, &trouble):
		return inTrouble(trouble), true
	case errors.As(err, &edit):
		field := cmp.Or(strings.TrimSpace(edit.Table+" "+edit.ID), "change")
		return unusable(
			wire.FieldError{Field: field, Problem: edit.Problem, Fix: say.That("fix.correct_it_nothing_was")},
		), true
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return plainProblem(http.StatusServiceUnavailable, say.That("problem.not_finished")), true
	default:
		p := inside()
		p.cause = err
		return p, false
	}
}

// inTrouble is the problem of tables that do not answer.
func inTrouble(e *store.TroubleError) *Problem {
	status, detail := http.StatusServiceUnavailable, e.Remark()
	if e.Trouble == store.Full {
		status = http.StatusInsufficientStorage
	}
	p := plainProblem(status, detail)
	p.again, p.cause = e.Again(), e
	return p
}

// plainProblem makes a problem that its detail says all of.
func plainProblem(status int, detail say.Remark) *Problem {
	return &Problem{Status: status, detail: detail}
}
