package trip

import (
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// The tail of pieces is their end, no longer than asked, and as long where they are.
func TestTailOfPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pieces []network.Piece
		for range rapid.IntRange(1, 6).Draw(t, "pieces") {
			start := measure.Distance(rapid.IntRange(0, 50).Draw(t, "start"))
			pieces = append(pieces, network.Piece{Start: start, End: start + measure.Distance(rapid.IntRange(1, 90).Draw(t, "long"))})
		}
		most := measure.Distance(rapid.IntRange(1, 300).Draw(t, "most"))
		got, all := lengthOf(tailOf(pieces, most)), lengthOf(pieces)
		if got != min(most, all) {
			t.Fatalf("%v of %v m, at most %v", got, all, most)
		}
		tail := tailOf(pieces, most)
		if last := tail[len(tail)-1]; last.End != pieces[len(pieces)-1].End {
			t.Fatalf("it ends at %v", last)
		}
	})
}
