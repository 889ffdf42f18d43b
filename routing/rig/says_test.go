package rig

import (
	"slices"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// said is the answer of a finding, as codes and values.
func said(f finding.Finding) string { return strings.Join(say.Strings(f.Says), "; ") }

// asks reports whether a finding names whom to ask.
func asks(f finding.Finding) bool {
	return slices.ContainsFunc(f.Settles, func(s finding.Step) bool { return !s.Whom.None() })
}

// of is the value of what is known, the zero value of anything else.
func of[T any](k measure.Known[T]) T {
	v, _ := k.Value()
	return v
}
