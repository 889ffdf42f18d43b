package choosing

import (
	"testing"

	"pgregory.net/rapid"

	"wayhouse/routing/search"
)

// The cheapest order is that of all orders written out, with legs that no way leads
// along among them.
func TestBestOrderOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 7).Draw(t, "stops")
		tour := tour{cost: make([][]search.Millis, n)}
		for i := range tour.cost {
			for range n {
				leg := search.Millis(rapid.IntRange(0, 50).Draw(t, "leg"))
				if leg < 5 {
					leg = search.Infinite
				}
				tour.cost[i] = append(tour.cost[i], leg)
			}
		}
		order, ok := tour.best()
		least := cheapest(tour.cost, []int{0})
		if ok != (least < search.Infinite) {
			t.Fatalf("an order: %t, the cheapest of all takes %d", ok, least)
		}
		if !ok {
			return
		}
		if len(order) != n || order[0] != 0 || order[n-1] != n-1 {
			t.Fatalf("order %v", order)
		}
		met, sum := map[int]bool{}, search.Millis(0)
		for k, stop := range order {
			met[stop] = true
			if k > 0 {
				sum += tour.cost[order[k-1]][stop]
			}
		}
		if len(met) != n || sum != least {
			t.Fatalf("order %v takes %d, the cheapest of all %d", order, sum, least)
		}
	})
}

// cheapest is what the cheapest way on from a beginning takes, every order tried.
func cheapest(cost [][]search.Millis, begun []int) search.Millis {
	at, last := begun[len(begun)-1], len(cost)-1
	if len(begun) == last {
		return cost[at][last]
	}
	least := search.Infinite
	for next := 1; next < last; next++ {
		been := false
		for _, stop := range begun {
			been = been || stop == next
		}
		if been || cost[at][next] == search.Infinite {
			continue
		}
		if on := cheapest(cost, append(begun[:len(begun):len(begun)], next)); on < search.Infinite {
			least = min(least, cost[at][next]+on)
		}
	}
	return least
}
