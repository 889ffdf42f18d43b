package finding

import (
	"fmt"

	"wayhouse/regs/measure"
)

// Quantity is an exact length or mass. The zero value is one that is not known.
type Quantity struct {
	of      fmt.Stringer // a length or a mass
	AtLeast bool         // it may be more
}

// Of is a length or a mass that is known.
func Of[T measure.Length | measure.Mass](v T) Quantity { return Quantity{of: any(v).(fmt.Stringer)} }

// Sized is what is known of a size: its value, a least one, or nothing.
func Sized[T any](k measure.Known[T], of func(T) Quantity) Quantity {
	least, some := k.Least()
	switch {
	case !some:
		return Quantity{}
	case k.AtLeast():
		return of(least).Least()
	default:
		return of(least)
	}
}

// Known reports whether there is a value.
func (q Quantity) Known() bool { return q.of != nil }

// Length returns a length; ok is false for anything else.
func (q Quantity) Length() (l measure.Length, ok bool) {
	l, ok = q.of.(measure.Length)
	return l, ok
}

// Mass returns a mass; ok is false for anything else.
func (q Quantity) Mass() (m measure.Mass, ok bool) {
	m, ok = q.of.(measure.Mass)
	return m, ok
}

// Equal reports whether both are the same value, or both not known.
func (q Quantity) Equal(other Quantity) bool { return q == other }

// Least is the same value as one that may be more.
func (q Quantity) Least() Quantity { return Quantity{q.of, true} }

// Exactly is the same value as if it were no least one.
func (q Quantity) Exactly() Quantity { return Quantity{of: q.of} }

// String prints both systems, "" for what is not known; "≥" stands before a
// least value.
func (q Quantity) String() string {
	switch {
	case !q.Known():
		return ""
	case q.AtLeast:
		return "≥ " + q.of.String()
	default:
		return q.of.String()
	}
}
