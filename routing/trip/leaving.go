package trip

import (
	"context"
	"time"

	"wayhouse/routing/trip/timetable"
)

// leaving settles when a trip departs that names deadlines and no departure: as late as
// they let it, and not before the departure of the request.
func (p *Planner) leaving(ctx context.Context, r Request) (Request, error) {
	if !r.Backwards {
		return r, nil
	}
	visits, err := p.visits(&r)
	if err != nil {
		return r, err
	}
	b, err := p.newBuilder(r.early(visits))
	if err != nil {
		return r, err
	}
	ways, err := b.ways(ctx)
	if err != nil {
		return r, err
	}
	t, _, err := b.schedule(ways, b.cuts(ways))
	if err == nil && t != nil && t.Departure.After(r.Departure) {
		r.Departure = t.Departure
	} else {
		r.AtOnce = true
	}
	r.Backwards = false
	return r, err
}

// early is a request that departs in any case in time for its first deadline, where it names no
// departure.
func (r Request) early(visits []timetable.Stop) Request {
	by := firstDeadline(visits)
	long := 2*r.underway() + staying(visits) + time.Duration(len(visits))*24*time.Hour
	if guess := by.Add(-long); r.Backwards && guess.After(r.Departure) {
		r.Departure = guess.In(by.Location())
	}
	return r
}

func firstDeadline(stops []timetable.Stop) (by time.Time) {
	for _, s := range stops {
		if !s.By.IsZero() && (by.IsZero() || s.By.Before(by)) {
			by = s.By
		}
	}
	return by
}

// staying is how long a trip stays at its stops at the least, but for their dates.
func staying(stops []timetable.Stop) (long time.Duration) {
	for _, s := range stops {
		long += s.Stay + s.SetUp + s.Packing + time.Duration(s.Nights)*24*time.Hour
	}
	return long
}
