package ordering

import "math/bits"

// Onward is the least that it costs to go on from each place through a set of places to the
// last: by the set, whose bit i is place i+1, and by the place. The first place, 0, and the
// last are in no set (M. Held, R. M. Karp, "A Dynamic Programming Approach to Sequencing
// Problems", Journal of SIAM 10, 1962). Costs are those from each place to each other; those of
// none or more are no way.
func Onward[T ~int64 | ~uint32](cost [][]T, none T) [][]T {
	n := len(cost) - 2
	out := make([][]T, 1<<n)
	for set := range out {
		out[set] = make([]T, n+1)
		for at := range out[set] {
			out[set][at] = none
			if set == 0 {
				out[set][at] = min(cost[at][n+1], none)
			}
			for left := set; left != 0; left &= left - 1 {
				next := bits.TrailingZeros(uint(left)) + 1
				if step, rest := cost[at][next], out[set&^(1<<(next-1))][next]; step < none && rest < none {
					out[set][at] = min(out[set][at], step+rest)
				}
			}
		}
	}
	return out
}

// Cheapest is the order of all places, the first and the last at its ends, that costs the
// least; ok is false where no order leads through.
func Cheapest[T ~int64 | ~uint32](cost [][]T, none T) (order []int, ok bool) {
	onward := Onward(cost, none)
	set, at := len(onward)-1, 0
	if onward[set][at] >= none {
		return nil, false
	}
	order = []int{0}
	for set != 0 {
		for left := set; left != 0; left &= left - 1 {
			next := bits.TrailingZeros(uint(left)) + 1
			rest := set &^ (1 << (next - 1))
			if step := cost[at][next]; step < none && onward[rest][next] < none && step+onward[rest][next] == onward[set][at] {
				order, set, at = append(order, next), rest, next
				break
			}
		}
	}
	return append(order, len(cost)-1), true
}
