package trip

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/timetable"
)

// Order is the order that was chosen for the stops of a trip.
type Order struct {
	Stops []int // their numbers, from 0, as they were given
	// Dates are what the timetable of this order and that of the given one come to; nil where the
	// order was chosen by what it takes to drive alone.
	Dates *Dates
	Saves *driving.Duration // of driving, beside the given order; nil with Dates, and where none leads there
	Open  []say.Remark      // why another order may be better all the same; none: none is
}

// Dates are what two orders come to.
type Dates struct{ Chosen, Given timetable.Outcome }

// Says is the order in words, and what it saves beside the given one.
func (o *Order) Says() say.Remark {
	var numbers []string
	for _, i := range o.Stops {
		numbers = append(numbers, strconv.Itoa(i+1))
	}
	above := func(d time.Duration) any {
		if d <= 0 {
			return nil
		}
		return d
	}
	var chosen, given timetable.Outcome
	less, never := time.Duration(0), false
	switch {
	case o.Dates != nil:
		chosen, given, never = o.Dates.Chosen, o.Dates.Given, o.Dates.Given.Never
		less = given.Driving - chosen.Driving
	case o.Saves != nil:
		less = o.Saves.Duration
	}
	sooner := given.Over.Sub(chosen.Over)
	if never {
		less, sooner = 0, 0
	}
	return say.That("order.says", "stops", numbers, "changed", o.Changed(), "never", never, "late", above(chosen.Late),
		"given", above(given.Late), "sooner", above(sooner), "later", above(-sooner), "less", above(less),
		"more", above(-less), "open", o.Open)
}

// Changed reports whether it is another order than the given one.
func (o *Order) Changed() bool { return !slices.IsSorted(o.Stops) }

// inOrder puts the stops of a request that leaves their order open in the best one.
func (p *Planner) inOrder(ctx context.Context, r Request) (Request, error) {
	if !r.AnyOrder || r.Given != nil || len(r.Stops) < 4 {
		return r, nil
	}
	order, err := p.order(ctx, r)
	if err != nil {
		return r, err
	}
	return r.ordered(order), nil
}

// ordered is a request with its stops in some order.
func (r Request) ordered(by *Order) Request {
	stops := r.Stops
	r.Stops, r.order = nil, by
	for _, i := range by.Stops {
		r.Stops = append(r.Stops, stops[i])
	}
	return r
}

// order finds the best order of the stops: where any of them has a date or takes time, that
// whose timetable is the best, from the departure; else that which takes least.
func (p *Planner) order(ctx context.Context, r Request) (*Order, error) {
	r.AnyOrder = true
	visits, err := p.visits(&r)
	if err != nil {
		return nil, err
	}
	b, err := p.newBuilder(r.early(visits))
	if err != nil {
		return nil, err
	}
	if !slices.ContainsFunc(visits, takesTime) {
		return b.cheapest(ctx, nil)
	}
	return b.soonest(ctx)
}

func takesTime(s timetable.Stop) bool {
	return !s.From.IsZero() || !s.By.IsZero() || !s.Until.IsZero() || s.Stay+s.SetUp+s.Packing > 0 || s.Nights > 0
}

// cheapest is the order that takes least to drive.
func (b *builder) cheapest(ctx context.Context, open []say.Remark) (*Order, error) {
	stops, saves, err := b.chooses.Order(ctx)
	return &Order{Stops: stops, Saves: saves, Open: b.openOrder(open)}, err
}

// openOrder adds what no order of legs that are known each by itself can tell.
func (b *builder) openOrder(open []say.Remark) []say.Remark {
	if b.chooses.Timed {
		open = append(open, say.That("order.signs"))
	}
	if b.request.Wishes.Once {
		open = append(open, say.That("order.permits"))
	}
	return open
}

// soonest is the order whose timetable is the best.
func (b *builder) soonest(ctx context.Context) (*Order, error) {
	legs, err := b.chooses.Legs(ctx)
	if err != nil {
		return nil, err
	}
	tour, untimed := b.tour(legs)
	var open []say.Remark
	if untimed {
		open = append(open, say.That("order.no_time"))
	}
	best, err := tour.Best(ctx)
	if err != nil {
		return nil, err
	}
	if best.Order == nil {
		return b.cheapest(ctx, append(open, say.That("order.never")))
	}
	if !best.All {
		open = append(open, say.That("order.not_all"))
	}
	return &Order{Stops: best.Order, Dates: &Dates{best.Outcome, best.Given}, Open: b.openOrder(open)}, nil
}

// tour is the journey with ways between all stops; untimed tells that some was left out since
// no time of it is known.
func (b *builder) tour(legs [][]*search.Path) (out timetable.Tour, untimed bool) {
	out.Journey = timetable.Journey{Depart: b.departure, Stops: slices.Clone(b.visits), Crew: b.request.Crew.Crew,
		Habits: b.habits()}
	all := make([][][]stretch, len(legs))
	cuts, longest, way := make([][][]cut, len(legs)), time.Duration(0), measure.Distance(0)
	for i := range legs {
		all[i], cuts[i] = make([][]stretch, len(legs)), make([][]cut, len(legs))
		long, far := time.Duration(0), measure.Distance(0)
		for k, path := range legs[i] {
			if path == nil {
				continue
			}
			ways := b.between([]choosing.Stop{b.request.Stops[i], b.request.Stops[k]}, []search.Path{*path})
			cuts[i][k] = b.cuts(ways)
			drives, known := b.drivesOf(ways, cuts[i][k])
			if !known {
				untimed = true
				continue
			}
			all[i][k], long = drives[0], max(long, slowOf(drives))
			far = max(far, drivenOf(drives))
		}
		longest, way = longest+long, way+far
	}
	s := &scheduling{builder: b}
	s.span(out.Journey, longest)
	s.way = way
	for i := range all {
		out.Ways = append(out.Ways, make([]timetable.Drive, len(all)))
		for k, drive := range all[i] {
			if drive != nil {
				s.cuts = cuts[i][k]
				out.Ways[i][k] = s.drive(drive)
			}
		}
	}
	return out, untimed
}

// otherOrder tries to meet a deadline that a plan misses by another order of the stops: it is
// planned in it, and its timetable says whether it does.
func (p *Planner) otherOrder(ctx context.Context, r Request, plan *Plan) error {
	t := plan.Timetable
	if t == nil || t.Missed == nil || t.Missed.Before || r.AnyOrder || r.Given != nil || len(r.Stops) < 4 ||
		len(r.Stops) > choosing.MaxReordered+2 {
		return nil
	}
	order, err := p.order(ctx, r)
	if err != nil || order.Dates == nil || !order.Changed() && len(order.Open) > 0 {
		return err // none was found that could be tried
	}
	out := timetable.Remedy{Kind: timetable.AnotherOrder, Late: t.Missed.Late}
	if order.Changed() {
		r.AnyOrder = true // dates may contradict one another in a row, and be missed
		other, err := p.scheduled(ctx, r.ordered(order))
		if err != nil || other == nil || other.Missed != nil && other.Missed.Never {
			return err
		}
		out.Does, out.Order, out.Late = other.Missed == nil, order.Stops, 0
		if other.Missed != nil {
			out.Late = other.Missed.Late
		}
	}
	t.Missed.Would = append(t.Missed.Would, out)
	return nil
}

// scheduled is the timetable of a request alone.
func (p *Planner) scheduled(ctx context.Context, r Request) (*Timetable, error) {
	r, err := p.leaving(ctx, r)
	if err != nil {
		return nil, err
	}
	b, err := p.newBuilder(r)
	if err != nil {
		return nil, err
	}
	ways, err := b.ways(ctx)
	if err != nil {
		return nil, err
	}
	t, _, err := b.schedule(ways, b.cuts(ways))
	return t, err
}

// given is the field of a request that names a stop of a plan, in the order in which they were
// given.
func (r *Request) given(stop int) string {
	if r.order != nil {
		stop = r.order.Stops[stop]
	}
	return fmt.Sprintf("stops[%d]", stop)
}
