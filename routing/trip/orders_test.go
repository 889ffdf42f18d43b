package trip

import (
	"slices"
	"testing"
	"time"

	"wayhouse/regs/rates"
	"wayhouse/routing/trip/quote"
	"wayhouse/routing/trip/timetable"
)

// comesTo is what the timetable of a plan misses in all, and when it is over.
func comesTo(t *testing.T, p *Plan) (late time.Duration, over time.Time) {
	t.Helper()
	if p.Timetable == nil || p.Timetable.Arrival.Slow.IsZero() {
		t.Fatal("no timetable to the end")
	}
	for _, c := range p.Timetable.Calls {
		late += c.Late
	}
	return late, p.Timetable.Over.Slow
}

// mixed is the tour with a further place, its stops given as nobody would drive them, and a
// departure.
func mixed() Request {
	r := tour()
	r.Stops[2].Visit.Until = r.Stops[2].Visit.By
	more := r.Stops[3]
	more.Label, more.Point = "Montréal, QC", [2]float64{-73.58781, 45.50884}
	more.Visit.Stay = 2 * time.Hour
	r.Stops = slices.Insert(r.Stops, 1, r.Stops[2], more)
	r.Stops = slices.Delete(r.Stops, 4, 5)
	r.Departure, r.Local, r.Backwards = time.Date(2027, 5, 13, 8, 0, 0, 0, time.UTC), true, false
	return r
}

// In the order that is chosen a tour misses no more than in any other, and is over no later: every
// order is planned as it is.
func TestOrderUnderDates(t *testing.T) {
	p, r := lawful(t), mixed()
	r.AnyOrder = true
	got := plan(t, p, r)
	o := got.Order
	if o == nil || o.Dates == nil || !o.Changed() || len(o.Open) > 0 {
		t.Fatalf("order %+v", o)
	}
	least, first := comesTo(t, got)
	if least != 0 || o.Dates.Chosen.Late != least || !o.Dates.Chosen.Over.Equal(first) {
		t.Errorf("late %v, over %v: %+v", least, first, o.Dates)
	}
	between := r.Stops[1 : len(r.Stops)-1]
	orders(len(between), func(order []int) {
		one := r
		one.AnyOrder, one.Stops = false, nil
		one.Stops = append(one.Stops, r.Stops[0])
		for _, i := range order {
			one.Stops = append(one.Stops, between[i])
		}
		one.Stops = append(one.Stops, r.Stops[len(r.Stops)-1])
		table, err := p.scheduled(t.Context(), one)
		if err != nil { // refused: a deadline before a stop that is not left until later
			return
		}
		late, over := comesTo(t, &Plan{Timetable: table})
		if late < least || late == least && over.Before(first) {
			t.Errorf("order %v is %v late and over at %v, the chosen one %v and %v", order, late, over, least, first)
		}
		if slices.IsSorted(order) && (late != o.Dates.Given.Late || !over.Equal(o.Dates.Given.Over)) {
			t.Errorf("as given %v late and over at %v, not %+v", late, over, o.Dates.Given)
		}
	})
}

// Where a given order misses a deadline another one is tried.
func TestAnotherOrderMeetsADeadline(t *testing.T) {
	p, r := lawful(t), mixed()
	r.Stops[1].Visit.Until, r.Stops[1].Visit.Nights = r.Stops[1].Visit.From, 2 // no date that refuses the given order
	got := plan(t, p, r)
	if got.Order != nil || got.Timetable.Missed == nil {
		t.Fatalf("order %+v, missed %+v", got.Order, got.Timetable.Missed)
	}
	i := slices.IndexFunc(
		got.Timetable.Missed.Would,
		func(w timetable.Remedy) bool { return w.Kind == timetable.AnotherOrder },
	)
	if i < 0 || !got.Timetable.Missed.Would[i].Does {
		t.Fatalf("would %+v", got.Timetable.Missed.Would)
	}
	order := got.Timetable.Missed.Would[i].Order
	if !slices.Equal(slices.Sorted(slices.Values(order)), []int{0, 1, 2, 3, 4}) {
		t.Fatalf("order %v", order)
	}
	if other := plan(t, p, r.ordered(&Order{Stops: order})); other.Timetable.Missed != nil {
		t.Errorf("in the order %v it misses %+v", order, other.Timetable.Missed)
	}
	r.AnyOrder = true // then there is nothing to try
	if got := plan(t, p, r); got.Timetable.Missed != nil || !slices.Equal(got.Order.Stops, order) {
		t.Errorf("order %+v, missed %+v", got.Order, got.Timetable.Missed)
	}
}

// A truck that ends where it began has no empty way back that could be charged; of another one
// that is not known until it is said.
func TestHomeHasNoWayBack(t *testing.T) {
	for _, home := range []bool{true, false} {
		p := &Plan{Home: home}
		back := slices.ContainsFunc(p.Work(Deal{}).Parts, func(q quote.Part) bool { return q.Item == rates.Return })
		if back == home {
			t.Errorf("home %t: a way back %t", home, back)
		}
	}
}
