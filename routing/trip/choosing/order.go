package choosing

import (
	"context"
	"errors"
	"fmt"
	"math/bits"

	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
)

// MaxReordered is how many stops between the first and the last are put in the
// best order.
const MaxReordered = 10

// Order returns the numbers of the stops in the order to be driven: as they were
// given, or in the one that takes least, the first and the last where they are.
//
// Lower bounds of all legs come from the hierarchy. The best order under them is
// sought, its legs are searched exactly and take their bounds' place, until the
// best order has none that was not searched: no other can take less. Signs with
// hours are met as if every leg began at the departure.
func (c *Chooser) Order(ctx context.Context, any bool) ([]int, error) {
	at, err := c.Snap()
	if err != nil {
		return nil, err
	}
	order := make([]int, len(at))
	for i := range order {
		order[i] = i
	}
	between := len(at) - 2
	if !any || between < 2 {
		return order, nil
	}
	if between > MaxReordered {
		return nil, fail("any_order", fmt.Sprint(between),
			say.That("error.too_many_to_order", "bound", MaxReordered), say.That("fix.split_the_trip_or_give"))
	}
	t := tour{cost: c.bounds(at), exact: make([][]bool, len(at))}
	for i := range t.exact {
		t.exact[i] = make([]bool, len(at))
	}
	for {
		order, ok := t.best()
		if !ok {
			return nil, fail("stops", fmt.Sprint(len(at)), say.That("error.cannot_all_be_reached"),
				say.That("fix.give_the_order_to"))
		}
		done := true
		for k := 1; k < len(order); k++ {
			i, j := order[k-1], order[k]
			if t.exact[i][j] {
				continue
			}
			done, t.exact[i][j] = false, true
			path, err := c.First(ctx, at[i].Position, at[j].Position, Terms{})
			switch {
			case errors.Is(err, search.ErrNoRoute):
				t.cost[i][j] = search.Infinite
			case err != nil:
				return nil, err
			default:
				t.cost[i][j] = path.Cost
			}
		}
		if done {
			c.reorder(order)
			return order, nil
		}
	}
}

// bounds are lower bounds of the legs between all stops. Where a ferry may be
// used if nothing else leads there, the bounds are those with ferries.
func (c *Chooser) bounds(at []network.Snapped) [][]search.Millis {
	var positions []network.Position
	for _, s := range at {
		positions = append(positions, s.Position)
	}
	return c.engine.Bounds(positions, positions, c.Rules(Terms{Ferries: !c.Wishes.NoFerries}))
}

// tour seeks the cheapest order of stops between two that stay.
type tour struct {
	cost  [][]search.Millis
	exact [][]bool // whether the cost is no mere bound
}

// best returns the cheapest order under the costs (M. Held, R. M. Karp, "A
// Dynamic Programming Approach to Sequencing Problems", Journal of SIAM 10,
// 1962); ok is false where every order has a leg without a way.
func (t *tour) best() (order []int, ok bool) {
	n := len(t.cost) - 2 // stops 1 to n are put in order
	last := n + 1
	type cell struct {
		cost search.Millis
		from int8
	}
	cells := make([][]cell, 1<<n) // by set of stops visited and the last of them
	for set := 1; set < 1<<n; set++ {
		cells[set] = make([]cell, n)
		for k := range n {
			cells[set][k] = cell{cost: search.Infinite}
			if set>>k&1 == 0 {
				continue
			}
			rest := set &^ (1 << k)
			if rest == 0 {
				cells[set][k] = cell{t.cost[0][k+1], -1}
			}
			for from := range n {
				if rest>>from&1 == 1 {
					if c := cells[rest][from].cost + t.cost[from+1][k+1]; c < cells[set][k].cost {
						cells[set][k] = cell{c, int8(from)}
					}
				}
			}
		}
	}
	full, end, least := 1<<n-1, -1, search.Infinite
	for k := range n {
		if c := cells[full][k].cost + t.cost[k+1][last]; c < least {
			end, least = k, c
		}
	}
	if end < 0 {
		return nil, false
	}
	order = make([]int, n+2)
	order[last] = last
	for set, k := full, end; k >= 0; {
		order[bits.OnesCount(uint(set))] = k + 1
		next := int(cells[set][k].from)
		set, k = set&^(1<<k), next
	}
	return order, true
}

// reorder puts the stops in another order.
func (c *Chooser) reorder(order []int) {
	stops, offRoads, snapped := c.Stops, c.OffRoads, c.snapped
	c.Stops, c.OffRoads, c.snapped = nil, nil, nil
	for _, i := range order {
		c.Stops = append(c.Stops, stops[i])
		c.OffRoads, c.snapped = append(c.OffRoads, offRoads[i]), append(c.snapped, snapped[i])
	}
}
