package main

import (
	"bytes"
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
	"wayhouse/regs/store"
)

// madeStore makes a file of tables as they are shipped.
func madeStore(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "tables.db")
	s, err := store.OpenFile(t.Context(), path, noon)
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	return path
}

func revisions(t *testing.T, path string) int {
	t.Helper()
	out, errs, code := cli(t, "rules", "history", "--store", path)
	if code != 0 {
		t.Fatal(errs)
	}
	return strings.Count(out, "\n")
}

// limits50000 is a CSV of as many invented limits: line 2 is row 0. The row of
// a number that is asked for has a bad cell.
func limits50000(t *testing.T, bad int) string {
	t.Helper()
	base := lowered(t)
	threshold := slices.Index(limit.Table().Columns, "threshold")
	var records []rows.Record
	for i := range 50_000 {
		r := slices.Clone(base)
		if r[0] = fmt.Sprintf("zz-%05d", i); i == bad {
			r[threshold] = "3.9"
		}
		records = append(records, r)
	}
	var out bytes.Buffer
	if err := limit.Table().WriteCSV(&out, records); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// One bad cell in 50,000 rows changes nothing, and is named; without it all
// come in as one revision, and a dry run says so row by row.
func TestRulesImportOf50000Rows(t *testing.T) {
	path := madeStore(t)
	bad := written(t, "bad.csv", limits50000(t, 37_776))
	for _, args := range [][]string{{"--why", "a slip"}, {"--dry-run"}, {"--why", "a slip", "--remove-missing"}} {
		out, errs, code := cli(t, append([]string{"rules", "import", bad, "--store", path}, args...)...)
		if code != exitInput || out != "" || !strings.Contains(errs, bad+", line 37778, column threshold") || !strings.Contains(errs, `"3.9"`) {
			t.Errorf("%v: exit code %d, %.200s%s", args, code, out, errs)
		}
	}
	if n := revisions(t, path); n != 1 {
		t.Errorf("%d revisions after a file with a bad cell", n)
	}

	good := written(t, "good.csv", limits50000(t, -1))
	out, errs, code := cli(t, "rules", "import", good, "--store", path, "--dry-run")
	lines := strings.Split(out, "\n")
	added := slices.DeleteFunc(slices.Clone(lines), func(l string) bool { return !strings.HasPrefix(l, "added    limits zz-") })
	if code != 0 || len(added) != 50_000 || added[0] != "added    limits zz-00000" || added[49_999] != "added    limits zz-49999" ||
		!strings.HasSuffix(out, "50000 rows would change; nothing was changed\n") || !strings.Contains(lines[4], `"" -> `) {
		t.Errorf("dry run: exit code %d, %d rows of %d lines, %.500s%s", code, len(added), len(lines), out, errs)
	}
	if n := revisions(t, path); n != 1 {
		t.Errorf("%d revisions after a dry run", n)
	}
	out, errs, code = cli(t, "rules", "import", good, "--store", path, "--why", "a large file")
	if code != 0 || !strings.HasSuffix(out, "revision 2: 50000 rows changed\n") {
		t.Errorf("import: exit code %d, %s", code, errs)
	}
	out, errs, code = cli(t, "rules", "export", "--store", path)
	if code != 0 || strings.Count(out, "\n") != 1+474+50_000 || !strings.Contains(out, "\nzz-37776,") {
		t.Errorf("export: exit code %d, %d lines, %s", code, strings.Count(out, "\n"), errs)
	}
	if out, errs, code = cli(t, "rules", "import", good, "--store", path, "--why", "again"); code != 0 || out != "nothing differs from revision 2\n" {
		t.Errorf("again: exit code %d, %.200s%s", code, out, errs)
	}
}

// Every command that takes a table takes any of them, and names them all where
// it is another.
func TestRulesOfOffices(t *testing.T) {
	path := madeStore(t)
	exported := prints(t, "rules", "export", "--table", "offices", "--store", path)
	raw, err := os.ReadFile(root(t, "data", "tables", "offices.csv"))
	if err != nil {
		t.Fatal(err)
	}
	unmarked := strings.NewReplacer(",tables_revision\n", "\n", ",1\n", "\n").Replace(exported)
	if !slices.Equal(sorted(unmarked), sorted(string(raw))) {
		t.Errorf("exported is not the shipped file: %.200s", exported)
	}
	const contact = "1-800-662-7138; 403-342-7138; central.permits@gov.ab.ca"
	file := written(t, "offices.csv", strings.ReplaceAll(exported, contact, "555"))
	if out := prints(t, "rules", "import", file, "--table", "offices", "--store", path, "--why", "they moved"); !strings.Contains(out, "changed  offices ca-ab-office") ||
		!strings.Contains(out, `"`+contact+`" -> "555"`) || !strings.Contains(out, "revision 2: 1 rows changed") {
		t.Errorf("import: %s", out)
	}
	if out := prints(t, "rules", "verify", "ca-ab-office", "--table", "offices", "--store", path, "--source", "a call", "--why", "I asked"); !strings.Contains(out, `-> "verified"`) || !strings.Contains(out, `-> "2027-05-10"`) {
		t.Errorf("verify: %s", out)
	}
	if out := prints(t, "rules", "compare", "1", "3", "--store", path); !strings.Contains(out, "changed  offices ca-ab-office") || !strings.Contains(out, `-> "555"`) || !strings.Contains(out, `-> "a call"`) {
		t.Errorf("compare: %s", out)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"rules", "export", "--store", path, "--table", "office"}, "use one of limits, hours"},
		{[]string{"rules", "import", file, "--store", path, "--table", "authorities", "--why", "w"}, "use one of limits, hours"},
		{[]string{"rules", "verify", "ca-ab-office", "--store", path, "--table", "", "--source", "s", "--why", "w"}, "use one of limits, hours"},
		{[]string{"rules", "list", "--table", "x"}, "use one of limits, hours"},
		{[]string{"rules", "import", file, "--store", path, "--why", "w"}, "rules export --table limits"},
		{[]string{"rules", "verify", "ca-ab-office", "--store", path, "--source", "s", "--why", "w"}, `there is no row "ca-ab-office"`},
		{[]string{"rules", "verify", "ca-ab-office", "--store", path, "--table", "offices", "--source", "s", "--why", "w", "--threshold", "4 m"}, "threshold"},
	} {
		if out, errs, code := cli(t, c.args...); code != exitInput || !strings.Contains(errs, c.want) {
			t.Errorf("%v: exit code %d, %.100s%s, want %q", c.args, code, out, errs, c.want)
		}
	}
	if n := revisions(t, path); n != 3 {
		t.Errorf("%d revisions, want 3", n)
	}
}

// sorted are the lines of a text in order.
func sorted(text string) []string {
	lines := strings.Split(text, "\n")
	slices.Sort(lines)
	return lines
}

func TestRulesList(t *testing.T) {
	path := changed(t)
	const caution = "No row is not no rule. The permit office decides.\n"
	first := func(out string) string { line, _, _ := strings.Cut(out, "\n"); return line }
	for _, c := range []struct {
		args []string
		ends string
	}{
		{nil, "474 of 474 rows. " + caution},
		{[]string{"--table", "limits"}, "474 of 474 rows. " + caution},
		{[]string{"--table", "offices"}, "27 of 27 rows. " + caution},
		{[]string{"--in", "CA-ON"}, "37 of 474 rows. " + caution},
		{[]string{"--in", " ca-on "}, "37 of 474 rows. " + caution},
		{[]string{"--in", "CA-ON,CA-QC"}, "66 of 474 rows. " + caution},
		{[]string{"--in", "Québec"}, "29 of 474 rows. " + caution},
		{[]string{"--in", "US-AL"}, "0 of 474 rows. " + caution},
		{[]string{"--in", "CA-ON", "--only", "quantity=height,tier=legal"}, "3 of 474 rows. " + caution},
		{[]string{"--table", "offices", "--in", "US-VT,CA-ON"}, "3 of 27 rows. " + caution},
		{[]string{"--store", path, "--only", "id=ca-on-height-01"}, "1 of 474 rows. " + caution},
	} {
		if out := prints(t, append([]string{"rules", "list"}, c.args...)...); !strings.HasSuffix(out, c.ends) {
			t.Errorf("%v ends with %q, want %q", c.args, out[max(0, len(out)-100):], c.ends)
		}
	}
	const row = "ca-on-height-01"
	shipped, now := prints(t, "rules", "list", "--only", "id="+row), prints(t, "rules", "list", "--only", "id="+row, "--store", path)
	if first(shipped) != row+"  (revision 1)" || first(now) != row+"  (revision 2)" {
		t.Errorf("begin with %q and %q", first(shipped), first(now))
	}
	if !strings.Contains(shipped, "    threshold      4.15 m\n") || !strings.Contains(now, "    threshold      3.9 m\n") || strings.Contains(now, "    condition ") {
		t.Errorf("shipped:\n%s\nnow:\n%s", shipped, now)
	}
	if _, errs, code := cli(t, "rules", "list", "--in", "CA-O"); code != exitInput || !strings.Contains(errs, "there is Ontario (CA-ON)") {
		t.Errorf("exit code %d, %s", code, errs)
	}
	if _, errs, code := cli(t, "rules", "list", "--only", "colour=red"); code != exitInput || !strings.Contains(errs, `"colour"`) || !strings.Contains(errs, "id, jurisdiction") {
		t.Errorf("exit code %d, %s", code, errs)
	}
	if _, errs, code := cli(t, "rules", "list", "--store", filepath.Join(t.TempDir(), "no", "tables.db")); code == 0 || errs == "" {
		t.Errorf("a file that cannot be: exit code %d, %s", code, errs)
	}
}

// olderStore makes a file of tables as an older program shipped them: one
// figure was another, one row was not there yet, and one is not shipped any
// longer.
func olderStore(t *testing.T) string {
	t.Helper()
	path := madeStore(t)
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for _, statement := range []string{
		`UPDATE entry SET cells = json_set(cells, '$.published', '4.0 m', '$.threshold', '4.0 m') WHERE id IN ('ca-on-height-01', 'ca-qc-height-02')`,
		`DELETE FROM entry WHERE id = 'ca-on-width-01'`,
		`INSERT INTO entry (in_table, id, batch, shipped, cells) SELECT in_table, 'aa-gone', 1, 1, json_set(cells, '$.id', 'aa-gone') FROM entry WHERE id = 'ca-on-height-01'`,
	} {
		if _, err := db.ExecContext(t.Context(), statement); err != nil {
			t.Fatal(err)
		}
	}
	return path
}

func TestRulesUpgrade(t *testing.T) {
	path := olderStore(t)
	if out := prints(t, "rules", "verify", "ca-qc-height-02", "--store", path, "--source", "my text", "--why", "I read it"); !strings.Contains(out, "revision 2") {
		t.Fatal(out)
	}
	upgrade := func(args ...string) string {
		return prints(t, append([]string{"rules", "upgrade", "--store", path}, args...)...)
	}
	changes := []string{
		"conflict limits ca-qc-height-02: you changed it; the shipped version comes in as ca-qc-height-02~shipped, and the stricter binds\n",
		"changed  limits ca-on-height-01\n         published      \"4.0 m\" -> \"4.15 metres\"\n         threshold      \"4.0 m\" -> \"4.15 m\"\n",
		"added    limits ca-on-width-01\n", "removed  limits aa-gone\n", "added    limits ca-qc-height-02~shipped\n",
	}
	dry, errs, code := cli(t, "rules", "upgrade", "--store", path)
	if code != exitInput || !strings.Contains(errs, "--why") || dry != "" {
		t.Errorf("without a reason: exit code %d, %s%s", code, dry, errs)
	}
	dry = upgrade("--dry-run")
	if !strings.HasSuffix(dry, "\n4 rows would change; nothing was changed\n") || revisions(t, path) != 2 {
		t.Errorf("dry run: %s", dry)
	}
	out := upgrade("--why", "the new version", "--who", "a user")
	if !strings.HasSuffix(out, "\nrevision 3: 4 rows changed\n") {
		t.Errorf("upgrade: %s", out)
	}
	for _, want := range changes {
		if !strings.Contains(dry, want) || !strings.Contains(out, want) {
			t.Errorf("dry run:\n%s\nupgrade:\n%s\nwant both to say:\n%s", dry, out, want)
		}
	}
	if out := upgrade("--why", "again"); out != "nothing differs from revision 3\n" || revisions(t, path) != 3 {
		t.Errorf("again: %s", out)
	}
	list := prints(t, "rules", "list", "--store", path, "--in", "CA-QC", "--only", "quantity=height")
	for _, want := range []string{"ca-qc-height-02  (revision 2)\n", "ca-qc-height-02~shipped  (revision 3)\n"} {
		if !strings.Contains(list, want) {
			t.Errorf("%s does not list %q", list, want)
		}
	}
	if out, _, _ := cli(t, "rules", "history", "--store", path); !strings.Contains(out, "a user: the new version") {
		t.Errorf("history: %s", out)
	}
	if _, errs, code := cli(t, "rules", "upgrade", "--why", "w"); code != exitInput || !strings.Contains(errs, "--store FILE or --database") {
		t.Errorf("no store: exit code %d, %s", code, errs)
	}
}
