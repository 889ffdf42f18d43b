package main

import (
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
)

// Every command and every flag says in each language what it is for, and no words are
// left of one that is gone.
func TestEveryCommandIsExplained(t *testing.T) {
	for _, tag := range phrase.Languages() {
		in := phrase.In(tag, measure.Both)
		root := rootCommand(time.Now)
		explain(in, root)
		used := map[string]bool{"flag.default": true}
		everyCommand(root, func(c *cobra.Command) {
			used[string(helpCode(c))], used[string(helpCode(c))+".long"] = true, true
			if !in.Has(helpCode(c)) {
				t.Errorf("%s: %s has no words", tag, helpCode(c))
			}
			c.LocalFlags().VisitAll(func(f *pflag.Flag) {
				code := flagCode(in, c, f)
				used[string(code)] = true
				if !in.Has(code) {
					t.Errorf("%s: --%s of %s has no words (%s)", tag, f.Name, c.CommandPath(), code)
				}
			})
		})
		words, err := os.ReadFile("../../api/phrase/" + tag.String() + "/words-help.tmpl")
		noError(t, err)
		for _, m := range regexp.MustCompile(`define "((?:help|flag)\b[^"]*)"`).FindAllStringSubmatch(string(words), -1) {
			if !used[m[1]] {
				t.Errorf("%s: no command or flag has %s", tag, m[1])
			}
		}
	}
}

func everyCommand(c *cobra.Command, do func(*cobra.Command)) {
	do(c)
	for _, sub := range c.Commands() {
		everyCommand(sub, do)
	}
}

// Help in French has none of the words that no English sentence does without, and its
// lines are as short as those in English.
func TestHelpInFrench(t *testing.T) {
	root := rootCommand(time.Now)
	english := regexp.MustCompile(`(?i)\b(the|is|of|which|with|without|for|default|flags|command|commands|usage)\b`)
	everyCommand(root, func(c *cobra.Command) {
		asked := append(strings.Fields(c.CommandPath())[1:], "--help", "--lang", "fr")
		code, out, errs := wayhouse(t, asked...)
		if code != 0 || errs != "" {
			t.Fatalf("%q: %d, %s", asked, code, errs)
		}
		for _, line := range strings.Split(out, "\n") {
			if at := english.FindString(line); at != "" && !strings.HasPrefix(line, "  wayhouse") {
				t.Errorf("%q: %q in %s", asked, at, line)
			}
			if n := len([]rune(line)); n > 90 && !strings.Contains(line, "--") && !strings.HasPrefix(line, "  ") {
				t.Errorf("%q: %d columns: %s", asked, n, line)
			}
		}
	})
}

// The language of help is that of --lang, else that of WAYHOUSE_LANG.
func TestLanguageOfHelp(t *testing.T) {
	const french, english = "Utilisation\u00a0:", "Usage:"
	for _, tc := range []struct {
		variable string
		args     []string
		want     string
	}{
		{"", []string{"plan", "--help"}, english},
		{"", []string{"plan", "--lang=fr", "--help"}, french},
		{"fr_CA", []string{"plan", "--help"}, french},
		{"fr", []string{"plan", "--help", "--lang", "en"}, english},
		{"nonsense!", []string{"plan", "--help"}, english},
	} {
		t.Setenv("WAYHOUSE_LANG", tc.variable)
		if _, out, _ := wayhouse(t, tc.args...); !strings.Contains(out, tc.want) {
			t.Errorf("%s, %q: no %q in %s", tc.variable, tc.args, tc.want, out)
		}
	}
}

// A language that has no words is refused by every command, also by one that prints
// none.
func TestNoSuchLanguage(t *testing.T) {
	for _, asked := range [][]string{{"version"}, {"sources"}, {"rules", "list", "--in", "CA-PE"}, {"plan", "--from", "Perth, ON"}} {
		code, out, errs := wayhouse(t, append(asked, "--lang", "de")...)
		if code != exitInput || out != "" || !strings.Contains(errs, "--lang") || !strings.Contains(errs, "en, fr") {
			t.Errorf("%q: exit code %d, %s%s", asked, code, out, errs)
		}
	}
}
