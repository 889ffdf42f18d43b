package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// bridgeRecord is a record of the bridge inventory with some columns set, each
// by its first, counted from 1 (Federal Highway Administration, NBI Record
// Format; see the tests of regs/clearance for how its columns are known). The
// bridge is invented: it carries US 9 over Interstate 87 in New York.
func bridgeRecord(number, under string, change map[int]string) string {
	line := bytes.Repeat([]byte(" "), 432)
	for first, value := range map[int]string{
		1: "362", 4: number, 19: "1", 20: "2", 22: "00009", 38: "I-87", 63: "US 9", 106: "9999", 130: "42450000", 138: "073503600", 199: "A", 215: "120", 235: "0120", 243: "9999", 247: "H" + under, 275: "5",
	} {
		copy(line[first-1:], value)
	}
	for first, value := range change {
		copy(line[first-1:], value)
	}
	return string(line) + "\n"
}

func TestImportBridges(t *testing.T) {
	dir := t.TempDir()
	path, file := filepath.Join(dir, "tables.db"), filepath.Join(dir, "NY24.txt")
	inventory := func(records ...string) {
		if err := os.WriteFile(file, []byte(strings.Join(records, "")), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	revisions := func() int {
		out, _, _ := cli(t, "rules", "history", "--store", path)
		return strings.Count(out, "\n")
	}
	take := func(args ...string) (out, errs string, code int) {
		return cli(t, append([]string{"rules", "import-bridges", file, "--store", path, "--year", "2024"}, args...)...)
	}
	kept := func() string {
		out, errs, code := cli(t, "rules", "export", "--table", "clearances", "--store", path)
		if code != 0 {
			t.Fatalf("export: %d %s", code, errs)
		}
		return out
	}
	inventory(
		bridgeRecord("100", "0442", nil), bridgeRecord("200", "9999", nil), bridgeRecord("300", "0442", map[int]string{130: "        "}),
		bridgeRecord("400", "0000", map[int]string{199: "K"}),
	)
	const counts = "4 records: 4 rows, 2 of them with a height; 1 records limit nothing, 1 have no coordinates, 0 limits could be placed nowhere"

	out, errs, code := take("--dry-run")
	if code != 0 || !strings.Contains(out, counts) || !strings.Contains(out, "4 rows would change; nothing was changed") || !strings.Contains(out, "added    clearances nbi-362-100-under") || revisions() != 1 || strings.Count(kept(), "\n") != 1 {
		t.Errorf("dry run: %d\n%s%s", code, out, errs)
	}
	if _, errs, code := take(); code != exitInput || !strings.Contains(errs, "--why") || revisions() != 1 {
		t.Errorf("no reason: %d %s", code, errs)
	}
	out, errs, code = take("--why", "the inventory of 2024", "--who", "a user", "--read-on", "2027-03-01")
	if code != 0 || !strings.Contains(out, counts) || !strings.Contains(out, "revision 2: 4 rows changed") || revisions() != 2 {
		t.Errorf("import: %d\n%s%s", code, out, errs)
	}
	rows := kept()
	for _, want := range []string{
		`nbi-362-100-under,US 9 over I-87,42.750000,-73.843333,I 87,both,,4.42 m,,,published,"National Bridge Inventory, Federal Highway Administration","structure 100, item 54",2024,2027-03-01,`,
		"nbi-362-400-on,", "nbi-362-400-under,", ",yes,", "nbi-362-300-under,US 9 over I-87,,,I 87,",
	} {
		if !strings.Contains(rows, want) {
			t.Errorf("the table has no %s:\n%s", want, rows)
		}
	}
	if strings.Contains(rows, "nbi-362-200") || strings.Count(rows, "\n") != 5 {
		t.Errorf("the table has rows of bridges that limit nothing:\n%s", rows)
	}
	if out, errs, code := take("--why", "again", "--read-on", "2027-03-01"); code != 0 || !strings.Contains(out, "nothing differs from revision 2") || revisions() != 2 {
		t.Errorf("the same file again: %d\n%s%s", code, out, errs)
	}
	// A later file takes the place of the rows by id; a bridge that it lacks stays.
	inventory(bridgeRecord("100", "0430", nil))
	if out, errs, code := take("--why", "the inventory of 2025", "--read-on", "2028-03-01"); code != 0 || !strings.Contains(out, "revision 3: 1 rows changed") || !strings.Contains(out, `"4.42 m" -> "4.30 m"`) || strings.Count(kept(), "\n") != 5 {
		t.Errorf("a later file: %d\n%s%s", code, out, errs)
	}
}

func TestImportBridgesRefuses(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tables.db")
	good := written(t, "good.txt", bridgeRecord("100", "0442", nil))
	short := written(t, "short.txt", bridgeRecord("100", "0442", nil)+bridgeRecord("200", "0442", nil)[:100]+"\n")
	delimited := written(t, "delimited.txt", "STATE_CODE_001,STRUCTURE_NUMBER_008\n36,1\n")
	for _, tc := range []struct {
		args []string
		want string
	}{
		{[]string{short, "--store", path, "--year", "2024", "--dry-run"}, "line 2 has 100 columns"},
		{[]string{delimited, "--store", path, "--year", "2024", "--dry-run"}, "fixed-width file"},
		{[]string{good, "--store", path, "--dry-run"}, "--year"},
		{[]string{good, "--store", path, "--year", "soon", "--dry-run"}, "--year"},
		{[]string{good, "--store", path, "--year", "2028", "--dry-run"}, "--year"},
		{[]string{good, "--store", path, "--year", "2024", "--read-on", "soon", "--dry-run"}, "--read-on"},
		{[]string{good, "--year", "2024", "--dry-run"}, "--store FILE or --database"},
		{[]string{filepath.Join(t.TempDir(), "none.txt"), "--store", path, "--year", "2024", "--dry-run"}, "none.txt"},
	} {
		if out, errs, code := cli(t, append([]string{"rules", "import-bridges"}, tc.args...)...); code == 0 || !strings.Contains(errs, tc.want) {
			t.Errorf("%v: %d, %q, %q; want %q", tc.args, code, out, errs, tc.want)
		}
	}
}
