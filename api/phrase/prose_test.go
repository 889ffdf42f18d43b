package phrase

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Prose is what people read: the fields that hold it, and the methods that make it.
var (
	proseFields = []string{"Summary", "Ask", "Words", "Why", "Notice", "Doubt", "Unknown"}
	proseCalls  = []string{"Say", "All", "Each", "Summary", "Ask", "Bearing", "Term", "Notice", "Words"}
	// readers are what tells of a text what stands in it.
	readers = map[string][]string{
		"strings": {
			"Contains", "ContainsAny", "ContainsFunc", "ContainsRune", "Count", "Cut", "CutPrefix", "CutSuffix", "EqualFold",
			"HasPrefix", "HasSuffix", "Index", "LastIndex", "Split", "SplitN", "TrimPrefix", "TrimSuffix",
		},
		"slices": {"Contains", "Index"},
	}
)

// Nothing is chosen by reading a sentence: no text that is made for people is
// compared or searched, and no rule of a finding is compared with a word that is
// written there and then.
func TestNothingIsChosenByProse(t *testing.T) {
	for _, file := range sources(t) {
		for _, at := range readings(t, file, nil) {
			t.Error(at)
		}
	}
}

// The test above fails on what it is there for, and only on that.
func TestReadings(t *testing.T) {
	for body, want := range map[string]int{
		`if strings.HasSuffix(f.Summary, "is not given") { a() }`:                               1,
		`if strings.Contains(english.Summary(f), why) { a() }`:                                  1,
		`ask := english.Ask(f); if strings.HasPrefix("x "+ask, "the") { a() }`:                  1,
		`for _, s := range english.Each(all) { if s == "a permit" { a() } }`:                    1,
		`if f.Ask != "the office" { a() }`:                                                      1,
		`switch p.Notice() { case "Clear": a() }`:                                               1,
		`first, _, _ := strings.Cut(c.Words, ";"); a(first)`:                                    1,
		`if slices.Contains(told, english.Say(r)) { a() }`:                                      1,
		`if f.Rule == "structure" { a() }`:                                                      1,
		`switch f.Rule { case "structure": a() }`:                                               1,
		`if strings.HasSuffix(f.Rule, " escorts") { a() }`:                                      1,
		`if f.Ask == "" || english.Summary(f) != "" { a() }`:                                    0,
		`if f.Rule == rule || f.Topic == finding.Limit || f.Outcome == finding.Unknown { a() }`: 0,
		`if strings.HasPrefix(path, "/v1") { a(f.Summary) }`:                                    0,
		`switch { case f.Ask == "": a() }`:                                                      0,
		`if r.String() == other.String() { a(strings.Join(english.Each(x), "")) }`:              0,
	} {
		source := "package p\nimport \"wayhouse/regs/finding\"\nfunc f() {\n" + body + "\n}\n"
		if got := readings(t, "p.go", source); len(got) != want {
			t.Errorf("%s: %q, want %d", body, got, want)
		}
	}
}

// readings lists where a file reads what people read.
func readings(t *testing.T, path string, source any) (out []string) {
	t.Helper()
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, source, 0)
	if err != nil {
		t.Fatal(err)
	}
	packages := map[string]bool{}
	for _, s := range file.Imports {
		packages[strings.Trim(filepath.Base(s.Path.Value), `"`)] = true
	}
	for _, decl := range file.Decls {
		if f, ok := decl.(*ast.FuncDecl); ok && f.Body != nil {
			r := reading{packages: packages, prose: map[string]bool{}}
			r.learn(f.Body)
			ast.Inspect(f.Body, r.visit)
			for _, pos := range r.at {
				at := set.Position(pos)
				at.Filename = filepath.ToSlash(at.Filename)
				out = append(out, at.String())
			}
		}
	}
	return out
}

// reading follows the prose of one function through its variables.
type reading struct {
	packages map[string]bool // that the file imports
	prose    map[string]bool
	at       []token.Pos
}

// learn notes the variables that take prose.
func (r *reading) learn(body ast.Node) {
	ast.Inspect(body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.AssignStmt:
			for i, right := range n.Rhs {
				if name, ok := n.Lhs[i].(*ast.Ident); ok && r.isProse(right) {
					r.prose[name.Name] = true
				}
			}
		case *ast.RangeStmt:
			if name, ok := n.Value.(*ast.Ident); ok && r.isProse(n.X) {
				r.prose[name.Name] = true
			}
		}
		return true
	})
}

func (r *reading) isProse(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.Ident:
		return r.prose[e.Name]
	case *ast.ParenExpr:
		return r.isProse(e.X)
	case *ast.SelectorExpr:
		from, ok := e.X.(*ast.Ident)
		return slices.Contains(proseFields, e.Sel.Name) && !(ok && r.packages[from.Name]) // finding.Unknown is no prose
	case *ast.BinaryExpr:
		return e.Op == token.ADD && (r.isProse(e.X) || r.isProse(e.Y))
	case *ast.CallExpr:
		f, ok := e.Fun.(*ast.SelectorExpr)
		if !ok {
			return false
		}
		if from, ok := f.X.(*ast.Ident); ok && from.Name == "strings" { // what it makes of prose is prose
			return slices.ContainsFunc(e.Args, r.isProse)
		}
		return slices.Contains(proseCalls, f.Sel.Name)
	}
	return false
}

func (r *reading) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.CallExpr:
		from := reads(n.Fun)
		if from != "" && slices.ContainsFunc(n.Args, r.isProse) || from == "strings" && slices.ContainsFunc(n.Args, isRule) {
			r.at = append(r.at, n.Pos())
		}
	case *ast.BinaryExpr:
		if n.Op == token.EQL || n.Op == token.NEQ {
			r.compared(n.X, n.Y)
			r.compared(n.Y, n.X)
		}
	case *ast.SwitchStmt:
		for _, c := range n.Body.List {
			for _, e := range c.(*ast.CaseClause).List {
				r.compared(n.Tag, e)
			}
		}
	}
	return true
}

// compared notes prose that is compared with anything but nothing, and a rule that is
// compared with a word.
func (r *reading) compared(a, b ast.Expr) {
	word, isWord := b.(*ast.BasicLit)
	if isWord && word.Value == `""` {
		return
	}
	if nothing, ok := b.(*ast.Ident); ok && nothing.Name == "nil" {
		return
	}
	if a != nil && (r.isProse(a) || isWord && isRule(a)) {
		r.at = append(r.at, a.Pos())
	}
}

func isRule(e ast.Expr) bool {
	s, ok := e.(*ast.SelectorExpr)
	return ok && s.Sel.Name == "Rule"
}

// reads is the package of a call that tells what stands in a text, "" for any other.
func reads(f ast.Expr) string {
	s, ok := f.(*ast.SelectorExpr)
	if !ok {
		return ""
	}
	if from, ok := s.X.(*ast.Ident); ok && slices.Contains(readers[from.Name], s.Sel.Name) {
		return from.Name
	}
	if strings.HasPrefix(s.Sel.Name, "MatchString") {
		return "regexp"
	}
	return ""
}
