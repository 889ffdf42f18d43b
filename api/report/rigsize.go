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
	basis := " (designed)"
	switch {
	case r.Unit.Height == nil:
		basis = ""
	case r.Unit.HeightMeasured:
		basis = " (measured on " + r.Unit.MeasuredOn.Format(time.DateOnly) + ")"
	}
	t.line("  unit         %s: height %s%s, width %s, length %s, mass %s", name(r.Unit.Name),
		known(t, r.Unit.Height), basis, t.across(r.Unit), known(t, r.Unit.Length), known(t, r.Unit.Mass.Pointer()))
	if r.Unit.Kind == limit.LoadOnTrailer {
		t.line("  load         by itself: %s", t.own(r.Unit.Load))
		t.line("  trailer      by itself: %s", t.own(r.Unit.Trailer))
	}
	t.line("  tow vehicle  %s: height %s, width %s, length %s, mass %s", name(r.Tow.Name),
		known(t, r.Tow.Height), least(t, r.Tow.Width), known(t, r.Tow.Length), known(t, r.Tow.Mass))
	t.line("  rig          height %s, width %s, length %s, mass %s", known(t, r.Height.Pointer()),
		known(t, r.Width.Pointer()), known(t, r.Length.Pointer()), known(t, r.Mass.Pointer()))
	t.line("  counts as    kind %s, use %s, coupling %s, tow vehicle %s", word(r.Unit.Kind),
		word(r.Use), word(r.Unit.Coupling), word(r.Tow.Form))
}

func (t *text) own(o rig.Own) string {
	return fmt.Sprintf("width %s, length %s, mass %s", known(t, o.Width), known(t, o.Length), known(t, o.Mass))
}

// across is the width of a unit with what it rests on.
func (t *text) across(u rig.Unit) string {
	out := least(t, u.Width)
	if u.Width.AtLeast() {
		out = "at least " + out + " (its tires, or the trailer under it, are not known)"
	}
	if u.House != nil && u.Kind != limit.LoadOnTrailer {
		out += " over its tires (" + t.in.Quantity(*u.House) + " without them)"
	}
	return out
}

func known[T measure.Length | measure.Mass](t *text, v *T) string {
	if v == nil {
		return "UNKNOWN"
	}
	return t.in.Quantity(*v)
}

func word[T ~string](s T) string {
	if s == "" {
		return "UNKNOWN"
	}
	return strings.ReplaceAll(string(s), "_", " ")
}

// least is a value, or what it is at least.
func least[T measure.Length | measure.Mass](t *text, k measure.Known[T]) string {
	if v, ok := k.Least(); ok {
		return t.in.Quantity(v)
	}
	return "UNKNOWN"
}
