package clearance

import (
	"fmt"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// An index finds what a look at every structure finds.
func TestIndexFindsAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		west, south := rapid.Float64Range(-180, 179).Draw(t, "west"), rapid.Float64Range(-89, 88).Draw(t, "south")
		point := func(name string) orb.Point { // many lie on the lines between cells
			if rapid.Bool().Draw(t, name+" on a line") {
				return orb.Point{west + float64(rapid.IntRange(0, 100).Draw(t, name+" x"))/100, south + float64(rapid.IntRange(0, 100).Draw(t, name+" y"))/100}
			}
			return orb.Point{rapid.Float64Range(west, west+1).Draw(t, name+" lon"), rapid.Float64Range(south, south+1).Draw(t, name+" lat")}
		}
		var all []*Structure
		for i := range rapid.IntRange(0, 40).Draw(t, "structures") {
			all = append(all, &Structure{ID: fmt.Sprint(i), Point: point("structure")})
		}
		a, b := point("corner"), point("corner")
		bound := orb.MultiPoint{a, b}.Bound()
		var got, want []string
		NewIndex(all).In(bound, func(s *Structure) { got = append(got, s.ID) })
		for _, s := range all {
			if bound.Contains(s.Point) {
				want = append(want, s.ID)
			}
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Fatalf("in %v: %v, want %v", bound, got, want)
		}
	})
}

func TestIndexEmpty(t *testing.T) {
	ix := NewIndex(nil)
	ix.In(orb.Bound{Min: orb.Point{-180, -90}, Max: orb.Point{180, 90}}, func(*Structure) { t.Error("found one") })
	if ix.Len() != 0 || NewIndex([]*Structure{{}, {}}).Len() != 2 {
		t.Error("it counts otherwise")
	}
}

// What is asked of an index on a route does not depend on how many structures
// stand elsewhere.
func BenchmarkIndexIn(b *testing.B) {
	for _, n := range []int{1_000, 1_000_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			all := make([]*Structure, n)
			for i := range all { // invented: spread over a quarter of the globe
				all[i] = &Structure{Point: orb.Point{-170 + float64(i%1000)*0.1, 10 + float64(i/1000)*0.06}}
			}
			ix := NewIndex(all)
			near := orb.Bound{Min: orb.Point{-75.71, 45.40}, Max: orb.Point{-75.69, 45.42}}
			b.ReportAllocs()
			for b.Loop() {
				ix.In(near, func(*Structure) {})
			}
		})
	}
}
