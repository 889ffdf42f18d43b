package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/data/guide"
	"wayhouse/testdata/english"
)

func TestGuideListsAndPrintsTopics(t *testing.T) {
	for _, lang := range phrase.Words() {
		list := prints(t, "guide", "--lang", lang)
		for _, topic := range guide.Topics(lang) {
			if !strings.Contains(list, topic.Name) || !strings.Contains(list, topic.Title+"\n") {
				t.Errorf("the list lacks %s:\n%s", topic.Name, list)
			}
			if got := prints(t, "guide", topic.Name, "--lang", lang); got != topic.Text {
				t.Errorf("guide %s in %s prints %d bytes of %d", topic.Name, lang, len(got), len(topic.Text))
			}
		}
	}
	code, out, errs := wayhouse(t, "guide", "plumbing")
	if code != exitInput || out != "" || !strings.Contains(errs, `"plumbing"`) || !strings.Contains(errs, "quantities") {
		t.Errorf("an unknown topic: %d, %q, %q", code, out, errs)
	}
}

// pages are the texts that tell people what to type.
func pages(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, lang := range phrase.Words() {
		for _, topic := range guide.Topics(lang) {
			out[strings.TrimSuffix("guide "+topic.Name+" "+lang, " en")] = topic.Text
		}
	}
	for _, name := range []string{"README.md", "DEVELOPERS.md"} {
		raw, err := os.ReadFile(root(t, name))
		if err != nil {
			t.Fatal(err)
		}
		out[name] = string(raw)
	}
	return out
}

// blocks are the fenced parts of a page in this language.
func blocks(page, language string) (out []string) {
	for _, m := range regexp.MustCompile("(?ms)^```"+language+"\n(.*?)^```").FindAllStringSubmatch(page, -1) {
		out = append(out, m[1])
	}
	return out
}

// typed cuts a line as a shell does: blanks part words, quotes and backslashes
// keep them together. What the output goes to is dropped.
func typed(line string) (words []string, err error) {
	var word strings.Builder
	open, quote, escaped := false, rune(0), false
	for _, r := range line {
		switch {
		case escaped:
			word.WriteRune(r)
			escaped = false
		case r == '\\' && quote != '\'':
			open, escaped = true, true
		case r == quote:
			quote = 0
		case quote == 0 && (r == '"' || r == '\''):
			open, quote = true, r
		case quote == 0 && r == ' ':
			if open {
				words = append(words, word.String())
			}
			word.Reset()
			open = false
		default:
			open = true
			word.WriteRune(r)
		}
	}
	if open {
		words = append(words, word.String())
	}
	if quote != 0 || escaped {
		return nil, errors.New("a quote is not closed")
	}
	return words, nil
}

func TestTyped(t *testing.T) {
	for line, want := range map[string][]string{
		`plan a.yaml --json`:                   {"plan", "a.yaml", "--json"},
		`plan  --from "Ottawa, ON" --why ''`:   {"plan", "--from", "Ottawa, ON", "--why", ""},
		`plan --unit-height "13'2\""`:          {"plan", "--unit-height", `13'2"`},
		`plan --unit-height 13'2" --from here`: nil,
	} {
		got, err := typed(line)
		if (err != nil) != (want == nil) || !slices.Equal(got, want) {
			t.Errorf("%s: %q, %v", line, got, err)
		}
	}
}

// commands are the lines of a page that start the program.
func commands(t *testing.T, name, page string) (out [][]string) {
	t.Helper()
	for _, block := range blocks(page, "sh") {
		for _, line := range strings.Split(strings.ReplaceAll(block, "\\\n", " "), "\n") {
			line = strings.Replace(line, "go run ./cmd/wayhouse", "wayhouse", 1)
			words, err := typed(line)
			if err != nil {
				t.Errorf("%s: %s: %v", name, line, err)
			}
			if len(words) > 0 && words[0] == "wayhouse" {
				out = append(out, words[1:])
			}
		}
	}
	return out
}

// Whatever a page tells people to type is understood, and does what it says
// where it wants no files of their own: in one folder, one after the other.
func TestCommandsOfTheGuide(t *testing.T) {
	top, shell, ran := root(t), pages(t), 0
	bridges := bridgeRecord("100", "0442", nil)
	for name, page := range shell {
		all := commands(t, name, page)
		t.Run(name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			if err := os.Symlink(filepath.Join(top, "data"), "data"); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile("DE24.txt", []byte(bridges), 0o600); err != nil {
				t.Fatal(err)
			}
			if strings.HasSuffix(name, " fr") {
				t.Setenv("WAYHOUSE_LANG", "fr")
			}
			for _, args := range all {
				ran++
				runTyped(t, args)
			}
		})
	}
	if ran < 20 {
		t.Errorf("%d commands were found", ran)
	}
}

// runTyped does what a page says. What it writes goes where the page says.
func runTyped(t *testing.T, args []string) {
	t.Helper()
	to := ""
	if i := slices.Index(args, ">"); i >= 0 {
		args, to = args[:i], args[i+1]
	}
	if foreign(args) {
		understands(t, args)
		return
	}
	code, out, errs := wayhouse(t, args...)
	if code != 0 || errs != "" {
		t.Errorf("wayhouse %q: exit code %d: %s", args, code, errs)
	}
	if os.Getenv("WAYHOUSE_LANG") == "fr" && to == "" && isText(out) && !slices.Contains(args, "--licences") {
		if at := english.In(out, theirWords()...); at != "" {
			t.Errorf("wayhouse %q in French: %s", args, at)
		}
	}
	if to != "" {
		if err := os.WriteFile(to, []byte(out), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// isText reports whether an output is for people, and not what programs read.
func isText(out string) bool {
	return out != "" && !strings.Contains("{[<#", out[:1])
}

// theirWords are what keeps its language in answers on the shipped data and the examples.
var theirWords = sync.OnceValue(func() []string {
	return append(english.Rows(), "Thimmerel to its first summer", "read it", "back to what shipped", "inventory of 2024")
})

// foreign reports whether a command wants files of the reader's own, or does
// not end. Tests of their own run these.
func foreign(args []string) bool {
	return args[0] == "serve" || args[0] == "network" || args[0] == "answer" || slices.Contains(args, "--network") ||
		slices.Contains(args, "--database")
}

// understands checks words and flags without running anything.
func understands(t *testing.T, args []string) {
	t.Helper()
	c, rest, err := rootCommand(noon).Find(args)
	if err == nil {
		err = c.ParseFlags(rest)
	}
	if err == nil {
		err = c.ValidateArgs(c.Flags().Args())
	}
	if err != nil || !c.Runnable() {
		t.Errorf("wayhouse %q: %v", args, err)
	}
}

// What a page shows of a command is what the command prints: every line of the
// block, in order, with "..." for what it leaves out.
func TestExamplesOfTheGuide(t *testing.T) {
	shown := 0
	for name, page := range pages(t) {
		for _, block := range blocks(page, "text") {
			command, want, _ := strings.Cut(block, "\n")
			command, ok := strings.CutPrefix(command, "$ wayhouse ")
			if !ok {
				continue
			}
			shown++
			t.Run(name+" "+command, func(t *testing.T) {
				words, err := typed(command)
				if err != nil {
					t.Fatal(err)
				}
				t.Chdir(root(t))
				inOrder(t, prints(t, words...), want)
			})
		}
	}
	if shown < 2 {
		t.Errorf("%d examples were found", shown)
	}
}

func inOrder(t *testing.T, printed, lines string) {
	t.Helper()
	for _, line := range strings.Split(lines, "\n") {
		if line == "..." || line == "" {
			continue
		}
		_, after, found := strings.Cut(printed, line+"\n")
		if !found {
			t.Errorf("it does not print, or not in this place: %q", line)
			continue
		}
		printed = after
	}
}

// A flag that a page names is one of a command.
func TestFlagsOfTheGuide(t *testing.T) {
	named := map[string]bool{}
	for name, page := range pages(t) {
		for _, m := range regexp.MustCompile("`(--[a-z-]+)").FindAllStringSubmatch(page, -1) {
			named[m[1]] = true
			if !isFlag(m[1]) {
				t.Errorf("%s: no command has %s", name, m[1])
			}
		}
	}
	if len(named) < 20 {
		t.Errorf("%d flags are named", len(named))
	}
}

func isFlag(name string) bool {
	all := rootCommand(noon).Commands()
	for len(all) > 0 {
		c := all[0]
		if c.Flags().Lookup(strings.TrimPrefix(name, "--")) != nil {
			return true
		}
		all = append(all[1:], c.Commands()...)
	}
	return false
}

// An endpoint that a page names is one of the service, and the page about the
// service names all but those below the tables.
func TestEndpointsOfTheGuide(t *testing.T) {
	has := endpoints(t)
	serve := ""
	for name, page := range pages(t) {
		for _, m := range regexp.MustCompile("`((?:GET|POST|PUT|DELETE) /[a-z0-9/{}.]+)`").FindAllStringSubmatch(page, -1) {
			if !slices.Contains(has, m[1]) && m[1] != "GET /openapi.json" {
				t.Errorf("%s: there is no %s", name, m[1])
			}
		}
		if name == "guide serve" {
			serve = page
		}
	}
	for _, e := range has {
		if !below(e, "/v1/tables/", "/v1/revisions/") && !strings.Contains(serve, "`"+e+"`") {
			t.Errorf("guide serve does not name %s", e)
		}
	}
}

func below(endpoint string, folders ...string) bool {
	_, path, _ := strings.Cut(endpoint, " ")
	return slices.ContainsFunc(folders, func(f string) bool { return strings.HasPrefix(path, f) })
}

// endpoints are those that the service describes, such as "GET /healthz"; a HEAD is that
// of its GET.
func endpoints(t *testing.T) (out []string) {
	t.Helper()
	known, tables, err := load(context.Background(), sources{}, noon, withRoads)
	if err != nil {
		t.Fatal(err)
	}
	defer tables.Close()
	w := httptest.NewRecorder()
	serverOf(known, tables, sources{}, quiet()).Handler().ServeHTTP(w, httptest.NewRequest(http.MethodGet, "http://127.0.0.1/openapi.json", nil))
	var doc struct {
		Paths map[string]map[string]any
	}
	if err := json.NewDecoder(bytes.NewReader(w.Body.Bytes())).Decode(&doc); err != nil || len(doc.Paths) < 10 {
		t.Fatalf("%d paths: %v", len(doc.Paths), err)
	}
	for path, methods := range doc.Paths {
		for method := range methods {
			if method == "head" && methods["get"] != nil {
				continue
			}
			out = append(out, strings.ToUpper(method)+" "+path)
		}
	}
	return out
}
