package phrase

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"slices"
	"strconv"
	"strings"
	"testing"

	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/permit"
	"wayhouse/routing/network"
)

// computed are the expressions from which the source makes rules, and all that they
// may come to.
var computed = map[string]func() []finding.Rule{
	"q": quantities, "s.q": quantities,
	"rule":                             func() []finding.Rule { return rulesOf(append(duty.Thresholds(), duty.AllHours)) },
	"duty.AllHours":                    func() []finding.Rule { return rulesOf([]duty.Topic{duty.AllHours}) },
	"fact":                             facts,
	"f":                                facts,
	"network.Grades":                   facts,
	"s.Kind.String()":                  kinds,
	"\"posted \" + s.Subject.String()": posted,
}

func rulesOf[S ~string](all []S) (out []finding.Rule) {
	for _, s := range all {
		out = append(out, finding.Rule(s))
	}
	return out
}

func facts() []finding.Rule { return rulesOf(network.AllFacts()) }

func quantities() []finding.Rule {
	out := rulesOf(limit.Quantities())
	for _, q := range limit.Quantities() {
		out = append(out, q.Escorts())
	}
	return append(out, permit.Rules()...)
}

// kinds are those of things on a road that may hinder a rig.
func kinds() (out []finding.Rule) {
	for k := network.Gate; k <= network.OtherBarrier; k++ {
		if k != network.SignPost { // its signs are judged, it hinders nobody
			out = append(out, finding.Rule(k.String()))
		}
	}
	return out
}

func posted() (out []finding.Rule) {
	for s := network.MaxHeight; s <= network.MaxAxleMass; s++ {
		out = append(out, finding.Rule("posted "+s.String()))
	}
	return out
}

// Every rule of a finding has its word in each language, and no word is without a
// rule.
func TestEveryRuleHasAWord(t *testing.T) {
	used := map[string]bool{}
	for _, file := range sources(t) {
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			for _, r := range rulesIn(t, n) {
				used[string(r.Term())] = true
			}
			return true
		})
	}
	words := English().sentences
	for code := range used {
		if words.Lookup(code) == nil {
			t.Errorf("%s has no word", code)
		}
	}
	for _, word := range words.Templates() {
		if code := word.Name(); strings.HasPrefix(code, "rule.") && !used[code] {
			t.Errorf("no finding has %s", code)
		}
	}
	if len(used) < 80 {
		t.Errorf("%d rules were found in the source", len(used))
	}
}

// rulesIn lists the rules that a node of the source makes: in a field, as a constant,
// as the first argument of what takes a rule, or by a conversion.
func rulesIn(t *testing.T, n ast.Node) (out []finding.Rule) {
	literal := func(e ast.Expr) {
		if l, ok := e.(*ast.BasicLit); ok && l.Kind == token.STRING {
			if s, err := strconv.Unquote(l.Value); err == nil {
				out = append(out, finding.Rule(s))
			}
		}
	}
	switch n := n.(type) {
	case *ast.KeyValueExpr:
		if key := types.ExprString(n.Key); key == "Rule" || key == "rule" {
			literal(n.Value)
		}
	case *ast.ValueSpec:
		if n.Type != nil && types.ExprString(n.Type) == "finding.Rule" {
			for _, v := range n.Values {
				literal(v)
			}
		}
	case *ast.CallExpr:
		name := types.ExprString(n.Fun)
		if name == "finding.Rule" {
			made, known := computed[types.ExprString(n.Args[0])]
			if !known {
				t.Errorf("which rules %s makes is not listed in this test", types.ExprString(n))
				return nil
			}
			return made()
		}
		takers := []string{"close", "review", "AtStop", "finding"}
		if len(n.Args) > 0 && slices.Contains(takers, name[strings.LastIndex(name, ".")+1:]) {
			literal(n.Args[0])
		}
	}
	return out
}
