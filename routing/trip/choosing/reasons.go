package choosing

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/standing"
)

// Reasons say what bent the way, and what that costs. Costs are driving times as
// the search reckons them, turns included, but not the price of roads that are no truck
// roads. That price decides among ways all the same, so a barrier that keeps the way off
// truck roads may cost less than no time.
type Reasons struct {
	Bent     []Reason
	Together *Group // barriers that matter only with each other; nil: none
	Complete bool   // false: there are more barriers than were looked into
	// Closing are barriers that together leave no way and of which none can be
	// left out; nil where there is a way.
	Closing []*standing.Barrier
	Nearest []Nearest // where there is no way: the size that would pass
	// Preferred is what keeping to truck roads does to the way; nil: nothing, or there is none.
	Preferred *Preferred
}

// Preferred is by how much a way is longer, and takes longer, than were all roads alike.
type Preferred struct {
	Extra     measure.Distance
	ExtraTime search.Millis // turns included
}

// RestsOnInvented reports whether any reason rests on what was made up.
func (r *Reasons) RestsOnInvented() bool {
	all := slices.Clone(r.Closing)
	for _, b := range r.Bent {
		all = append(all, b.Barrier)
	}
	if r.Together != nil {
		all = append(all, r.Together.Barriers...)
	}
	return slices.ContainsFunc(all, func(b *standing.Barrier) bool { return b.Invented }) ||
		slices.ContainsFunc(r.Nearest, func(n Nearest) bool { return n.Invented })
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
	Is       finding.Quantity // what the rig has
	Most     finding.Quantity // the greatest that passes
	By       say.Remark       // what limits it
	Invented bool
}

// maxBarriers is how many barriers are looked into.
const maxBarriers = 24

// Reasons finds the barriers that bent the way: a way past all barriers but those
// known is sought, and what it meets becomes known, until it meets none. That way
// is the best one, or there is none.
func (c *Chooser) Reasons(ctx context.Context) (*Reasons, error) {
	r := &Reasons{Complete: true}
	var known []*standing.Barrier
	var ways []search.Path
	for {
		var err error
		ways, err = c.under(ctx, Terms{Lifted: isNot(known)})
		if errors.Is(err, search.ErrNoRoute) {
			return r, c.closing(ctx, r, known)
		}
		if err != nil {
			return nil, err
		}
		met := c.met(ways, known)
		if len(met) == 0 {
			break
		}
		if known = append(known, met...); len(known) > maxBarriers {
			r.Complete = false
			return r, nil
		}
	}
	var err error
	if r.Preferred, err = c.preferred(ctx, ways); err != nil {
		return nil, err
	}
	return r, c.weigh(ctx, r, known)
}

// preferred compares ways with those that would be taken were all roads alike.
func (c *Chooser) preferred(ctx context.Context, ways []search.Path) (*Preferred, error) {
	alike, err := c.under(ctx, Terms{Alike: true})
	if err != nil || same(ways, alike) {
		return nil, err
	}
	out := &Preferred{}
	for i, w := range ways {
		out.Extra += w.Length() - alike[i].Length()
		out.ExtraTime += c.takes(w) - alike[i].Cost
	}
	return out, nil
}

// isNot tells of barriers whether they are none of some.
func isNot(some []*standing.Barrier) func(*standing.Barrier) bool {
	return func(b *standing.Barrier) bool { return !slices.Contains(some, b) }
}

// met lists the barriers on ways that are not known yet, in the order met.
func (c *Chooser) met(ways []search.Path, known []*standing.Barrier) (out []*standing.Barrier) {
	for _, w := range ways {
		for _, p := range w.Pieces {
			for _, barrier := range c.barriers.on(p) {
				if !slices.Contains(known, barrier) && !slices.Contains(out, barrier) {
					out = append(out, barrier)
				}
			}
		}
	}
	return out
}

// spent is what the best way costs the search, and how much of that is time. Both are
// search.Infinite where there is no way.
type spent struct{ price, time search.Millis }

// least is what the best way costs with barriers lifted.
func (c *Chooser) least(ctx context.Context, lifted func(*standing.Barrier) bool) (out spent, err error) {
	ways, err := c.under(ctx, Terms{Lifted: lifted})
	if errors.Is(err, search.ErrNoRoute) {
		return spent{search.Infinite, search.Infinite}, nil
	}
	for _, w := range ways {
		out.price, out.time = out.price+w.Cost, out.time+c.takes(w)
	}
	return out, err
}

// weigh works out what each barrier costs.
func (c *Chooser) weigh(ctx context.Context, r *Reasons, known []*standing.Barrier) error {
	everything := func(*standing.Barrier) bool { return true }
	free, err := c.least(ctx, everything)
	if err != nil {
		return err
	}
	now, err := c.least(ctx, isNot(known))
	if err != nil {
		return err
	}
	var together []*standing.Barrier
	for _, barrier := range known {
		alone, err := c.least(ctx, isNot([]*standing.Barrier{barrier}))
		if err != nil {
			return err
		}
		without, err := c.least(ctx, func(b *standing.Barrier) bool { return b == barrier })
		if err != nil {
			return err
		}
		if alone.price == free.price && without.price == now.price && barrier.When != "" {
			continue // it does not hold when the way comes by
		}
		if alone.price == free.price && without.price == now.price {
			together = append(together, barrier)
			continue
		}
		r.Bent = append(r.Bent, Reason{barrier, alone.time - free.time, now.time - without.time})
	}
	slices.SortStableFunc(r.Bent, func(a, b Reason) int {
		return cmp.Or(cmp.Compare(b.Saves, a.Saves), cmp.Compare(b.Alone, a.Alone))
	})
	if len(together) == 0 {
		return nil
	}
	costs, err := c.least(ctx, isNot(together))
	if err != nil {
		return err
	}
	without, err := c.least(ctx, func(b *standing.Barrier) bool { return slices.Contains(together, b) })
	if err != nil {
		return err
	}
	if g := (Group{together, costs.time - free.time, now.time - without.time}); costs.price > free.price ||
		without.price < now.price {
		r.Together = &g
	}
	return nil
}

// closing leaves out of barriers that together close the way all that are not
// needed for it, one after the other, and looks for the size that would pass.
func (c *Chooser) closing(ctx context.Context, r *Reasons, known []*standing.Barrier) error {
	for i := 0; i < len(known); {
		fewer := slices.Delete(slices.Clone(known), i, i+1)
		cost, err := c.least(ctx, isNot(fewer))
		if err != nil {
			return err
		}
		if cost.price == search.Infinite {
			known = fewer
		} else {
			i++
		}
	}
	r.Closing = known
	return c.nearest(ctx, r)
}

// nearest finds for each measurement of the rig the greatest that passes.
func (c *Chooser) nearest(ctx context.Context, r *Reasons) error {
	for _, q := range rig.Quantities() {
		has, known := c.Rig.Size(q).Value()
		if !known {
			continue
		}
		most, err := c.tallest(ctx, q)
		if err != nil {
			return err
		}
		if most.Most == 0 || most.Most >= has {
			continue // none passes, or it is not this that shuts the rig out
		}
		r.Nearest = append(r.Nearest, Nearest{q, q.Of(has), q.Of(most.Most), most.By, most.Invented})
	}
	return nil
}

// tallest is the last step of the trip; its Most is 0 where there is none.
func (c *Chooser) tallest(ctx context.Context, q rig.Quantity) (Step, error) {
	l, err := c.Ladder(ctx, q, false)
	if err != nil || len(l.Steps) == 0 {
		return Step{}, err
	}
	return l.Steps[0], nil
}
