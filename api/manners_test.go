package api_test

import (
	"compress/gzip"
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wayhouse/api"
)

// HEAD answers what GET does, without the body (RFC 9110, section 9.3.2).
func TestHeadIsGetWithoutItsBody(t *testing.T) {
	k := keeping(t, nil)
	for _, path := range []string{"/healthz", "/v1/jurisdictions", "/v1/tables", "/v1/tables/limits/csv",
		rowAt("offices", "us-vt-office"), "/v1/nothing", "/v1/coverage?in=CA-ON"} {
		get, head := k.ask(t, http.MethodGet, path, nil), k.ask(t, http.MethodHead, path, nil)
		for _, w := range []http.Header{get.Header(), head.Header()} {
			w.Del("X-Request-Id")
		}
		if head.Code != get.Code || head.Body.Len() > 0 || get.Body.Len() == 0 {
			t.Errorf("%s: %d with %d bytes, GET %d with %d", path, head.Code, head.Body.Len(), get.Code, get.Body.Len())
		}
		if path == "/v1/nothing" { // the problem names the request
			continue
		}
		if diff := cmp.Diff(get.Header(), head.Header()); diff != "" {
			t.Errorf("%s: headers differ: %s", path, diff)
		}
	}
}

// What a client has already is not sent again (RFC 9110, section 13.1.2), and is sent
// when it changed.
func TestWhatIsKnownIsNotSentAgain(t *testing.T) {
	k := keeping(t, nil)
	row := rowAt("offices", "us-vt-office")
	for _, path := range []string{"/v1/tables/offices/csv", "/v1/tables", row, "/v1/limits?jurisdiction=CA-ON"} {
		tag := k.ask(t, http.MethodGet, path, nil).Header().Get("ETag")
		for _, sent := range []string{tag, `"x", ` + tag, "W/" + strings.TrimPrefix(tag, "W/"), "*"} {
			again := k.ask(t, http.MethodGet, path, nil, "If-None-Match", sent)
			if tag == "" || again.Code != http.StatusNotModified || again.Body.Len() > 0 || again.Header().Get("ETag") != tag {
				t.Errorf("%s, %s known as %s: %d, %d bytes", path, tag, sent, again.Code, again.Body.Len())
			}
		}
		if again := k.ask(t, http.MethodGet, path, nil, "If-None-Match", `"other"`); again.Code != http.StatusOK {
			t.Errorf("%s known as something else: %d", path, again.Code)
		}
	}
	before := k.ask(t, http.MethodGet, "/v1/tables/offices/csv", nil).Header().Get("ETag")
	removed := k.ask(t, http.MethodDelete, row+"?who=me&why=closed", nil, "If-Match", k.ask(t, http.MethodGet, row, nil).Header().Get("ETag"))
	if removed.Code != http.StatusOK {
		t.Fatalf("%d %s", removed.Code, removed.Body)
	}
	if w := k.ask(t, http.MethodGet, "/v1/tables/offices/csv", nil, "If-None-Match", before); w.Code != http.StatusOK {
		t.Errorf("a table that changed is not sent: %d", w.Code)
	}
}

// What is packed reads as what is not (RFC 1952).
func TestAnswersArePacked(t *testing.T) {
	plain := ask(t.Context(), handler(), http.MethodGet, "/v1/limits", "")
	packed := ask(t.Context(), handler(), http.MethodGet, "/v1/limits", "", "Accept-Encoding", "gzip")
	if packed.Header().Get("Content-Encoding") != "gzip" || packed.Body.Len() >= plain.Body.Len()/2 {
		t.Fatalf("%q, %d of %d bytes", packed.Header().Get("Content-Encoding"), packed.Body.Len(), plain.Body.Len())
	}
	if !strings.Contains(strings.Join(packed.Header().Values("Vary"), ","), "Accept-Encoding") {
		t.Errorf("Vary %q", packed.Header().Values("Vary"))
	}
	got := string(must(io.ReadAll(must(gzip.NewReader(packed.Body)))))
	if got != plain.Body.String() {
		t.Error("it unpacks to something else")
	}
}

// A client finds the value that is refused by a JSON Pointer (RFC 6901) into what it
// sent, and the kind of problem by a name.
func TestProblemsPointAtTheirValues(t *testing.T) {
	for body, want := range map[string][]string{
		`{"unit": {"height_m": -4}, "stops": [{"place": "Perth, ON"}, {"place": "Sorel-Tracy, QC"}]}`: {"/unit/height_m"},
		`{"unit": {}, "stops": [{"place": 5}, {"plaice": "Sorel-Tracy, QC"}]}`:                        {"/stops/0/place", "/stops/1/plaice"},
	} {
		w := ask(t.Context(), handler(), http.MethodPost, "/v1/trips", body)
		p := read[api.Problem](t, w)
		var got []string
		for _, e := range p.Errors {
			got = append(got, e.Pointer)
		}
		if diff := cmp.Diff(want, got); diff != "" || p.Type != "urn:wayhouse:unusable-values" {
			t.Errorf("%s: type %s, pointers %s", body, p.Type, diff)
		}
	}
	w := ask(t.Context(), handler(), http.MethodPost, "/v1/trips?lang=xx", `{}`)
	if p := read[api.Problem](t, w); w.Code != http.StatusUnprocessableEntity || p.Errors[0].Field != "lang" || p.Errors[0].Pointer != "" {
		t.Errorf("%d %+v", w.Code, p)
	}
}
