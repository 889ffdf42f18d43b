package api_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/pb33f/libopenapi"
	validator "github.com/pb33f/libopenapi-validator"
	"github.com/pb33f/libopenapi-validator/config"
	"wayhouse/testdata/english"
)

// untruths are answers of any test that are not as the service describes them.
var untruths struct {
	sync.Mutex
	said []string
}

func TestMain(m *testing.M) {
	code := m.Run()
	if *update {
		writeExamples()
	}
	slices.Sort(untruths.said)
	for _, said := range slices.Compact(untruths.said) {
		fmt.Println("not as /openapi.json says:", said)
		code = max(code, 1)
	}
	os.Exit(code)
}

// descriptions are the readers of what services publish, by what that is: OpenAPI 3.1,
// read strictly, so that a field that is not described is one too many.
var descriptions sync.Map

func descriptionOf(h http.Handler) validator.Validator {
	w := httptest.NewRecorder()
	r := httptest.NewRequest(http.MethodGet, "http://127.0.0.1:8080/openapi.json", nil)
	h.ServeHTTP(w, r)
	if w.Code != http.StatusOK {
		return nil
	}
	made := sync.OnceValue(func() validator.Validator {
		v, wrong := validator.NewValidator(must(libopenapi.NewDocument(strict(w.Body.Bytes()))), config.WithFormatAssertions())
		if wrong != nil {
			panic(fmt.Sprint(wrong))
		}
		if ok, wrong := v.ValidateDocument(); !ok {
			panic(fmt.Sprint(wrong))
		}
		return v
	})
	kept, _ := descriptions.LoadOrStore(w.Body.String(), made)
	return kept.(func() validator.Validator)()
}

// strict closes the objects of a description, which are open to fields that later
// versions add: a field that this one sends has to be described.
func strict(doc []byte) []byte {
	var all map[string]any
	if err := json.Unmarshal(doc, &all); err != nil {
		panic(err)
	}
	for _, s := range all["components"].(map[string]any)["schemas"].(map[string]any) {
		if s := s.(map[string]any); s["properties"] != nil && s["additionalProperties"] == nil {
			s["additionalProperties"] = false
		}
	}
	return must(json.Marshal(all))
}

// refusedInFrench asks for the same refusal in French and wants no English in it but what
// is quoted and what the user wrote.
func refusedInFrench(h http.Handler, r *http.Request, w *httptest.ResponseRecorder) {
	changed := w.Code == http.StatusPreconditionFailed || w.Code == http.StatusConflict
	if w.Code < 400 || w.Code >= 500 || changed || w.Header().Get("Content-Language") == "fr" || r.URL.Query().Has("lang") || r.Context().Err() != nil {
		return
	}
	again := r.Clone(r.Context())
	again.Header.Set("Accept-Language", "fr")
	again.Body, _ = r.GetBody() // as [ask] makes it
	in := httptest.NewRecorder()
	h.ServeHTTP(in, again)
	var p struct {
		Title, Detail string
		Errors        []struct{ Problem, Fix string }
	}
	if in.Code != w.Code || json.Unmarshal(in.Body.Bytes(), &p) != nil {
		return
	}
	for _, said := range append(p.Errors, struct{ Problem, Fix string }{p.Title, p.Detail}) {
		for _, text := range []string{said.Problem, said.Fix} {
			if at := english.In(text); at != "" {
				untruths.Lock()
				untruths.said = append(untruths.said, fmt.Sprintf("%s %s %d in French: %s", r.Method, r.URL.Path, w.Code, at))
				untruths.Unlock()
			}
		}
	}
}

// held holds an answer against the description that its service publishes.
func held(h http.Handler, r *http.Request, w *httptest.ResponseRecorder) {
	v := descriptionOf(h)
	nothing := w.Code == http.StatusNotFound || w.Code == http.StatusMethodNotAllowed
	if v == nil || w.Header().Get("Content-Encoding") != "" || strings.HasPrefix(r.URL.Path, "/openapi") || nothing && w.Header().Get("Content-Language") == "" {
		return // what it does not describe: that there is no such address, or no such method
	}
	meet(h, r, w)
	refusedInFrench(h, r, w)
	answer := w.Result()
	answer.Body = io.NopCloser(bytes.NewReader(w.Body.Bytes()))
	if ok, wrong := v.ValidateHttpResponse(r, answer); !ok {
		untruths.Lock()
		defer untruths.Unlock()
		for _, one := range wrong {
			said := fmt.Sprintf("%s %s %d: %s %s", r.Method, r.URL.Path, w.Code, one.Message, one.Reason)
			for _, part := range one.SchemaValidationErrors {
				said += fmt.Sprintf("\n    %s %s", part.FieldPath, part.Reason)
			}
			untruths.said = append(untruths.said, said)
		}
	}
}
