package trip

import (
	"testing"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/say"
)

// may is a day of May 2027, the month of these trips; all rows are invented.
func may(d int) time.Time { return time.Date(2027, 5, d, 0, 0, 0, 0, time.UTC) }

// widths are rows that clear the rig of these tests, and one that forbids it from
// some day on.
func widths(from time.Time) []limit.Row {
	row := limit.Row{
		ID: "wide", Jurisdiction: "CA-ON", Kind: limit.All, Form: limit.AnyForm, Quantity: limit.Width, Published: "2.7 m", Threshold: limit.Amount(2700 * measure.Millimetre),
		Outcome: finding.Conditional, Tier: limit.Legal, Status: finding.Published, Source: "made up", ReadOn: may(1),
	}
	narrow := row
	narrow.ID, narrow.Published, narrow.Threshold, narrow.Outcome, narrow.ValidFrom = "narrow", "2.5 m", limit.Amount(2500*measure.Millimetre), finding.Forbidden, from
	return []limit.Row{row, narrow}
}

// acrossAField begins where no road is, so that nobody knows when the roads after
// it are driven.
var acrossAField = given([2]float64{-4, 8}, [2]float64{-4, 4}, [2]float64{-4, 0}, [2]float64{0, 0}, [2]float64{10, 0}, [2]float64{14, 0})

// A leg behind a gap or a wait is judged for every day on which it may be driven:
// a row that forbids from the next day on is not overlooked, and one of after the
// trip does not count.
func TestRowsOfTomorrowBindLegsOfUnknownHours(t *testing.T) {
	closedNow := []road{
		{name: "start", from: [2]float64{-5, 0}, to: [2]float64{0, 0}},
		{name: "short", from: [2]float64{0, 0}, to: [2]float64{10, 0}, signs: signs(access(everyone, refused).at("08:00-14:00"))},
		{name: "end", from: [2]float64{10, 0}, to: [2]float64{15, 0}},
	}
	for _, tc := range []struct {
		name  string
		roads []road
		r     Request
		from  time.Time
		want  finding.Outcome
	}{
		{"known hours, from the next day", fork(road{}), house(), may(12), finding.Clear},
		{"known hours, from that day", fork(road{}), house(), may(11), finding.Forbidden},
		{"behind a gap, from the next day", fork(road{}), house(acrossAField), may(12), finding.Review},
		{"behind a gap, from that day", fork(road{}), house(acrossAField), may(11), finding.Forbidden},
		{"behind a gap, from a month later", fork(road{}), house(acrossAField), may(31), finding.Clear},
		{"with a wait, from the next day", closedNow, house(), may(12), finding.Review},
		{"with a wait, from a month later", closedNow, house(), may(31), finding.Clear},
	} {
		p := plan(t, world(t, tc.roads, nil, widths(tc.from)...), tc.r)
		for _, f := range byRule(p, "width") {
			if f.Outcome != tc.want {
				t.Errorf("%s: the width is %s (%s), want %s", tc.name, f.Outcome, told(f), tc.want)
			}
		}
	}
}

// A permit that runs out is not known to hold on a leg of unknown hours; one that
// outlasts the trip is.
func TestHeldPermitsOnLegsOfUnknownHours(t *testing.T) {
	size := limit.Amount(3 * measure.Metre)
	for _, tc := range []struct {
		name    string
		r       Request
		expires time.Time
		want    finding.Outcome
	}{
		{"known hours", house(), may(11), ""}, {"behind a gap", house(acrossAField), may(11), finding.Unknown},
		{"behind a gap, it ran out before", house(acrossAField), may(10), finding.Review}, {"behind a gap, it outlasts the trip", house(acrossAField), may(31), ""},
	} {
		row := widths(time.Time{})[1]
		row.Outcome, row.Demands = finding.Conditional, finding.Demands{Permits: []say.Remark{limit.Permit("CA-ON")}}
		held := permit.Contact{ID: "k", Jurisdiction: "CA-ON", PermitNumber: "1", Sizes: map[limit.Quantity]limit.Amount{limit.Width: size}, From: may(1), Expires: tc.expires}
		p := with(world(t, fork(road{}), nil, row), func(r *regs.Rows) { r.Contacts = []*permit.Contact{&held} })
		says(t, tc.name, plan(t, p, tc.r), "permit", tc.want)
	}
}

// A structure that binds later than a trip of known hours could come by is met by
// one that nobody knows the hours of.
func TestStructuresOfLaterOnLegsOfUnknownHours(t *testing.T) {
	low := over("s", 3000, func(s *clearance.Structure) { s.From = may(21) })
	p := withStructures(world(t, fork(road{}), nil), low)
	for name, tc := range map[string]struct {
		r    Request
		want int
	}{"known hours": {house(given([2]float64{-4, 0}, [2]float64{0, 0}, [2]float64{10, 0}, [2]float64{14, 0})), 0}, "behind a gap": {house(acrossAField), 1}} {
		if got := byRule(plan(t, p, tc.r), "structure"); len(got) != tc.want || tc.want == 1 && got[0].Outcome != finding.Forbidden {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// A closure on some days is judged at the planned hour: on just the day of a trip
// of one day it shuts the road, on a later one a person decides whether the trip
// is late enough to meet it.
func TestClosureOnTheDayOfTheTrip(t *testing.T) {
	line := given([2]float64{-4, 0}, [2]float64{0, 0}, [2]float64{10, 0}, [2]float64{14, 0})
	for _, tc := range []struct {
		name        string
		from, until time.Time
		want        finding.Outcome // of the short road, when it is prescribed
		takes       string          // otherwise
	}{
		{"that day", may(11), may(11), finding.Forbidden, "long"},
		{"until that day", time.Time{}, may(11), finding.Forbidden, "long"},
		{"from that day on", may(11), time.Time{}, finding.Forbidden, "long"},
		{"the day after", may(12), may(12), finding.Review, "short"},
		{"the day before", may(10), may(10), "", "short"},
	} {
		closed := over("s", 0, func(s *clearance.Structure) { s.Closed, s.From, s.Until = true, tc.from, tc.until })
		p := withStructures(world(t, fork(road{}), nil), closed)
		answers(t, tc.name+", prescribed", plan(t, p, house(line)), tc.want)
		takes(t, tc.name, plan(t, p, house()), tc.takes)
	}
	closed := over("s", 0, func(s *clearance.Structure) { s.Closed, s.From, s.Until = true, may(11), may(11) })
	answers(t, "hours not known", plan(t, withStructures(world(t, fork(road{}), nil), closed), house(acrossAField)), finding.Review)
	got := plan(t, withStructures(world(t, fork(road{})[:2], nil), closed), house(func(r *Request) { r.Stops[1].Point = point([2]float64{9, 0}) }))
	if waits := byRule(got, "waiting"); len(waits) != 1 || len(waits[0].Citations) != 1 || waits[0].Citations[0].ID != "s" || got.Verdict.Outcome() == finding.Clear {
		t.Errorf("no other way: %+v", waits)
	}
}
