//go:build unix

package main

import (
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"wayhouse/api/service"
)

// roadsFile saves the bundled roads under a revision, in the place of what is there.
func roadsFile(t *testing.T, path, revision string) {
	t.Helper()
	n, err := openRoads(t.Context(), "")
	noError(t, err)
	noError(t, n.Prepare(t.Context(), nil))
	n.About.Revision = revision
	noError(t, n.Verify(t.Context(), nil))
	noError(t, n.Save(t.Context(), path))
}

// A file of roads that takes the place of another is answered from once the process is
// told so; no request is lost meanwhile, each is answered from one of both, and the old
// file is let go. A file that is none changes nothing.
func TestRoadsAreSwappedUnderLoad(t *testing.T) {
	path := filepath.Join(t.TempDir(), "roads.wayroads")
	roadsFile(t, path, "first")
	from := sources{network: path}
	known, tables, err := load(t.Context(), from, noon, withRoads)
	noError(t, err)
	defer tables.Close()
	roads := &generations{log: quiet()}
	roads.next(known, serverOf(known, tables, from, quiet()).Handler())
	heard := make(chan error, 1)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	go roads.hear(ctx, func(ctx context.Context) (again *service.Service, h http.Handler, err error) {
		defer func() { heard <- err }()
		if again, err = serviceOf(ctx, from, tables, noon, withRoads); err != nil {
			return nil, nil, err
		}
		return again, serverOf(again, tables, from, quiet()).Handler(), nil
	})
	time.Sleep(50 * time.Millisecond) // that it listens
	asking, answers := askOn(t, roads)
	roadsFile(t, path, "second")
	noError(t, syscall.Kill(syscall.Getpid(), syscall.SIGHUP))
	noError(t, <-heard)
	waitFor(t, "an answer from the second file", func() bool { return answers("second") > 5 })
	noError(t, os.WriteFile(path+".new", []byte("no roads"), 0o644))
	noError(t, os.Rename(path+".new", path))
	noError(t, syscall.Kill(syscall.Getpid(), syscall.SIGHUP))
	if err := <-heard; err == nil {
		t.Error("a file of no roads was read")
	}
	before := answers("second")
	waitFor(t, "an answer after that", func() bool { return answers("second") > before+5 })
	asking()
	if answers("first") == 0 {
		t.Error("nothing was answered from the first file")
	}
	if raw, err := os.ReadFile("/proc/self/maps"); err == nil && strings.Count(string(raw), path) != 1 {
		t.Errorf("the file is mapped %d times, want its second state alone", strings.Count(string(raw), path))
	}
}

// askOn plans again and again until it is told to stop, and counts the answers by the
// revision of the roads that they name.
func askOn(t *testing.T, h http.Handler) (stop func(), answers func(revision string) int) {
	ctx, cancel := context.WithCancel(t.Context())
	var all sync.WaitGroup
	var mu sync.Mutex
	count := map[string]int{}
	for range 4 {
		all.Go(func() {
			for ctx.Err() == nil {
				revision := roadsOf(t, h)
				mu.Lock()
				count[revision]++
				mu.Unlock()
			}
		})
	}
	return func() { cancel(); all.Wait() }, func(revision string) int {
		mu.Lock()
		defer mu.Unlock()
		return count[revision]
	}
}

// roadsOf plans a trip and returns the revision of the roads that the answer names.
func roadsOf(t *testing.T, h http.Handler) string {
	const trip = `{"stops": [{"place": "Perth, ON"}, {"place": "Cornwall, ON"}], "unit": {"kind": "recreational_trailer"}}`
	r := httptest.NewRequestWithContext(context.Background(), http.MethodPost, "http://127.0.0.1/v1/trips", strings.NewReader(trip))
	r.Header.Set("Content-Type", "application/json")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	var answer struct {
		Network struct{ Revision string }
	}
	if err := json.Unmarshal(w.Body.Bytes(), &answer); err != nil || w.Code != http.StatusOK {
		t.Errorf("%d: %v\n%.500s", w.Code, err, w.Body)
	}
	return answer.Network.Revision
}

func waitFor(t *testing.T, what string, is func() bool) {
	t.Helper()
	for end := time.Now().Add(time.Minute); !is(); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("not within a minute: %s", what)
		}
	}
}
