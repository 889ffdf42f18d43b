package trip

import (
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

// Routes finds the best way and others beside it. Errors are [*RequestError] and
// that of the context.
func (p *Planner) Routes(ctx context.Context, r RouteRequest) (*Routes, error) {
	if r.Alternatives < 0 || r.Alternatives > choosing.MaxAlternatives {
		return nil, fail("alternatives", fmt.Sprint(r.Alternatives),
			say.That("error.no_number_to", "bound", choosing.MaxAlternatives), say.That("fix.give_one"))
	}
	asked := r.Request
	var err error
	if r.Request, err = p.inOrder(ctx, asked); err == nil {
		r.Request, err = p.leaving(ctx, r.Request)
	}
	if err != nil {
		return nil, err
	}
	if r.Given != nil {
		return p.difference(ctx, r)
	}
	b, err := p.newBuilder(r.Request)
	if err != nil {
		return nil, err
	}
	out := &Routes{}
	for i := range r.Stops {
		out.Order = append(out.Order, i)
	}
	if r.order != nil {
		out.Order = r.order.Stops
	}
	found, err := b.best(ctx)
	if err != nil {
		return nil, err
	}
	if out.Best, err = b.complete(b.waysOf(found)); err != nil {
		return nil, err
	}
	if err := p.otherOrder(ctx, asked, out.Best); err != nil {
		return nil, err
	}
	o := &options{b: b, out: out, taken: [][]search.Path{found}}
	if err := o.all(ctx, r); err != nil {
		return nil, err
	}
	return out, nil
}

// RestsOnInvented reports whether any way or reason rests on what was made up.
func (r *Routes) RestsOnInvented() bool {
	plans := []*Plan{r.Best}
	for _, o := range r.Others {
		plans = append(plans, o.Plan)
	}
	for _, o := range []*Option{r.Free, r.Without} {
		if o != nil {
			plans = append(plans, o.Plan)
		}
	}
	if d := r.Difference; d != nil && d.Best != nil {
		plans = append(plans, d.Best)
	}
	return slices.ContainsFunc(plans, (*Plan).RestsOnInvented) || r.Reasons != nil && r.Reasons.RestsOnInvented()
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
	Roads  []say.Remark
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
			"fix", refused.Fix)
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
		{Label: "start of the given route", Point: first.Line[0]}, {
			Label: "end of the given route", Point: last.Line[len(last.Line)-1],
		},
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
				name := b.Network.RoadName(p.Arc.Edge())
				if len(s.Roads) == 0 || s.Roads[len(s.Roads)-1].String() != name.String() {
					s.Roads = append(s.Roads, name)
				}
				on = true
			}
			at += p.Length()
		}
	}
	return out
}
