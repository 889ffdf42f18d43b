package timetable

import (
	"slices"
	"testing"
	"time"
)

func remedy(t *Table, kind Remedying) Remedy {
	i := slices.IndexFunc(t.Missed.Would, func(r Remedy) bool { return r.Kind == kind })
	if i < 0 {
		return Remedy{}
	}
	return t.Missed.Would[i]
}

// 15 h of driving with 8 h of rest arrive 23 h after midnight. What is asked of them binds
// alone, and what would help was tried.
func TestWhatWouldMeetADeadline(t *testing.T) {
	j := straight(15*h, planning())
	j.Stops[1].By = at(20)
	table := plan(t, j)
	missed := table.Missed
	switch {
	case missed == nil || missed.Stop != 1 || missed.Late != 3*h || missed.Never:
		t.Fatalf("missed %+v", missed)
	case !slices.Equal(missed.Binds, []Why{OfLimits}):
		t.Errorf("binds %v", missed.Binds)
	case table.Calls[1].Late != 3*h || !table.Latest.IsZero():
		t.Errorf("late %v, latest %v", table.Calls[1].Late, table.Latest)
	}
	if r := remedy(table, Earlier); !r.Does || !r.Depart.Equal(at(-3)) {
		t.Errorf("earlier: %+v", r)
	}
	if r := remedy(table, SecondDriver); !r.Does {
		t.Errorf("two drivers: %+v", r)
	}
	if r := remedy(table, AnyHour); r.Does || r.Late != 3*h {
		t.Errorf("at any hour: %+v", r)
	}
}

// Who leaves now has no earlier departure, however late that is.
func TestNobodyLeavesBeforeNow(t *testing.T) {
	j := straight(15*h, planning())
	j.Stops[1].By, j.AtOnce = at(20), true
	missed := plan(t, j).Missed
	if missed == nil || slices.ContainsFunc(missed.Would, func(r Remedy) bool { return r.Kind == Earlier }) {
		t.Errorf("missed %+v", missed)
	}
}

// What is due before the trip begins is met by leaving earlier alone: nothing else is tried, and
// nothing binds. One due at the departure is merely late.
func TestDueBeforeTheTripBegins(t *testing.T) {
	for _, tc := range []struct {
		due            float64
		atOnce, before bool
		tried          []Remedying
	}{
		{-1, false, true, []Remedying{Earlier}}, {-1, true, true, nil}, {0, true, false, []Remedying{SecondDriver, AnyHour}},
	} {
		j := straight(15*h, planning())
		j.Stops[1].By, j.AtOnce = at(tc.due), tc.atOnce
		missed := plan(t, j).Missed
		var tried []Remedying
		for _, r := range missed.Would {
			tried = append(tried, r.Kind)
		}
		if missed.Before != tc.before || !slices.Equal(tried, tc.tried) || (len(missed.Binds) == 0) != tc.before {
			t.Errorf("due %v: %+v", tc.due, missed)
		}
	}
}

func TestAClosedSundayBinds(t *testing.T) {
	j := straight(12*h, Limits{})
	j.Stops[1].By = at(30)
	j.Drives[0][0].Hours = &Hours{Spans: []Span{{From: at(8), To: at(18)}, {From: at(56), To: at(66), IfHolidays: true}}}
	table := plan(t, j)
	if table.Missed == nil || !slices.Equal(table.Missed.Binds, []Why{OfWindow}) || table.Missed.Late != 28*h {
		t.Errorf("missed %+v\n%s", table.Missed, describe(j, table))
	}
	if !table.IfHolidays || !table.Entries[len(table.Entries)-1].IfHolidays || table.Entries[0].IfHolidays {
		t.Error("what hangs on the list of holidays is not marked")
	}
	if r := remedy(table, AnyHour); !r.Does {
		t.Errorf("at any hour: %+v", r)
	}
	// the way itself
	j.Stops[1].By = at(11)
	if binds := plan(t, j).Missed.Binds; !slices.Equal(binds, []Why{OfWay}) {
		t.Errorf("binds %v", binds)
	}
}

func TestSlackAndLatestDeparture(t *testing.T) {
	j := straight(4*h, planning())
	j.Stops = []Stop{{Zone: time.UTC}, {Zone: time.UTC, Stay: h}, {Zone: time.UTC, By: at(20)}}
	j.Drives = append(j.Drives, j.Drives[0])
	table := plan(t, j)
	if !table.Latest.Equal(at(11)) { // 4 h, 1 h, 4 h before 20:00
		t.Errorf("latest %v", table.Latest)
	}
	for i, want := range []time.Duration{11 * h, 11 * h, 11 * h} {
		if got := table.Calls[i].Slack; got == nil || *got != want {
			t.Errorf("slack at %d: %v", i, got)
		}
	}
	j.Depart = time.Time{}
	back := plan(t, j)
	if !back.Departure.Equal(at(11)) || back.Missed != nil || *back.Calls[2].Slack != 0 {
		t.Errorf("backwards from %v, missed %+v", back.Departure, back.Missed)
	}
	j.Stops[2].By = time.Time{}
	if _, err := Plan(j); err == nil {
		t.Error("neither a departure nor a deadline, and no error")
	}
}

// What no departure meets, since a stop is not left in time, is put off as little as can be.
func TestBackwardsFromWhatCannotBeMet(t *testing.T) {
	j := straight(4*h, planning())
	j.Depart = time.Time{}
	j.Stops = []Stop{{Zone: time.UTC}, {Zone: time.UTC, By: at(10), Until: at(12)}, {Zone: time.UTC, By: at(15)}}
	j.Drives = append(j.Drives, j.Drives[0])
	table := plan(t, j)
	if table.Missed == nil || table.Missed.Stop != 2 || table.Missed.Late != h ||
		!slices.Equal(table.Missed.Binds, []Why{OfStop}) {
		t.Fatalf("missed %+v", table.Missed)
	}
	if !table.Arrival.Slow.Equal(at(16)) || table.Calls[2].Late != h || !table.Departure.Equal(at(6)) {
		t.Errorf("from %v to %v, late %v", table.Departure, table.Arrival.Slow, table.Calls[2].Late)
	}
}

func TestChecksFuelFerriesAndWhatIsNotDriven(t *testing.T) {
	j := straight(4*h, Limits{})
	j.Drives[0][0].Length = 320_000
	j.Habits = Habits{
		Check: 10 * m, CheckFirst: Interval{Way: 40_000}, CheckEvery: Interval{Driving: 2 * h}, FuelEvery: 200_000,
		Fuel: 20 * m, NotDriven: 12 * m,
	}
	table := plan(t, j)
	var checks, fuels []time.Time
	for _, e := range table.Entries {
		switch e.Kind {
		case Check:
			checks = append(checks, e.From)
		case Fuel:
			fuels = append(fuels, e.From)
		}
	}
	// 5 h for 320 km: the first check after 40 km, the next two hours of driving later, and
	// fuel after 200 km
	if len(checks) != 3 || !checks[0].Equal(at(0).Add(37*m+30*time.Second).Truncate(m)) {
		t.Errorf("checks at %v\n%s", checks, describe(j, table))
	}
	if len(fuels) != 1 || !table.Arrival.Slow.Equal(at(5).Add(50*m)) {
		t.Errorf("fuel at %v, arrives %v", fuels, table.Arrival.Slow)
	}
	j = straight(2*h, Limits{})
	j.Drives[0][0].Ferry, j.Drives[0][0].Pause, j.Drives[0][0].Waits = true, h, Ferry
	table = plan(t, j)
	if !table.Arrival.Slow.Equal(at(3)) || len(table.Entries) != 1 || table.Entries[0].Kind != Ferry {
		t.Errorf("the ferry\n%s", describe(j, table))
	}
}

// A crew that drives from 8 to 18 h by its own choice stands for its habit alone, where the
// law lets it go on, and to give that up is tried apart from the law.
func TestAHabitIsNoLaw(t *testing.T) {
	j := straight(12*h, Limits{})
	j.Depart, j.Stops[1].By = at(8), at(24)
	s := &j.Drives[0][0]
	s.Habit = &Hours{Spans: []Span{{From: at(8), To: at(18)}, {From: at(32), To: at(42)}}}
	s.Hours = &Hours{Spans: []Span{{From: at(6), To: at(22)}, {From: at(30), To: at(46)}}}
	table := plan(t, j)
	if m := table.Missed; m == nil || m.Late != 10*h || !slices.Equal(m.Binds, []Why{OfHabit}) {
		t.Fatalf("missed %+v", m)
	}
	if r := remedy(table, BeyondHabit); !r.Does {
		t.Errorf("beyond its habit: %+v", r)
	}
	stands := func() (out []Why) {
		for _, e := range plan(t, j).Entries {
			if e.Kind != Driving {
				out = append(out, e.For)
			}
		}
		return out
	}
	if got := stands(); !slices.Equal(got, []Why{OfHabit}) {
		t.Errorf("it stands for %v", got)
	}
	s.Hours.Spans[1].From = at(33)
	if got := stands(); !slices.Equal(got, []Why{OfWindow}) {
		t.Errorf("where the law opens later it stands for %v", got)
	}
}
