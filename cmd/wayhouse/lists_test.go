package main

import (
	"net/http"
	"path/filepath"
	"strings"
	"testing"
)

// Every list is printed as JSON, byte by byte as the service answers it.
func TestListsAreThoseOfTheService(t *testing.T) {
	kept := filepath.Join(t.TempDir(), "tables.db")
	prints(t, "rules", "history", "--store", kept)
	from := sources{store: kept}
	known, tables, err := load(t.Context(), from, noon, withRoads)
	noError(t, err)
	defer tables.Close()
	h := serverOf(known, tables, from, quiet()).Handler()
	for path, args := range map[string][]string{
		"/v1/jurisdictions":  {"jurisdictions"},
		"/v1/places?q=cornw": {"places", "cornw"},
		"/v1/parts":          {"rig", "parts"},
		"/v1/sources":        {"sources", "--licences"},
		"/v1/revisions":      {"rules", "history", "--store", kept},
		"/v1/tables/offices/rows/ca-ab-office/versions": {"rules", "history", "offices", "ca-ab-office", "--store", kept},
		"/v1/revisions/compare?before=1&after=1":        {"rules", "compare", "1", "1", "--store", kept},
		"/v1/tables/offices/rows?limit=1000":            {"rules", "list", "--table", "offices"},
		"/v1/tables/limits/rows?jurisdiction=Utah":      {"rules", "list", "--in", "Utah"},
	} {
		w := answered(t, h, twin{path: path}, "application/json")
		printed := prints(t, append(args, "--json")...)
		if got := w.Body.String(); w.Code != http.StatusOK || len(got) < 20 || got != printed {
			t.Errorf("%s: %d, they differ from byte %d on: %.300s", path, w.Code, alike(got, printed), got)
		}
		text := prints(t, args...)
		if text == printed || strings.HasPrefix(text, "{") {
			t.Errorf("%q prints JSON without --json", args)
		}
		got := answered(t, h, twin{path: path}, "text/plain").Body.String()
		if counted := strings.LastIndex(text, " of "); got != text && (counted < 0 || got[:counted] != text[:counted]) {
			t.Errorf("%s: as text they differ from byte %d on: %.300s", path, alike(got, text), got)
		}
	}
	if topics := prints(t, "guide", "--json"); !strings.Contains(topics, `"name": "sources"`) {
		t.Errorf("%.300s", topics)
	}
}

// What is shipped is exported without a store, of no revision: it adds nothing to tables
// that have it, and a row that was changed there is not taken back.
func TestExportOfWhatIsShipped(t *testing.T) {
	path := changed(t)
	shipped, first := prints(t, "rules", "export"), prints(t, "rules", "export", "--store", path, "--tables-revision", "1")
	if shipped == first || shipped != strings.ReplaceAll(strings.ReplaceAll(first, ",1\n", ",\n"), ",1\r\n", ",\r\n") {
		t.Errorf("they differ from byte %d on, and not only in the revision", alike(shipped, first))
	}
	file := written(t, "limits.csv", shipped)
	if code, _, errs := wayhouse(t, "rules", "import", file, "--store", path, "--why", "a test"); code != exitInput || !strings.Contains(errs, "ca-on-height-01") {
		t.Errorf("into tables with another row: %d, %s", code, errs)
	}
	fresh := filepath.Join(t.TempDir(), "fresh.db")
	if out := prints(t, "rules", "import", file, "--store", fresh, "--dry-run"); !strings.Contains(out, "nothing differs") {
		t.Errorf("into tables with the same rows: %s", out)
	}
}
