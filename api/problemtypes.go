package api

import (
	"cmp"
	"net/http"
	"regexp"
	"strings"
)

// urn is how the types of problems begin. They are names to compare and lead nowhere
// (RFC 9457, section 3.1.1); none of them ever changes its meaning.
const urn = "urn:wayhouse:"

// problemTypes are the types of problems by status. [questionType] is another of 422.
var problemTypes = map[int]string{
	http.StatusBadRequest:            urn + "unreadable",
	http.StatusForbidden:             urn + "forbidden",
	http.StatusNotFound:              urn + "not-found",
	http.StatusMethodNotAllowed:      urn + "wrong-method",
	http.StatusNotAcceptable:         urn + "not-offered",
	http.StatusPreconditionFailed:    urn + "changed-meanwhile",
	http.StatusRequestEntityTooLarge: urn + "too-large",
	http.StatusUnsupportedMediaType:  urn + "wrong-media-type",
	http.StatusUnprocessableEntity:   urn + "unusable-values",
	http.StatusPreconditionRequired:  urn + "no-condition",
	http.StatusInternalServerError:   urn + "inside",
	http.StatusServiceUnavailable:    urn + "unavailable",
	http.StatusInsufficientStorage:   urn + "no-room",
}

// settle gives a problem in words its type, and its entries the places in the body that
// they are about.
func (p *Problem) settle(method string) *Problem {
	p.Type = cmp.Or(p.Type, problemTypes[p.Status], "about:blank")
	if method != http.MethodPost && method != http.MethodPut {
		return p
	}
	for i, e := range p.errors {
		if !e.Parameter {
			p.Errors[i].Pointer = pointer(e.Field)
		}
	}
	return p
}

// path is a field of a body as errors name it: unit.running_gear[0].rating.
var path = regexp.MustCompile(`^\w+(\.\w+|\[\d+\])*$`)

// pointer is the JSON Pointer of a field of a body (RFC 6901), "" where it is none.
func pointer(field string) string {
	if field == "body" || !path.MatchString(field) {
		return ""
	}
	return "/" + strings.NewReplacer(".", "/", "[", "/", "]", "").Replace(field)
}
