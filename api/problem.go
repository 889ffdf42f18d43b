package api

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/store"
	"wayhouse/routing/place"
	"wayhouse/routing/rig"
)

// Problem is an error as RFC 9457 has it. Each entry of Errors names a field,
// its value, what is wrong with it and how to mend it.
type Problem struct {
	Type   string       `json:"type" doc:"What kind of problem this is; about:blank where the status says it all"`
	Title  string       `json:"title"`
	Status int          `json:"status"`
	Detail string       `json:"detail,omitempty"`
	Errors []FieldError `json:"errors,omitempty"`
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

// FieldError is one value that cannot be used.
type FieldError struct {
	Field   string `json:"field"`
	Value   any    `json:"value,omitempty"`
	Problem string `json:"problem"`
	Fix     string `json:"fix,omitempty"`
	Confirm string `json:"confirm,omitempty" doc:"Where the value is possible after all: the word to put into confirm"`
}

func (e FieldError) String() string {
	s := e.Field
	if e.Value != nil && e.Value != "" {
		s += fmt.Sprintf(" %q", fmt.Sprint(e.Value))
	}
	s = strings.TrimSpace(s) + ": " + e.Problem
	if e.Fix != "" {
		s += "; " + e.Fix
	}
	return strings.TrimPrefix(s, ": ")
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

// newProblem makes a problem of the library's own errors: validation, media
// types, sizes.
func newProblem(status int, message string, errs ...error) huma.StatusError {
	p := &Problem{Type: "about:blank", Title: http.StatusText(status), Status: status, Detail: message}
	if status >= http.StatusInternalServerError {
		p.Detail, p.cause = insideDetail, errors.Join(append(errs, errors.New(message))...)
		return p
	}
	for _, err := range errs {
		if d, ok := err.(huma.ErrorDetailer); ok {
			p.Errors = append(p.Errors, details(d.ErrorDetail())...)
		} else if err != nil {
			p.Errors = append(p.Errors, FieldError{Problem: err.Error()})
		}
	}
	return p
}

// details are what is wrong with one validated value.
func details(d *huma.ErrorDetail) []FieldError {
	if twice, ok := d.Value.(repeated); ok {
		return twice
	}
	return []FieldError{detail(d)}
}

// detail names a validated field as the user wrote it, and adds the fix that
// the validator does not know.
func detail(d *huma.ErrorDetail) FieldError {
	e := FieldError{Field: strings.TrimPrefix(strings.TrimPrefix(d.Location, "body."), "query."), Value: short(d.Value), Problem: d.Message}
	switch {
	case strings.HasPrefix(d.Message, "expected string") && WithUnit(e.Field) != "":
		e.Problem, e.Fix = "is a bare number", WithUnit(e.Field)
	case strings.HasPrefix(d.Message, "unexpected property"):
		e.Fix = "check its spelling, capitals included, against /openapi.json"
	case strings.HasPrefix(d.Message, "expected required property"):
		e.Fix = "add it"
	default:
		e.Fix = "see /openapi.json for what it takes"
	}
	return e
}

func short(v any) any {
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

// WithUnit says how to write a field that takes a text with a unit; it is empty
// for all others.
func WithUnit(field string) string {
	const write = "write it with a unit in quotes, such as "
	name := last(field)
	for _, q := range quantities {
		if slices.Contains(q.fields, name) {
			return write + q.example + strings.ReplaceAll(q.number, "*", name)
		}
	}
	switch {
	case strings.Contains(field, "permit_costs"):
		return write + `"30 min" or "2 h"`
	case strings.HasPrefix(field, "allowances."):
		return write + `"0.05 m"`
	default:
		return ""
	}
}

// quantities are the fields that take a text with a unit, with an example of it and
// how to give a number instead.
var quantities = []struct {
	fields          []string
	example, number string
}{
	{[]string{"top_speed"}, `"90 km/h" or "55 mph"`, ""},
	{[]string{"permit_cost"}, `"30 min" or "2 h"`, ""},
	{[]string{
		"mass", "rating", "tire_rating", "gross_rating", "combined_rating", "coupling_vertical_rating", "coupling_towed_rating", "empty", "give_or_take",
	}, `"24,000 lb"`, ", or use *_kg"},
	{[]string{
		"height", "width", "length", "coupling_to_rear", "coupling_to_last_axle", "front_to_coupling", "front_overhang", "rear_overhang",
		"behind_first", "tire_width", "behind_coupling", "track", "over_tires", "over_mirrors", "deck_height", "ground_clearance", "tail_clearance", "along", "across", "up", "from", "to",
		"bottom", "top", "depth", "coupling_behind_first_axle", "cab_to_coupling", "turning_radius", "altitude",
	}, `"4.15 m"`, ", or use *_m"},
	{[]string{"area", "roof_box_area"}, `"12.5 m2" or "135 sq ft"`, ", or use *_m2"},
	{[]string{"volume", "tank"}, `"120 L" or "32 US gal"`, ", or use *_l"},
	{[]string{"power"}, `"276 kW" or "370 hp"`, ", or use *_kw"},
	{[]string{"uplift_rating", "shear_rating"}, `"22.2 kN" or "5,000 lbf"`, ", or use *_kn"},
	{[]string{"wind"}, `"30 km/h" or "20 mph"`, ", or use wind_kmh"},
}

func last(field string) string { return field[strings.LastIndexByte(field, '.')+1:] }

// unusable makes the problem of values that cannot be used.
func unusable(errs ...FieldError) *Problem {
	return &Problem{
		Type: "about:blank", Title: http.StatusText(http.StatusUnprocessableEntity), Status: http.StatusUnprocessableEntity,
		Detail: "some values cannot be used", Errors: errs,
	}
}

// asked makes the problem of values that must be confirmed first.
func asked(questions []rig.Question) *Problem {
	p := unusable()
	p.Type, p.Detail = questionType, "please check these values: they are possible but more likely a slip"
	for _, q := range questions {
		p.Errors = append(p.Errors, FieldError{Field: q.Field, Value: q.Value, Problem: q.Problem, Fix: q.Fix, Confirm: q.Confirm})
	}
	return p
}

// AsProblem is the one table from errors to HTTP. An error that it does not
// know shows nothing of the inside; known is then false and the caller logs it.
func AsProblem(err error) (p *Problem, known bool) {
	var (
		problem   *Problem
		field     *measure.FieldError
		cell      *rows.CellError
		ambiguous *place.AmbiguousError
		missing   *place.NotFoundError
		revision  *store.NoRevisionError
		row       *store.NoRowError
		conflict  *store.ConflictError
		edit      *store.EditError
		expect    *store.ExpectError
		trouble   *store.TroubleError
	)
	switch {
	case errors.As(err, &problem):
		return problem, true
	case errors.As(err, &field):
		return unusable(FieldError{Field: field.Field, Value: field.Value, Problem: field.Problem, Fix: field.Fix}), true
	case errors.As(err, &cell):
		return unusable(FieldError{Field: fmt.Sprintf("structures line %d, column %s", cell.Line, cell.Column), Value: cell.Value, Problem: cell.Problem, Fix: cell.Fix}), true
	case errors.As(err, &ambiguous):
		return unusable(FieldError{Field: "place", Value: ambiguous.Name, Problem: err.Error(), Fix: "add the province or state, or give lat and lon"}), true
	case errors.As(err, &missing):
		return unusable(FieldError{Field: "place", Value: missing.Name, Problem: err.Error(), Fix: "check the spelling, or give lat and lon"}), true
	case errors.As(err, &revision):
		return unusable(FieldError{Field: "tables_revision", Value: fmt.Sprint(revision.Number), Problem: revision.Error(), Fix: "give a number that wayhouse rules history lists"}), true
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
		return unusable(FieldError{Field: field, Problem: edit.Problem, Fix: "correct it; nothing was changed"}), true
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return &Problem{Type: "about:blank", Title: "Not finished", Status: http.StatusServiceUnavailable, Detail: "the plan was not finished in time"}, true
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
