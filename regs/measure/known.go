package measure

import "wayhouse/regs/say"

// Known is a value with how far it is known: exactly, at least, or not, and why. The
// zero value is not known, for no reason that is told.
type Known[T any] struct {
	value  T
	extent extent
	why    say.Remark
}

// extent is how far a value is known.
type extent int8

const (
	unknown extent = iota
	atLeast
	exactly
)

// Exactly is a value that is known.
func Exactly[T any](v T) Known[T] { return Known[T]{value: v, extent: exactly} }

// AtLeast is a value of which a least one is known alone: it may be more.
func AtLeast[T any](v T) Known[T] { return Known[T]{value: v, extent: atLeast} }

// Because is a value that is not known, for a reason.
func Because[T any](why say.Remark) Known[T] { return Known[T]{why: why} }

// Given is an input that may have been left out: nil is not known.
func Given[T any](v *T) Known[T] {
	if v == nil {
		return Known[T]{}
	}
	return Exactly(*v)
}

// Value is the value; ok is false where it is not known, or only a least one is.
func (k Known[T]) Value() (v T, ok bool) {
	if k.extent == exactly {
		v = k.value
	}
	return v, k.extent == exactly
}

// Least is what the value is at least; ok is false where nothing is known of it.
func (k Known[T]) Least() (v T, ok bool) { return k.value, k.extent != unknown }

// Known reports whether the value itself is known.
func (k Known[T]) Known() bool { return k.extent == exactly }

// Open reports whether nothing at all is known of the value.
func (k Known[T]) Open() bool { return k.extent == unknown }

// AtLeast reports whether only a least value is known.
func (k Known[T]) AtLeast() bool { return k.extent == atLeast }

// OrMore is the value as a least one.
func (k Known[T]) OrMore() Known[T] {
	k.extent = min(k.extent, atLeast)
	return k
}

// Why is the reason for which the value is not known; none where it is, or where
// nothing was told.
func (k Known[T]) Why() say.Remark { return k.why }

// Pointer is for answers that leave out what is not known: nil unless the value
// itself is.
func (k Known[T]) Pointer() *T {
	if !k.Known() {
		return nil
	}
	return &k.value
}

// As is the same value in another type of whole numbers.
func As[T, S ~int64](k Known[S]) Known[T] { return Known[T]{T(k.value), k.extent, k.why} }

// Sum adds two values, not known where one of them is not; of a least one at least that.
func Sum[T ~int64 | ~float64](a, b Known[T]) Known[T] {
	if a.Open() || b.Open() {
		return Known[T]{}
	}
	return Known[T]{value: a.value + b.value, extent: min(a.extent, b.extent)}
}

// Greatest is the greatest of values: at least that of those that are known where one
// is not, or where a least one may be more.
func Greatest[T ~int64 | ~float64](values ...Known[T]) Known[T] {
	var out Known[T]
	sure := len(values) > 0
	for _, v := range values {
		sure = sure && v.Known()
		if !v.Open() && (out.Open() || v.value > out.value) {
			out = AtLeast(v.value)
		}
	}
	if sure {
		out.extent = exactly
	}
	return out
}
