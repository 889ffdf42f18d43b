package measure

// Rounding is where a value goes that stands between two steps.
type Rounding int8

// The roundings.
const (
	Nearest Rounding = iota // half away from zero
	Down                    // toward less: of a margin never more than there is
	Up                      // toward more
)

// Round is a multiple of step; exact reports whether it is the value itself.
func Round[T ~int64](v, step T, how Rounding) (rounded T, exact bool) {
	switch how {
	case Down:
		rounded = floor(v, step)
	case Up:
		rounded = -floor(-v, step)
	default:
		rounded = roundTo(v, step)
	}
	return rounded, rounded == v
}

func floor[T ~int64](v, step T) T {
	rest := v % step
	if rest < 0 {
		rest += step
	}
	return v - rest
}
