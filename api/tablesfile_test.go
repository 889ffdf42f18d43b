package api_test

import (
	"bytes"
	"database/sql"
	"encoding/csv"
	"fmt"
	"maps"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wayhouse/api/wire"
	"wayhouse/regs/store"
)

// exported is a table as CSV.
func exported(t testing.TB, k keeper, table string) string {
	t.Helper()
	w := k.ask(t, http.MethodGet, "/v1/tables/"+table+"/csv", nil)
	expect(t, w, http.StatusOK, "text/csv")
	if got, want := w.Header().Get("Content-Disposition"), fmt.Sprintf("attachment; filename=%q", table+".csv"); got != want {
		t.Errorf("disposition %s, want %s", got, want)
	}
	return w.Body.String()
}

// written is CSV of these lines.
func written(t testing.TB, lines [][]string) string {
	t.Helper()
	var out bytes.Buffer
	if err := csv.NewWriter(&out).WriteAll(lines); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// unnumbered is an exported table without the revision that it names.
func unnumbered(t testing.TB, text string) string {
	t.Helper()
	lines := must(csv.NewReader(strings.NewReader(text)).ReadAll())
	for i, line := range lines {
		lines[i] = line[:len(line)-1]
	}
	return written(t, lines)
}

// importing is the body of an import.
func importing(csv string, more ...object) object {
	out := object{"who": "a user", "why": "invented for a test", "csv": csv}
	for _, m := range more {
		maps.Copy(out, m)
	}
	return out
}

func imports(t testing.TB, k keeper, table, csv string, more ...object) wire.Made {
	t.Helper()
	return does[wire.Made](t, k, http.MethodPost, "/v1/tables/"+table+"/import", importing(csv, more...))
}

// csvOf writes rows with the columns of a table.
func csvOf(t testing.TB, table string, rows ...cells) string {
	t.Helper()
	columns := must(store.TableNamed(table)).ColumnNames()
	lines := [][]string{columns}
	for _, row := range rows {
		var line []string
		for _, c := range columns {
			line = append(line, row[c])
		}
		lines = append(lines, line)
	}
	return written(t, lines)
}

func withID(c cells, id string) cells {
	out := maps.Clone(c)
	out["id"] = id
	return out
}

var dry = object{"dry_run": true}

// What comes out goes in again, and changes nothing.
func TestEveryTableComesOutAndGoesIn(t *testing.T) {
	every(t, func(t *testing.T, k keeper, table string, good cells) {
		does[wire.Made](t, k, http.MethodPut, rowAt(table, "zz-1"), put(good), ifNone...)
		before := k.newest(t)
		out := exported(t, k, table)
		if !strings.HasPrefix(out, "id,") || !strings.Contains(out, "\nzz-1,") {
			t.Fatalf("%.300s", out)
		}
		// As it is, and as a spreadsheet writes it.
		for _, text := range []string{out, "\ufeff" + out, strings.ReplaceAll(out, "\n", "\r\n")} {
			for _, more := range []object{nil, dry, {"remove_missing": true}} {
				if made := imports(t, k, table, text, more); made.Revision != before || len(made.Differences) != 0 || made.MadeAt != "" {
					t.Errorf("%v: %+v", more, made)
				}
			}
		}
		if k.newest(t) != before {
			t.Error("something was changed")
		}
		// Another installation that takes it in has the same table.
		other := keeping(t, nil)
		imports(t, other, table, out)
		if diff := cmp.Diff(unnumbered(t, out), unnumbered(t, exported(t, other, table))); diff != "" {
			t.Error(diff)
		}
		if gets[wire.TableList](t, other, "/v1/tables").Revision() == gets[wire.TableList](t, keeping(t, nil), "/v1/tables").Revision() {
			t.Error("the other answers from what it had before")
		}
	})
}

// Cells keep what spreadsheets and editors put into them.
func TestCellsComeOutAsTheyWentIn(t *testing.T) {
	k := keeping(t, nil)
	c := maps.Clone(goodRows()["offices"])
	c["contact"] = "a \"window\", 2 floors up\nring twice; é ‘ \U0001F426 =1+1\t1"
	does[wire.Made](t, k, http.MethodPut, rowAt("offices", "zz-1"), put(c), ifNone...)
	if made := imports(t, k, "offices", exported(t, k, "offices")); len(made.Differences) != 0 {
		t.Errorf("%+v", made.Differences)
	}
	if got := gets[wire.KeptRow](t, k, rowAt("offices", "zz-1")); got.Cells["contact"] != c["contact"] {
		t.Errorf("%q", got.Cells["contact"])
	}
}

// Lines that end as they do on another machine are refused: CSV does not keep
// them, and a file that is taken in again must not read as changed.
func TestLinesInCells(t *testing.T) {
	k := keeping(t, nil)
	for _, words := range []string{"one\r\ntwo", "one\rtwo", "one\r\n"} {
		c := maps.Clone(goodRows()["offices"])
		c["contact"] = words
		refused(t, k.ask(t, http.MethodPut, rowAt("offices", fmt.Sprintf("zz-%x", words)), put(c), ifNone...), 422, entry{"cells.contact", words, "carriage return", "line feed"})
	}
}

// A dry run says what would change and changes nothing; the import then makes
// just that.
func TestImport(t *testing.T) {
	k := keeping(t, nil)
	good := goodRows()["offices"]
	does[wire.Made](t, k, http.MethodPut, rowAt("offices", "zz-1"), put(good), ifNone...)
	does[wire.Made](t, k, http.MethodPut, rowAt("offices", "zz-2"), put(good), ifNone...)
	before, all := k.newest(t), exported(t, k, "offices")
	renamed := withID(good, "zz-1")
	renamed["name"] = "Office of the Plover"
	file := csvOf(t, "offices", renamed, withID(good, "zz-3"))
	want := []wire.Difference{
		{Table: "offices", ID: "zz-1", Before: withID(good, "zz-1"), After: renamed},
		{Table: "offices", ID: "zz-3", After: withID(good, "zz-3")},
	}
	made := imports(t, k, "offices", file, dry)
	if diff := cmp.Diff(want, made.Differences); diff != "" || made.Revision != before || made.MadeAt != "" {
		t.Errorf("%+v\n%s", made, diff)
	}
	if k.newest(t) != before || exported(t, k, "offices") != all {
		t.Error("the dry run changed something")
	}
	made = imports(t, k, "offices", file, object{"expect_revision": made.Revision})
	if made.Revision != before+1 || made.MadeAt == "" || cmp.Diff(want, made.Differences) != "" {
		t.Errorf("%+v", made)
	}
	if got := gets[wire.KeptRow](t, k, rowAt("offices", "zz-1")); got.Cells["name"] != "Office of the Plover" || got.Revision != made.Revision {
		t.Errorf("%+v", got)
	}
	compared := gets[wire.Compared](t, k, fmt.Sprintf("/v1/revisions/compare?before=%d", before))
	if diff := cmp.Diff(want, compared.Differences); diff != "" {
		t.Error(diff)
	}
	if got := gets[wire.Revisions](t, k, "/v1/revisions").Revisions[0]; got.Who != "a user" || got.Why != "invented for a test" {
		t.Errorf("%+v", got)
	}
	// Rows that the file leaves out stay, unless they are to go.
	gone := imports(t, k, "offices", file, dry, object{"remove_missing": true})
	if n := strings.Count(exported(t, k, "offices"), "\n") - 1; len(gone.Differences) != n-2 || slices.ContainsFunc(gone.Differences, func(d wire.Difference) bool { return d.After != nil || d.Before == nil }) {
		t.Errorf("%d of %d would go", len(gone.Differences), n)
	}
	imports(t, k, "offices", file, object{"remove_missing": true, "expect_revision": gone.Revision})
	if got := unnumbered(t, exported(t, k, "offices")); got != file {
		t.Errorf("%s", got)
	}
	// Other tables are left alone.
	if rows := gets[wire.RowList](t, k, "/v1/tables/limits/rows").Rows; len(rows) != 200 {
		t.Errorf("%d limits", len(rows))
	}
}

// One bad cell and nothing is taken; the answer says where it stands.
func TestImportTakesAllOrNothing(t *testing.T) {
	k := keeping(t, nil)
	good := goodRows()["limits"]
	bad := withID(good, "zz-2")
	bad["threshold"] = "4.1"
	head, _, _ := strings.Cut(csvOf(t, "limits"), "\n")
	for name, tc := range map[string]struct {
		csv  string
		want entry
	}{
		"bad cell":      {csvOf(t, "limits", withID(good, "zz-1"), bad, withID(good, "zz-3")), entry{"csv, line 3, column threshold", "4.1", "has no unit", "add one"}},
		"id twice":      {csvOf(t, "limits", withID(good, "zz-1"), withID(good, "zz-1")), entry{"csv, line 3, column id", "zz-1", "stands twice", "of its own"}},
		"no id":         {csvOf(t, "limits", good), entry{"csv, line 2, column id", "", "is empty", "fill it in"}},
		"empty":         {"", entry{"csv", "", "is empty", "/v1/tables/limits/csv"}},
		"another table": {csvOf(t, "offices", withID(goodRows()["offices"], "zz-1")), entry{"csv", "", "has columns that the table has not", "/v1/tables/limits/csv"}},
		"a column less": {strings.TrimSuffix(head, ",read_on") + "\n", entry{"csv", "", "lacks columns: read_on", "/v1/tables/limits/csv"}},
		"a cell less":   {head + "\nzz-1,CA-ON\n", entry{"csv", "", "wrong number of fields", "/v1/tables/limits/csv"}},
		"an open quote": {head + "\n\"zz-1\n", entry{"csv", "", "", "/v1/tables/limits/csv"}},
		"no CSV at all": {"{}", entry{"csv", "", "has no head line", "/v1/tables/limits/csv"}},
	} {
		t.Run(name, func(t *testing.T) {
			for _, more := range []object{nil, dry, {"remove_missing": true}} {
				refused(t, k.ask(t, http.MethodPost, "/v1/tables/limits/import", importing(tc.csv, more)), 422, tc.want)
			}
		})
	}
	if k.newest(t) != 1 || strings.Contains(exported(t, k, "limits"), "zz-") {
		t.Error("something was changed")
	}
}

// Whoever looked at a dry run is told when the tables moved on since.
func TestImportForARevision(t *testing.T) {
	k := keeping(t, nil)
	good := goodRows()["offices"]
	file := csvOf(t, "offices", withID(good, "zz-1"))
	seen := imports(t, k, "offices", file, dry).Revision
	does[wire.Made](t, k, http.MethodPut, rowAt("offices", "zz-9"), put(good), ifNone...)
	for _, more := range []object{nil, dry, {"remove_missing": true}} {
		w := k.ask(t, http.MethodPost, "/v1/tables/offices/import", importing(file, object{"expect_revision": seen}, more))
		refused(t, w, 412, entry{problem: fmt.Sprintf("at revision %d, not %d", seen+1, seen), fix: "look at what changed"})
	}
	if k.newest(t) != seen+1 {
		t.Error("something was changed")
	}
	if made := imports(t, k, "offices", file, object{"expect_revision": seen + 1}); made.Revision != seen+2 {
		t.Errorf("%+v", made)
	}
}

func TestExportOfARevision(t *testing.T) {
	k := keeping(t, nil)
	first := exported(t, k, "offices")
	does[wire.Made](t, k, http.MethodPut, rowAt("offices", "zz-1"), put(goodRows()["offices"]), ifNone...)
	if past := k.ask(t, http.MethodGet, "/v1/tables/offices/csv?tables_revision=1", nil); past.Body.String() != first || exported(t, k, "offices") == first {
		t.Error("the first revision is not what it was")
	}
	if empty := unnumbered(t, exported(t, k, "contacts")); empty != csvOf(t, "contacts") {
		t.Errorf("an empty table: %q", empty)
	}
}

func TestImportNeedsAReason(t *testing.T) {
	k := keeping(t, nil)
	file := csvOf(t, "offices", withID(goodRows()["offices"], "zz-1"))
	for _, left := range []string{"who", "why", "csv"} {
		body := importing(file)
		delete(body, left)
		refused(t, k.ask(t, http.MethodPost, "/v1/tables/offices/import", body), 422, entry{left, "", "is missing", "add it"})
	}
	refused(t, k.ask(t, http.MethodPost, "/v1/upgrade", object{"who": "a"}), 422, entry{"why", "", "is missing", "add it"})
	refused(t, k.ask(t, http.MethodPost, "/v1/revisions/restore", object{"who": "a", "tables_revision": 1}), 422, entry{"why", "", "is missing", "add it"})
	if k.newest(t) != 1 {
		t.Error("something was changed")
	}
}

// olderVersion is a file of tables as a version of the program would have left
// it that shipped another height for Ontario and no office for Vermont.
func olderVersion(t *testing.T) *store.Store {
	t.Helper()
	path := filepath.Join(t.TempDir(), "tables.db")
	must(store.OpenFile(t.Context(), path, noon)).Close()
	db := must(sql.Open("sqlite", path))
	must(db.Exec(`UPDATE entry SET cells = json_set(cells, '$.threshold', '3.9 m', '$.published', '3.9 m') WHERE id = 'ca-on-height-01'`))
	must(db.Exec(`DELETE FROM entry WHERE id = 'us-vt-office'`))
	db.Close()
	s := must(store.OpenFile(t.Context(), path, noon))
	t.Cleanup(func() { s.Close() })
	return s
}

func upgrades(t testing.TB, k keeper, more ...object) wire.Upgraded {
	t.Helper()
	body := object{"who": "a user", "why": "a new version"}
	for _, m := range more {
		maps.Copy(body, m)
	}
	return does[wire.Upgraded](t, k, http.MethodPost, "/v1/upgrade", body)
}

func TestUpgrade(t *testing.T) {
	k := keeping(t, olderVersion(t))
	would := upgrades(t, k, dry)
	var changes []string
	for _, d := range would.Differences {
		changes = append(changes, fmt.Sprintf("%s %s %q %q", d.Table, d.ID, d.Before["threshold"], d.After["threshold"]))
	}
	slices.Sort(changes)
	if diff := cmp.Diff([]string{`limits ca-on-height-01 "3.9 m" "4.15 m"`, `offices us-vt-office "" ""`}, changes); diff != "" || would.Conflicts == nil || len(would.Conflicts) != 0 || would.Revision != 1 || k.newest(t) != 1 {
		t.Fatalf("%+v\n%s", would.Conflicts, diff)
	}
	made := upgrades(t, k)
	if made.Revision != 2 || len(made.Differences) != 2 || gets[wire.KeptRow](t, k, rowAt("limits", "ca-on-height-01")).Cells["threshold"] != "4.15 m" {
		t.Errorf("%+v", made)
	}
	if again := upgrades(t, k); again.Revision != 2 || len(again.Differences) != 0 || len(again.Conflicts) != 0 {
		t.Errorf("again: %+v", again)
	}
}

// A row that the user changed stays, and what is shipped stands beside it.
func TestUpgradeConflict(t *testing.T) {
	k := keeping(t, olderVersion(t))
	row := gets[wire.KeptRow](t, k, rowAt("limits", "ca-on-height-01"))
	row.Cells["threshold"], row.Cells["published"] = "3.8 m", "3.8 m"
	does[wire.Made](t, k, http.MethodPut, rowAt("limits", "ca-on-height-01"), put(row.Cells), ifMatch(row.Revision)...)
	want := []wire.UpgradeConflict{{Table: "limits", ID: "ca-on-height-01", Rival: "ca-on-height-01~shipped"}}
	for _, more := range []object{dry, nil} {
		if diff := cmp.Diff(want, upgrades(t, k, more).Conflicts); diff != "" {
			t.Errorf("%v\n%s", more, diff)
		}
	}
	if mine, theirs := gets[wire.KeptRow](t, k, rowAt("limits", "ca-on-height-01")), gets[wire.KeptRow](t, k, rowAt("limits", "ca-on-height-01~shipped")); mine.Cells["threshold"] != "3.8 m" || theirs.Cells["threshold"] != "4.15 m" {
		t.Errorf("%v, %v", mine, theirs)
	}
	// The stricter binds until the user verifies the shipped one or removes it.
	height := func() string {
		d := does[wire.Design](t, k, http.MethodPost, "/v1/checks", object{"unit": object{"height": "4 m"}, "in": []string{"CA-ON"}})
		return string(d.Answers[0].Findings[0].Outcome)
	}
	if got := height(); got != "conditional" {
		t.Errorf("with both: %s", got)
	}
	mine := gets[wire.KeptRow](t, k, rowAt("limits", "ca-on-height-01"))
	does[wire.Made](t, k, http.MethodDelete, rowAt("limits", "ca-on-height-01")+because, nil, ifMatch(mine.Revision)...)
	if got := height(); got != "unknown" {
		t.Errorf("with what is shipped alone: %s", got)
	}
	theirs := gets[wire.KeptRow](t, k, rowAt("limits", "ca-on-height-01~shipped"))
	does[wire.Made](t, k, http.MethodPost, rowAt("limits", "ca-on-height-01~shipped")+"/verify", object{"who": "a user", "why": "read it", "source": "the handbook"}, ifMatch(theirs.Revision)...)
	if got := height(); got != "clear" {
		t.Errorf("with what is shipped, verified: %s", got)
	}
	if again := upgrades(t, k, dry); len(again.Differences) != 0 || len(again.Conflicts) != 0 {
		t.Errorf("decided, and asked again: %+v", again)
	}
}

// A file that was exported before somebody else changed rows undoes nothing: what
// it leaves as it was stays as it is now, what both changed is refused, and what it
// changes alone is taken, also where rows that it lacks are to go.
func TestImportUndoesNoChangeOfOthers(t *testing.T) {
	k := keeping(t, nil)
	good := goodRows()["offices"]
	for _, id := range []string{"zz-1", "zz-2", "zz-3"} {
		does[wire.Made](t, k, http.MethodPut, rowAt("offices", id), put(good), ifNone...)
	}
	file := exported(t, k, "offices")
	change := func(id, name string) {
		c := maps.Clone(good)
		c["name"] = name
		does[wire.Made](t, k, http.MethodPut, rowAt("offices", id), put(c), "If-Match", k.ask(t, http.MethodGet, rowAt("offices", id), nil).Header().Get("ETag"))
	}
	change("zz-1", "Office of the Heron")
	does[wire.Made](t, k, http.MethodPut, rowAt("offices", "zz-4"), put(good), ifNone...)
	newest := k.newest(t)
	for _, more := range []object{nil, dry, {"remove_missing": true}} {
		if made := imports(t, k, "offices", file, more); len(made.Differences) != 0 || k.newest(t) != newest {
			t.Fatalf("the file as it was exported changes %+v", made.Differences)
		}
	}
	line := func(id string) string { return "\n" + strings.Split(strings.Split(file, "\n"+id+",")[1], "\n")[0] }
	renamed := func(id string) string {
		before := id + "," + line(id)[1:]
		return strings.Replace(file, before, strings.Replace(before, good["name"], "Office of the Plover", 1), 1)
	}
	made := imports(t, k, "offices", renamed("zz-2"), object{"remove_missing": true})
	if len(made.Differences) != 1 || made.Differences[0].ID != "zz-2" {
		t.Errorf("%+v", made.Differences)
	}
	w := k.ask(t, http.MethodPost, "/v1/tables/offices/import", importing(renamed("zz-1")))
	refused(t, w, 412, entry{problem: "zz-1", fix: "changed it since"})
	if got := gets[wire.KeptRow](t, k, rowAt("offices", "zz-1")); got.Cells["name"] != "Office of the Heron" {
		t.Errorf("%+v", got)
	}
	// Without the revision nobody can tell, so that rows may be added alone.
	w = k.ask(t, http.MethodPost, "/v1/tables/offices/import", importing(unnumbered(t, file)))
	refused(t, w, 422, entry{"expect_revision", "", "does not say for which revision", "dry_run"})
	imports(t, k, "offices", csvOf(t, "offices", withID(good, "zz-5")))
}
