package api

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/validation"

	"wayhouse/api/wire"
	"wayhouse/regs/say"
)

// The library checks parameters, and says what is wrong by variables of its own: each is
// set to a word of ours with the bound behind it, which is read again here.
const (
	shortText = "short_text"
	longText  = "long_text"
	lowNumber = "low_number"
	topNumber = "top_number"
	longList  = "long_list"
)

func nameFaults() {
	validation.MsgExpectedMinLength, validation.MsgExpectedMaxLength = shortText+" %d", longText+" %d"
	validation.MsgExpectedMinimumNumber, validation.MsgExpectedMaximumNumber = lowNumber+" %v", topNumber+" %v"
	validation.MsgExpectedMaxItems = longList + " %d"
}

// parameter names a parameter as the user wrote it.
func parameter(d *huma.ErrorDetail) wire.FieldError {
	return wire.FieldError{
		Field: strings.TrimPrefix(d.Location, "query."), Parameter: true, Value: wire.Short(d.Value), Problem: fault(d),
		Fix: say.That("fix.see_openapi_json_for"),
	}
}

// fault is what the library says of a parameter; in its own words where it is none of
// what our parameters can be refused for.
func fault(d *huma.ErrorDetail) say.Remark {
	word, bound, _ := strings.Cut(d.Message, " ")
	switch word {
	case shortText:
		return say.That("error.short_text", "bound", bound)
	case longText:
		return say.That("error.characters", "n", len([]rune(fmt.Sprint(d.Value))), "bound", number(bound))
	case lowNumber:
		return say.That("error.less_than", "least", bound)
	case topNumber:
		return say.That("error.more_than", "bound", bound)
	case longList:
		return say.That("error.long_list", "bound", number(bound))
	}
	switch d.Message { // these stand in its code
	case "unknown query parameter":
		return say.That("error.no_parameter")
	case "required query parameter is missing":
		return say.That("error.missing")
	case "invalid integer":
		return say.That("error.no_whole_number")
	case "invalid boolean":
		return say.That("error.neither_true_nor_false")
	default:
		return say.Text(d.Message)
	}
}

func number(text string) int {
	n, _ := strconv.Atoi(text) // the library wrote it
	return n
}

// unreadBody says why a body was not read.
func unreadBody(status int, message string) say.Remark {
	switch status {
	case http.StatusUnprocessableEntity:
		return say.That("problem.unusable")
	case http.StatusBadRequest:
		return say.That("problem.no_body")
	case http.StatusRequestTimeout:
		return say.That("problem.slow_body")
	case http.StatusRequestEntityTooLarge:
		_, bound, _ := strings.Cut(message, "=")
		bound, _, _ = strings.Cut(bound, " ")
		return say.That("problem.large_body", "bound", number(bound))
	default:
		return say.Text(message)
	}
}
