//go:build unix

package main

import (
	"bytes"
	"io"
	"math"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"wayhouse/testdata/needs"
)

// A build that is killed at any moment leaves the file of before as it was.
func TestKilledBuildKeepsOldFile(t *testing.T) {
	old, pbf := gridExtract(t, 2000, 1), gridExtract(t, 60_000, 2)
	file := filepath.Join(t.TempDir(), "grid.wayroads")
	if out, err := command("network", "build", old, "--out", file).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	before, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	started := time.Now()
	if out, err := command("network", "build", pbf, "--out", file+".whole").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	whole := time.Since(started)
	after, err := os.ReadFile(file + ".whole")
	if err != nil {
		t.Fatal(err)
	}
	const kills = 12
	killed := 0
	for i := range kills {
		c := command("network", "build", pbf, "--out", file)
		c.Stdout, c.Stderr = io.Discard, io.Discard
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(whole * time.Duration(i+1) / (kills + 1)) // spread over the build, not a limit
		if err := c.Process.Signal(syscall.SIGKILL); err == nil {
			killed++
		}
		_ = c.Wait() // killed, or done before
		got, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Equal(got, after) { // it was done before it was killed
			if err := os.WriteFile(file, before, 0o600); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if !bytes.Equal(got, before) {
			t.Fatalf("killed %d of %d into the build: the file has %d bytes and is neither the old nor the new one", i+1, kills+1, len(got))
		}
	}
	if killed == 0 {
		t.Error("no build was killed")
	}
}

// Memory and time of an import, printed; 5 million nodes must fit into 6 GB.
func TestGrowth(t *testing.T) {
	if !needs.Long {
		t.Skip("long form: go test -tags long")
	}
	type cost struct{ nodes, seconds, megabytes float64 }
	var costs []cost
	for _, nodes := range []int{500_000, 1_000_000, 2_000_000, 5_000_000} {
		pbf := gridExtract(t, nodes, 1)
		c := command("network", "build", pbf, "--out", filepath.Join(t.TempDir(), "grid.wayroads"))
		if out, err := c.CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		usage := c.ProcessState.SysUsage().(*syscall.Rusage)
		got := cost{float64(nodes), (c.ProcessState.UserTime() + c.ProcessState.SystemTime()).Seconds(), float64(usage.Maxrss) / 1024}
		costs = append(costs, got)
		t.Logf("%d nodes: %.1f s of processor, %.0f MB at the most", nodes, got.seconds, got.megabytes)
	}
	first, last := costs[0], costs[len(costs)-1]
	exponent := func(a, b float64) float64 { return math.Log(b/a) / math.Log(last.nodes/first.nodes) }
	t.Logf("time grows as n^%.2f, memory as n^%.2f", exponent(first.seconds, last.seconds), exponent(first.megabytes, last.megabytes))
	if last.megabytes > 6000 {
		t.Errorf("5 million nodes took %.0f MB", last.megabytes)
	}
}
