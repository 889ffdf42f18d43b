package api_test

import (
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wayhouse/api/wire"
	"wayhouse/regs/limit"
	"wayhouse/regs/store"
)

// The history keeps who and why as they were said, the newest first.
func TestHistoryKeepsWhoAndWhy(t *testing.T) {
	k := keeping(t, nil)
	seeded := gets[wire.Revisions](t, k, "/v1/revisions").Revisions
	if len(seeded) != 1 || seeded[0].Number != 1 || seeded[0].Who == "" || seeded[0].Why == "" || seeded[0].MadeAt != noon().Format(time.RFC3339) {
		t.Errorf("%+v", seeded)
	}
	good, path := goodRows()["offices"], rowAt("offices", "zz-1")
	said := [][2]string{
		{"Ann, of the yard", "a letter came"}, {"é ‘ \U0001F426", "<b>\"why\"</b>\nin two lines"}, {"a", strings.Repeat("w", 2000)},
		{strings.Repeat("n", 200), "b"}, {"removed by me", "it was & is 100% wrong"},
	}
	revision := 0
	for i, s := range said {
		switch {
		case i == 0:
			revision = does[wire.Made](t, k, http.MethodPut, path, object{"who": s[0], "why": s[1], "cells": good}, ifNone...).Revision
		case i == len(said)-1:
			does[wire.Made](t, k, http.MethodDelete, path+"?"+url.Values{"who": {s[0]}, "why": {s[1]}}.Encode(), nil, ifMatch(revision)...)
		default:
			revision = does[wire.Made](t, k, http.MethodPut, path, object{"who": s[0], "why": s[1], "cells": good}, ifMatch(revision)...).Revision
		}
	}
	got := gets[wire.Revisions](t, k, "/v1/revisions").Revisions
	for i, s := range said {
		if r := got[len(said)-1-i]; r.Number != i+2 || r.Who != s[0] || r.Why != s[1] || r.MadeAt == "" {
			t.Errorf("revision %d: %q by %q", r.Number, r.Why, r.Who)
		}
	}
	refused(t, k.ask(t, http.MethodPut, path, object{"who": strings.Repeat("n", 201), "why": "b", "cells": good}, ifNone...), 422, entry{"who", "nnn", "more than 200", "fewer"})
	refused(t, k.ask(t, http.MethodPut, path, object{"who": "n", "why": strings.Repeat("w", 2001), "cells": good}, ifNone...), 422, entry{"why", "www", "more than 2000", "fewer"})
}

// lowered makes revision 2, in which Ontario's height is lower.
func lowered(t testing.TB, k keeper) (before, after cells) {
	t.Helper()
	row := gets[wire.KeptRow](t, k, rowAt("limits", "ca-on-height-01"))
	after = maps.Clone(row.Cells)
	after["threshold"], after["published"] = "3.9 m", "3.9 m"
	does[wire.Made](t, k, http.MethodPut, rowAt("limits", "ca-on-height-01"), put(after), ifMatch(row.Revision)...)
	return row.Cells, after
}

func TestCompareRevisions(t *testing.T) {
	k := keeping(t, nil)
	before, after := lowered(t, k)
	forth := []wire.Difference{{Table: "limits", ID: "ca-on-height-01", Before: before, After: after}}
	back := []wire.Difference{{Table: "limits", ID: "ca-on-height-01", Before: after, After: before}}
	for query, want := range map[string][]wire.Difference{
		"before=1&after=2": forth, "before=1": forth, "before=2&after=1": back, "before=1&after=1": {}, "before=2": {}, "before=2&after=2": {}, "before=1&after=0": forth,
	} {
		got := gets[wire.Compared](t, k, "/v1/revisions/compare?"+query).Differences
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s\n%s", query, diff)
		}
	}
	for query, want := range map[string]entry{
		"":                  {"before", "", "is missing", "openapi.json"},
		"before=0":          {"before", "", "1", "openapi.json"},
		"before=x":          {"before", "x", "is no whole number", "openapi.json"},
		"before=1&after=-1": {"after", "", "0", "openapi.json"},
	} {
		refused(t, k.ask(t, http.MethodGet, "/v1/revisions/compare?"+query, nil), 422, want)
	}
}

// Restoring makes a new revision; nothing that was is lost.
func TestRestoreRevision(t *testing.T) {
	k := keeping(t, nil)
	lowered(t, k)
	good := goodRows()["offices"]
	does[wire.Made](t, k, http.MethodPut, rowAt("offices", "zz-1"), put(good), ifNone...)
	restore := func(revision any) object {
		return object{"who": "a user", "why": "it was invented", "tables_revision": revision}
	}
	w := k.ask(t, http.MethodPost, "/v1/revisions/restore", restore(1))
	expect(t, w, http.StatusOK, "application/json")
	if made := read[wire.Made](t, w); made.Revision != 4 || made.MadeAt == "" || w.Header().Get("ETag") != "" { // it is of many rows
		t.Errorf("%+v, ETag %s", made, w.Header().Get("ETag"))
	}
	if d := gets[wire.Compared](t, k, "/v1/revisions/compare?before=1").Differences; len(d) != 0 {
		t.Errorf("%+v", d)
	}
	refused(t, k.ask(t, http.MethodGet, rowAt("offices", "zz-1"), nil), 404, entry{problem: "no row", fix: "zz-1"})
	if row := gets[wire.KeptRow](t, k, rowAt("limits", "ca-on-height-01")); row.Cells["threshold"] != "4.15 m" || row.Revision != 4 {
		t.Errorf("%+v", row)
	}
	// The next answers go by it, and what was taken back can be had again.
	d := does[wire.Design](t, k, http.MethodPost, "/v1/checks", object{"unit": object{"height": "4 m"}, "in": []string{"CA-ON"}})
	if !strings.HasPrefix(d.Revision(), "4-") || d.Answers[0].Findings[0].Outcome != "clear" {
		t.Errorf("%s by %s", d.Answers[0].Findings[0].Outcome, d.Revision())
	}
	does[wire.Made](t, k, http.MethodPost, "/v1/revisions/restore", restore(3))
	if row := gets[wire.KeptRow](t, k, rowAt("offices", "zz-1")); row.Cells["name"] != good["name"] {
		t.Errorf("%+v", row)
	}
	for name, tc := range map[string]struct {
		body object
		want entry
	}{
		"nought":       {restore(0), entry{"tables_revision", "0", "less than 1", "check the figure"}},
		"below nought": {restore(-1), entry{"tables_revision", "-1", "less than 1", "check the figure"}},
		"half a one":   {restore(1.5), entry{"tables_revision", "1.5", "no whole number", "without quotes"}},
		"left out":     {object{"who": "a", "why": "b"}, entry{"tables_revision", "", "is missing", "add it"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, k.ask(t, http.MethodPost, "/v1/revisions/restore", tc.body), 422, tc.want)
		})
	}
	if k.newest(t) != 5 {
		t.Error("something was changed")
	}
}

// Answers can be had by the tables as they were.
func TestCheckAtARevision(t *testing.T) {
	k := keeping(t, nil)
	lowered(t, k)
	for revision, want := range map[int]string{1: "clear 1-", 2: "conditional 2-", 0: "conditional 2-"} {
		body := object{"unit": object{"height": "4 m"}, "in": []string{"CA-ON"}, "tables_revision": revision}
		d := does[wire.Design](t, k, http.MethodPost, "/v1/checks", body)
		if got := fmt.Sprint(d.Answers[0].Findings[0].Outcome, " ", d.Revision()); !strings.HasPrefix(got, want) {
			t.Errorf("revision %d: %s, want %s", revision, got, want)
		}
	}
	body := object{"unit": object{"height": "4 m"}, "in": []string{"CA-ON"}, "tables_revision": 9}
	refused(t, k.ask(t, http.MethodPost, "/v1/checks", body), 422, entry{"tables_revision", "9", "the newest is 2", ""})
}

func TestCoverageOverHTTP(t *testing.T) {
	k := keeping(t, nil)
	got := gets[wire.Coverage](t, k, "/v1/coverage?in=ca-on,CA-QC")
	if got.Day != "2027-05-10" || got.Revision() != k.Planner.Tables.Revision || !strings.Contains(got.Caution, "No row is not no rule") || len(got.Coverage) != 2 {
		t.Errorf("%+v", got)
	}
	if on, qc := got.Coverage["CA-ON"][limit.Height], got.Coverage["CA-QC"][limit.Height]; on != "published" || qc != "unverified" {
		t.Errorf("Ontario's height %q, Quebec's %q", on, qc)
	}
	// All that have an area or a row, towns too, none without an answer.
	all := gets[wire.Coverage](t, k, "/v1/coverage")
	for _, code := range []string{"CA-ON", "CA-ON/Dufferin County", "CA-NU", "US-VT", "CA", "US"} {
		if _, ok := all.Coverage[code]; !ok {
			t.Errorf("%s is not covered", code)
		}
	}
	for code, quantities := range all.Coverage {
		for q, cover := range quantities {
			if !slices.Contains([]string{"verified by you", "published", "stale", "unverified", "missing"}, string(cover)) {
				t.Errorf("%s, %s: %q", code, q, cover)
			}
		}
	}
	if got := gets[wire.Coverage](t, k, "/v1/coverage?in="+url.QueryEscape("CA-ON/Dufferin County")); len(got.Coverage) != 1 {
		t.Errorf("%+v", got.Coverage)
	}
	refused(t, k.ask(t, http.MethodGet, "/v1/coverage?in=CA-ON,XX-YY", nil), 422, entry{"in", "XX-YY", "is no jurisdiction", "CA-ON"})
	// A row that is verified counts from the next answer on.
	row := gets[wire.KeptRow](t, k, rowAt("limits", "ca-qc-height-01"))
	does[wire.Made](t, k, http.MethodPost, rowAt("limits", row.ID)+"/verify", object{"who": "a", "why": "b", "source": "invented"}, ifMatch(row.Revision)...)
	if got := gets[wire.Coverage](t, k, "/v1/coverage?in=CA-QC"); got.Coverage["CA-QC"][limit.Height] != "verified by you" {
		t.Errorf("%q", got.Coverage["CA-QC"][limit.Height])
	}
}

// Every route that changes something is for this machine alone, and for JSON.
func TestChangesAreGuarded(t *testing.T) {
	k := keeping(t, nil)
	good := goodRows()["offices"]
	made := does[wire.Made](t, k, http.MethodPut, rowAt("offices", "zz-1"), put(good), ifNone...)
	file := csvOf(t, "offices", withID(good, "zz-2"))
	for _, r := range []struct {
		method, path string
		body         any
		headers      []string
	}{
		{"PUT", rowAt("offices", "zz-2"), put(good), ifNone},
		{"DELETE", rowAt("offices", "zz-1") + because, nil, ifMatch(made.Revision)},
		{"POST", rowAt("offices", "zz-1") + "/verify", object{"who": "a", "why": "b", "source": "c"}, ifMatch(made.Revision)},
		{"POST", "/v1/tables/offices/import", importing(file), nil},
		{"POST", "/v1/upgrade", object{"who": "a", "why": "b"}, nil},
		{"POST", "/v1/revisions/restore", object{"who": "a", "why": "b", "tables_revision": 1}, nil},
		{"POST", "/v1/checks", object{"unit": object{"height": "4 m"}, "in": []string{"CA-ON"}}, nil},
	} {
		for _, headers := range [][]string{
			{"Host", "example.org"}, {"Host", "localhost.evil.example:8080"}, {"Origin", "http://example.org"}, {"Origin", "null"}, {"Origin", "http://127.0.0.1:9090"},
			{"Host", "example.org", "Origin", "http://example.org"},
		} {
			refused(t, k.ask(t, r.method, r.path, r.body, append(headers, r.headers...)...), 403, entry{problem: "service", fix: "; ask"})
		}
		if r.body == nil {
			continue
		}
		for _, mediaType := range []string{"text/plain", "application/x-www-form-urlencoded", "multipart/form-data", "text/csv", "application/merge-patch+json", ""} {
			refused(t, k.ask(t, r.method, r.path, r.body, append([]string{"Content-Type", mediaType}, r.headers...)...), 415, entry{problem: mediaType, fix: "send application/json"})
		}
	}
	// A body of another type on a request that needs none, as a form could send.
	refused(t, k.ask(t, "DELETE", rowAt("offices", "zz-1")+because, "x", append([]string{"Content-Type", "text/plain"}, ifMatch(made.Revision)...)...), 415, entry{problem: "text/plain", fix: "send application/json"})
	for _, path := range []string{"/v1/tables", "/v1/tables/offices/rows", rowAt("offices", "zz-1"), "/v1/tables/offices/csv", "/v1/revisions", "/v1/revisions/compare?before=1", "/v1/coverage"} {
		refused(t, k.ask(t, http.MethodGet, path, nil, "Origin", "http://example.org"), 403, entry{problem: "service", fix: "; ask"})
		refused(t, k.ask(t, http.MethodGet, path, nil, "Host", "example.org"), 403, entry{problem: "service", fix: "; ask"})
	}
	if k.newest(t) != made.Revision {
		t.Error("something was changed")
	}
	// The service's own page may.
	does[wire.Made](t, k, "DELETE", rowAt("offices", "zz-1")+because, nil, append([]string{"Origin", "http://127.0.0.1:8080"}, ifMatch(made.Revision)...)...)
}

// What tables are asked for is given out in the forms that are offered of it, the first
// where none is asked for, and nothing else is given out for another.
func TestTablesHaveTheirForms(t *testing.T) {
	k := keeping(t, nil)
	const problem = "application/problem+json"
	for path, offered := range map[string][]string{
		"/v1/tables": {"application/json"}, "/v1/tables/offices/rows": {"application/json"},
		"/v1/revisions": {"application/json", "text/csv"}, "/v1/coverage": {"application/json", "text/csv"},
		"/v1/revisions/compare?before=1": {"application/json"}, "/v1/tables/offices/csv": {"text/csv"}, rowAt("offices", "zz"): {},
	} {
		for _, accept := range []string{"", "application/json", "application/geo+json", "text/html", "*/*", "text/csv"} {
			want := problem
			switch {
			case len(offered) > 0 && (accept == "" || accept == "*/*"):
				want = offered[0]
			case slices.Contains(offered, accept):
				want = accept
			}
			w := k.ask(t, http.MethodGet, path, nil, "Accept", accept)
			if got, _, _ := strings.Cut(w.Header().Get("Content-Type"), ";"); got != want {
				t.Errorf("%s to %q: %d %s, want %s", path, accept, w.Code, got, want)
			}
		}
	}
}

// Eight who change one row at once, and each begins anew when told that another
// was first, lose no change. Every change is answered from at once.
func TestManyWritersOfOneRow(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tables.db")
	inFile := must(store.OpenFile(t.Context(), path, noon))
	t.Cleanup(func() { inFile.Close() })
	for name, kept := range map[string]*store.Store{"in memory": nil, "in a file": inFile} {
		t.Run(name, func(t *testing.T) {
			k := keeping(t, kept)
			const writers, each = 8, 5
			does[wire.Made](t, k, http.MethodPut, rowAt("offices", "zz-1"), put(goodRows()["offices"]), ifNone...)
			var all sync.WaitGroup
			for i := range writers {
				all.Go(func() {
					for n := range each {
						if err := appended(t, k, fmt.Sprintf("[%d-%d]", i, n)); err != nil {
							t.Error(err)
							return
						}
					}
				})
			}
			all.Wait()
			row := gets[wire.KeptRow](t, k, rowAt("offices", "zz-1"))
			for i := range writers {
				for n := range each {
					if mark := fmt.Sprintf("[%d-%d]", i, n); strings.Count(row.Cells["contact"], mark) != 1 {
						t.Errorf("%s is not in %q", mark, row.Cells["contact"])
					}
				}
			}
			if newest := k.newest(t); row.Revision != newest || newest != 2+writers*each {
				t.Errorf("row of revision %d, the newest is %d", row.Revision, newest)
			}
			if got := gets[wire.TableList](t, k, "/v1/tables").Revision(); !strings.HasPrefix(got, fmt.Sprint(row.Revision, "-")) {
				t.Errorf("the service answers from %s after revision %d", got, row.Revision)
			}
		})
	}
}

// appended adds a mark to a row, as often as it takes.
func appended(t *testing.T, k keeper, mark string) error {
	for range 1000 {
		row := read[wire.KeptRow](t, k.ask(t, http.MethodGet, rowAt("offices", "zz-1"), nil))
		c := maps.Clone(row.Cells)
		c["contact"] += mark
		w := k.ask(t, http.MethodPut, rowAt("offices", "zz-1"), put(c), ifMatch(row.Revision)...)
		switch w.Code {
		case http.StatusOK:
			return nil
		case http.StatusPreconditionFailed:
		default:
			return fmt.Errorf("%s: %d %s", mark, w.Code, w.Body)
		}
	}
	return fmt.Errorf("%s: never first", mark)
}
