package trip

import (
	"context"
	"errors"
	"slices"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/timetable"
)

// run is a way that is driven with one unit, or with none.
type run struct {
	move   int // -1: the tow vehicle alone
	asks   Request
	b      *builder
	ways   []way
	of     timetable.Journey
	timed  bool // every part has a known time
	parted bool // what follows begins at a stop of its own, though it is the same place
}

func (r *run) within(err error) error {
	if r.move >= 0 {
		return within(r.move, err)
	}
	return err
}

// look finds the way of a run that departs at some time.
func (m *moving) look(ctx context.Context, r *run, departure time.Time) error {
	r.asks.Departure, r.asks.Local = departure, false
	var err error
	if r.b, err = m.newBuilder(r.asks); err != nil {
		return r.within(err)
	}
	r.b.until, r.b.bare = m.until, r.move < 0
	if r.ways, err = r.b.ways(ctx); err != nil {
		return r.within(err)
	}
	_, r.of, r.timed = r.b.journey(r.ways, r.b.cuts(r.ways))
	r.timed = r.timed && !r.b.plan.Waits
	if r.timed && r.move >= 0 {
		if ready := m.ready[r.move]; ready.After(r.of.Stops[0].Until) {
			r.of.Stops[0].Until = ready.In(r.of.Stops[0].Zone)
		}
	}
	return nil
}

// prepare finds the ways of all units.
func (m *moving) prepare(ctx context.Context) error {
	m.until = m.departure
	for i, of := range m.Moves {
		visits, err := m.visits(&of.Asks)
		if err != nil {
			return within(i, err)
		}
		for _, v := range visits {
			for _, at := range []time.Time{v.From, v.By, v.Until, m.ready[i]} {
				if at.After(m.until) {
					m.until = at
				}
			}
		}
	}
	for i, of := range m.Moves {
		visits, err := m.visits(&of.Asks)
		if err != nil {
			return within(i, err)
		}
		m.until = m.until.Add(staying(visits) + 6*of.Asks.underway())
	}
	for i := range m.Moves {
		asks, err := m.inOrder(ctx, m.Moves[i].Asks)
		if err != nil {
			return within(i, err)
		}
		r := &run{move: i, asks: asks}
		if err := m.look(ctx, r, m.departure); err != nil {
			return err
		}
		m.loaded = append(m.loaded, r)
	}
	return nil
}

// alone is the run of the tow vehicle from one stop to another; nil where they are one place.
func (m *moving) alone(ctx context.Context, from, to choosing.Stop) (*run, error) {
	if from.Point == to.Point {
		return nil, nil
	}
	from.Visit, to.Visit = choosing.Visit{}, choosing.Visit{}
	asks := m.Moves[0].Asks
	asks.Name, asks.Rig = "", asks.Rig.WithoutUnit()
	asks.Stops, asks.Done = []choosing.Stop{from, to}, nil
	r := &run{move: -1, asks: asks}
	return r, m.look(ctx, r, m.departure)
}

func (r *run) first() *choosing.Stop { return &r.asks.Stops[0] }
func (r *run) last() *choosing.Stop  { return &r.asks.Stops[len(r.asks.Stops)-1] }

// order puts the moves in the order whose timetable is the best. Ways are those of the
// departure.
func (m *moving) order(ctx context.Context) error {
	for i := range m.Moves {
		m.out.Order = append(m.out.Order, i)
	}
	timed := !slices.ContainsFunc(m.loaded, func(r *run) bool { return !r.timed })
	if m.AnyOrder && len(m.Moves) > 1 {
		m.out.Sure = false
		if timed {
			tour, err := m.tour(ctx)
			if err != nil {
				return err
			}
			best, err := tour.Best(ctx)
			if err != nil {
				return err
			}
			if best.Order != nil {
				m.out.Order = m.movesOf(best.Order)
				m.out.Given, m.out.Sure = &Dates{best.Outcome, best.Given}, best.All
			}
		}
	}
	return m.chain(ctx)
}

// tour is the journey of all moves as one of stops: those of a move follow each other, and
// from the last of one the tow vehicle goes to the first of another.
func (m *moving) tour(ctx context.Context) (out timetable.Tour, err error) {
	from := make([]int, len(m.Moves)) // number of the first stop of each move
	zone := m.loaded[0].of.Stops[0].Zone
	if m.Base != nil {
		zone = m.Zone(m.Areas.At(m.Base.Point))
	}
	end := timetable.Stop{Zone: zone}
	stops := []timetable.Stop{end}
	for i, r := range m.loaded {
		from[i] = len(stops)
		stops = append(stops, r.of.Stops...)
	}
	stops = append(stops, end)
	out.Journey = timetable.Journey{Depart: m.departure, Stops: stops, Crew: m.loaded[0].of.Crew,
		Habits: m.loaded[0].of.Habits}
	out.Ways = make([][]timetable.Drive, len(stops))
	for i := range out.Ways {
		out.Ways[i] = make([]timetable.Drive, len(stops))
	}
	for i, r := range m.loaded {
		for k, drive := range r.of.Drives {
			out.Ways[from[i]+k][from[i]+k+1] = drive
		}
		over := from[i] + len(r.of.Drives)
		if out.Ways[0][from[i]], err = m.between(ctx, m.Base, r.first()); err != nil {
			return out, err
		}
		var base *choosing.Stop
		if m.Back {
			base = m.Base
		}
		if out.Ways[over][len(stops)-1], err = m.between(ctx, r.last(), base); err != nil {
			return out, err
		}
		for k, next := range m.loaded {
			if k == i {
				continue
			}
			if out.Ways[over][from[k]], err = m.between(ctx, r.last(), next.first()); err != nil {
				return out, err
			}
		}
	}
	return out, nil
}

// between is the drive of the tow vehicle alone, nothing to drive where either end is left
// open, nil where no way leads there or its time is not known.
func (m *moving) between(ctx context.Context, from, to *choosing.Stop) (timetable.Drive, error) {
	if from == nil || to == nil {
		return timetable.Drive{}, nil
	}
	r, err := m.alone(ctx, *from, *to)
	var refused *measure.FieldError
	switch {
	case errors.As(err, &refused):
		return nil, nil
	case err != nil:
		return nil, err
	case r == nil:
		return timetable.Drive{}, nil
	case !r.timed:
		return nil, nil
	}
	return r.of.Drives[0], nil
}

// movesOf are the moves in an order of their stops.
func (m *moving) movesOf(stops []int) (out []int) {
	at := 1
	begins := map[int]int{}
	for i, r := range m.loaded {
		begins[at] = i
		at += len(r.asks.Stops)
	}
	for _, s := range stops {
		if i, ok := begins[s]; ok {
			out = append(out, i)
		}
	}
	return out
}

// chain puts the runs in a row.
func (m *moving) chain(ctx context.Context) error {
	at := m.Base
	goes := func(to *choosing.Stop) error {
		if at == nil {
			return nil
		}
		r, err := m.alone(ctx, *at, *to)
		switch {
		case r != nil:
			m.row = append(m.row, r)
		case len(m.row) > 0:
			m.row[len(m.row)-1].parted = true
		}
		return err
	}
	for _, i := range m.out.Order {
		r := m.loaded[i]
		if err := goes(r.first()); err != nil {
			return err
		}
		m.row, at = append(m.row, r), r.last()
	}
	if m.Back && m.Base != nil {
		return goes(m.Base)
	}
	return nil
}

// settle makes the timetable of the row, and seeks its runs again at the hours at which they
// depart by it, until these stay.
func (m *moving) settle(ctx context.Context) error {
	for range mostTimings {
		if err := m.together(); err != nil || m.table == nil || m.table.never() {
			return err
		}
		moved, first := false, 0
		for _, r := range m.row {
			if at := m.table.Calls[first].Leave.Slow; !at.IsZero() && !at.Equal(r.asks.Departure) {
				moved = true
				if err := m.look(ctx, r, at); err != nil {
					return err
				}
			}
			first = r.after(first)
		}
		if !moved {
			m.out.Steady = true
			return nil
		}
	}
	return m.together()
}

// after is the number of the stop at which what follows a run begins.
func (r *run) after(first int) int {
	if r.parted {
		first++
	}
	return first + len(r.asks.Stops) - 1
}

// together makes the timetable of the runs in a row, none where a part has no known time.
func (m *moving) together() error {
	if m.table = nil; slices.ContainsFunc(m.row, func(r *run) bool { return !r.timed }) {
		return nil
	}
	j := timetable.Journey{Depart: m.departure, Crew: m.row[0].of.Crew, Habits: m.row[0].of.Habits}
	for i, r := range m.row {
		stops := r.of.Stops
		switch {
		case i == 0:
		case m.row[i-1].parted: // one unit is left where the next one stands
			j.Drives = append(j.Drives, timetable.Drive{})
		case r.move < 0: // it begins where a unit was left
			stops = stops[1:]
		default: // the tow vehicle came to where the unit stands
			j.Stops = j.Stops[:len(j.Stops)-1]
		}
		j.Stops, j.Drives = append(j.Stops, stops...), append(j.Drives, r.of.Drives...)
	}
	table, err := timetable.Plan(j)
	if err == nil {
		m.table = &Timetable{Journey: j, Table: *table}
	}
	return err
}

// never reports whether it does not reach its end.
func (t *Timetable) never() bool { return t.Missed != nil && t.Missed.Never }
