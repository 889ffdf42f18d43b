package trip

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/driving"
)

// RouteRequest asks for ways and not only for one.
type RouteRequest struct {
	Request
	Alternatives int  // how many beside the best, up to MaxAlternatives
	Reasons      bool // what bent the way, and what that costs
	AnyOrder     bool // the stops between the first and the last in the order that takes least
}

// Bounds of alternatives: how many there are, by how much longer each may take,
// and how much of it no way before has.
const (
	MaxAlternatives = 3
	mostLonger      = 0.25
	leastNew        = 0.20
	// A road that a way before has costs this share more for each that has it.
	usedPenalty     = 0.4
	penaltySearches = 40 // for alternatives, of all legs together; of many legs two turns all the same
)

// Routes are the ways of a journey.
type Routes struct {
	Best    *Plan
	Order   []int    // numbers of the stops as they are driven
	Others  []Option // alternatives, the soonest first
	Free    *Option  // the way of a rig that nothing shuts out; nil where it is the best
	Without *Option  // the best way without a permit; nil where there is none, or it is the best
	// WithoutWhy says why there is no Without.
	WithoutWhy string
	Reasons    *Reasons    // nil where not asked for
	Difference *Difference // of a given route from the best; nil where none was given
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
	if r.Alternatives < 0 || r.Alternatives > MaxAlternatives {
		return nil, fail("alternatives", fmt.Sprint(r.Alternatives), fmt.Sprintf("is no number from 0 to %d", MaxAlternatives), "give one")
	}
	if r.Given != nil {
		return p.difference(ctx, r)
	}
	b, err := p.newBuilder(r.Request)
	if err != nil {
		return nil, err
	}
	at, err := b.snapStops()
	if err != nil {
		return nil, err
	}
	out := &Routes{}
	if out.Order, err = b.order(ctx, at, r.AnyOrder); err != nil {
		return nil, err
	}
	b.reorder(at, out.Order)
	ways, err := b.routed(ctx)
	if err != nil {
		return nil, err
	}
	if out.Best, err = b.complete(ways); err != nil {
		return nil, err
	}
	o := &options{b: b, at: b.snapped, best: ways, out: out}
	if err := o.all(ctx, r); err != nil {
		return nil, err
	}
	return out, nil
}

// reorder puts the stops in another order.
func (b *builder) reorder(at []network.Snapped, order []int) {
	stops, offRoads, snapped := b.request.Stops, b.offRoads, at
	b.request.Stops, b.offRoads, b.snapped = nil, nil, nil
	for _, i := range order {
		b.request.Stops = append(b.request.Stops, stops[i])
		b.offRoads, b.snapped = append(b.offRoads, offRoads[i]), append(b.snapped, snapped[i])
	}
}

// options finds ways beside the best one.
type options struct {
	b     *builder
	at    []network.Snapped
	best  []way
	out   *Routes
	taken [][]way // the best and the alternatives
}

func (o *options) all(ctx context.Context, r RouteRequest) error {
	o.taken = [][]way{o.best}
	for _, find := range []func(context.Context) error{
		func(ctx context.Context) error { return o.alternatives(ctx, r.Alternatives) }, o.free, o.without,
		func(ctx context.Context) error { return o.reasons(ctx, r.Reasons) },
	} {
		if err := find(ctx); err != nil {
			return err
		}
	}
	return nil
}

// ways finds the way between all stops under terms.
func (o *options) ways(ctx context.Context, t terms) ([]way, error) {
	var out []way
	o.b.after = 0
	for i := 1; i < len(o.at); i++ {
		path, err := o.b.first(ctx, o.at[i-1].Position, o.at[i].Position, t)
		if err != nil {
			return nil, err
		}
		out = append(out, o.b.wayOf(i, path))
		o.b.after += path.Cost
	}
	return out, nil
}

// wayOf is the way to a stop from the one before.
func (b *builder) wayOf(i int, path search.Path) way {
	return way{
		from: b.request.Stops[i-1].Label, to: b.request.Stops[i].Label, Way: driving.Way{Pieces: b.travelled(path.Pieces)}, starts: true, stops: true,
		access: [2]string{b.offRoads[i-1], b.offRoads[i]}, cost: path.Cost,
	}
}

// option plans ways and compares them with the best.
func (o *options) option(ways []way) (Option, error) {
	o.b.begin()
	plan, err := o.b.complete(ways)
	if err != nil {
		return Option{}, err
	}
	best := o.out.Best
	out := Option{
		Plan: plan, New: share(ways, o.taken), Extra: plan.Length - best.Length, ExtraUnknowns: plan.Verdict.Unknowns - best.Verdict.Unknowns,
		ExtraTime: plan.Time.Sub(best.Time),
	}
	there, here := asking(best), asking(plan)
	out.Permits, out.Spared = beyond(here, there), beyond(there, here)
	return out, nil
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

// share returns how much of ways, by length, none of others has.
func share(ways []way, others [][]way) float64 {
	used := map[network.EdgeID]bool{}
	for _, other := range others {
		for _, w := range other {
			for _, p := range w.Pieces {
				used[p.Arc.Edge()] = true
			}
		}
	}
	var fresh, all measure.Distance
	for _, w := range ways {
		for _, p := range w.Pieces {
			all += p.Length()
			if !used[p.Arc.Edge()] {
				fresh += p.Length()
			}
		}
	}
	if all == 0 {
		return 0
	}
	return float64(fresh / all)
}

// alternatives finds ways that differ: roads that ways before have become dearer,
// and what is then cheapest is one if it takes not much longer and is new enough
// (the penalty method; Y. Chen, M. Bell, K. Bogenberger, "Reliable Pretrip
// Multipath Planning and Dynamic Adaptation for a Centralized Road Navigation
// System", IEEE Transactions on Intelligent Transportation Systems 8, 2007).
func (o *options) alternatives(ctx context.Context, most int) error {
	used := map[network.EdgeID]int{}
	count := func(ways []way) {
		seen := map[network.EdgeID]bool{} // an edge that several legs drive counts once
		for _, w := range ways {
			for _, p := range w.Pieces {
				if e := p.Arc.Edge(); !seen[e] {
					seen[e] = true
					used[e]++
				}
			}
		}
	}
	count(o.best)
	dearer := func(p network.Piece, cost search.Millis) search.Millis {
		return cost + search.Millis(usedPenalty*float64(cost)*float64(used[p.Arc.Edge()]))
	}
	for turn := 0; turn < max(penaltySearches/len(o.best), 2) && len(o.out.Others) < most && o.out.Best.Passable; turn++ {
		ways, err := o.ways(ctx, terms{dearer: dearer})
		if errors.Is(err, search.ErrNoRoute) {
			return nil
		}
		if err != nil {
			return err
		}
		count(ways)
		longer := float64(o.b.drivingOf(ways)) / float64(max(o.b.drivingOf(o.best), 1))
		if longer > 1+mostLonger || share(ways, o.taken) < leastNew {
			continue
		}
		option, err := o.option(ways)
		if err != nil {
			return err
		}
		o.out.Others, o.taken = append(o.out.Others, option), append(o.taken, ways)
	}
	slices.SortStableFunc(o.out.Others, func(a, b Option) int { return cmp.Compare(a.Plan.Time.Duration, b.Plan.Time.Duration) })
	return nil
}

// drivingOf is the driving time of ways, unknown speeds as the search takes them.
func (b *builder) drivingOf(ways []way) (sum search.Millis) {
	for _, w := range ways {
		for _, p := range w.Pieces {
			sum += search.Millis(b.Network.Millis(p, b.request.Wishes.Top))
		}
	}
	return sum
}

// free finds the way of a rig that no structure and no sign shuts out.
func (o *options) free(ctx context.Context) error {
	ways, err := o.ways(ctx, terms{lifted: isOfRoad})
	if errors.Is(err, search.ErrNoRoute) || err == nil && sameWays(ways, o.best) {
		return nil
	}
	if err != nil {
		return err
	}
	o.b.unhindered = true
	option, err := o.option(ways)
	o.b.unhindered = false
	if err != nil {
		return err
	}
	option.Plan.Passable = false // what shuts the rig out did not count
	o.out.Free = &option
	return nil
}

func sameWays(a, b []way) bool {
	return slices.EqualFunc(a, b, func(a, b way) bool { return slices.Equal(a.Pieces, b.Pieces) })
}

// without finds the best way on which no permit is asked for.
func (o *options) without(ctx context.Context) error {
	if !o.out.Best.Passable {
		o.out.WithoutWhy = "every way is shut to the rig"
		return nil
	}
	if len(o.out.Best.Permits) == 0 {
		o.out.WithoutWhy = "the best way asks for none as far as the tables know"
		return nil
	}
	ways, err := o.ways(ctx, terms{unpermitted: true})
	if errors.Is(err, search.ErrNoRoute) {
		o.out.WithoutWhy = "every way goes where a permit is asked for"
		return nil
	}
	if err != nil {
		return err
	}
	option, err := o.option(ways)
	if err != nil {
		return err
	}
	if asked := asking(option.Plan); len(asked) > 0 {
		o.out.WithoutWhy = fmt.Sprintf("the best that was found still asks for one: %v", asked)
		return nil
	}
	o.out.Without = &option
	return nil
}

// Difference is how a given route differs from the best way between its ends.
type Difference struct {
	Best      *Plan
	Extra     measure.Distance // of the given route
	ExtraTime driving.Duration
	Apart     []Stretch // of the given route, where it leaves the best way
	Why       string    // why there is nothing to compare
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
		d.Why = refused.Error()
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	d.Best = best.Best
	if !d.Best.Passable {
		d.Best, d.Why = nil, "every way between its ends is shut to the rig"
		return out, nil
	}
	d.Extra = out.Best.Length - d.Best.Length
	d.ExtraTime = out.Best.Time.Sub(d.Best.Time)
	d.Apart = b.apart(ways, d.Best)
	return out, nil
}

// ends are the stops at the ends of a given route.
func ends(r Request, p *Plan) []Stop {
	if len(r.Stops) >= 2 {
		return []Stop{r.Stops[0], r.Stops[len(r.Stops)-1]}
	}
	first, last := p.Legs[0], p.Legs[len(p.Legs)-1]
	return []Stop{{Label: first.From, Point: first.Line[0]}, {Label: last.To, Point: last.Line[len(last.Line)-1]}}
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
