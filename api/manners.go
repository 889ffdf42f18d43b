package api

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"strconv"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/klauspost/compress/gzhttp"
)

// mannered answers HEAD as GET without its body, names the state of what a GET answers
// so that it need not be sent again (RFC 9110, sections 9.3.2 and 13.1.2), and packs
// what a client takes packed.
func mannered(h http.Handler) http.Handler {
	return gzhttp.GzipHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			h.ServeHTTP(w, r)
			return
		}
		get := r.Clone(r.Context())
		get.Method = http.MethodGet
		answer := &held{ResponseWriter: w, status: http.StatusOK}
		h.ServeHTTP(answer, get)
		answer.send(r)
	}))
}

// held is an answer that is not sent yet.
type held struct {
	http.ResponseWriter
	status int
	body   bytes.Buffer
}

func (a *held) WriteHeader(status int) { a.status = status }

func (a *held) Write(part []byte) (int, error) { return a.body.Write(part) }

// Unwrap lets the deadlines of a request be reached.
func (a *held) Unwrap() http.ResponseWriter { return a.ResponseWriter }

// send sends what is wanted of an answer to a GET or a HEAD.
func (a *held) send(r *http.Request) {
	head := a.Header()
	if a.status == http.StatusOK {
		if head.Get("ETag") == "" {
			sum := sha256.Sum256(a.body.Bytes())
			head.Set("ETag", "W/"+strconv.Quote(hex.EncodeToString(sum[:12]))) // packed or not
		}
		if known(r.Header.Get("If-None-Match"), head.Get("ETag")) {
			head.Del("Content-Type")
			a.ResponseWriter.WriteHeader(http.StatusNotModified)
			return
		}
	}
	head.Set("Content-Length", strconv.Itoa(a.body.Len()))
	a.ResponseWriter.WriteHeader(a.status)
	if r.Method != http.MethodHead {
		_, _ = a.ResponseWriter.Write(a.body.Bytes()) // nobody is left to hear of it
	}
}

// known reports whether a client has what an ETag names, compared weakly.
func known(ifNoneMatch, tag string) bool {
	for one := range strings.SplitSeq(ifNoneMatch, ",") {
		if one = strings.TrimSpace(one); one == "*" || strings.TrimPrefix(one, "W/") == strings.TrimPrefix(tag, "W/") {
			return one != ""
		}
	}
	return false
}

// refusals are the statuses with which an operation may refuse, as far as its method
// and its address tell.
func refusals(op *huma.Operation) []int {
	out := []int{http.StatusForbidden, http.StatusNotAcceptable, http.StatusServiceUnavailable,
		http.StatusUnprocessableEntity, http.StatusInsufficientStorage}
	if op.Method == http.MethodPost || op.Method == http.MethodPut {
		out = append(out, http.StatusBadRequest, http.StatusRequestEntityTooLarge, http.StatusUnsupportedMediaType)
	}
	saved := strings.HasPrefix(op.Path, "/v1/trips/{id}")
	if saved || strings.Contains(op.Path, "{table}") || strings.Contains(op.Path, "{name}") {
		out = append(out, http.StatusNotFound)
	}
	if (saved || strings.Contains(op.Path, "{table}")) && op.Method != http.MethodGet {
		out = append(out, http.StatusPreconditionFailed)
	}
	if strings.Contains(op.Path, "{id}") && op.Method != http.MethodGet {
		out = append(out, http.StatusPreconditionRequired, http.StatusUnsupportedMediaType)
	}
	return out
}

// heads describes HEAD beside each GET, and that either may find nothing new.
func heads(api *huma.OpenAPI) {
	for _, item := range api.Paths {
		if item.Get == nil {
			continue
		}
		item.Get.Responses["304"] = &huma.Response{Description: "What If-None-Match names is still so"}
		head := *item.Get
		head.OperationID, head.Responses = "head-"+head.OperationID, map[string]*huma.Response{}
		for status, response := range item.Get.Responses {
			head.Responses[status] = &huma.Response{Description: response.Description, Headers: response.Headers}
		}
		item.Head = &head
	}
}
