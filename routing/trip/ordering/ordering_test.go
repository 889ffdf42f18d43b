package ordering

import (
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// costs are those from each of some places to each other, some of which no way leads to.
func costs(t *rapid.T) (out [][]int64) {
	n := rapid.IntRange(2, 7).Draw(t, "places")
	for range n {
		var from []int64
		for range n {
			cost := int64(rapid.IntRange(0, 50).Draw(t, "leg"))
			if cost < 5 {
				cost = none
			}
			from = append(from, cost)
		}
		out = append(out, from)
	}
	return out
}

const none = 1 << 40

// cheapest is what the cheapest way on from a beginning takes, every order tried.
func cheapest(cost [][]int64, begun []int) int64 {
	at, last := begun[len(begun)-1], len(cost)-1
	if len(begun) == last {
		return cost[at][last]
	}
	least := int64(none)
	for next := 1; next < last; next++ {
		if slices.Contains(begun, next) || cost[at][next] == none {
			continue
		}
		if on := cheapest(cost, append(begun[:len(begun):len(begun)], next)); on < none {
			least = min(least, cost[at][next]+on)
		}
	}
	return least
}

// sum is what an order of all places costs; ok is false where it is none of them all, or has
// a leg that no way leads along.
func sum(cost [][]int64, order []int) (sum int64, ok bool) {
	met := map[int]bool{}
	for k, at := range order {
		if met[at] = true; k > 0 {
			if cost[order[k-1]][at] >= none {
				return 0, false
			}
			sum += cost[order[k-1]][at]
		}
	}
	return sum, len(order) == len(cost) && len(met) == len(cost) && order[0] == 0 && order[len(order)-1] == len(cost)-1
}

// The cheapest order is that of all orders written out, with legs that no way leads along
// among them.
func TestCheapestOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cost := costs(t)
		order, ok := Cheapest(cost, none)
		least := cheapest(cost, []int{0})
		if ok != (least < none) {
			t.Fatalf("an order: %t, the cheapest of all takes %d", ok, least)
		}
		if !ok {
			return
		}
		if got, whole := sum(cost, order); !whole || got != least {
			t.Fatalf("order %v takes %d, the cheapest of all %d", order, got, least)
		}
	})
}

// begun is the beginning of an order, and what it costs so far.
type begun struct {
	order []int
	cost  int64
}

// seeker seeks the cheapest order, with no better bound than what it costs so far.
func seeker(cost [][]int64) Seeker[begun] {
	return Seeker[begun]{
		N: len(cost) - 2, Better: func(a, b begun) bool { return a.cost < b.cost },
		On: func(b begun, next int, best *begun) (begun, bool, error) {
			next++
			b.cost += cost[b.order[len(b.order)-1]][next]
			if b.order = append(slices.Clone(b.order), next); len(b.order) == len(cost)-1 {
				b.cost += cost[next][len(cost)-1]
			}
			return b, b.cost < none && (best == nil || b.cost < best.cost), nil
		},
	}
}

func TestSeekingFindsTheCheapest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cost := costs(t)
		if len(cost) < 3 {
			return
		}
		got, err := seeker(cost).Seek(begun{order: []int{0}})
		if err != nil || !got.All {
			t.Fatal(err, got.All)
		}
		least := cheapest(cost, []int{0})
		if (got.Order != nil) != (least < none) || got.Order != nil && got.State.cost != least {
			t.Fatalf("%+v, the cheapest takes %d", got, least)
		}
	})
}

// Of orders that are as good the given one is taken, and what ends early says so.
func TestSeekingKeepsTheGivenAndEnds(t *testing.T) {
	cost := [][]int64{{none, 5, 5, 5}, {none, none, 5, 5}, {none, 5, none, 5}, {none, none, none, none}}
	s := seeker(cost)
	if got, err := s.Seek(begun{order: []int{0}}); err != nil || !slices.Equal(got.Order, []int{0, 1}) || !got.All {
		t.Errorf("%+v, %v", got, err)
	}
	on, tried := s.On, 0
	s.On = func(b begun, next int, best *begun) (begun, bool, error) {
		if tried++; tried > 2 {
			return b, false, ErrEnough
		}
		return on(b, next, best)
	}
	if got, err := s.Seek(begun{order: []int{0}}); err != nil || !slices.Equal(got.Order, []int{0, 1}) || got.All {
		t.Errorf("%+v, %v", got, err)
	}
	wrong := errors.New("wrong")
	s.On = func(b begun, _ int, _ *begun) (begun, bool, error) { return b, false, wrong }
	if _, err := s.Seek(begun{}); !errors.Is(err, wrong) {
		t.Errorf("%v", err)
	}
}
