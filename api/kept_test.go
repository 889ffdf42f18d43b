package api_test

import (
	"net/http"
	"strings"
	"testing"

	"wayhouse/api/phrase"
	use "wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/store"
)

// A clearance that a user lowered in tables that nobody keeps would be high again
// after the next start: every write is refused and says how to keep it.
func TestTablesThatEndWithTheProcessTakeNoEdits(t *testing.T) {
	k := keeping(t, nil)
	k.Tables.Unkept = true
	if got := gets[wire.Status](t, k, "/readyz").Edits; got != phrase.English().Say(use.NotKept()) {
		t.Errorf("/readyz says %q", got)
	}
	limits, _ := store.TableNamed("limits")
	head := strings.Join(limits.ColumnNames(), ",") + "\n"
	cells := goodRows()["limits"]
	reason := func(more object) object {
		more["who"], more["why"] = "a user", "invented for a test"
		return more
	}
	for name, tc := range map[string]struct {
		method, path string
		body         any
		headers      []string
	}{
		"put":     {http.MethodPut, rowAt("limits", "zz"), put(cells), ifNone},
		"remove":  {http.MethodDelete, rowAt("limits", "ca-on-height-01") + because, nil, ifMatch(1)},
		"verify":  {http.MethodPost, rowAt("limits", "ca-qc-height-01") + "/verify", reason(object{"source": "a text"}), ifMatch(1)},
		"import":  {http.MethodPost, "/v1/tables/limits/import", reason(object{"csv": head, "remove_missing": true}), nil},
		"restore": {http.MethodPost, "/v1/revisions/restore", reason(object{"tables_revision": 1}), nil},
	} {
		t.Run(name, func(t *testing.T) {
			w := k.ask(t, tc.method, tc.path, tc.body, tc.headers...)
			refused(t, w, http.StatusForbidden, entry{problem: "which the next start forgets", fix: "--store FILE"})
		})
	}
	if k.newest(t) != 1 {
		t.Error("something was written")
	}
	dry := does[wire.Made](t, k, http.MethodPost, "/v1/tables/limits/import", reason(object{"csv": head, "remove_missing": true, "dry_run": true}))
	if len(dry.Differences) == 0 {
		t.Error("a dry run says nothing")
	}
}

func TestTablesThatAreKeptSaySo(t *testing.T) {
	if got := gets[wire.Status](t, keeping(t, nil), "/readyz").Edits; got != "kept" {
		t.Errorf("/readyz says %q", got)
	}
}
