package phrase

import (
	"strings"
	"text/template/parse"

	"golang.org/x/text/language"
)

// frenchSpaces are the spaces of French at which no line breaks: before a colon and a
// sign of per cent, and inside quotation marks (Office québécois de la langue française,
// Banque de dépannage linguistique: "Espacement avant et après les signes").
var frenchSpaces = strings.NewReplacer(" :", "\u00a0:", " %", "\u00a0%", "« ", "«\u00a0", " »", "\u00a0»")

// Spaced is a text of ours with the spaces of the language at which no line breaks.
func (l *Language) Spaced(text string) string {
	if l.tag != language.French {
		return text
	}
	return frenchSpaces.Replace(text)
}

// bind makes spaces at which the language does not break no-break spaces, in the
// sentences alone: words of the data stay as they are.
func (l *Language) bind() {
	if l.tag != language.French {
		return
	}
	for _, t := range l.sentences.Templates() {
		if t.Tree != nil {
			bind(t.Root)
		}
	}
}

func bind(n parse.Node) {
	switch n := n.(type) {
	case *parse.TextNode:
		n.Text = []byte(frenchSpaces.Replace(string(n.Text)))
	case *parse.ListNode:
		if n == nil {
			return
		}
		for _, one := range n.Nodes {
			bind(one)
		}
	case *parse.IfNode:
		bindBranch(&n.BranchNode)
	case *parse.WithNode:
		bindBranch(&n.BranchNode)
	case *parse.RangeNode:
		bindBranch(&n.BranchNode)
	}
}

func bindBranch(n *parse.BranchNode) {
	bind(n.List)
	bind(n.ElseList)
}
