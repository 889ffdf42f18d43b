package trip

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
)

// Option is a way beside the best.
type Option struct {
	Plan      *Plan
	New       float64 // share of its length that no way before it has
	Extra     measure.Distance
	ExtraTime driving.Duration
	// Permits are jurisdictions that ask for a permit and on the best way do not;
	// Spared the other way round.
	Permits, Spared []string
	ExtraUnknowns   int
}

// options plans ways beside the best one.
type options struct {
	b     *builder
	out   *Routes
	taken [][]search.Path // the best and the alternatives
}

func (o *options) all(ctx context.Context, r RouteRequest) error {
	for _, find := range []func(context.Context) error{
		func(ctx context.Context) error { return o.alternatives(ctx, r.Alternatives) }, o.free, o.without,
	} {
		if err := find(ctx); err != nil {
			return err
		}
	}
	if !r.Reasons {
		return nil
	}
	var err error
	o.out.Reasons, err = o.b.chooses.Reasons(ctx)
	return err
}

// option plans ways and compares them with the best.
func (o *options) option(paths []search.Path) (Option, error) {
	o.b.begin()
	plan, err := o.b.complete(o.b.waysOf(paths))
	if err != nil {
		return Option{}, err
	}
	best := o.out.Best
	out := Option{
		Plan: plan, New: choosing.Share(paths, o.taken), Extra: plan.Length - best.Length,
		ExtraUnknowns: plan.Verdict.Unknowns - best.Verdict.Unknowns, ExtraTime: plan.Time.Sub(best.Time),
	}
	there, here := asking(best), asking(plan)
	out.Permits, out.Spared = beyond(here, there), beyond(there, here)
	return out, nil
}

// alternatives plans ways that differ, the soonest first.
func (o *options) alternatives(ctx context.Context, most int) error {
	if !o.out.Best.Passable {
		return nil
	}
	found, err := o.b.chooses.Alternatives(ctx, o.taken[0], most)
	if err != nil {
		return err
	}
	for _, paths := range found {
		option, err := o.option(paths)
		if err != nil {
			return err
		}
		o.out.Others, o.taken = append(o.out.Others, option), append(o.taken, paths)
	}
	slices.SortStableFunc(o.out.Others, func(a, b Option) int {
		return cmp.Compare(a.Plan.Time.Duration, b.Plan.Time.Duration)
	})
	return nil
}

// free plans the way of a rig that no structure and no sign shuts out.
func (o *options) free(ctx context.Context) error {
	paths, err := o.b.chooses.Free(ctx, o.taken[0])
	if err != nil || paths == nil {
		return err
	}
	o.b.unhindered = true
	option, err := o.option(paths)
	o.b.unhindered = false
	if err != nil {
		return err
	}
	option.Plan.Passable = false // what shuts the rig out did not count
	o.out.Free = &option
	return nil
}

// without plans the best way on which no permit is asked for.
func (o *options) without(ctx context.Context) error {
	if !o.out.Best.Passable {
		o.out.WithoutWhy = say.That("routes.all_shut")
		return nil
	}
	if len(o.out.Best.Permits) == 0 {
		o.out.WithoutWhy = say.That("routes.best_asks_none")
		return nil
	}
	paths, err := o.b.chooses.Unpermitted(ctx)
	if errors.Is(err, search.ErrNoRoute) {
		o.out.WithoutWhy = say.That("routes.all_ask")
		return nil
	}
	if err != nil {
		return err
	}
	option, err := o.option(paths)
	if err != nil {
		return err
	}
	if asked := asking(option.Plan); len(asked) > 0 {
		o.out.WithoutWhy = say.That("routes.still_asks", "jurisdictions", asked)
		return nil
	}
	o.out.Without = &option
	return nil
}

// asking lists the jurisdictions of a plan that ask for a permit.
func asking(p *Plan) (out []string) {
	for _, n := range p.Permits {
		out = append(out, n.Jurisdiction)
	}
	return out
}

// beyond lists what is in one list and not in another.
func beyond(a, b []string) (out []string) {
	for _, s := range a {
		if !slices.Contains(b, s) && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}
