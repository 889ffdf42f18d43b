package regs

import (
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// says is what a finding says, as codes and values.
func says(f finding.Finding) string {
	return strings.TrimSuffix(strings.Join(append(say.Strings(f.Says), f.Summary), "; "), "; ")
}

// bears is how a citation bears on the case, as codes and values.
func bears(c finding.Citation) string { return strings.Join(say.Strings(c.Says), "; ") }

// whom names whom the first step asks, as a code and values; "" for nobody.
func whom(f finding.Finding) string {
	if len(f.Settles) == 0 {
		return f.Ask
	}
	return f.Settles[0].Whom.String()
}
