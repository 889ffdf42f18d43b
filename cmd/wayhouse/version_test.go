package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"strings"
	"testing"
)

func TestVersionOf(t *testing.T) {
	stamp := func(pairs ...string) (out []debug.BuildSetting) {
		for i := 0; i < len(pairs); i += 2 {
			out = append(out, debug.BuildSetting{Key: pairs[i], Value: pairs[i+1]})
		}
		return out
	}
	const commit = "0123456789abcdef0123456789abcdef01234567"
	for _, tc := range []struct {
		module   string
		settings []debug.BuildSetting
		want     string
	}{
		{"", nil, unknownBuild},
		{"(devel)", stamp("vcs", "git"), unknownBuild},
		{"v0.0.0-20261129085712-0123456789ab", nil, unknownBuild},
		{"v1.2.3", nil, "v1.2.3"},
		{"(devel)", stamp("vcs.revision", commit), "commit 0123456789ab"},
		{"(devel)", stamp("vcs.revision", "0123"), "commit 0123"},
		{
			"v0.0.0-20261129085712-0123456789ab+dirty",
			stamp("vcs.revision", commit, "vcs.time", "2026-11-29T08:57:12Z", "vcs.modified", "true"),
			"commit 0123456789ab of 2026-11-29T08:57:12Z with changes",
		},
		{
			"v1.2.3",
			stamp("vcs.revision", commit, "vcs.time", "2026-11-29T08:57:12Z", "vcs.modified", "false"),
			"v1.2.3 commit 0123456789ab of 2026-11-29T08:57:12Z",
		},
	} {
		info := &debug.BuildInfo{Main: debug.Module{Version: tc.module}, Settings: tc.settings}
		if got := versionOf(info); got != tc.want {
			t.Errorf("%s %v: %q, want %q", tc.module, tc.settings, got, tc.want)
		}
	}
}

// A test binary is built without a stamp.
func TestAnUnstampedBuildSaysSo(t *testing.T) {
	if got := prints(t, "version"); got != unknownBuild+"\n" {
		t.Errorf("version prints %q", got)
	}
}

// A program built here names the commit that git has checked out. The go command
// stamps nothing in a linked worktree, nor in a copy without its history. Whose the
// folder is does not matter here.
func TestABuildNamesItsCommit(t *testing.T) {
	_, noGit := exec.LookPath("git")
	if d, err := os.Stat(root(t, ".git")); err != nil || !d.IsDir() || noGit != nil {
		t.Skip("no history here to compare with")
	}
	t.Setenv("GIT_CONFIG_COUNT", "1")
	t.Setenv("GIT_CONFIG_KEY_0", "safe.directory")
	t.Setenv("GIT_CONFIG_VALUE_0", "*")
	head := exec.Command("git", "rev-parse", "HEAD")
	head.Dir = root(t)
	commit, err := head.Output()
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(t.TempDir(), "wayhouse")
	build := exec.Command("go", "build", "-buildvcs=true", "-o", program, "./cmd/wayhouse")
	build.Dir = root(t)
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	out, err := exec.Command(program, "version").Output()
	if want := "commit " + strings.TrimSpace(string(commit))[:12]; err != nil || !strings.Contains(string(out), want) {
		t.Errorf("%v: the program says %q, git %q", err, out, want)
	}
}
