package choosing

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/ordering"
)

// MaxReordered is how many stops between the first and the last are put in the
// best order.
const MaxReordered = 10

// legs are those between all stops, each searched once, as if it began at the departure.
type legs struct {
	at    []network.Snapped
	cost  [][]search.Millis // a lower bound where the leg was not searched
	found [][]*search.Path  // nil: not searched, or no way leads along
	known [][]bool          // searched
}

// legs begins with lower bounds. Where a ferry may be used if nothing else leads there, they
// are those with ferries.
func (c *Chooser) legs() (*legs, error) {
	at, err := c.Snap()
	if err != nil {
		return nil, err
	}
	if between := len(at) - 2; between > MaxReordered {
		return nil, fail("any_order", fmt.Sprint(between),
			say.That("error.too_many_to_order", "bound", MaxReordered), say.That("fix.split_the_trip_or_give"))
	}
	var positions []network.Position
	for _, s := range at {
		positions = append(positions, s.Position)
	}
	out := &legs{at: at, cost: c.engine.Bounds(positions, positions, c.Rules(Terms{Ferries: !c.Wishes.NoFerries}))}
	for range at {
		out.found, out.known = append(out.found, make([]*search.Path, len(at))), append(out.known, make([]bool, len(at)))
	}
	return out, nil
}

// search searches a leg, once.
func (c *Chooser) search(ctx context.Context, l *legs, from, to int) error {
	if l.known[from][to] {
		return nil
	}
	l.known[from][to] = true
	path, err := c.orTight(func() (search.Path, error) {
		return c.First(ctx, l.at[from].Position, l.at[to].Position, Terms{})
	})
	switch {
	case errors.Is(err, search.ErrNoRoute):
		l.cost[from][to] = search.Infinite
	case err != nil:
		return err
	default:
		path = c.Travelled(path)
		l.cost[from][to], l.found[from][to] = path.Cost, &path
	}
	return nil
}

// Order returns the numbers of the stops in the order that takes least, the first and the
// last where they are, and the driving that it saves beside the given one, nil where no way
// leads along that.
//
// The best order under lower bounds of all legs is sought, its legs are searched exactly and
// take their bounds' place, until the best order has none that was not searched: no other
// can take less. Signs with hours are met as if every leg began at the departure.
func (c *Chooser) Order(ctx context.Context) ([]int, *driving.Duration, error) {
	l, err := c.legs()
	if err != nil {
		return nil, nil, err
	}
	for {
		order, ok := ordering.Cheapest(l.cost, search.Infinite)
		if !ok {
			return nil, nil, fail("stops", fmt.Sprint(len(l.at)), say.That("error.cannot_all_be_reached"),
				say.That("fix.give_the_order_to"))
		}
		done, err := c.searchAll(ctx, l, order)
		if err != nil {
			return nil, nil, err
		}
		if done {
			saves, err := c.saves(ctx, l, order)
			return order, saves, err
		}
	}
}

// searchAll searches the legs of an order, and reports whether all had been.
func (c *Chooser) searchAll(ctx context.Context, l *legs, order []int) (done bool, err error) {
	done = true
	for k := 1; k < len(order) && err == nil; k++ {
		done = done && l.known[order[k-1]][order[k]]
		err = c.search(ctx, l, order[k-1], order[k])
	}
	return done, err
}

// saves is the driving that an order saves beside the given one.
func (c *Chooser) saves(ctx context.Context, l *legs, order []int) (*driving.Duration, error) {
	given := slices.Sorted(slices.Values(order))
	if _, err := c.searchAll(ctx, l, given); err != nil {
		return nil, err
	}
	var out driving.Duration
	for k := 1; k < len(order); k++ {
		way, instead := l.found[given[k-1]][given[k]], l.found[order[k-1]][order[k]]
		if way == nil {
			return nil, nil
		}
		out = out.Add(c.pace.Time(way.Pieces)).Sub(c.pace.Time(instead.Pieces))
	}
	return &out, nil
}

// Legs are the ways from each stop to each other but to the first and from the last, nil
// where none leads along; signs with hours are met as if each began at the departure.
func (c *Chooser) Legs(ctx context.Context) ([][]*search.Path, error) {
	l, err := c.legs()
	if err != nil {
		return nil, err
	}
	last := len(l.at) - 1
	for from := range last {
		for to := 1; to <= last; to++ {
			if from == to || l.cost[from][to] >= search.Infinite || from == 0 && to == last {
				continue
			}
			if err := c.search(ctx, l, from, to); err != nil {
				return nil, err
			}
		}
	}
	return l.found, nil
}
