package trip

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/store"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/timetable"
)

// tour is a trip with a show on a Friday and a Sunday in it, wide enough to need a permit in
// Quebec.
func tour() Request {
	r := request(4050)
	r.Rig.Width = measure.Given(length(2700))
	r.Rig.Use = limit.Commercial
	at := func(text string) choosing.Clock {
		t, err := time.Parse(wallClock, text)
		if err != nil {
			panic(err)
		}
		return choosing.Clock{At: t, Local: true}
	}
	perth, sorel := r.Stops[0], r.Stops[1]
	show := choosing.Stop{Label: "Cornwall, ON", Point: orb.Point{-74.72815, 45.01809}}
	show.Visit = choosing.Visit{
		By:      at("2027-05-14T16:00"),
		SetUp:   90 * time.Minute,
		Until:   at("2027-05-15T22:00"),
		Packing: time.Hour,
	}
	sorel.Visit.By = at("2027-05-17T14:00")
	home := choosing.Stop{Label: "Ottawa, ON", Point: orb.Point{-75.69812, 45.41117}}
	sorel.Visit.Nights = 1
	r.Stops = []choosing.Stop{perth, show, sorel, home}
	r.Departure, r.Local, r.Backwards = time.Date(2027, 5, 1, 12, 0, 0, 0, time.UTC), false, true
	return r
}

// lawful plans with every shipped table.
func lawful(t testing.TB) *Planner {
	t.Helper()
	p := *planner(t)
	var err error
	if p.Tables, err = store.Shipped(); err != nil {
		t.Fatal(err)
	}
	return &p
}

// A tour leaves as late as its first deadline lets it and no later, meets every one, and
// drives under its permit in Quebec on no Sunday (Regulation respecting special permits,
// C-24.2, r. 35: not from Saturday midnight to Monday 0:00).
func TestTourMeetsItsDates(t *testing.T) {
	planner, r := lawful(t), tour()
	p := plan(t, planner, r)
	if p.Timetable == nil || p.Timetable.Missed != nil || len(p.Timetable.Calls) != 4 {
		t.Fatalf("timetable %+v", p.Timetable)
	}
	for i, want := range map[int]string{1: "2027-05-14T16:00", 2: "2027-05-17T14:00"} {
		if got := p.Timetable.Calls[i].Arrive.Slow.Format(wallClock); got > want {
			t.Errorf("stop %d is reached at %s, after %s", i, got, want)
		}
	}
	inQuebec := 0
	for _, l := range p.Legs {
		if strings.Join(l.Jurisdictions, "") != "CA-QC" {
			continue
		}
		inQuebec++
		if l.StartSlow.Weekday() == time.Sunday || l.EndSlow.Weekday() == time.Sunday {
			t.Errorf("Quebec from %s to %s", l.StartSlow, l.EndSlow)
		}
		if !slices.ContainsFunc(l.Findings, func(f finding.Finding) bool {
			return f.Topic == finding.Hours && len(f.Citations) > 0 && f.Citations[0].ID == "ca-qc-hours-01" &&
				f.Outcome != finding.Forbidden
		}) {
			t.Errorf("the hours of Quebec: %+v", l.Findings)
		}
	}
	if inQuebec < 2 {
		t.Errorf("%d legs in Quebec", inQuebec)
	}
	again := r
	again.Backwards, again.Departure = false, p.Departure
	if same := plan(t, planner, again); !same.Departure.Equal(p.Departure) ||
		!same.Timetable.Arrival.Slow.Equal(p.Timetable.Arrival.Slow) {
		t.Errorf(
			"forwards from %s it arrives at %s, backwards at %s",
			same.Departure,
			same.Timetable.Arrival.Slow,
			p.Timetable.Arrival.Slow,
		)
	}
	again.Departure = p.Departure.Add(time.Minute)
	if late := plan(t, planner, again); late.Timetable.Missed == nil || late.Timetable.Missed.Stop != 1 {
		t.Errorf("a minute later it misses %+v", late.Timetable.Missed)
	}
}

// Legs are cut where the rig rests, are driven one after the other on their own days, and
// are the same road as without rests.
func TestLegsAreCutWhereTheRigRests(t *testing.T) {
	planner, r := planner(t), request(4050)
	whole := plan(t, planner, r)
	r.Crew.Driving = 100 * time.Minute
	p := plan(t, planner, r)
	if len(whole.Legs) != 2 || len(p.Legs) <= 3 {
		t.Fatalf("%d legs, without rests %d", len(p.Legs), len(whole.Legs))
	}
	if math.Abs(float64(p.Length-whole.Length)) > 1 || p.Time.Slow-whole.Time.Slow > time.Minute ||
		whole.Time.Slow-p.Time.Slow > time.Minute {
		t.Errorf("%.0f m in %v, whole %.0f m in %v", float64(p.Length), p.Time.Slow, float64(whole.Length), whole.Time.Slow)
	}
	for i, l := range p.Legs {
		if l.EndSlow.Sub(l.StartSlow) < l.Time.Slow || l.EndSlow.Sub(l.StartSlow) > l.Time.Slow+time.Minute {
			t.Errorf("leg %d takes %v, from %s to %s", i, l.Time.Slow, l.StartSlow, l.EndSlow)
		}
		if i == 0 {
			continue
		}
		before := p.Legs[i-1]
		if f, ok := find(before, "place to park"); ok != (l.StartSlow.Sub(before.EndSlow) >= standsLong) ||
			ok && (f.Outcome != finding.Conditional || len(f.Settles) == 0) {
			t.Errorf("leg %d, after which the rig stands for %v: %+v", i-1, l.StartSlow.Sub(before.EndSlow), f)
		}
		if l.StartSlow.Before(before.EndSlow) || l.From.String() != before.To.String() {
			t.Errorf(
				"leg %d starts at %s at %s, the one before ends at %s at %s",
				i,
				l.StartSlow,
				l.From,
				before.EndSlow,
				before.To,
			)
		}
		if l.Line[0] != before.Line[len(before.Line)-1] {
			t.Errorf("leg %d begins at %v, the one before ends at %v", i, l.Line[0], before.Line[len(before.Line)-1])
		}
	}
	for _, e := range p.Timetable.Entries {
		if e.Drive >= 0 && (e.Leg < 0 || e.Leg >= len(p.Legs)) {
			t.Errorf("entry of leg %d", e.Leg)
		} else if l := p.Legs[max(e.Leg, 0)]; e.Kind == timetable.Driving &&
			(e.From.Before(l.StartSlow) || e.To.After(l.EndSlow)) {
			t.Errorf("drives from %s to %s on a leg from %s to %s", e.From, e.To, l.StartSlow, l.EndSlow)
		}
	}
}

// What cannot be is refused with the field to mend.
func TestVisitsThatCannotBe(t *testing.T) {
	at := func(text string) choosing.Clock {
		c, _ := time.Parse(wallClock, text)
		return choosing.Clock{At: c, Local: true}
	}
	for name, tc := range map[string]struct {
		change func(*Request)
		field  string
	}{
		"a window that ends before it begins": {func(r *Request) {
			r.Stops[1].Visit = choosing.Visit{From: at("2027-05-14T18:00"), By: at("2027-05-14T17:59")}
		}, "stops[1].arrive_by"},
		"a deadline at the start": {func(r *Request) { r.Stops[0].Visit.By = at("2027-05-14T18:00") }, "stops[0].arrive_by"},
		"an arrival at the start": {
			func(r *Request) { r.Stops[0].Visit.From = at("2027-05-14T18:00") }, "stops[0].arrive_from",
		},
		"before the stop before is left": {func(r *Request) {
			r.Stops[1].Visit.Until, r.Stops[2].Visit.By = at("2027-05-20T18:00"), at("2027-05-20T17:00")
		}, "stops[2].arrive_by"},
		"left before it is reached": {func(r *Request) {
			r.Stops[1].Visit = choosing.Visit{From: at("2027-05-14T18:00"), Until: at("2027-05-14T12:00")}
		}, "stops[1].until"},
		"an hour that clocks skip": { // they go forward then (tz database, America/Toronto)
			func(r *Request) { r.Stops[1].Visit = choosing.Visit{By: at("2027-03-14T02:30")} }, "stops[1].arrive_by",
		},
	} {
		r := tour()
		for i := range r.Stops {
			r.Stops[i].Visit = choosing.Visit{}
		}
		tc.change(&r)
		if _, err := planner(t).Plan(t.Context(), r); err == nil || !strings.HasPrefix(err.Error(), tc.field) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The way of a tour given back as a line is the same tour: it stops where it did, on the same
// days, and misses what it would have missed.
func TestTourGivenBack(t *testing.T) {
	planner, r := lawful(t), tour()
	for name, change := range map[string]func(*Request){
		"in time": func(*Request) {},
		"missed": func(r *Request) {
			r.Stops[2].Visit.By.At = r.Stops[1].Visit.Until.At.Add(time.Hour)
		},
	} {
		r := r
		r.Stops = slices.Clone(r.Stops)
		change(&r)
		want := plan(t, planner, r)
		again := r
		again.Given = &Given{}
		for _, l := range want.Legs {
			again.Given.Line = network.Join(again.Given.Line, l.Line)
		}
		got := plan(t, planner, again)
		if len(got.Legs) != len(want.Legs) || got.Timetable == nil || len(got.Timetable.Calls) != len(want.Timetable.Calls) {
			t.Fatalf("%s: %d legs, want %d; %+v", name, len(got.Legs), len(want.Legs), got.Timetable)
		}
		for i, c := range want.Timetable.Calls {
			if off := got.Timetable.Calls[i].Arrive.Slow.Sub(c.Arrive.Slow); off < -2*time.Minute || off > 2*time.Minute {
				t.Errorf("%s: stop %d is reached at %s, want %s", name, i, got.Timetable.Calls[i].Arrive.Slow, c.Arrive.Slow)
			}
		}
		if (got.Timetable.Missed == nil) != (want.Timetable.Missed == nil) ||
			(want.Timetable.Missed != nil) != (name == "missed") {
			t.Errorf("%s: missed %+v, want %+v", name, got.Timetable.Missed, want.Timetable.Missed)
		}
		for i, l := range want.Legs {
			if got.Legs[i].From.String() != l.From.String() || got.Legs[i].To.String() != l.To.String() {
				t.Errorf("%s: leg %d from %s to %s, want from %s to %s", name, i+1, got.Legs[i].From, got.Legs[i].To, l.From, l.To)
			}
		}
	}
}

// A crew that keeps to daylight drives at no moment at which the sun is down where it is, by
// the equations of the NOAA solar calculator (regs/window, checked against its tables); one
// that does not say so is told where it drives in the dark.
func TestACrewThatKeepsToDaylight(t *testing.T) {
	planner, r := lawful(t), tour()
	if dark := plan(t, planner, r); !dark.InTheDark() {
		t.Error("from Saturday 22:00 on it drives in no darkness")
	}
	var err error
	if r.Pace.Hours, err = window.Parse("sunrise-sunset"); err != nil {
		t.Fatal(err)
	}
	p := plan(t, planner, r)
	if p.InTheDark() || p.Timetable.Missed != nil {
		t.Errorf("in the dark, or missed: %+v", p.Timetable.Missed)
	}
	for _, e := range p.Timetable.Entries {
		if e.Kind != timetable.Driving {
			continue
		}
		for _, at := range p.Legs[e.Leg].Line {
			if rise, set, ok := window.SunAt(at)(e.From); !ok || e.From.Before(rise.Add(-3*time.Minute)) ||
				e.To.After(set.Add(3*time.Minute)) {
				t.Fatalf("drives from %s to %s, the sun is up from %s to %s", e.From, e.To, rise, set)
			}
		}
	}
}

// What would meet a deadline that the hours of a permit make impossible: a permit of Quebec
// that lets the rig drive on Sunday (C-24.2, r. 35, s. 10 forbids it), asked for there; or a
// unit so narrow that Quebec asks for no permit. Each is as good as it says: planned by itself it meets the deadline.
func TestWhatElseWouldMeetADeadline(t *testing.T) {
	planner, r := lawful(t), tour()
	r.Rig.Width = measure.Given(length(2550))                              // Ontario asks for no permit then
	r.Stops[2].Visit.By.At = r.Stops[1].Visit.Until.At.Add(16 * time.Hour) // Sunday
	p := plan(t, planner, r)
	if p.Timetable.Missed == nil || p.Timetable.Missed.Stop != 2 {
		t.Fatalf("missed %+v", p.Timetable.Missed)
	}
	would := map[timetable.Remedying]timetable.Remedy{}
	for _, one := range p.Timetable.Missed.Would {
		would[one.Kind] = one
	}
	permit, narrow := would[timetable.AnotherPermit], would[timetable.Narrower]
	if !permit.Does || permit.Jurisdiction != "CA-QC" || permit.Whom.None() {
		t.Errorf("another permit: %+v", permit)
	}
	if !narrow.Does || narrow.Size+narrow.Less != *length(2550) {
		t.Fatalf("a narrower unit: %+v", narrow)
	}
	again := r
	again.Rig.Width = measure.Exactly(narrow.Size)
	if small := plan(t, planner, again); small.Timetable.Missed != nil {
		t.Errorf("%v wide it misses %+v", narrow.Size, small.Timetable.Missed)
	}
	again.Rig.Width = measure.Exactly(narrow.Size + measure.Millimetre)
	if wide := plan(t, planner, again); wide.Timetable.Missed == nil {
		t.Errorf("a millimetre wider than %v it misses nothing", narrow.Size)
	}
}
