package timetable

import (
	"math/rand/v2"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

// anyJourney is one of odd minutes over some days: zones, laws of two countries, closed
// nights, deadlines, checks, a ferry.
func anyJourney(t *rapid.T) Journey {
	zone := zoneOf(t, rapid.SampledFrom([]string{
		"America/Edmonton", "America/Regina", "America/St_Johns", "Australia/Lord_Howe", "UTC",
	}).Draw(t, "zone"))
	depart := time.Date(2026, time.Month(rapid.SampledFrom([]int{3, 7, 11}).Draw(t, "month")), 1, 0, 0,
		rapid.IntRange(0, 14*86400).Draw(t, "at"), 0, zone)
	r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
	minutes := func(most int) time.Duration { return time.Duration(r.IntN(most+1)) * time.Minute }
	chance := func(in int) bool { return r.IntN(in) == 0 }
	all := []Limits{planning(), {}, canadaSouth(), usProperty()}
	habitual := chance(3)
	laws := []Limits{all[r.IntN(2)], all[r.IntN(4)]}
	j := Journey{
		Depart: depart, Stops: []Stop{{Zone: zone, Packing: minutes(90)}}, Crew: Crew{Drivers: 1 + r.IntN(2)},
		Habits: Habits{
			NotDriven: minutes(10), Check: minutes(20), CheckFirst: Interval{Way: 50_000},
			CheckEvery: Interval{Way: 240_000, Driving: 3 * time.Hour}, FuelEvery: 500_000, Fuel: minutes(30),
			Morning: 7 * time.Hour,
		},
	}
	for range 1 + r.IntN(2) {
		var d Drive
		for range 1 + r.IntN(2) {
			slow := minutes(300) + time.Duration(r.IntN(60))*time.Second
			s := Section{Length: measure.Distance(slow.Hours() * 80_000), Slow: slow, Likely: slow * 8 / 10, Zone: zone,
				Limits: laws[r.IntN(len(laws))]}
			if !chance(3) {
				s.Hours = someDays(r, depart)
			}
			if habitual {
				s.Habit = someDays(r, depart)
			}
			if chance(4) {
				s.Pause, s.Waits = minutes(90), Border
			}
			s.Ferry = chance(8)
			d = append(d, s)
		}
		stop := Stop{Zone: zone, SetUp: minutes(120), Stay: minutes(600), Packing: minutes(60)}
		if chance(3) {
			stop.From = depart.Add(minutes(4000))
		}
		if chance(3) {
			stop.By = depart.Add(minutes(6000) + time.Hour)
			if !stop.From.IsZero() {
				stop.By = stop.From.Add(minutes(2000))
			}
		}
		if chance(4) {
			stop.Until = depart.Add(minutes(5000))
		}
		if chance(4) {
			stop.Nights = 1 + r.IntN(2)
		}
		j.Drives, j.Stops = append(j.Drives, d), append(j.Stops, stop)
	}
	return j
}

// someDays are hours of sixty days, with a pause about noon now and then.
func someDays(r *rand.Rand, from time.Time) *Hours {
	h := &Hours{}
	opens, long, noon := r.IntN(10*60), 6*60+r.IntN(8*60), r.IntN(2) == 0
	y, m, d := from.Date()
	for i := range 60 {
		at := time.Date(y, m, d+i, 0, opens, r.IntN(60), 0, from.Location())
		to := at.Add(time.Duration(long) * time.Minute)
		switch {
		case at.Weekday() == time.Sunday:
		case noon:
			h.Spans = append(h.Spans, Span{From: at, To: at.Add(2 * time.Hour)}, Span{From: at.Add(3 * time.Hour), To: to})
		default:
			h.Spans = append(h.Spans, Span{From: at, To: to, IfHolidays: r.IntN(9) == 0})
		}
	}
	return h
}

func plan(t rapid.TB, j Journey) *Table {
	t.Helper()
	table, err := Plan(j)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

func TestNoTableBreaksAWindowOrALimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJourney(t)
		table := plan(t, j)
		if wrong := unlawful(j, table); len(wrong) > 0 {
			t.Fatalf("%v\n%s", wrong[:min(len(wrong), 5)], describe(j, table))
		}
	})
}

func TestALaterDepartureNeverArrivesEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJourney(t)
		for i := range j.Stops {
			j.Stops[i].By = time.Time{}
		}
		before := plan(t, j)
		first := j.Depart
		j.Depart = j.Depart.Add(time.Duration(rapid.IntRange(1, 3000).Draw(t, "later")) * time.Minute)
		// the limits of days count from one midnight, whenever the rig departs
		after := plan(t, j)
		if before.Arrival.Slow.IsZero() || !after.Arrival.Slow.Before(before.Arrival.Slow) {
			return
		}
		if after.Arrival.Slow.IsZero() && after.Missed.Never {
			return // the hours that were looked up end
		}
		t.Fatalf("from %v at %v, from %v at %v\n%s\n%s", first, before.Arrival.Slow, j.Depart, after.Arrival.Slow,
			describe(j, before), describe(j, after))
	})
}

// A journey planned backwards from what it was planned forwards to arrives no later, and
// departs no earlier.
func TestBackwardsEqualsForwards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJourney(t)
		for i := range j.Stops {
			j.Stops[i].By = time.Time{}
		}
		forward := plan(t, j)
		if forward.Missed != nil {
			return
		}
		back := j
		back.Depart = time.Time{}
		back.Stops = append([]Stop{}, j.Stops...)
		back.Stops[len(back.Stops)-1].By = forward.Arrival.Slow
		b := plan(t, back)
		switch {
		case b.Missed != nil:
			t.Fatalf("missed %+v\n%s\n%s", b.Missed, describe(j, forward), describe(back, b))
		case b.Departure.Before(forward.Departure):
			t.Fatalf("departs %v, could %v\n%s\n%s", b.Departure, forward.Departure, describe(j, forward), describe(back, b))
		case b.Arrival.Slow.After(forward.Arrival.Slow):
			t.Fatalf("arrives %v, not %v", b.Arrival.Slow, forward.Arrival.Slow)
		}
		if wrong := unlawful(back, b); len(wrong) > 0 {
			t.Fatalf("%v\n%s", wrong[:min(len(wrong), 5)], describe(back, b))
		}
		// a minute later is too late
		back.Depart = b.Departure.Add(time.Minute)
		if again := plan(t, back); again.Missed == nil {
			t.Fatalf("departs %v and could %v\n%s\n%s", b.Departure, back.Depart, describe(back, b), describe(back, again))
		}
	})
}
