package main

import (
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"wayhouse/api"
	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
	"wayhouse/regs/store"
)

// changed makes a file of tables whose second revision lowers Ontario's height.
func changed(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "tables.db")
	s, err := store.OpenFile(t.Context(), path, noon)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	tables, err := s.Snapshot(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(tables.Rows("CA-ON"), func(r *limit.Row) bool { return r.ID == "ca-on-height-01" }) {
		t.Fatal("no such row")
	}
	if _, err := s.Change(t.Context(), "a user", "invented: a lower limit", []store.Edit{{Table: "limits", ID: "ca-on-height-01", Record: lowered(t), Was: 1}}); err != nil {
		t.Fatal(err)
	}
	return path
}

// lowered is the shipped row of Ontario's height with an invented threshold.
func lowered(t *testing.T) rows.Record {
	t.Helper()
	records, err := shipped("tables/limits.csv", limit.Table().Records)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range records {
		if r[0] == "ca-on-height-01" {
			r = slices.Clone(r)
			for i, column := range limit.Table().Columns {
				if column == "threshold" || column == "published" {
					r[i] = "3.9 m"
				}
			}
			return r
		}
	}
	t.Fatal("no such row")
	return nil
}

func TestRulesCommands(t *testing.T) {
	path := changed(t)
	out, errs, code := cli(t, "rules", "history", "--store", path)
	if code != 0 || strings.Count(out, "\n") != 2 || !strings.Contains(strings.Split(out, "\n")[0], "a user: invented: a lower limit") {
		t.Errorf("history: %d\n%s%s", code, out, errs)
	}
	out, errs, code = cli(t, "rules", "compare", "1", "2", "--store", path)
	if code != 0 || !strings.Contains(out, "changed  limits ca-on-height-01") || !strings.Contains(out, `-> "3.9 m"`) {
		t.Errorf("compare: %d\n%s%s", code, out, errs)
	}
	const lower = "is beyond 3.9 m"
	plan := func(args ...string) string {
		out, errs, code := cli(t, append([]string{"plan", "../../data/example/trip.yaml", "--full", "--store", path}, args...)...)
		if code != 0 {
			t.Fatalf("plan %v: %d\n%s", args, code, errs)
		}
		return strings.Join(strings.Fields(out), " ")
	}
	if now, past := plan(), plan("--tables-revision", "1"); !strings.Contains(now, lower) || strings.Contains(past, lower) {
		t.Error("the plan on the newest tables must go by the lower limit, the one on the first must not")
	}
	if out, errs, code := cli(t, "rules", "restore", "1", "--store", path, "--why", "it was invented", "--who", "a user"); code != 0 || !strings.Contains(out, "revision 3") {
		t.Errorf("restore: %d\n%s%s", code, out, errs)
	}
	if strings.Contains(plan(), lower) {
		t.Error("the lower limit is still there after it was taken back")
	}
	if out, _, _ := cli(t, "rules", "compare", "1", "3", "--store", path); !strings.Contains(out, "same rows") {
		t.Errorf("compare after restore: %s", out)
	}
}

func TestRulesRefuse(t *testing.T) {
	path := changed(t)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"rules", "history"}, "--store FILE or --database"},
		{[]string{"rules", "compare", "1", "x", "--store", path}, `LATER "x"`},
		{[]string{"rules", "compare", "1", "9", "--store", path}, "newest is 2"},
		{[]string{"rules", "restore", "1", "--store", path}, "--why"},
		{[]string{"rules", "restore", "2", "--store", path, "--why", "again"}, "nothing is to be changed"},
		{[]string{"rules", "history", "--store", path, "--database", "postgres://x/y"}, "one of the two"},
		{[]string{"rules", "history", "--database", "mysql://x/y"}, "postgres://user@host/tables"},
		{[]string{"plan", "../../data/example/trip.yaml", "--store", path, "--tables-revision", "7"}, "--tables-revision"},
	} {
		if _, errs, code := cli(t, c.args...); code != exitInput || !strings.Contains(errs, c.want) {
			t.Errorf("%v: %d, %q, want %q", c.args, code, errs, c.want)
		}
	}
}

// The service answers from the newest tables soon after anybody changed them.
func TestServiceFollowsTheTables(t *testing.T) {
	path := changed(t)
	known, tables, err := load(t.Context(), sources{store: path}, noon, withRoads)
	if err != nil {
		t.Fatal(err)
	}
	defer tables.Close()
	go follow(t.Context(), tables, known.Swap, quiet())
	if _, err := tables.Restore(t.Context(), 1, "a user", "it was invented"); err != nil {
		t.Fatal(err)
	}
	for {
		out := get(t, serverOf(known, tables, sources{store: path}, quiet()), "/readyz")
		if strings.Contains(out, `"tables": "3-`) {
			return
		}
		time.Sleep(10 * time.Millisecond) // until it does; the test's own limit ends a service that never does
	}
}

func quiet() *slog.Logger { return slog.New(slog.DiscardHandler) }

func get(t *testing.T, server *api.Server, path string) string {
	t.Helper()
	r := httptest.NewRequest(http.MethodGet, "http://127.0.0.1"+path, nil)
	w := httptest.NewRecorder()
	server.Handler().ServeHTTP(w, r)
	return w.Body.String()
}

// What is exported can be changed and imported, as one revision; a bad cell
// changes nothing and is named.
func TestRulesExportAndImport(t *testing.T) {
	path, file := changed(t), filepath.Join(t.TempDir(), "limits.csv")
	exported, _, code := cli(t, "rules", "export", "--store", path)
	if code != 0 || strings.Count(exported, "ca-on-height-01") == 0 {
		t.Fatalf("export: %d", code)
	}
	if past, _, _ := cli(t, "rules", "export", "--store", path, "--tables-revision", "1"); past == exported {
		t.Error("the first revision is exported as the second")
	}
	write := func(text string) {
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	imported := func(args ...string) (string, string, int) {
		return cli(t, append([]string{"rules", "import", file, "--store", path}, args...)...)
	}
	revisions := func() int {
		out, _, _ := cli(t, "rules", "history", "--store", path)
		return strings.Count(out, "\n")
	}
	write(exported)
	if out, errs, code := imported("--why", "the same"); code != 0 || !strings.Contains(out, "nothing differs") || revisions() != 2 {
		t.Errorf("the same again: %d\n%s%s", code, out, errs)
	}
	higher := strings.ReplaceAll(exported, "3.9 m", "3.8 m")
	write(higher)
	if out, errs, code := imported("--dry-run"); code != 0 || !strings.Contains(out, "1 rows would change") || revisions() != 2 {
		t.Errorf("dry run: %d\n%s%s", code, out, errs)
	}
	if _, errs, code := imported(); code != exitInput || !strings.Contains(errs, "--why") || revisions() != 2 {
		t.Errorf("no reason: %d %s", code, errs)
	}
	if out, errs, code := imported("--why", "a letter"); code != 0 || !strings.Contains(out, "revision 3: 1 rows") {
		t.Errorf("import: %d\n%s%s", code, out, errs)
	}
	write(strings.ReplaceAll(higher, "3.8 m", "3.8"))
	if _, errs, code := imported("--why", "a slip"); code != exitInput || !strings.Contains(errs, "line ") || !strings.Contains(errs, "column ") || revisions() != 3 {
		t.Errorf("bad cell: %d %s", code, errs)
	}
	head, _, _ := strings.Cut(exported, "\n")
	write(head + "\n")
	if _, errs, code := imported("--why", "start anew", "--remove-missing"); code != exitInput || !strings.Contains(errs, "--from-revision") || revisions() != 3 {
		t.Errorf("of no revision: %d %s", code, errs)
	}
	if out, errs, code := imported("--why", "start anew", "--remove-missing", "--from-revision", "3"); code != 0 || !strings.Contains(out, "474 rows") {
		t.Errorf("remove all: %d\n%.200s%s", code, out, errs)
	}
	out, _, _ := cli(t, "plan", "../../data/example/trip.yaml", "--store", path, "--full")
	if out = strings.Join(strings.Fields(out), " "); strings.Contains(out, " is within ") || !strings.Contains(out, "the table has no row for the height") {
		t.Error("with an empty table everything must be unknown")
	}
}

// A row that was only recalled clears once it was read in its source.
func TestRulesVerify(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tables.db")
	plan := func() string {
		out, errs, code := cli(t, "plan", "../../data/example/trip.yaml", "--full", "--store", path)
		if code != 0 {
			t.Fatal(errs)
		}
		return strings.Join(strings.Fields(out), " ")
	}
	const unknown, clear = "no row can clear the height: 4.15 m (ca-qc-height-01)", "decides: 4.15 m (ca-qc-height-01): invented source, s. 1, verified"
	if got := plan(); !strings.Contains(got, unknown) || strings.Contains(got, clear) {
		t.Fatal("the recalled row does not leave the height unknown")
	}
	verify := func(args ...string) (string, string, int) {
		return cli(t, append([]string{"rules", "verify", "--store", path}, args...)...)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"ca-qc-height-01", "--source", "s"}, "--why"},
		{[]string{"ca-qc-height-01", "--why", "w"}, "--source"},
		{[]string{"no-such-row", "--source", "s", "--why", "w"}, "no-such-row"},
		{[]string{"ca-qc-height-01", "--source", "s", "--why", "w", "--read-on", "yesterday"}, "--read-on"},
		{[]string{"ca-qc-height-01", "--source", "s", "--why", "w", "--threshold", "4.2"}, "threshold"},
		{[]string{"ca-qc-height-01", "--source", "s", "--why", "w", "--threshold", "4.2 m"}, "is not the published figure"},
		{[]string{"ca-qc-height-01", "--source", "s", "--why", "w", "--published", "4.2 m"}, "is not the published figure"},
	} {
		if _, errs, code := verify(c.args...); code != exitInput || !strings.Contains(errs, c.want) {
			t.Errorf("%v: %d %s", c.args, code, errs)
		}
	}
	out, errs, code := verify("ca-qc-height-01", "--source", "invented source", "--section", "s. 1", "--read-on", "2027-05-01", "--why", "read it")
	if code != 0 || !strings.Contains(out, `-> "verified"`) {
		t.Fatalf("%d\n%s%s", code, out, errs)
	}
	if strings.Contains(out, "still cannot clear") {
		t.Errorf("a row that clears: %s", out)
	}
	out, _, code = verify("ca-on-width-02", "--source", "invented source", "--why", "read it")
	if code != 0 || !strings.Contains(out, "it still cannot clear: ") {
		t.Errorf("a row with a condition: %d\n%s", code, out)
	}
	if got := plan(); !strings.Contains(got, clear) || strings.Contains(got, unknown) {
		t.Errorf("after it was verified: %.3000s", got)
	}
}

func TestRulesCoverage(t *testing.T) {
	out, errs, code := cli(t, "rules", "coverage", "--in", "ca-on,CA-QC")
	if code != 0 || strings.Count(out, "CA-") != 2 || !strings.Contains(out, "published       height") || !strings.Contains(out, "cannot clear    ") || !strings.Contains(out, "missing") {
		t.Errorf("%d\n%s%s", code, out, errs)
	}
	if out, _, code := cli(t, "rules", "coverage", "--json"); code != 0 || !strings.Contains(out, `"US-VT"`) || !strings.Contains(out, `"height": "unverified"`) || !strings.Contains(out, `"cannot_clear"`) {
		t.Errorf("%d\n%.500s", code, out)
	}
	if _, errs, code := cli(t, "rules", "coverage", "--in", "XX-YY"); code != exitInput || !strings.Contains(errs, "XX-YY") {
		t.Errorf("%d %s", code, errs)
	}
}
