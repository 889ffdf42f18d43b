package osm_test

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"wayhouse/routing/osm"
	"wayhouse/testdata/needs"
)

// smallPBF makes an extract of an invented road with all that a block can hold.
func smallPBF(t *testing.T, format string) []byte {
	t.Helper()
	needs.Require(t, needs.Osmium)
	opl, pbf := filepath.Join(t.TempDir(), "a.opl"), filepath.Join(t.TempDir(), "a.osm.pbf")
	text := `n1 v1 dV c1 t2020-01-01T00:00:00Z i1 ua x-60 y45
n2 v2 dV c1 t2020-01-01T00:00:00Z i2 ub Tbarrier=gate,access=private x-60 y45.01
n3 v1 dV c1 t2020-01-01T00:00:00Z i1 ua x-60.01 y45.01
w1 v3 dV c1 t2020-01-01T00:00:00Z i2 ub Thighway=primary,maxheight=4.1 Nn1,n2
w2 v1 dV c1 t2020-01-01T00:00:00Z i1 ua Thighway=service Nn2,n3
r1 v1 dV c1 t2020-01-01T00:00:00Z i1 ua Ttype=restriction,restriction=no_left_turn Mw1@from,n2@via,w2@to
`
	if err := os.WriteFile(opl, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("osmium", "cat", "-f", format, "-o", pbf, opl).CombinedOutput(); err != nil {
		t.Fatalf("osmium: %v\n%s", err, out)
	}
	raw, err := os.ReadFile(pbf)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

func buildBytes(t *testing.T, raw []byte) error {
	t.Helper()
	path := filepath.Join(t.TempDir(), "a.osm.pbf")
	if err := os.WriteFile(path, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	n, _, err := osm.Build(t.Context(), []string{path}, osm.Options{})
	if err == nil {
		err = n.Verify(t.Context(), nil)
	}
	return err
}

// A damaged extract is refused or read; it never stops the program. Where the
// reader panics it does so in a goroutine of its own, so that a failure here
// ends the test binary.
func TestDamagedPBF(t *testing.T) {
	raw := smallPBF(t, "pbf,pbf_compression=none")
	if err := buildBytes(t, raw); err != nil {
		t.Fatalf("whole: %v", err)
	}
	refused := 0
	for at := range raw {
		for i, mask := range []byte{0x01, 0x80, 0xff} {
			if i != at%3 && !needs.Long { // each build takes some milliseconds
				continue
			}
			bad := append([]byte{}, raw...)
			bad[at] ^= mask
			if err := buildBytes(t, bad); err != nil {
				refused++
			}
		}
	}
	if refused == 0 {
		t.Error("no damage was noticed")
	}
}

// Forms of the format that the reader does not read are refused with what to
// do.
func TestOtherFormsOfPBF(t *testing.T) {
	for format, want := range map[string]string{"pbf,pbf_dense_nodes=false": "fix.convert_to_dense_nodes", "pbf": "", "pbf,add_metadata=false": "", "pbf,locations_on_ways=false": ""} {
		err := buildBytes(t, smallPBF(t, format))
		var input *osm.InputError
		if want == "" && err != nil || want != "" && (!errors.As(err, &input) || !strings.Contains(err.Error(), want)) {
			t.Errorf("%s: %v, want %q", format, err, want)
		}
	}
}
