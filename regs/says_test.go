package regs

import (
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
	for _, s := range f.Settles {
		if !s.Whom.None() {
			return s.Whom.String()
		}
	}
	return ""
}
