package draw

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestRows(t *testing.T) {
	for _, tc := range []struct{ at, widths, want []int }{
		{nil, nil, []int{}},
		{[]int{0, 10}, []int{10, 10}, []int{0, 0}},
		{[]int{0, 9}, []int{10, 10}, []int{1, 0}},
		{[]int{0, 3, 6}, []int{20, 20, 20}, []int{2, 1, 0}},
		{[]int{0, 30, 33}, []int{10, 20, 20}, []int{0, 1, 0}},
		{[]int{4, 4}, []int{1, 1}, []int{1, 0}},
	} {
		if got := rows(tc.at, tc.widths); !slices.Equal(got, tc.want) {
			t.Errorf("%v: %v, want %v", tc.at, got, tc.want)
		}
	}
}

// No label meets another, and no leader crosses a label.
func TestRowsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 12).Draw(t, "n")
		at := rapid.SliceOfN(rapid.IntRange(0, 60), n, n).Draw(t, "at")
		slices.Sort(at)
		widths := rapid.SliceOfN(rapid.IntRange(1, 40), n, n).Draw(t, "widths")
		got := rows(at, widths)
		for i := range at {
			for j := range at {
				within := i != j && at[i] <= at[j] && at[j] < at[i]+widths[i]
				if within && got[i] == got[j] {
					t.Fatalf("labels %d and %d meet in row %d", i, j, got[i])
				}
				if within && at[i] < at[j] && got[j] > got[i] {
					t.Fatalf("the leader of %d crosses label %d", j, i)
				}
			}
		}
	})
}
