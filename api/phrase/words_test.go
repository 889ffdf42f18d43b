package phrase

import (
	"testing"

	"wayhouse/regs/clearance"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
)

// Every word of ours about roads has its word in each language.
func TestWordsOfRoads(t *testing.T) {
	terms := []say.Term{clearance.On, clearance.Under, rig.Height, rig.Width, rig.Length, rig.Mass}
	for _, f := range network.AllFacts() {
		terms = append(terms, f)
	}
	for k := range network.OtherBarrier + 1 {
		if k.String() != "" { // between what hangs over a road and what stands on it
			terms = append(terms, k)
		}
	}
	for c := range network.PossibleFerry + 1 {
		terms = append(terms, c)
	}
	for s := range network.MaxAxleMass + 1 {
		terms = append(terms, s)
	}
	for m := range network.Hazmat + 1 {
		terms = append(terms, m)
	}
	for w := range network.Refused + 1 {
		terms = append(terms, w)
	}
	for k := network.City; k <= network.WeighStation; k++ {
		terms = append(terms, k)
	}
	if got := English().Term(clearance.AnyGrade); got != "" {
		t.Errorf("no grade is %q", got)
	}
	for _, term := range terms {
		if English().sentences.Lookup(string(term.Term())) == nil {
			t.Errorf("%s has no word", term.Term())
		}
	}
}
