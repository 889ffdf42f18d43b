package trip

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/standing"
)

// Reasons say what bent the way, and what that costs. Costs are driving times as
// the search reckons them, turns included.
type Reasons struct {
	Bent     []Reason
	Together *Group // barriers that matter only with each other; nil: none
	Complete bool   // false: there are more barriers than were looked into
	// Closing are barriers that together leave no way and of which none can be
	// left out; nil where there is a way.
	Closing []*standing.Barrier
	Nearest []Nearest // where there is no way: the size that would pass
}

// Reason is one barrier and what it costs. Below 0 is a barrier that makes the way
// take a ferry that is sooner: one is taken only where no road leads there.
type Reason struct {
	*standing.Barrier
	Alone search.Millis // more than with no barrier at all, were it the only one
	Saves search.Millis // now, were it alone lifted
}

// Group are barriers of which none alone costs or saves anything.
type Group struct {
	Barriers []*standing.Barrier
	Costs    search.Millis // more than with no barrier at all, were they the only ones
	Saves    search.Millis // now, were all of them lifted
}

// Nearest is the size of a rig that would pass, all else as it is.
type Nearest struct {
	Quantity rig.Quantity
	Is       string // what the rig has
	Most     string // the greatest that passes
	By       string // what limits it
	Invented bool
}

// maxBarriers is how many barriers are looked into.
const maxBarriers = 24

// reasons finds the barriers that bent the way: a way past all barriers but those
// known is sought, and what it meets becomes known, until it meets none. That way
// is the best one, or there is none.
func (o *options) reasons(ctx context.Context, asked bool) error {
	if !asked {
		return nil
	}
	r := &Reasons{Complete: true}
	o.out.Reasons = r
	var known []*standing.Barrier
	for {
		ways, err := o.ways(ctx, terms{lifted: isNot(known)})
		if errors.Is(err, search.ErrNoRoute) {
			return o.closing(ctx, known)
		}
		if err != nil {
			return err
		}
		met := o.met(ways, known)
		if len(met) == 0 {
			break
		}
		if known = append(known, met...); len(known) > maxBarriers {
			r.Complete = false
			return nil
		}
	}
	return o.weigh(ctx, known)
}

// isNot tells of barriers whether they are none of some.
func isNot(some []*standing.Barrier) func(*standing.Barrier) bool {
	return func(b *standing.Barrier) bool { return !slices.Contains(some, b) }
}

// met lists the barriers on ways that are not known yet, in the order met.
func (o *options) met(ways []way, known []*standing.Barrier) (out []*standing.Barrier) {
	for _, w := range ways {
		for _, p := range w.Pieces {
			for _, barrier := range o.b.barriers.on(p) {
				if !slices.Contains(known, barrier) && !slices.Contains(out, barrier) {
					out = append(out, barrier)
				}
			}
		}
	}
	return out
}

// cost is what the best way costs under terms; search.Infinite where there is
// none.
func (o *options) cost(ctx context.Context, lifted func(*standing.Barrier) bool) (search.Millis, error) {
	ways, err := o.ways(ctx, terms{lifted: lifted})
	if errors.Is(err, search.ErrNoRoute) {
		return search.Infinite, nil
	}
	sum := search.Millis(0)
	for _, w := range ways {
		sum += w.cost
	}
	return sum, err
}

// weigh works out what each barrier costs.
func (o *options) weigh(ctx context.Context, known []*standing.Barrier) error {
	everything := func(*standing.Barrier) bool { return true }
	free, err := o.cost(ctx, everything)
	if err != nil {
		return err
	}
	now, err := o.cost(ctx, isNot(known))
	if err != nil {
		return err
	}
	var together []*standing.Barrier
	for _, barrier := range known {
		alone, err := o.cost(ctx, isNot([]*standing.Barrier{barrier}))
		if err != nil {
			return err
		}
		without, err := o.cost(ctx, func(b *standing.Barrier) bool { return b == barrier })
		if err != nil {
			return err
		}
		if alone == free && without == now && barrier.When != "" {
			continue // it does not hold when the way comes by
		}
		if alone == free && without == now {
			together = append(together, barrier)
			continue
		}
		o.out.Reasons.Bent = append(o.out.Reasons.Bent, Reason{barrier, alone - free, now - without})
	}
	slices.SortStableFunc(o.out.Reasons.Bent, func(a, b Reason) int { return cmp.Or(cmp.Compare(b.Saves, a.Saves), cmp.Compare(b.Alone, a.Alone)) })
	if len(together) == 0 {
		return nil
	}
	costs, err := o.cost(ctx, isNot(together))
	if err != nil {
		return err
	}
	without, err := o.cost(ctx, func(b *standing.Barrier) bool { return slices.Contains(together, b) })
	if err != nil {
		return err
	}
	if g := (Group{together, costs - free, now - without}); g.Costs > 0 || g.Saves > 0 {
		o.out.Reasons.Together = &g
	}
	return nil
}

// closing leaves out of barriers that together close the way all that are not
// needed for it, one after the other, and looks for the size that would pass.
func (o *options) closing(ctx context.Context, known []*standing.Barrier) error {
	for i := 0; i < len(known); {
		fewer := slices.Delete(slices.Clone(known), i, i+1)
		cost, err := o.cost(ctx, isNot(fewer))
		if err != nil {
			return err
		}
		if cost == search.Infinite {
			known = fewer
		} else {
			i++
		}
	}
	o.out.Reasons.Closing = known
	return o.nearest(ctx)
}

// nearest finds for each measurement of the rig the greatest that passes.
func (o *options) nearest(ctx context.Context) error {
	for _, q := range []rig.Quantity{rig.Height, rig.Width, rig.Length, rig.Mass} {
		has, known := o.b.request.Rig.Size(q)
		if !known {
			continue
		}
		most, err := o.tallest(ctx, q)
		if err != nil {
			return err
		}
		if most.Most == 0 || most.Most >= has {
			continue // none passes, or it is not this that shuts the rig out
		}
		o.out.Reasons.Nearest = append(o.out.Reasons.Nearest, Nearest{q, q.Print(has), q.Print(most.Most), most.By, most.Invented})
	}
	return nil
}

// tallest is the last step that all legs of the trip pass; its Most is 0 where
// some leg has none.
func (o *options) tallest(ctx context.Context, q rig.Quantity) (least Step, err error) {
	r := o.b.request
	r.Rig = r.Rig.Thinned(q)
	for i := 1; i < len(r.Stops); i++ {
		leg := r
		leg.Stops = r.Stops[i-1 : i+1]
		l, err := o.b.ladder(ctx, leg, q, false)
		if err != nil || len(l.Steps) == 0 {
			return Step{}, err
		}
		if top := l.Steps[0]; i == 1 || top.Most > 0 && (least.Most == 0 || top.Most < least.Most) {
			least = top
		}
	}
	return least, nil
}
