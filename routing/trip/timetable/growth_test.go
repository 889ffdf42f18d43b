package timetable

import (
	"fmt"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
)

// tour is one of so many stops, each a drive of so long from the last, in December's
// daylight and never on a Sunday.
func tour(t testing.TB, stops int, each time.Duration, l Limits) Journey {
	t.Helper()
	zone, err := time.LoadLocation("America/Edmonton")
	if err != nil {
		t.Fatal(err)
	}
	first := time.Date(2026, 12, 1, 0, 0, 0, 0, zone)
	hours := &Hours{}
	for _, s := range daylight(first, 120, orb.Point{-113.49, 53.55}).Spans {
		if s.From.In(zone).Weekday() != time.Sunday {
			hours.Spans = append(hours.Spans, s)
		}
	}
	j := Journey{
		Depart: first, Stops: []Stop{{Zone: zone}}, Habits: Habits{
			Check: 15 * m, CheckFirst: Interval{Way: 80_000}, CheckEvery: Interval{Way: 240_000, Driving: 3 * h},
			FuelEvery: 600_000, Fuel: 20 * m, Morning: 7 * h,
		},
	}
	for i := range stops {
		var d Drive
		for range 4 { // jurisdictions on the way
			d = append(d, Section{Length: measure.Distance(each.Hours() * 20_000), Slow: each / 4, Likely: each / 5, Zone: zone,
				Hours: hours, Limits: l})
		}
		stop := Stop{Zone: zone, Stay: 2 * h, SetUp: h, Packing: h}
		if i%3 == 2 {
			stop.Nights = 1
		}
		j.Drives, j.Stops = append(j.Drives, d), append(j.Stops, stop)
	}
	return j
}

// BenchmarkTour plans tours without their roads: by stops, and by the days that a drive
// between two takes.
func BenchmarkTour(b *testing.B) {
	for name, limits := range map[string]Limits{"planning": planning(), "canada": canadaSouth(), "us": usProperty()} {
		for _, c := range []struct {
			stops int
			each  time.Duration
		}{{10, 4 * h}, {30, 4 * h}, {90, 2 * h}, {10, 12 * h}, {10, 36 * h}} {
			j := tour(b, c.stops, c.each, limits)
			b.Run(fmt.Sprintf("%s/%d stops of %v", name, c.stops, c.each), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if table, err := Plan(j); err != nil || table.Arrival.Slow.IsZero() {
						b.Fatal(err, table.Missed)
					}
				}
			})
		}
	}
}

// How many states a search keeps grows with the way, not faster: three times the stops or
// the days make no more than four times as many.
func TestStatesGrowWithTheWay(t *testing.T) {
	for name, limits := range map[string]Limits{"planning": planning(), "canada": canadaSouth(), "us": usProperty()} {
		states := func(stops int, each time.Duration) int {
			j := tour(t, stops, each, limits)
			s := &search{line: newLine(&j)}
			if len(s.from(0, s.start(upTo(j.Depart)))) == 0 {
				t.Fatal("it does not arrive")
			}
			return len(s.labels)
		}
		if few, many := states(10, 4*h), states(30, 4*h); many > 4*few {
			t.Errorf("%s: %d states for 10 stops, %d for 30", name, few, many)
		}
		if few, many := states(10, 8*h), states(10, 24*h); many > 4*few {
			t.Errorf("%s: %d states for 8 h, %d for 24 h", name, few, many)
		}
	}
}

func ExamplePlan() {
	show := time.Date(2026, 7, 3, 18, 0, 0, 0, time.UTC)
	table, err := Plan(Journey{
		Stops: []Stop{{Zone: time.UTC, Packing: time.Hour}, {Zone: time.UTC, By: show, SetUp: 2 * time.Hour}},
		Drives: []Drive{{{
			Length: 900_000, Likely: 11 * time.Hour, Slow: 12 * time.Hour, Zone: time.UTC, Limits: planning(),
		}}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range table.Entries {
		fmt.Printf("%-8s %s to %s\n", e.Kind, e.From.Format("Mon 15:04"), e.To.Format("Mon 15:04"))
	}
	fmt.Println("arrives", table.Arrival.Slow.Format("Mon 15:04"), "likely", table.Arrival.Likely.Format("Mon 15:04"))
	// Output:
	// packing  Thu 21:00 to Thu 22:00
	// drive    Thu 22:00 to Fri 08:00
	// rest     Fri 08:00 to Fri 16:00
	// drive    Fri 16:00 to Fri 18:00
	// set_up   Fri 18:00 to Fri 20:00
	// arrives Fri 18:00 likely Fri 17:00
}
