package api_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"wayhouse/api"
	"wayhouse/api/wire"
	"wayhouse/regs/store"
)

// Tables that are full, busy or away are no fault inside: the answer says so, when to
// ask again (RFC 9110, section 10.2.3) and under which id the log has it. 507 is of
// RFC 4918, section 11.5.
func TestTablesInTroubleSayWhenToAskAgain(t *testing.T) {
	for _, tc := range []struct {
		trouble store.Trouble
		status  int
		word    string
	}{
		{store.Full, http.StatusInsufficientStorage, "no room left"},
		{store.Busy, http.StatusServiceUnavailable, "busy"},
		{store.Away, http.StatusServiceUnavailable, "cannot be reached"},
		{store.Slow, http.StatusServiceUnavailable, "did not answer in time"},
	} {
		t.Run(string(tc.trouble), func(t *testing.T) {
			var log bytes.Buffer
			h := changed(func(s *api.Server) {
				s.Log = slog.New(slog.NewTextHandler(&log, nil))
				s.Ready = func(context.Context) error { return fmt.Errorf("ping: %w", &store.TroubleError{Trouble: tc.trouble}) }
			})
			w := ask(t.Context(), h, http.MethodGet, "/readyz", "")
			p := refused(t, w, tc.status, entry{problem: tc.word, fix: "again"})
			id := w.Header().Get("X-Request-Id")
			if w.Header().Get("Retry-After") == "" || id == "" || p.RequestID != id || !strings.Contains(log.String(), id) {
				t.Errorf("headers %v, problem %+v, log %q", w.Header(), p, log.String())
			}
		})
	}
}

func TestRequestsHaveAnID(t *testing.T) {
	for name, tc := range map[string]struct {
		sent string
		kept bool
	}{"the client's own": {"ab-1.2_C", true}, "none": {"", false}, "one that a log cannot carry": {"a b\"", false}, "too long": {strings.Repeat("x", 65), false}} {
		w := ask(t.Context(), handler(), http.MethodGet, "/v1/nothing", "", "X-Request-Id", tc.sent)
		id := w.Header().Get("X-Request-Id")
		if id == "" || (id == tc.sent) != tc.kept || read[api.Problem](t, w).RequestID != id {
			t.Errorf("%s: %q, %s", name, id, w.Body)
		}
	}
}

// A table of any size comes in as a stream, whole or not at all; its answer lists a
// thousand differences and counts all.
func TestTablesComeInAsAStream(t *testing.T) {
	k := keeping(t, nil)
	const path = "/v1/tables/offices/csv"
	head, rest, _ := strings.Cut(k.ask(t, http.MethodGet, path, nil).Body.String(), "\n")
	columns := strings.Split(head, ",")
	row := func(id string) string {
		cells := make([]string, len(columns))
		for i, c := range columns {
			cells[i] = map[string]string{"id": id, "jurisdiction": "CA-NU", "name": "Office of the Tern", "contact": "a window", "status": "invented", "source": "invented for this test"}[c]
		}
		return strings.Join(cells, ",") + "\n"
	}
	var many strings.Builder
	for i := range 1500 {
		many.WriteString(row(fmt.Sprintf("zz-%04d", i)))
	}
	send := func(path, csv string) (int, wire.Made, string) {
		w := ask(t.Context(), k, http.MethodPost, path, csv, "Content-Type", "text/csv")
		return w.Code, read[wire.Made](t, w), w.Body.String()
	}
	code, dry, _ := send(path+because+"&dry_run=true", head+"\n"+many.String())
	if code != http.StatusOK || dry.Revision != 1 || dry.Added != 1500 || len(dry.Differences) != 1000 || dry.LeftOut != 500 {
		t.Errorf("dry: %d, %d added, %d listed, %d left out", code, dry.Added, len(dry.Differences), dry.LeftOut)
	}
	for name, bad := range map[string]string{row("zz/slash"): "column id", row("zz-0003"): "stands twice", "x\n": "csv"} {
		if code, _, said := send(path+because, head+"\n"+many.String()+name); code != http.StatusUnprocessableEntity || !strings.Contains(said, bad) {
			t.Errorf("%q: %d %s", name, code, said)
		}
	}
	if k.newest(t) != 1 {
		t.Fatal("a bad file changed something")
	}
	code, made, said := send(path+because, head+"\n"+many.String())
	if code != http.StatusOK || made.Revision != 2 || made.MadeAt == "" || made.Added != 1500 {
		t.Errorf("%d %.200s", code, said)
	}
	code, made, _ = send(path+because+"&remove_missing=true&expect_revision=2", unnumbered(t, head+"\n"+rest))
	if code != http.StatusOK || made.Removed != 1500 || made.Revision != 3 {
		t.Errorf("%d, %d removed", code, made.Removed)
	}
	if code, _, said := send(path+because+"&expect_revision=2", head+"\n"); code != http.StatusPreconditionFailed {
		t.Errorf("another revision: %d %s", code, said)
	}
	refused(t, ask(t.Context(), k, http.MethodPost, path+because, "{}"), http.StatusUnsupportedMediaType, entry{problem: "application/json", fix: "text/csv"})
}

// slowly is a text that takes longer to come than a server waits.
type slowly struct{ parts []string }

func (s *slowly) Read(p []byte) (int, error) {
	if len(s.parts) == 0 {
		return 0, io.EOF
	}
	time.Sleep(100 * time.Millisecond)
	n := copy(p, s.parts[0])
	s.parts = s.parts[1:]
	return n, nil
}

// A large table takes longer than the server gives other requests, and is answered.
func TestLongImportsAreAnswered(t *testing.T) {
	k := keeping(t, nil)
	server := httptest.NewUnstartedServer(k)
	server.Config.ReadTimeout, server.Config.WriteTimeout = 200*time.Millisecond, 200*time.Millisecond
	server.Start()
	defer server.Close()
	table := k.ask(t, http.MethodGet, "/v1/tables/offices/csv", nil).Body.String()
	body := &slowly{strings.SplitAfterN(table, "\n", 6)}
	answer, err := http.Post(server.URL+"/v1/tables/offices/csv"+because, "text/csv", body)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if said, err := io.ReadAll(answer.Body); err != nil || answer.StatusCode != http.StatusOK || !strings.Contains(string(said), `"tables_revision": 1`) {
		t.Errorf("%d %s, %v", answer.StatusCode, said, err)
	}
}
