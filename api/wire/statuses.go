package wire

import (
	"net/http"
	"strconv"

	"wayhouse/regs/say"
)

// Statuses are those with which a service answers.
func Statuses() []int {
	return []int{
		http.StatusOK, http.StatusBadRequest, http.StatusForbidden, http.StatusNotFound, http.StatusMethodNotAllowed,
		http.StatusNotAcceptable, http.StatusRequestTimeout, http.StatusPreconditionFailed, http.StatusRequestEntityTooLarge,
		http.StatusUnsupportedMediaType, http.StatusUnprocessableEntity, http.StatusPreconditionRequired,
		http.StatusInternalServerError, http.StatusServiceUnavailable, http.StatusInsufficientStorage,
	}
}

// StatusTitle says what a status is.
func StatusTitle(status int) say.Remark {
	return say.Remark{Code: say.Word("status", strconv.Itoa(status))}
}
