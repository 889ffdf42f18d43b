package extracts

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Delaware is the name of an extract of Delaware of 2016-08-10 in the folder of
// [Real].
const Delaware = "delaware-latest.osm.pbf"

// Real returns the folder of the real extracts that the module of the OSM reader
// keeps for its own tests. It skips the test where there is no go command to
// find it with, or the module is not unpacked.
func Real(t testing.TB) string {
	t.Helper()
	tool, err := exec.LookPath("go")
	if err != nil {
		t.Skip("no go command to find the extracts with")
	}
	out, err := exec.Command(tool, "list", "-m", "-f", "{{.Dir}}", "github.com/paulmach/osm").Output()
	if err != nil {
		t.Fatal(err)
	}
	dir := strings.TrimSpace(string(out))
	if dir == "" {
		t.Skip("the module of the OSM reader is not unpacked")
	}
	return filepath.Join(dir, "testdata")
}
