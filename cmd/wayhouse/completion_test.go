package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/regs/measure"
	"wayhouse/regs/store"
)

// finishes are the words that a shell is offered, and what it is told beside them.
func finishes(t *testing.T, args ...string) (words []string, told string) {
	t.Helper()
	out, _, code := cli(t, append([]string{cobra.ShellCompNoDescRequestCmd}, args...)...)
	lines := strings.Split(strings.TrimSpace(out), "\n")
	if code != 0 {
		t.Fatalf("%q: %d", args, code)
	}
	return lines[:len(lines)-1], lines[len(lines)-1]
}

// What a shell is offered goes on from what was typed, whatever its capitals.
func TestCompletion(t *testing.T) {
	for _, tc := range []struct {
		args  []string
		first []string
	}{
		{[]string{"check", "--in", ""}, []string{"CA-AB", "CA-BC"}},
		{[]string{"check", "--in", "CA-O"}, []string{"CA-ON"}},
		{[]string{"check", "--in", "CA-ON,Qu"}, []string{"CA-ON,Québec"}},
		{[]string{"check", "--in", "que"}, []string{"quebec"}},
		{[]string{"plan", "--not-in", "New Y"}, []string{"New York"}},
		{[]string{"rig", "--in", "nouveau-b"}, nil},
		{[]string{"rig", "--in", "Nouveau-B"}, []string{"Nouveau-Brunswick"}},
		{[]string{"plan", "--from", "Montr"}, []string{"Montréal, QC"}},
		{[]string{"plan", "--to", "montrea"}, []string{"montreal, QC"}},
		{[]string{"plan", "--via", "M"}, nil},
		{[]string{"rules", "list", "--table", ""}, []string{store.Tables()[0].TableName()}},
		{[]string{"plan", "--units", ""}, measure.Systems()},
		{[]string{"plan", "--format", ""}, []string{"text", "json"}},
		{[]string{"ladder", "--fuel", ""}, []string{"diesel", "gasoline"}},
		{[]string{"ladder", "--quantity", ""}, []string{"height", "width"}},
		{[]string{"check", "--quantity", "height,"}, []string{"height,height", "height,width"}},
		{[]string{"rig", "--must-be", ""}, []string{"clear"}},
		{[]string{"guide", "sou"}, []string{"check"}}, // the shell drops what does not begin so
		{[]string{"schema", "un"}, []string{"unit"}},
		{[]string{"rules", "exp"}, []string{"export"}},
		{[]string{"help", "rules", "exp"}, []string{"export"}},
		{[]string{"serve", ""}, nil},
	} {
		words, _ := finishes(t, tc.args...)
		if len(words) < len(tc.first) || !slices.Equal(words[:len(tc.first)], tc.first) || tc.first == nil && len(words) > 0 {
			t.Errorf("%q: %q, want %q", tc.args, words, tc.first)
		}
	}
	for _, args := range [][]string{{"plan", ""}, {"plan", "--tow", ""}, {"check", ""}, {"rules", "import", ""}, {"plan", "--network", ""}} {
		if words, told := finishes(t, args...); len(words) == 0 || told != ":8" { // files that end so
			t.Errorf("%q: %q, %s", args, words, told)
		}
	}
}

// Every flag that takes some words only is finished with them: none ends in a list of
// files.
func TestEveryFlagIsFinished(t *testing.T) {
	root := rootCommand(noon)
	finish(root)
	var each func(*cobra.Command)
	each = func(c *cobra.Command) {
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			_, ofFiles := f.Annotations[cobra.BashCompFilenameExt]
			_, ofFolders := f.Annotations[cobra.BashCompSubdirsInDir]
			if of, ok := c.GetFlagCompletionFunc(f.Name); !ok || of == nil {
				if !ofFiles && !ofFolders && !slices.Contains([]string{"store", "out", "report"}, f.Name) {
					t.Errorf("%s --%s is not finished", c.CommandPath(), f.Name)
				}
			}
		})
		for _, sub := range c.Commands() {
			each(sub)
		}
	}
	each(root)
}

// Every shell that the library knows gets its script.
func TestCompletionScripts(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish", "powershell"} {
		if out := prints(t, "completion", shell); !strings.Contains(out, "wayhouse") || !strings.Contains(out, cobra.ShellCompRequestCmd) {
			t.Errorf("%s: %.200q", shell, out)
		}
	}
}

// Every command that help lists has a page, with the sections that man(7) asks for.
func TestManPages(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "man1")
	prints(t, "man", dir)
	for _, page := range []string{"wayhouse.1", "wayhouse-plan.1", "wayhouse-rules-import-bridges.1"} {
		raw, err := os.ReadFile(filepath.Join(dir, page))
		noError(t, err)
		for _, want := range []string{".TH \"WAYHOUSE", ".SH NAME\n", ".SH SYNOPSIS\n", ".SH DESCRIPTION\n", ".SH OPTIONS\n", ".SH SEE ALSO\n"} {
			if !strings.Contains(string(raw), want) {
				t.Errorf("%s has no %q", page, want)
			}
		}
	}
	prints(t, "man", dir, "--lang", "fr")
	if raw, err := os.ReadFile(filepath.Join(dir, "wayhouse-plan.1")); err != nil || !strings.Contains(string(raw), ".SH VOIR AUSSI\n") || !strings.Contains(string(raw), "voyage") {
		t.Errorf("in French: %v\n%.500s", err, raw)
	}
	if code, _, errs := wayhouse(t, "man", example(t, "unit.yaml")); code != exitInput || !strings.Contains(errs, "unit.yaml") {
		t.Errorf("a file as folder: %d, %s", code, errs)
	}
}
