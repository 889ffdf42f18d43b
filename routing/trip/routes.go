package trip

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
)

// RouteRequest asks for ways and not only for one.
type RouteRequest struct {
	Request
	Alternatives int  // how many beside the best, up to choosing.MaxAlternatives
	Reasons      bool // what bent the way, and what that costs
	AnyOrder     bool // the stops between the first and the last in the order that takes least
}

// Routes are the ways of a journey.
type Routes struct {
	Best    *Plan
	Order   []int    // numbers of the stops as they are driven
	Others  []Option // alternatives, the soonest first
	Free    *Option  // the way of a rig that nothing shuts out; nil where it is the best
	Without *Option  // the best way without a permit; nil where there is none, or it is the best
	// WithoutWhy says why there is no Without.
	WithoutWhy say.Remark
	Reasons    *choosing.Reasons // nil where not asked for
	Difference *Difference       // of a given route from the best; nil where none was given
}

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

// Routes finds the best way and others beside it. Errors are [*RequestError] and
// that of the context.
func (p *Planner) Routes(ctx context.Context, r RouteRequest) (*Routes, error) {
	if r.Alternatives < 0 || r.Alternatives > choosing.MaxAlternatives {
		return nil, fail("alternatives", fmt.Sprint(r.Alternatives), fmt.Sprintf("is no number from 0 to %d", choosing.MaxAlternatives), "give one")
	}
	if r.Given != nil {
		return p.difference(ctx, r)
	}
	b, err := p.newBuilder(r.Request)
	if err != nil {
		return nil, err
	}
	out := &Routes{}
	if out.Order, err = b.chooses.Order(ctx, r.AnyOrder); err != nil {
		return nil, err
	}
	b.request.Stops = b.chooses.Stops
	found, err := b.best(ctx)
	if err != nil {
		return nil, err
	}
	if out.Best, err = b.complete(b.waysOf(found)); err != nil {
		return nil, err
	}
	o := &options{b: b, out: out, taken: [][]search.Path{found}}
	if err := o.all(ctx, r); err != nil {
		return nil, err
	}
	return out, nil
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
		Plan: plan, New: choosing.Share(paths, o.taken), Extra: plan.Length - best.Length, ExtraUnknowns: plan.Verdict.Unknowns - best.Verdict.Unknowns,
		ExtraTime: plan.Time.Sub(best.Time),
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
	slices.SortStableFunc(o.out.Others, func(a, b Option) int { return cmp.Compare(a.Plan.Time.Duration, b.Plan.Time.Duration) })
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

// Difference is how a given route differs from the best way between its ends.
type Difference struct {
	Best      *Plan
	Extra     measure.Distance // of the given route
	ExtraTime driving.Duration
	Apart     []Stretch  // of the given route, where it leaves the best way
	Why       say.Remark // why there is nothing to compare
}

// Stretch is a part of a route.
type Stretch struct {
	Roads  []string
	At     measure.Distance // from the start of the given route
	Length measure.Distance
}

// difference checks a given route as it is and compares it with the best way.
func (p *Planner) difference(ctx context.Context, r RouteRequest) (*Routes, error) {
	b, err := p.newBuilder(r.Request)
	if err != nil {
		return nil, err
	}
	ways, err := b.ways(ctx)
	if err != nil {
		return nil, err
	}
	out := &Routes{Difference: &Difference{}}
	if out.Best, err = b.complete(ways); err != nil {
		return nil, err
	}
	d := out.Difference
	free := r.Request
	free.Given = nil
	free.Stops = ends(r.Request, out.Best)
	best, err := p.Routes(ctx, RouteRequest{Request: free})
	var refused *RequestError
	if errors.As(err, &refused) {
		d.Why = say.That("routes.refused", "field", refused.Field, "value", refused.Value, "problem", refused.Problem,
			"because", refused.Because, "fix", refused.Fix)
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	d.Best = best.Best
	if !d.Best.Passable {
		d.Best, d.Why = nil, say.That("routes.ends_shut")
		return out, nil
	}
	d.Extra = out.Best.Length - d.Best.Length
	d.ExtraTime = out.Best.Time.Sub(d.Best.Time)
	d.Apart = b.apart(ways, d.Best)
	return out, nil
}

// ends are the stops at the ends of a given route.
func ends(r Request, p *Plan) []choosing.Stop {
	if len(r.Stops) >= 2 {
		return []choosing.Stop{r.Stops[0], r.Stops[len(r.Stops)-1]}
	}
	first, last := p.Legs[0], p.Legs[len(p.Legs)-1]
	return []choosing.Stop{
		{Label: "start of the given route", Point: first.Line[0]}, {Label: "end of the given route", Point: last.Line[len(last.Line)-1]},
	}
}

// apart lists the stretches of a given route that a plan does not drive.
func (b *builder) apart(given []way, best *Plan) (out []Stretch) {
	used := map[network.EdgeID]bool{}
	for _, e := range best.edges {
		used[e] = true
	}
	at, on := measure.Distance(0), false
	for _, w := range given {
		for _, p := range w.Pieces {
			if used[p.Arc.Edge()] {
				on = false
			} else {
				if !on {
					out = append(out, Stretch{At: at})
				}
				s := &out[len(out)-1]
				s.Length += p.Length()
				if name := b.Network.RoadName(p.Arc.Edge()); len(s.Roads) == 0 || s.Roads[len(s.Roads)-1] != name {
					s.Roads = append(s.Roads, name)
				}
				on = true
			}
			at += p.Length()
		}
	}
	return out
}
