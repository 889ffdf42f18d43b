package main

import (
	"fmt"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
	"pgregory.net/rapid"
)

// Everything but the answer stays as it was written: comments, empty lines, quotes.
func TestSetField(t *testing.T) {
	for name, tc := range map[string]struct{ in, path, value, want string }{
		"new":            {"a: 1\n\n# about b\nb: 2 # two\n", "c", "3", "a: 1\n\n# about b\nb: 2 # two\nc: 3\n"},
		"new after list": {"a:\n  - x\n  - y\n", "c", "3", "a:\n  - x\n  - y\nc: 3\n"},
		"changed":        {"a: 1\nb: two words # of two\n", "b", "3", "a: 1\nb: 3 # of two\n"},
		"quoted":         {"b: \"2 # no comment\" # of two\n", "b", "x", "b: x # of two\n"},
		"single quotes":  {"b: '2, 3'\n", "b", "x", "b: x\n"},
		"not ASCII":      {"b: Trois-Rivières été # hiver\n", "b", "x", "b: x # hiver\n"},
		"in a mapping":   {"a:\n  b: 1\n  c: 2\nd: 3\n", "a.e", "5", "a:\n  b: 1\n  c: 2\n  e: 5\nd: 3\n"},
		"new mapping":    {"d: 3\n", "a.e", "5", "d: 3\na:\n  e: 5\n"},
		"in braces":      {"a: {b: 1, c: \"}\"} # x\n", "a.e", "5", "a: {b: 1, c: \"}\", e: 5} # x\n"},
		"change braces":  {"a: {b: 1, c: 2}\n", "a.b", "5", "a: {b: 5, c: 2}\n"},
		"last in braces": {"a: {b: 1, c: 2}\n", "a.c", "5", "a: {b: 1, c: 5}\n"},
		"deep in braces": {"a: {b: 1}\n", "a.c.d", "5", "a: {b: 1, c: {d: 5}}\n"},
		"on two lines":   {"a: {b: 1,\n  c: 2}\n", "a.d", "5", "a: {b: 1,\n  c: 2, d: 5}\n"},
		"empty braces":   {"a: {}\n", "a.c", "5", "a: {c: 5}\n"},
		"in a list":      {"a:\n  - {b: 1}\n  - {b: 2}\n", "a[1].c", "5", "a:\n  - {b: 1}\n  - {b: 2, c: 5}\n"},
		"item of a list": {"a:\n  - b: 1\n  - b: 2\n", "a[0].c", "5", "a:\n  - b: 1\n    c: 5\n  - b: 2\n"},
		"no end of line": {"a: 1", "c", "3", "a: 1\nc: 3\n"},

		"a text of lines": {"a: |\n  x\n  y\nb: 1\n", "a", "5", ""},
		"a list":          {"a: [1, 2]\n", "a", "5", ""},
		"no such item":    {"a:\n  - 1\n", "a[4]", "5", ""},
		"under a text":    {"a: 1\n", "a.b", "5", ""},
		"a comment there": {"a: {b: 1, # {\n  c: 2}\n", "a.d", "5", ""},
		"JSON":            {"{\"a\": 1}\n", "b", "5", ""},
		"an empty file":   {"", "b", "5", ""},
		"an alias":        {"a: &x {b: 1}\nc: *x\n", "c.d", "5", ""},
	} {
		got, err := setField([]byte(tc.in), tc.path, tc.value)
		if string(got) != tc.want || (err == nil) != (tc.want != "") {
			t.Errorf("%s: %q, %v; want %q", name, got, err, tc.want)
		}
	}
}

func TestAppendItem(t *testing.T) {
	for name, tc := range map[string]struct{ in, want string }{
		"first":       {"a: 1\n", "a: 1\nanswers:\n  - {row: r}\n"},
		"second":      {"answers:\n  - {row: q} # said so\nb: 1\n", "answers:\n  - {row: q} # said so\n  - {row: r}\nb: 1\n"},
		"at the left": {"answers:\n- row: q\n  who: x\nb: 1\n", "answers:\n- row: q\n  who: x\n- {row: r}\nb: 1\n"},
		"in brackets": {"answers: [{row: q}]\n", ""},
	} {
		got, err := appendItem([]byte(tc.in), "answers", "{row: r}")
		if string(got) != tc.want || (err == nil) != (tc.want != "") {
			t.Errorf("%s: %q, %v; want %q", name, got, err, tc.want)
		}
	}
}

// Whatever the value, the text reads back as that value, by another reader than the one
// that placed it.
func TestAnswersReadBack(t *testing.T) {
	text := "a: 1 # one\n\nb: {c: 2, d: x}\ne:\n  f: 3\n"
	rapid.Check(t, func(t *rapid.T) {
		value := rapid.StringMatching(`[ -~éà]{1,12}`).Draw(t, "value")
		path := rapid.SampledFrom([]string{"a", "b.c", "b.g", "e.f", "e.h", "i", "j.k"}).Draw(t, "path")
		got, err := setField([]byte(text), path, scalar(value))
		if err != nil {
			t.Fatalf("%s = %q: %v", path, value, err)
		}
		var was, is map[string]any
		if err := yaml.Unmarshal(got, &is); err != nil {
			t.Fatal(err)
		}
		_ = yaml.Unmarshal([]byte(text), &was)
		at := any(is)
		for _, name := range strings.Split(path, ".") {
			at = at.(map[string]any)[name]
		}
		if said := fmt.Sprint(at); said != value && scalar(value) != value {
			t.Fatalf("%s = %q reads back as %q: %s", path, value, said, got)
		}
		if kept := strings.Count(string(got), "# one"); kept != 1 {
			t.Fatalf("%q", got)
		}
		if len(is) < len(was) {
			t.Fatalf("%q has less than %q", got, text)
		}
	})
}
