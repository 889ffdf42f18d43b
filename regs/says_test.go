package regs

import (
	"fmt"
	"slices"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// says is what a finding says, as codes and values.
func says(f finding.Finding) string {
	return strings.Join(say.Strings(f.Says), "; ")
}

// bears is how a citation bears on the case, as codes and values.
func bears(c finding.Citation) string { return strings.Join(say.Strings(c.Says), "; ") }

// whom names whom the first step asks that asks anybody, as a code and values; ""
// for nobody.
func whom(f finding.Finding) string {
	for _, s := range slices.Concat(f.Settles...) {
		if !s.Whom.None() {
			return s.Whom.String()
		}
	}
	return ""
}

// wrongSteps is what is wrong with the steps of a finding, "" where nothing is: what is
// clear has none; anything else has a way, and each step of it says what it is about:
// a field, a row that the finding cites, an office with its name, what is seen to.
func wrongSteps(f finding.Finding) string {
	if (len(f.Settles) == 0) != (f.Outcome == finding.Clear) {
		return fmt.Sprintf("%d ways to settle what is %s", len(f.Settles), f.Outcome)
	}
	for _, way := range f.Settles {
		if len(way) == 0 {
			return "a way without a step"
		}
		for _, s := range way {
			cited := slices.ContainsFunc(f.Citations, func(c finding.Citation) bool { return c.ID == s.Of })
			wrong := map[finding.Way]bool{
				finding.Answer: s.Of == "", finding.Measure: s.Of == "", finding.Weigh: s.Of == "",
				finding.Confirm: !cited, finding.Verify: !cited, finding.Office: s.Whom.None(), finding.Expert: s.Whom.None(),
				finding.Data: s.Of == "", finding.Meet: s.Asks.None(),
			}
			if is, known := wrong[s.By]; is || !known {
				return fmt.Sprintf("a step %+v", s)
			}
		}
	}
	return ""
}
