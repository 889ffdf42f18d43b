package trip

import (
	"math"
	"testing"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// signalled is a delay of signals, so long.
func signalled(likely, slow time.Duration) network.Delay {
	d := network.Delay{Signals: 1}
	d.Set(likely, slow)
	return d
}

// A trip takes as long as its roads at the assumed speeds and what delays traffic on
// them; a slow one is slower in both, and legs follow on each other in both.
func TestLikelyAndSlow(t *testing.T) {
	roads := fork(road{delay: signalled(30*time.Second, 2*time.Minute)})
	roads[4].code = "CA-QC"
	p := plan(t, world(t, roads, nil), house())
	free := float64(geodesic.Length(p.Legs[0].Line)+geodesic.Length(p.Legs[1].Line)) / 20
	near := func(what string, got time.Duration, want float64) {
		if d := got.Seconds() - want; d > 0.1 || d < -0.1 {
			t.Errorf("%s: %v, want %v s", what, got, want)
		}
	}
	near("likely", p.Time.Duration, free+30)
	near("slow", p.Time.Slow, free/0.85+120)
	near("the search", time.Duration(p.cost)*time.Millisecond, free+30)
	if len(p.Legs) != 2 || p.Legs[0].Signals != 1 || p.Legs[1].Signals != 0 || p.Legs[0].Stops != 0 {
		t.Fatalf("%d legs; %+v", len(p.Legs), p.Legs[0].Signals)
	}
	// the timetable plans on whole minutes, rounded up
	if first, last := p.Legs[0], p.Legs[1]; !after(last.Start, p.Departure.Add(first.Time.Duration)) ||
		!after(last.StartSlow, p.Departure.Add(first.Time.Slow)) || !first.StartSlow.Equal(p.Departure) {
		t.Errorf("the second leg starts %s, if slow %s", last.Start, last.StartSlow)
	}
}

// after reports whether a moment is another one, or up to a minute later.
func after(got, want time.Time) bool {
	return !got.Before(want) && got.Sub(want) < time.Minute
}

// A sharp turn at a junction costs time: the way round leaves the main road and comes
// back to it at 66 degrees.
func TestTurnsCostTime(t *testing.T) {
	roads := fork(road{signs: signs(access(everyone, refused))})
	p := plan(t, world(t, roads, nil), house())
	free := float64(p.Length) / 20
	if likely, slow := p.Time.Seconds()-free, p.Time.Slow.Seconds()-free/0.85; math.Abs(likely-10) > 0.1 || math.Abs(slow-20) > 0.1 {
		t.Errorf("two turns cost %v s, %v s if slow", likely, slow)
	}
}

// Rows that come into force before a slow trip is over bind it, though a likely one
// would be over; so do signs that close a road then.
func TestTheSlowEndBinds(t *testing.T) {
	// The trip takes some 11 min 50 s, or 13 min 55 s if it is slow.
	for _, tc := range []struct {
		name   string
		depart time.Time
		want   finding.Outcome
	}{
		{"over before midnight", time.Date(2027, 5, 11, 23, 40, 0, 0, time.UTC), finding.Clear},
		{"over before midnight, if not slow", time.Date(2027, 5, 11, 23, 47, 0, 0, time.UTC), finding.Forbidden},
		{"over after midnight", time.Date(2027, 5, 11, 23, 50, 0, 0, time.UTC), finding.Forbidden},
	} {
		p := plan(t, world(t, fork(road{}), nil, widths(may(12))...), house(func(r *Request) { r.Departure = tc.depart }))
		for _, f := range byRule(p, "width") {
			if (f.Outcome == finding.Clear) != (tc.want == finding.Clear) {
				t.Errorf("%s: the width is %s (%s)", tc.name, f.Outcome, told(f))
			}
		}
	}
	// The road between is driven from 8:02:40 to 8:09:15, or from 8:03:05 to 8:10:50.
	for hours, want := range map[string]finding.Outcome{"08:12-09:00": "", "08:10-09:00": finding.Conditional} {
		roads := fork(road{signs: signs(access(everyone, refused).at(hours))})
		p := plan(t, world(t, roads[:2:2], nil), house(func(r *Request) { r.Stops[1].Point = point([2]float64{10, 0}) }))
		var got finding.Outcome
		for _, f := range byRule(p, "hours of signs") {
			got = f.Outcome
		}
		if got != want || len(byRule(p, "waiting")) > 0 {
			t.Errorf("closed %s: %q, want %q", hours, got, want)
		}
	}
}

// A way that waits for a road to open arrives nobody knows when, even in one leg.
func TestArrivalOfAWaitIsNotKnown(t *testing.T) {
	for hours, known := range map[string]bool{"08:00-14:00": false, "20:00-21:00": true} {
		roads := fork(road{signs: signs(access(everyone, refused).at(hours))})
		p := plan(t, world(t, roads[:2:2], nil), house(func(r *Request) { r.Stops[1].Point = point([2]float64{10, 0}) }))
		likely, slow, ok := p.Arrival()
		if ok != known || len(p.Legs) != 1 || ok && (!likely.Equal(p.Departure.Add(p.Time.Duration)) || !slow.After(likely)) {
			t.Errorf("closed %s: arrives %s, if slow %s, known %t", hours, likely, slow, ok)
		}
	}
}
