package phrase

import (
	"slices"
	"testing"

	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/anchors"
)

// Every word of ours about a rig has one in the language.
func TestWordsOfRigs(t *testing.T) {
	var cases []say.Term
	for _, c := range anchors.Cases() {
		cases = append(cases, c.Name)
	}
	for _, term := range slices.Concat(
		cases, terms(rig.Motions()), terms([]rig.Side{rig.Left, rig.Right}),
		terms([]anchors.Status{anchors.Exceeds, anchors.Within, anchors.NotRated, anchors.NotCarried}),
	) {
		if English().sentences.Lookup(string(term.Term())) == nil {
			t.Errorf("%s has no word", term.Term())
		}
	}
}
