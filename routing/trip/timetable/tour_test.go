package timetable

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// tourOf is a small tour of which some stops have dates.
func tourOf(t *rapid.T, most int) Tour {
	n := rapid.IntRange(2, most).Draw(t, "stops between") + 2
	minutes := func(name string, low, high int) time.Duration {
		return time.Duration(rapid.IntRange(low, high).Draw(t, name)) * 10 * m
	}
	limits := rapid.SampledFrom([]Limits{{}, planning(), canadaSouth(), usProperty()}).Draw(t, "limits")
	var hours *Hours
	if rapid.Bool().Draw(t, "daylight") {
		hours = &Hours{}
		for d := range 40 {
			if d%7 != 3 || rapid.Bool().Draw(t, "open that day") {
				hours.Spans = append(hours.Spans, Span{From: at(float64(24*d + 7)), To: at(float64(24*d + 17))})
			}
		}
	}
	out := Tour{
		Journey: Journey{Depart: at(0), Crew: Crew{Drivers: rapid.IntRange(1, 2).Draw(t, "drivers")}, Habits: Habits{
			NotDriven: minutes("not driven", 0, 1), CheckFirst: Interval{Way: 50_000}, Check: 10 * m, Morning: 7 * h,
			FuelEvery: 300_000, Fuel: 20 * m,
		}},
	}
	for range n {
		stop := Stop{Zone: time.UTC, SetUp: minutes("set up", 0, 6), Packing: minutes("packing", 0, 6)}
		switch rapid.IntRange(0, 5).Draw(t, "dated") {
		case 0:
			stop.By = at(0).Add(minutes("by", 30, 700))
		case 1:
			stop.From = at(0).Add(minutes("from", 0, 500))
			stop.By = stop.From.Add(minutes("window", 0, 60))
		case 2:
			stop.Until = at(0).Add(minutes("until", 0, 500))
		case 3:
			stop.Nights = rapid.IntRange(1, 2).Draw(t, "nights")
		case 4:
			stop.Stay = minutes("stay", 0, 80)
		}
		out.Stops = append(out.Stops, stop)
	}
	for i := range n {
		out.Ways = append(out.Ways, make([]Drive, n))
		for k := range n {
			if i == k || rapid.IntRange(0, 9).Draw(t, "no way") == 0 {
				continue
			}
			for range rapid.IntRange(1, 2).Draw(t, "sections") {
				slow := minutes("drive", 1, 60)
				out.Ways[i][k] = append(out.Ways[i][k], Section{Slow: slow, Likely: slow * 9 / 10, Zone: time.UTC,
					Length: 1000, Hours: hours, Limits: limits})
			}
		}
	}
	return out
}

// all are the outcomes of every order, the best first.
func (t *Tour) all(tb rapid.TB) (best Outcome) {
	best.Never = true
	var try func(begun, left []int)
	try = func(begun, left []int) {
		if len(left) > 0 {
			for i, stop := range left {
				try(append(slices.Clone(begun), stop), slices.Delete(slices.Clone(left), i, i+1))
			}
			return
		}
		if got := t.planned(tb, append(begun, len(t.Stops)-1)); got.Compare(best) < 0 {
			best = got
		}
	}
	var between []int
	for i := 1; i < len(t.Stops)-1; i++ {
		between = append(between, i)
	}
	try([]int{0}, between)
	return best
}

// planned is what the table of an order comes to.
func (t *Tour) planned(tb rapid.TB, order []int) (out Outcome) {
	for i := range order[1:] {
		if t.Ways[order[i]][order[i+1]] == nil {
			return Outcome{Never: true}
		}
	}
	j := t.along(order, t.Ways)
	if err := j.check(); err != nil {
		tb.Fatal(err)
	}
	table := newLine(&j).table(upTo(j.Depart))
	if table.Arrival.Slow.IsZero() {
		return Outcome{Never: true}
	}
	for _, c := range table.Calls {
		out.Late += c.Late
	}
	for _, d := range j.Drives {
		for _, s := range d {
			out.Driving += s.Likely
		}
	}
	out.Over = table.Over.Slow
	return out
}

// No order of all that there are has a better timetable than the one that is found.
func TestNoOrderIsBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tour := tourOf(t, 3)
		got, err := tour.Best(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		best := tour.all(t)
		if best.Never {
			if got.Order != nil {
				t.Fatalf("order %v, and none leads through", got.Order)
			}
			return
		}
		if !got.All || got.Order == nil || got.Compare(best) != 0 {
			t.Fatalf("order %v comes to %+v, the best to %+v", got.Order, got.Outcome, best)
		}
		if planned := tour.planned(t, got.Order); planned.Compare(best) != 0 {
			t.Fatalf("the table of %v comes to %+v, not %+v", got.Order, planned, best)
		}
		var given []int
		for i := range tour.Stops {
			given = append(given, i)
		}
		if as := tour.planned(t, given); as.Compare(got.Given) != 0 {
			t.Fatalf("as given it comes to %+v, not %+v", got.Given, as)
		}
		if got.Given.Compare(best) == 0 && !slices.Equal(got.Order, given) {
			t.Fatalf("order %v is no better than the given one", got.Order)
		}
	})
}
