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

// asks reports whether a finding says what settles it, in steps that each say what to do.
func asks(f finding.Finding) bool {
	return len(f.Settles) > 0 && !slices.ContainsFunc(f.Settles, func(way []finding.Step) bool {
		return len(way) == 0 || slices.ContainsFunc(way, func(s finding.Step) bool { return s.Asks.None() })
	})
}

// of is the value of what is known, the zero value of anything else.
func of[T any](k measure.Known[T]) T {
	v, _ := k.Value()
	return v
}
