package api_test

import (
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wayhouse/api/wire"
	"wayhouse/regs/finding"
)

// quebec checks a height that only a recalled row speaks of.
func quebec(t testing.TB, k keeper) (wire.DesignAnswer, string) {
	t.Helper()
	d := does[wire.Design](t, k, http.MethodPost, "/v1/checks", object{"unit": object{"height": "4.05 m"}, "in": []string{"CA-QC"}})
	return d.Answers[0], d.Revision()
}

// Whoever reads a recalled row in its source has the next answer clear by it.
func TestVerify(t *testing.T) {
	k := keeping(t, nil)
	const id = "ca-qc-height-01"
	before, revision := quebec(t, k)
	if before.Quantity != "height" || before.Findings[0].Outcome != finding.Unknown || !strings.Contains(before.Findings[0].Summary, "only known from memory") {
		t.Fatalf("%+v", before)
	}
	row := gets[wire.KeptRow](t, k, rowAt("limits", id))
	body := object{"who": "a user", "why": "read it", "source": "invented source", "section": "s. 1", "source_year": "2026", "source_url": "https://example.org/r", "read_on": "2027-05-01"}
	made := does[wire.Made](t, k, http.MethodPost, rowAt("limits", id)+"/verify", body, ifMatch(row.Revision)...)
	after, now := quebec(t, k)
	f := after.Findings[0]
	if f.Outcome != finding.Clear || now == revision || !strings.HasPrefix(now, fmt.Sprint(made.Revision, "-")) {
		t.Fatalf("%s by %s after %+v: %s", f.Outcome, now, made, f.Summary)
	}
	i := slices.IndexFunc(f.Rows, func(r wire.Citation) bool { return r.Decides })
	want := wire.Citation{ID: id, Revision: now, Published: "4.15 m", Status: finding.Verified, Source: "invented source", Section: "s. 1", Year: "2026", URL: "https://example.org/r", ReadOn: "2027-05-01", Tier: "legal", Decides: true}
	if diff := cmp.Diff(want, f.Rows[i]); diff != "" {
		t.Error(diff)
	}
	// The rest of the row is as it was.
	verified := gets[wire.KeptRow](t, k, rowAt("limits", id))
	for column, text := range verified.Cells {
		ofProof := slices.Contains([]string{"status", "source", "section", "source_year", "source_url", "read_on"}, column)
		if was := row.Cells[column]; !ofProof && text != was {
			t.Errorf("%s: %q became %q", column, was, text)
		}
	}
	// What is not said of the source is not kept from another source; the day is
	// today, the figure what it was found to be.
	again := object{"who": "a user", "why": "read it anew", "source": "another source", "published": "4.20 m", "threshold": "4.2 m"}
	does[wire.Made](t, k, http.MethodPost, rowAt("limits", id)+"/verify", again, ifMatch(verified.Revision)...)
	c := gets[wire.KeptRow](t, k, rowAt("limits", id)).Cells
	if c["source"] != "another source" || c["section"] != "" || c["source_url"] != "" || c["read_on"] != "2027-05-10" || c["published"] != "4.20 m" || c["threshold"] != "4.2 m" || c["status"] != "verified" {
		t.Errorf("%v", c)
	}
}

func TestVerifyRefuses(t *testing.T) {
	k := keeping(t, nil)
	does[wire.Made](t, k, http.MethodPut, rowAt("contacts", "zz-1"), put(goodRows()["contacts"]), ifNone...)
	does[wire.Made](t, k, http.MethodPut, rowAt("offices", "zz-1"), put(goodRows()["offices"]), ifNone...)
	before := k.newest(t)
	limits := rowAt("limits", "ca-qc-height-01") + "/verify"
	verify := func(more object) object {
		out := object{"who": "a", "why": "b", "source": "c"}
		maps.Copy(out, more)
		return out
	}
	for name, tc := range map[string]struct {
		path     string
		revision int
		body     object
		status   int
		want     entry
	}{
		"stale":              {limits, before, verify(nil), 412, entry{problem: "changed it since", fix: "again"}},
		"no source":          {limits, 1, object{"who": "a", "why": "b"}, 422, entry{"source", "", "is missing", "add it"}},
		"empty source":       {limits, 1, verify(object{"source": ""}), 422, entry{"source", "", "is empty", "fill it in"}},
		"no day":             {limits, 1, verify(object{"read_on": "yesterday"}), 422, entry{"read_on", "yesterday", "is no day", "2027-05-01"}},
		"bare figure":        {limits, 1, verify(object{"threshold": "4.2"}), 422, entry{problem: "cannot be used"}},
		"wrong unit":         {limits, 1, verify(object{"threshold": "4 kg"}), 422, entry{problem: "cannot be used"}},
		"no status":          {rowAt("contacts", "zz-1") + "/verify", before - 1, verify(nil), 422, entry{"contacts zz-1", "", "has no status", "nothing was changed"}},
		"no such figure":     {rowAt("offices", "zz-1") + "/verify", before, verify(object{"threshold": "4 m"}), 422, entry{"offices zz-1", "", "no column threshold", "nothing was changed"}},
		"published nowhere":  {rowAt("offices", "zz-1") + "/verify", before, verify(object{"published": "4 m"}), 422, entry{"offices zz-1", "", "no column published", "nothing was changed"}},
		"an unknown field":   {limits, 1, verify(object{"status": "published"}), 422, entry{"status", "", "no field here", "spelling"}},
		"nobody and no why":  {limits, 1, object{"who": "", "why": "", "source": "c"}, 422, entry{"who", "", "is empty", "fill it in"}},
		"a row there is not": {rowAt("offices", "zz-9") + "/verify", 1, verify(nil), 404, entry{problem: "offices", fix: "zz-9"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, k.ask(t, http.MethodPost, tc.path, tc.body, ifMatch(tc.revision)...), tc.status, tc.want)
		})
	}
	if k.newest(t) != before {
		t.Error("something was changed")
	}
}

// Rows of every table that has a status can be verified.
func TestVerifyEveryTable(t *testing.T) {
	every(t, func(t *testing.T, k keeper, table string, good cells) {
		if good["status"] == "" {
			return
		}
		made := does[wire.Made](t, k, http.MethodPut, rowAt(table, "zz-1"), put(good), ifNone...)
		does[wire.Made](t, k, http.MethodPost, rowAt(table, "zz-1")+"/verify", object{"who": "a", "why": "b", "source": "c"}, ifMatch(made.Revision)...)
		if c := gets[wire.KeptRow](t, k, rowAt(table, "zz-1")).Cells; c["status"] != "verified" || c["source"] != "c" || c["read_on"] != "2027-05-10" {
			t.Errorf("%v", c)
		}
	})
}
