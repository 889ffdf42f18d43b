package report

import (
	"strings"

	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// colours of the states on a terminal (ECMA-48, 5th edition 1991, 8.3.117).
var colours = map[finding.Outcome]string{
	finding.Clear: "32", finding.Conditional: "33", finding.Review: "35", finding.Forbidden: "31", finding.Unknown: "36",
}

// Coloured is a text with its states in colour, where they stand in capitals: a colour is
// never all there is to tell one from another.
func Coloured(in *phrase.Language, text string) string {
	var pairs []string
	paint := func(words, colour string) {
		words = strings.ToUpper(words)
		pairs = append(pairs, words, "\x1b[1;"+colour+"m"+words+"\x1b[0m")
	}
	for _, o := range finding.Outcomes() {
		paint(in.Term(state(o)), colours[o])
	}
	paint(in.Say(say.That("head.invented")), "34")
	return strings.NewReplacer(pairs...).Replace(text)
}
