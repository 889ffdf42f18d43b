package phrase

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// printing are the packages that print for people: all words of theirs stand in the
// catalogue.
var printing = []string{"/api/report/", "/api/draw/", "/cmd/wayhouse/"}

// aSentence is a text of three words or more.
var aSentence = regexp.MustCompile(`\p{L}{2,},? \p{L}+,? \p{L}+`)

// untranslated are the texts of three words that are no sentences to translate.
var untranslated = []string{
	`font-family="Helvetica, Arial, sans-serif"`,                 // names of typefaces
	".SH OPTIONS INHERITED FROM PARENT COMMANDS", ".SH SEE ALSO", // of the library, to be replaced
	"for more information about a command.", // of the library, to be replaced
}

// No sentence that people read stands in the code of what prints.
func TestNoSentenceStandsInTheCode(t *testing.T) {
	seen := 0
	for _, file := range sources(t) {
		if !slices.ContainsFunc(printing, func(p string) bool { return strings.Contains(file, p) }) {
			continue
		}
		seen++
		for _, at := range untranslatedIn(t, file, nil) {
			t.Error(at)
		}
	}
	if seen < 50 {
		t.Errorf("%d files were read", seen)
	}
}

// The test above fails on what it is there for, and only on that.
func TestUntranslated(t *testing.T) {
	for body, want := range map[string]int{
		`fmt.Fprintln(w, "nothing to do here")`:                           1,
		`x := "rien à faire"; a(x)`:                                       1,
		`a(b{Why: "it is too low"})`:                                      1,
		`return errors.New("a drawing takes at least 40 columns")`:        0,
		`return fmt.Errorf("the network is not sound: %w", err)`:          0,
		`a(cobra.Command{Use: "import FILE to TABLE", Example: "a b c"})`: 0,
		`log.Error("the newest tables could not be read", "a", b)`:        0,
		`fmt.Fprintf(w, "%s (%s, %s)", a, b, c)`:                          0,
		`a(b{Fix: "give one of the two"})`:                                1,
		`panic("it cannot come to this")`:                                 0,
	} {
		source := "package p\nfunc f() {\n" + body + "\n}\ntype s struct { F int `doc:\"that is not so\"` }\n"
		if got := untranslatedIn(t, "p.go", source); len(got) != want {
			t.Errorf("%s: %q, want %d", body, got, want)
		}
	}
}

// untranslatedIn lists the sentences of a file. Those of developers are none: errors
// that a mistake of the program makes, panics, logs, the tags of fields; nor are the
// forms and examples of commands.
func untranslatedIn(t *testing.T, path string, source any) (out []string) {
	t.Helper()
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, source, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			called := types.ExprString(n.Fun)
			return called != "errors.New" && called != "fmt.Errorf" && called != "panic" && !strings.HasPrefix(called, "log.")
		case *ast.KeyValueExpr:
			key := types.ExprString(n.Key)
			return key != "Use" && key != "Example"
		case *ast.Field:
			return false // its tag
		case *ast.BasicLit:
			if n.Kind != token.STRING {
				return true
			}
			text, err := strconv.Unquote(n.Value)
			if err == nil && aSentence.MatchString(text) && !slices.ContainsFunc(untranslated, func(s string) bool { return strings.Contains(text, s) }) {
				out = append(out, set.Position(n.Pos()).String()+": "+text)
			}
		}
		return true
	})
	return out
}
