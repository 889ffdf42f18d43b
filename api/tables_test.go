package api_test

import (
	"fmt"
	"log/slog"
	"maps"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"wayhouse/api"
	use "wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/store"
)

// keeper is a service that keeps tables of its own.
type keeper struct {
	*api.Server
	http.Handler
}

// keeping makes a service on a store, or on one in memory that was just seeded.
func keeping(t testing.TB, kept *store.Store) keeper {
	t.Helper()
	if kept == nil {
		kept = must(store.OpenMemory(t.Context(), noon))
		t.Cleanup(func() { kept.Close() })
	}
	p := *service().Planner
	p.Tables = must(kept.Snapshot(t.Context()))
	known := &use.Service{Planner: &p, Places: service().Places, Clock: noon, Past: kept.SnapshotAt}
	s := &api.Server{Service: known, Log: slog.New(slog.DiscardHandler), Version: "test", Ready: kept.Ping, Tables: &use.Tables{Store: kept, Clock: noon}}
	s.Tables.Follow(known, s.Log)
	return keeper{s, s.Handler()}
}

func (k keeper) ask(t testing.TB, method, path string, body any, headers ...string) *httptest.ResponseRecorder {
	t.Helper()
	raw := ""
	if body != nil {
		raw = text(body)
	}
	return ask(t.Context(), k, method, path, raw, headers...)
}

// gets is the answer to a GET that must go well.
func gets[T any](t testing.TB, k keeper, path string) T {
	t.Helper()
	w := k.ask(t, http.MethodGet, path, nil)
	expect(t, w, http.StatusOK, "application/json")
	return read[T](t, w)
}

// does is the answer to a change that must go well.
func does[T any](t testing.TB, k keeper, method, path string, body any, headers ...string) T {
	t.Helper()
	w := k.ask(t, method, path, body, headers...)
	expect(t, w, http.StatusOK, "application/json")
	return read[T](t, w)
}

func (k keeper) newest(t testing.TB) int {
	t.Helper()
	return gets[wire.Revisions](t, k, "/v1/revisions").Revisions[0].Number
}

type cells = map[string]string

// addresses of rows and what is sent to them.
func rowAt(table, id string) string { return "/v1/tables/" + table + "/rows/" + url.PathEscape(id) }

func put(c cells) object { return object{"who": "a user", "why": "invented for a test", "cells": c} }

func ifMatch(revision int) []string {
	return []string{"If-Match", strconv.Quote(strconv.Itoa(revision))}
}

var ifNone = []string{"If-None-Match", "*"}

const because = "?who=a+user&why=invented+for+a+test"

// goodRows has a row of every table that can be read. All are invented.
func goodRows() map[string]cells {
	proof := func(c cells) cells {
		maps.Copy(c, cells{"status": "invented", "source": "invented for this test"})
		return c
	}
	return map[string]cells{
		"limits": proof(cells{
			"jurisdiction": "CA-NU", "kind": "all", "combination": "any", "quantity": "height", "published": "4.1 m", "threshold": "4.1 m", "beyond": "over",
			"outcome": "conditional", "tier": "legal", "permit": "yes",
		}),
		"hours":      proof(cells{"jurisdiction": "CA-NU", "for": "permit", "over_width": "3.2 m", "open": "Mo-Fr 09:00-15:00; PH off"}),
		"holidays":   proof(cells{"calendar": "CA-NU", "name": "Day of the Tern", "date": "Jul 09"}),
		"permits":    proof(cells{"jurisdiction": "CA-NU", "name": "permit of the tern", "for": "size", "currency": "CAD", "fee": "48", "lead_days": "3"}),
		"offices":    proof(cells{"jurisdiction": "CA-NU", "name": "Office of the Tern", "contact": "a window"}),
		"contacts":   {"jurisdiction": "CA-NU", "asked": "whether the road is open", "asked_on": "2027-05-01"},
		"clearances": proof(cells{"name": "Tern Arch", "lat": "45.4", "lon": "-75.1", "direction": "both", "posted": "4.4 m"}),
		"letters":    proof(cells{"structure": "tern-arch", "by": "the office of the tern", "height": "4.5 m"}),
		"notices":    proof(cells{"jurisdiction": "CA-NU", "place": "the arch", "text": "works", "valid_from": "2027-05-01", "valid_to": "2027-06-01"}),
		"duty":       proof(cells{"jurisdiction": "CA-NU", "topic": "licence", "unit_over": "4600 kg", "beyond": "over", "demand": "another class"}),
		"trucks":     proof(cells{"jurisdiction": "CA-NU", "vehicle_over": "4500 kg", "beyond": "over", "words": "trucks"}),
		"rates":      proof(cells{"card": "tern", "item": "haulage", "unit": "km", "amount": "4.25", "currency": "CAD"}),
	}
}

// every runs a test for each table that the service lists, with a good row.
func every(t *testing.T, f func(t *testing.T, k keeper, table string, good cells)) {
	k := keeping(t, nil)
	good := goodRows()
	for _, info := range gets[wire.TableList](t, k, "/v1/tables").Tables {
		t.Run(info.Name, func(t *testing.T) {
			if good[info.Name] == nil {
				t.Fatal("no good row in this test")
			}
			f(t, k, info.Name, good[info.Name])
		})
	}
}

func TestListTables(t *testing.T) {
	k := keeping(t, nil)
	got := gets[wire.TableList](t, k, "/v1/tables")
	var names []string
	for _, info := range got.Tables {
		names = append(names, info.Name)
		byName := map[string]wire.TableColumn{}
		for _, c := range info.Columns {
			byName[c.Name] = c
		}
		if id := info.Columns[0]; len(info.Columns) < 4 || id.Name != "id" || !id.Needed {
			t.Errorf("%s: columns %v", info.Name, info.Columns)
		}
		for column := range goodRows()[info.Name] {
			if _, ok := byName[column]; !ok {
				t.Errorf("%s has no column %s", info.Name, column)
			}
		}
	}
	if want := slices.Sorted(maps.Keys(goodRows())); !slices.Equal(slices.Sorted(slices.Values(names)), want) {
		t.Errorf("tables %v, want %v", names, want)
	}
	if got.Revision() != k.Planner.Tables.Revision {
		t.Errorf("revision %q", got.Revision())
	}
}

// A row is added once, read back, changed by who knows it, and removed; each
// step is a revision that the next one names.
func TestEveryTableIsKept(t *testing.T) {
	every(t, func(t *testing.T, k keeper, table string, good cells) {
		id := "zz-" + table
		before := k.newest(t)
		w := k.ask(t, http.MethodPut, rowAt(table, id), put(good), ifNone...)
		expect(t, w, http.StatusOK, "application/json")
		made := read[wire.Made](t, w)
		if made.Revision != before+1 || w.Header().Get("ETag") != fmt.Sprintf(`"%d"`, made.Revision) || made.MadeAt == "" {
			t.Fatalf("made %+v, ETag %s after %d", made, w.Header().Get("ETag"), before)
		}
		w = k.ask(t, http.MethodGet, rowAt(table, id), nil)
		expect(t, w, http.StatusOK, "application/json")
		row, want := read[wire.KeptRow](t, w), maps.Clone(good)
		want["id"] = id
		if diff := cmp.Diff(text(wire.KeptRow{Table: table, ID: id, Revision: made.Revision, Cells: want}), text(row)); diff != "" || w.Header().Get("ETag") != fmt.Sprintf(`"%d"`, row.Revision) {
			t.Errorf("ETag %s\n%s", w.Header().Get("ETag"), diff)
		}
		refused(t, k.ask(t, http.MethodPut, rowAt(table, id), put(good), ifNone...), 412, entry{problem: "added it since", fix: "make the change again"})

		changed := maps.Clone(row.Cells)
		column := "note"
		if _, has := good["source"]; has {
			column = "section"
		}
		changed[column] = "the second"
		second := does[wire.Made](t, k, http.MethodPut, rowAt(table, id), put(changed), ifMatch(row.Revision)...)
		if got := gets[wire.KeptRow](t, k, rowAt(table, id)); got.Revision != second.Revision || got.Cells[column] != "the second" {
			t.Errorf("%+v", got)
		}
		refused(t, k.ask(t, http.MethodPut, rowAt(table, id), put(good), ifMatch(row.Revision)...), 412, entry{problem: "changed it since", fix: "make the change again"})
		refused(t, k.ask(t, http.MethodDelete, rowAt(table, id)+because, nil, ifMatch(row.Revision)...), 412, entry{problem: "changed it since", fix: "make the change again"})

		does[wire.Made](t, k, http.MethodDelete, rowAt(table, id)+because, nil, ifMatch(second.Revision)...)
		refused(t, k.ask(t, http.MethodGet, rowAt(table, id), nil), 404, entry{problem: "there is no row", fix: id})
		refused(t, k.ask(t, http.MethodDelete, rowAt(table, id)+because, nil, ifMatch(second.Revision)...), 412, entry{problem: "removed since", fix: "make the change again"})
		again := does[wire.Made](t, k, http.MethodPut, rowAt(table, id), put(good), ifNone...)
		if got := gets[wire.KeptRow](t, k, rowAt(table, id)); got.Revision != again.Revision || again.Revision != before+4 {
			t.Errorf("added again: %+v by %+v", got, again)
		}
	})
}

// Whatever is kept, the service goes on answering from it.
func TestEveryTableIsUsed(t *testing.T) {
	every(t, func(t *testing.T, k keeper, table string, good cells) {
		revision := gets[wire.TableList](t, k, "/v1/tables").Revision()
		does[wire.Made](t, k, http.MethodPut, rowAt(table, "zz-1"), put(good), ifNone...)
		after := gets[wire.TableList](t, k, "/v1/tables").Revision()
		if after == revision || after != read[wire.Status](t, k.ask(t, http.MethodGet, "/readyz", nil)).Tables {
			t.Errorf("revision %s, then %s", revision, after)
		}
		d := does[wire.Design](t, k, http.MethodPost, "/v1/checks", object{"unit": object{"height": "4 m", "width": "2.5 m", "mass": "6 t"}, "in": []string{"CA-NU"}})
		if d.Revision() != after {
			t.Errorf("checked against %s, want %s", d.Revision(), after)
		}
		w := k.ask(t, http.MethodPost, "/v1/trips", short(nil))
		expect(t, w, http.StatusOK, "application/json")
		if got := read[wire.Trip](t, w); got.Revision() != after {
			t.Errorf("planned with %s, want %s", got.Revision(), after)
		}
	})
}

// Every cell that cannot be used is named, with its value and how to mend it.
func TestRefusesCells(t *testing.T) {
	bad := map[string]struct{ column, value, problem string }{
		"limits":     {"threshold", "4.1", "has no unit"},
		"hours":      {"open", "whenever", "no opening_hours value"},
		"holidays":   {"date", "someday", "is no date"},
		"permits":    {"for", "boats", "nothing a permit is for"},
		"offices":    {"status", "heard", "is not known here"},
		"contacts":   {"asked_on", "yesterday", "is no day"},
		"clearances": {"lat", "95", "degrees"},
		"letters":    {"height", "high", "not a length"},
		"notices":    {"valid_to", "2027-04-01", "before valid_from"},
		"duty":       {"topic", "sleep", "is not known here"},
		"trucks":     {"vehicle_over", "4500", "has no unit"},
		"rates":      {"amount", "4,25", "is no amount"},
	}
	every(t, func(t *testing.T, k keeper, table string, good cells) {
		before := k.newest(t)
		try := func(c cells, want entry) {
			t.Helper()
			p := refused(t, k.ask(t, http.MethodPut, rowAt(table, "zz-1"), put(c), ifNone...), 422, want)
			if len(p.Errors) != 1 {
				t.Errorf("%+v", p.Errors)
			}
		}
		with := func(column, value string) cells {
			c := maps.Clone(good)
			c[column] = value
			return c
		}
		b := bad[table]
		try(with(b.column, b.value), entry{"cells." + b.column, b.value, b.problem, ""})
		try(with("colour", "red"), entry{"cells.colour", "red", "is no column of " + table, "id"})
		try(with("id", "another"), entry{"cells.id", "another", "is not the id of the address, zz-1", "leave it out"})
		try(cells{}, entry{"cells." + needed(table), "", "", ""})
		if k.newest(t) != before {
			t.Error("something was changed")
		}
		refused(t, k.ask(t, http.MethodGet, rowAt(table, "zz-1"), nil), 404, entry{problem: "no row", fix: "zz-1"})
	})
}

// needed is the first column of a table beside the id that must not be empty.
func needed(table string) string {
	switch table {
	case "holidays":
		return "calendar"
	case "clearances":
		return "name"
	case "letters":
		return "structure"
	case "rates":
		return "item"
	default:
		return "jurisdiction"
	}
}

// A change says for which state it is made.
func TestConditionsOfChanges(t *testing.T) {
	k := keeping(t, nil)
	good := goodRows()["offices"]
	path := rowAt("offices", "zz-1")
	made := does[wire.Made](t, k, http.MethodPut, path, put(good), ifNone...)
	for name, tc := range map[string]struct {
		headers []string
		status  int
		want    entry
	}{
		"none":                {nil, 428, entry{problem: "If-Match", fix: "If-None-Match: *"}},
		"none match, a tag":   {[]string{"If-None-Match", `"1"`}, 428, entry{problem: "If-Match", fix: "If-None-Match: *"}},
		"any":                 {[]string{"If-Match", "*"}, 422, entry{"If-Match", "*", "no ETag of a row", "as it came"}},
		"no number":           {[]string{"If-Match", `"abc"`}, 422, entry{"If-Match", "abc", "no ETag of a row", "as it came"}},
		"nought":              {[]string{"If-Match", `"0"`}, 422, entry{"If-Match", "0", "no ETag of a row", "as it came"}},
		"below nought":        {[]string{"If-Match", `"-1"`}, 422, entry{"If-Match", "-1", "no ETag of a row", "as it came"}},
		"a revision to come":  {ifMatch(made.Revision + 1), 412, entry{problem: "changed it since", fix: "again"}},
		"the seed":            {ifMatch(1), 412, entry{problem: "changed it since", fix: "again"}},
		"an endless revision": {[]string{"If-Match", `"99999999999999999999"`}, 422, entry{"If-Match", "9999", "no ETag of a row", "as it came"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, k.ask(t, http.MethodPut, path, put(good), tc.headers...), tc.status, tc.want)
			refused(t, k.ask(t, http.MethodDelete, path+because, nil, tc.headers...), tc.status, tc.want)
			refused(t, k.ask(t, http.MethodPost, path+"/verify", object{"who": "a", "why": "b", "source": "c"}, tc.headers...), tc.status, tc.want)
		})
	}
	// To add a row that there is, and to remove one as if there were none.
	refused(t, k.ask(t, http.MethodPut, path, put(good), ifNone...), 412, entry{problem: "added it since", fix: "again"})
	refused(t, k.ask(t, http.MethodDelete, path+because, nil, ifNone...), 412, entry{problem: "added it since", fix: "again"})
	// To change a row that there never was.
	refused(t, k.ask(t, http.MethodPut, rowAt("offices", "zz-2"), put(good), ifMatch(1)...), 412, entry{problem: "removed since", fix: "again"})
	if k.newest(t) != made.Revision {
		t.Error("something was changed")
	}
}

// Who makes a change, and why, is never left out.
func TestChangesNeedAReason(t *testing.T) {
	k := keeping(t, nil)
	good, path := goodRows()["offices"], rowAt("offices", "zz-1")
	for _, left := range []string{"who", "why"} {
		body := put(good)
		delete(body, left)
		refused(t, k.ask(t, http.MethodPut, path, body, ifNone...), 422, entry{left, "", "is missing", "add it"})
		body[left] = ""
		refused(t, k.ask(t, http.MethodPut, path, body, ifNone...), 422, entry{left, "", "is empty", "fill it in"})
		query := url.Values{"who": {"a"}, "why": {"b"}}
		query.Del(left)
		refused(t, k.ask(t, http.MethodDelete, path+"?"+query.Encode(), nil, ifMatch(1)...), 422, entry{left, "", "is missing", "openapi.json"})
	}
	if k.newest(t) != 1 {
		t.Error("something was changed")
	}
}

func TestListRows(t *testing.T) {
	k := keeping(t, nil)
	all := gets[wire.RowList](t, k, "/v1/tables/limits/rows?limit=1000")
	if len(all.Rows) < 300 || all.After != "" || !slices.IsSortedFunc(all.Rows, func(a, b wire.KeptRow) int { return strings.Compare(a.ID, b.ID) }) {
		t.Fatalf("%d rows, after %q", len(all.Rows), all.After)
	}
	// Page by page it is the same table, whatever the length of a page.
	for _, limit := range []int{1, 7, len(all.Rows) - 1, len(all.Rows), 1000} {
		var pages []wire.KeptRow
		after, asked := "", 0
		for {
			asked++
			page := gets[wire.RowList](t, k, fmt.Sprintf("/v1/tables/limits/rows?limit=%d&after=%s", limit, url.QueryEscape(after)))
			if len(page.Rows) > limit {
				t.Fatalf("%d rows on a page of %d", len(page.Rows), limit)
			}
			pages = append(pages, page.Rows...)
			if after = page.After; after == "" || limit == 1 && asked == 20 {
				break
			}
		}
		if diff := cmp.Diff(text(all.Rows[:len(pages)]), text(pages)); diff != "" || limit > 1 && len(pages) != len(all.Rows) {
			t.Errorf("pages of %d: %d rows of %d", limit, len(pages), len(all.Rows))
		}
	}
	if page := gets[wire.RowList](t, k, "/v1/tables/limits/rows"); len(page.Rows) != 200 || page.After != page.Rows[199].ID {
		t.Errorf("without a limit: %d rows, after %q", len(page.Rows), page.After)
	}
	// A jurisdiction comes with its municipalities and with nothing else.
	ontario := gets[wire.RowList](t, k, "/v1/tables/limits/rows?jurisdiction=CA-ON&limit=1000")
	towns := map[string]bool{}
	for _, r := range ontario.Rows {
		code, town, _ := strings.Cut(r.Cells["jurisdiction"], "/")
		if code != "CA-ON" {
			t.Errorf("%s is of %s", r.ID, r.Cells["jurisdiction"])
		}
		towns[town] = true
	}
	if len(ontario.Rows) < 20 || !towns["Dufferin County"] || !towns[""] {
		t.Errorf("%d rows of %v", len(ontario.Rows), towns)
	}
	if country := gets[wire.RowList](t, k, "/v1/tables/limits/rows?jurisdiction=CA&limit=1000"); len(country.Rows) == 0 || len(country.Rows) > 50 {
		t.Errorf("%d rows of the country alone", len(country.Rows))
	}
	if empty := gets[wire.RowList](t, k, "/v1/tables/contacts/rows"); empty.Rows == nil || len(empty.Rows) != 0 || empty.After != "" {
		t.Errorf("an empty table: %+v", empty)
	}
}

// A table is shown as it was at any revision.
func TestListRowsOfTheRevision(t *testing.T) {
	k := keeping(t, nil)
	row := gets[wire.KeptRow](t, k, rowAt("limits", "ca-on-height-01"))
	lower := maps.Clone(row.Cells)
	lower["threshold"], lower["published"] = "3.9 m", "3.9 m"
	made := does[wire.Made](t, k, http.MethodPut, rowAt("limits", "ca-on-height-01"), put(lower), ifMatch(row.Revision)...)
	removed := does[wire.Made](t, k, http.MethodDelete, rowAt("limits", "ca-on-height-01")+because, nil, ifMatch(made.Revision)...)
	for revision, want := range map[int]string{1: "4.15 m", made.Revision: "3.9 m", removed.Revision: "", 0: ""} {
		got := ""
		for _, r := range gets[wire.RowList](t, k, fmt.Sprintf("/v1/tables/limits/rows?jurisdiction=CA-ON&limit=1000&tables_revision=%d", revision)).Rows {
			if r.ID == "ca-on-height-01" {
				got = r.Cells["threshold"]
			}
		}
		if got != want {
			t.Errorf("revision %d: %q, want %q", revision, got, want)
		}
	}
}

func TestRefusesTables(t *testing.T) {
	k := keeping(t, nil)
	put, reason := put(goodRows()["limits"]), object{"who": "a", "why": "b", "source": "c", "csv": "x", "tables_revision": 1}
	for _, r := range []struct {
		method, path string
		body         any
	}{
		{"GET", "/v1/tables/boats/rows", nil}, {"GET", "/v1/tables/boats/rows/zz", nil}, {"PUT", "/v1/tables/boats/rows/zz", put}, {"DELETE", "/v1/tables/boats/rows/zz" + because, nil},
		{"POST", "/v1/tables/boats/rows/zz/verify", object{"who": "a", "why": "b", "source": "c"}}, {"GET", "/v1/tables/boats/csv", nil},
		{"POST", "/v1/tables/boats/import", object{"who": "a", "why": "b", "csv": "id\n"}},
	} {
		w := k.ask(t, r.method, r.path, r.body, ifMatch(1)...)
		expect(t, w, http.StatusNotFound, "application/problem+json")
		if p := read[api.Problem](t, w); !strings.Contains(p.Detail, "boats") || !strings.Contains(p.Detail, "/v1/tables") {
			t.Errorf("%s %s: %+v", r.method, r.path, p)
		}
	}
	for name, tc := range map[string]struct {
		method, path string
		body         any
		headers      []string
		status       int
		want         entry
	}{
		"no such row":               {"GET", "/v1/tables/limits/rows/zz", nil, nil, 404, entry{problem: "limits", fix: `"zz"`}},
		"verify no such row":        {"POST", "/v1/tables/limits/rows/zz/verify", object{"who": "a", "why": "b", "source": "c"}, ifMatch(1), 404, entry{problem: "limits", fix: `"zz"`}},
		"no rows at all":            {"GET", "/v1/tables/limits", nil, nil, 404, entry{problem: "/v1/tables/limits", fix: "openapi.json"}},
		"row without an id":         {"GET", "/v1/tables/limits/rows/", nil, nil, 404, entry{problem: "/v1/tables/limits/rows/", fix: "openapi.json"}},
		"an endless id":             {"GET", "/v1/tables/limits/rows/" + strings.Repeat("z", 201), nil, nil, 422, entry{"path.id", "zzz", "200", "openapi.json"}},
		"a row as a whole":          {"POST", "/v1/tables/limits/rows/zz", reason, nil, 405, entry{problem: "POST is not for", fix: "openapi.json"}},
		"the table as a whole":      {"DELETE", "/v1/tables/limits/rows", nil, nil, 405, entry{problem: "DELETE is not for", fix: "openapi.json"}},
		"no column of jurisdiction": {"GET", "/v1/tables/holidays/rows?jurisdiction=CA-ON", nil, nil, 422, entry{"jurisdiction", "CA-ON", "is no column of holidays", "leave it out"}},
		"a limit of nothing":        {"GET", "/v1/tables/limits/rows?limit=0", nil, nil, 422, entry{"limit", "", "1", "openapi.json"}},
		"a limit of all":            {"GET", "/v1/tables/limits/rows?limit=1001", nil, nil, 422, entry{"limit", "", "1000", "openapi.json"}},
		"a limit in words":          {"GET", "/v1/tables/limits/rows?limit=all", nil, nil, 422, entry{"limit", "all", "is no whole number", "openapi.json"}},
		"a revision below nought":   {"GET", "/v1/tables/limits/rows?tables_revision=-1", nil, nil, 422, entry{"tables_revision", "", "0", "openapi.json"}},
		"unknown parameter":         {"GET", "/v1/tables/limits/rows?colour=red", nil, nil, 422, entry{"colour", "", "is no parameter of this address", "openapi.json"}},
		"unknown field":             {"PUT", "/v1/tables/limits/rows/zz", object{"who": "a", "why": "b", "cells": cells{}, "cell": "x"}, ifNone, 422, entry{"cell", "", "no field here", "spelling"}},
		"cells that are no text":    {"PUT", "/v1/tables/limits/rows/zz", object{"who": "a", "why": "b", "cells": object{"threshold": 4.1}}, ifNone, 422, entry{"cells.threshold", "4.1", "is no text", ""}},
		"no cells":                  {"PUT", "/v1/tables/limits/rows/zz", object{"who": "a", "why": "b"}, ifNone, 422, entry{"cells", "", "is missing", "add it"}},
		"a body that is no object":  {"PUT", "/v1/tables/limits/rows/zz", []int{1}, ifNone, 422, entry{"body", "", "is a list, and no fields", "cells, who, why"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, k.ask(t, tc.method, tc.path, tc.body, tc.headers...), tc.status, tc.want)
		})
	}
	if k.newest(t) != 1 {
		t.Error("something was changed")
	}
}

// Where no tables are kept there is nothing to change, and nothing is promised.
func TestTablesThatAreNotKept(t *testing.T) {
	h := changed(func(s *api.Server) { s.Tables = nil })
	for _, path := range []string{"/v1/tables", "/v1/revisions", "/v1/coverage", "/v1/tables/limits/rows"} {
		refused(t, ask(t.Context(), h, http.MethodGet, path, ""), 404, entry{problem: path, fix: "openapi.json"})
	}
	if doc := ask(t.Context(), h, http.MethodGet, "/openapi.json", "").Body.String(); strings.Contains(doc, "/v1/tables") {
		t.Error("the description lists them")
	}
}

// Many may ask for the description of a service that has just started. The race
// detector watches.
func TestDescriptionIsAskedAtOnce(t *testing.T) {
	k := keeping(t, nil)
	for _, path := range []string{"/openapi.json", "/openapi.yaml", "/openapi-3.0.json", "/openapi-3.0.yaml"} {
		var all sync.WaitGroup
		answers := make([]string, 8)
		for i := range answers {
			all.Go(func() { answers[i] = k.ask(t, http.MethodGet, path, nil).Body.String() })
		}
		all.Wait()
		if len(answers[0]) < 1000 || len(slices.Compact(answers)) != 1 {
			t.Errorf("%s: %d answers of %d characters", path, len(slices.Compact(answers)), len(answers[0]))
		}
	}
}

func TestOpenAPIListsTheTables(t *testing.T) {
	k := keeping(t, nil)
	doc := read[struct{ Paths map[string]map[string]any }](t, k.ask(t, http.MethodGet, "/openapi.json", nil))
	n := 0
	for _, r := range k.Listed() {
		path := template(r.Path)
		if strings.HasPrefix(path, "/openapi") {
			continue
		}
		n++
		if doc.Paths[path][strings.ToLower(r.Method)] == nil {
			t.Errorf("%s %s is not listed", r.Method, r.Path)
		}
	}
	if n < 21 {
		t.Errorf("%d routes", n)
	}
}

// GeoJSON is a promise about the body, so no row carries its name.
func TestRowsAreNoGeoJSON(t *testing.T) {
	k := keeping(t, nil)
	w := k.ask(t, http.MethodGet, rowAt("offices", "us-vt-office"), nil, "Accept", "application/geo+json")
	expect(t, w, http.StatusNotAcceptable, "application/problem+json")
}

// An id is one id, whatever white space stands around it: two rows of one name
// could not be told apart, and the table that is exported could not be taken in
// again.
func TestIDsHaveNoWhiteSpaceAround(t *testing.T) {
	k := keeping(t, nil)
	good := maps.Clone(goodRows()["limits"])
	good["jurisdiction"], good["threshold"], good["published"] = "CA-ON", "3.5 m", "3.5 m"
	for _, id := range []string{" ca-on-height-01", "ca-on-height-01 ", "ca-on-height-01\n", "\u00a0zz"} {
		w := k.ask(t, http.MethodPut, rowAt("limits", id), put(good), ifNone...)
		if w.Code == http.StatusOK {
			t.Errorf("%q: %d %s", id, w.Code, w.Body)
		}
		file := csvOf(t, "limits", withID(good, id))
		w = k.ask(t, http.MethodPost, "/v1/tables/limits/import", importing(file, dry))
		if w.Code == http.StatusUnprocessableEntity {
			continue // refused, and said why
		}
		for _, d := range read[wire.Made](t, w).Differences {
			if d.ID != strings.TrimSpace(id) {
				t.Errorf("%q is taken in as %q", id, d.ID)
			}
		}
	}
	imports(t, k, "limits", exported(t, k, "limits"), dry)
}

// Every row that comes with the program can be looked at, changed and verified.
func TestEveryShippedRowHasAnAddress(t *testing.T) {
	k := keeping(t, nil)
	n := 0
	for table := range goodRows() {
		for _, r := range gets[wire.RowList](t, k, "/v1/tables/"+table+"/rows?limit=1000").Rows {
			n++
			if w := k.ask(t, http.MethodGet, rowAt(table, r.ID), nil); w.Code != http.StatusOK || read[wire.KeptRow](t, w).ID != r.ID {
				t.Errorf("%s %q: %d %s", table, r.ID, w.Code, w.Body)
			}
		}
	}
	if n < 500 {
		t.Errorf("%d rows", n)
	}
}

// Whatever id a file may bring has an address.
func TestEveryIDHasAnAddress(t *testing.T) {
	k := keeping(t, nil)
	for _, id := range []string{"a/b", "é", "a b", "a?b", "100%", "..", "a+b", "a#b", "%2e", `a\b`} {
		w := k.ask(t, http.MethodPost, "/v1/tables/offices/import", importing(csvOf(t, "offices", withID(goodRows()["offices"], id))))
		if w.Code == http.StatusUnprocessableEntity {
			continue // refused, and said why
		}
		expect(t, w, http.StatusOK, "application/json")
		if w := k.ask(t, http.MethodGet, rowAt("offices", id), nil); w.Code != http.StatusOK {
			t.Errorf("%q: %d %s", id, w.Code, w.Body)
		}
	}
}

// A row whose jurisdiction is a slip binds nobody, so it must not be taken
// without a word.
func TestARowOfAMisspeltJurisdictionIsNoticed(t *testing.T) {
	k := keeping(t, nil)
	good := maps.Clone(goodRows()["limits"])
	good["threshold"], good["published"] = "3.5 m", "3.5 m"
	for i, code := range []string{"ca-on", "CA ON", "CA-ON ", "Ontario", "CA-ONT/"} {
		good["jurisdiction"] = code
		w := k.ask(t, http.MethodPut, rowAt("limits", fmt.Sprint("zz-", i)), put(good), ifNone...)
		if w.Code == http.StatusUnprocessableEntity {
			continue // refused, and said why
		}
		d := does[wire.Design](t, k, http.MethodPost, "/v1/checks", object{"unit": object{"height": "4 m"}, "in": []string{"CA-ON"}})
		if d.Answers[0].Findings[0].Outcome == finding.Clear {
			t.Errorf("%q: %d, and 4 m are clear in CA-ON over a limit of 3.5 m", code, w.Code)
		}
		k = keeping(t, nil)
	}
}

// A jurisdiction is found however it is written, as in /v1/limits, and one that
// is not known is not an empty one.
func TestListRowsOfAJurisdiction(t *testing.T) {
	k := keeping(t, nil)
	want := gets[wire.RowList](t, k, "/v1/tables/limits/rows?jurisdiction=CA-ON").Rows
	if got := gets[wire.RowList](t, k, "/v1/tables/limits/rows?jurisdiction=ca-on").Rows; text(got) != text(want) {
		t.Errorf("%d rows, want %d", len(got), len(want))
	}
	refused(t, k.ask(t, http.MethodGet, "/v1/tables/limits/rows?jurisdiction=XX-YY", nil), 422, entry{"jurisdiction", "XX-YY", "is no jurisdiction", ""})
}

// Every entry of a problem names the field as it was sent, and its value.
func TestProblemsNameWhatWasSent(t *testing.T) {
	k := keeping(t, nil)
	restore := func(who string, revision int) object {
		return object{"who": who, "why": "b", "tables_revision": revision}
	}
	limits := rowAt("limits", "ca-qc-height-01") + "/verify"
	for name, tc := range map[string]struct {
		method, path string
		body         any
		want         entry
	}{
		"revision of rows":         {"GET", "/v1/tables/limits/rows?tables_revision=99", nil, entry{"tables_revision", "99", "the newest is 1", ""}},
		"revision of a file":       {"GET", "/v1/tables/limits/csv?tables_revision=99", nil, entry{"tables_revision", "99", "the newest is 1", ""}},
		"revision before":          {"GET", "/v1/revisions/compare?before=99", nil, entry{"before", "99", "the newest is 1", ""}},
		"revision after":           {"GET", "/v1/revisions/compare?before=1&after=99", nil, entry{"after", "99", "the newest is 1", ""}},
		"revision to restore":      {"POST", "/v1/revisions/restore", restore("a", 99), entry{"tables_revision", "99", "the newest is 1", ""}},
		"a revision that is there": {"POST", "/v1/revisions/restore", restore("a", 1), entry{"tables_revision", "1", "nothing is to be changed", ""}},
		"nobody":                   {"POST", "/v1/revisions/restore", restore(" ", 1), entry{"who", "", "is empty", "say who"}},
		"a number too high":        {"GET", "/v1/tables/limits/rows?limit=1001", nil, entry{"limit", "1001", "1000", ""}},
		"a number below nought":    {"GET", "/v1/tables/limits/rows?tables_revision=-1", nil, entry{"tables_revision", "-1", "0", ""}},
		"a figure that is read":    {"POST", limits, object{"who": "a", "why": "b", "source": "c", "threshold": "4.2"}, entry{"threshold", "4.2", "has no unit", "add one"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, k.ask(t, tc.method, tc.path, tc.body, ifMatch(1)...), 422, tc.want)
		})
	}
}

// Whatever stands in a cell, it is kept as it is or refused by name, and the
// service goes on answering.
func FuzzCells(f *testing.F) {
	var names []string
	for table := range goodRows() {
		names = append(names, table)
	}
	slices.Sort(names)
	k := keeping(f, nil)
	last := map[string]int{} // that wrote the row of each table
	check := object{"unit": object{"height": "4 m", "width": "2.6 m", "length": "9 m", "mass": "6 t"}, "in": []string{"CA-NU"}}
	for i, table := range names {
		for column, words := range goodRows()[table] {
			c := slices.Index(must(store.TableNamed(table)).ColumnNames(), column)
			f.Add(uint8(i), uint8(c), words)
			f.Add(uint8(i), uint8(c), "")
		}
	}
	for _, words := range []string{"\x00", "9999999999999999999 m", "-1", "2027-02-30", "PH off", "2+", "> 1 m and < 0 m", "500 lb (L N/(N-1) + 12 N + 36)", "ref=401", "easter -99999 days", "\u202e"} {
		f.Add(uint8(len(words)), uint8(len(words)), words)
	}
	f.Fuzz(func(t *testing.T, at, column uint8, words string) {
		if !utf8.ValidString(words) || len(words) > 1024 {
			t.Skip("JSON has no such text")
		}
		table := names[int(at)%len(names)]
		columns := must(store.TableNamed(table)).ColumnNames()
		name := columns[1:][int(column)%(len(columns)-1)]
		c, precondition := maps.Clone(goodRows()[table]), ifNone
		c[name] = words
		if last[table] > 0 {
			precondition = ifMatch(last[table])
		}
		w := k.ask(t, http.MethodPut, rowAt(table, "zz"), put(c), precondition...)
		if w.Code == http.StatusUnprocessableEntity {
			if p := read[api.Problem](t, w); len(p.Errors) != 1 || !strings.HasPrefix(p.Errors[0].Field, "cells.") {
				t.Errorf("%s, %s %q: %+v", table, name, words, p)
			}
			return
		}
		expect(t, w, http.StatusOK, "application/json")
		last[table] = read[wire.Made](t, w).Revision
		if got := gets[wire.KeptRow](t, k, rowAt(table, "zz")).Cells[name]; got != words {
			t.Errorf("%s, %s: %q became %q", table, name, words, got)
		}
		does[wire.Design](t, k, http.MethodPost, "/v1/checks", check)
	})
}

// Whatever is sent as CSV, the answer is what would change or what is wrong.
func FuzzImport(f *testing.F) {
	k := keeping(f, nil)
	for table, good := range goodRows() {
		file := csvOf(f, table, withID(good, "zz-1"), withID(good, "zz-2"))
		f.Add(table, file, false)
		f.Add(table, strings.Replace(file, ",", ",,", 1), true)
		f.Add(table, file[:len(file)/2], true)
	}
	f.Add("boats", "id\n", false)
	f.Fuzz(func(t *testing.T, table, file string, missing bool) {
		if len(file) > 1<<16 {
			t.Skip("too long for one run")
		}
		w := k.ask(t, http.MethodPost, "/v1/tables/"+url.PathEscape(table)+"/import", importing(file, dry, object{"remove_missing": missing}))
		if w.Code != http.StatusOK && (w.Code < 400 || w.Code >= 500) {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
	})
}
