package draw

// rows places labels that begin at a leader from above and run to the right: each
// in the highest row, from 0, in which it meets neither another label nor the
// leader of one. at are the places of the leaders from left to right, widths what
// each label takes with some space behind it.
//
// From right to left, each label goes below all those whose leader comes down
// within its width; what lies to its left goes around it on its own leader.
func rows[T ~int | ~float64](at, widths []T) []int {
	out := make([]int, len(at))
	for i := len(at) - 1; i >= 0; i-- {
		for j := i + 1; j < len(at) && at[j] < at[i]+widths[i]; j++ {
			out[i] = max(out[i], out[j]+1)
		}
	}
	return out
}
