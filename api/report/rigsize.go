package report

import (
	"fmt"
	"strings"
	"time"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
)

func (t *text) rig(r rig.Rig) {
	name := func(s string) string {
		if s == "" {
			return "not named"
		}
		return s
	}
	invented := marked(t.plan.Invented)
	basis := " (designed)"
	switch {
	case r.Unit.Height == nil:
		basis = ""
	case r.Unit.HeightMeasured:
		basis = " (measured on " + r.Unit.MeasuredOn.Format(time.DateOnly) + ")"
	}
	t.line("  %sunit         %s: height %s%s, width %s, length %s, mass %s", invented, name(r.Unit.Name),
		known(r.Unit.Height), basis, across(r.Unit), known(r.Unit.Length), known(r.Unit.Mass.Pointer()))
	if r.Unit.Kind == limit.LoadOnTrailer {
		t.line("  %sload         by itself: %s", invented, own(r.Unit.Load))
		t.line("  %strailer      by itself: %s", invented, own(r.Unit.Trailer))
	}
	t.line("  %stow vehicle  %s: height %s, width %s, length %s, mass %s", invented, name(r.Tow.Name),
		known(r.Tow.Height), least(r.Tow.Width), known(r.Tow.Length), known(r.Tow.Mass))
	t.line("  %srig          height %s, width %s, length %s, mass %s", invented, known(r.Height.Pointer()),
		known(r.Width.Pointer()), known(r.Length.Pointer()), known(r.Mass.Pointer()))
	t.line("  %scounts as    kind %s, use %s, coupling %s, tow vehicle %s", invented, word(r.Unit.Kind),
		word(r.Use), word(r.Unit.Coupling), word(r.Tow.Form))
}

func own(o rig.Own) string {
	return fmt.Sprintf("width %s, length %s, mass %s", known(o.Width), known(o.Length), known(o.Mass))
}

// across is the width of a unit with what it rests on.
func across(u rig.Unit) string {
	out := least(u.Width)
	if u.Width.AtLeast() {
		out = "at least " + out + " (its tires, or the trailer under it, are not known)"
	}
	if u.House != nil && u.Kind != limit.LoadOnTrailer {
		out += " over its tires (" + u.House.String() + " without them)"
	}
	return out
}

func known[T fmt.Stringer](v *T) string {
	if v == nil {
		return "UNKNOWN"
	}
	return (*v).String()
}

func word[T ~string](s T) string {
	if s == "" {
		return "UNKNOWN"
	}
	return strings.ReplaceAll(string(s), "_", " ")
}

// least is a value, or what it is at least.
func least[T fmt.Stringer](k measure.Known[T]) string {
	if v, ok := k.Least(); ok {
		return v.String()
	}
	return "UNKNOWN"
}
