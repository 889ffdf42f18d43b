package regs

import (
	"testing"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
)

// days are first and last days on which a row holds.
func days(from, to string) func(*limit.Row) {
	return func(r *limit.Row) {
		r.ValidFrom, r.ValidTo = date(from), date(to)
	}
}

// date reads a day; "" is none.
func date(text string) time.Time {
	if text == "" {
		return time.Time{}
	}
	d, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return d
}

// A leg whose hours are not known is judged over every instant at which it may be
// driven: a row that comes into force meanwhile binds it perhaps, one that ends
// meanwhile neither clears nor replaces another.
func TestUnknownHoursMeetEveryDay(t *testing.T) {
	low := func(change ...func(*limit.Row)) limit.Row {
		return clean(append([]func(*limit.Row){at("low", 400), asks(finding.Forbidden)}, change...)...)
	}
	for _, tc := range []struct {
		name   string
		rows   []limit.Row
		latest string
		want   finding.Outcome
	}{
		{"clear all the time", []limit.Row{clean()}, "2027-06-25", finding.Clear},
		{"forbidden from the next day on", []limit.Row{clean(), low(days("2027-06-22", ""))}, "2027-06-25", finding.Review},
		{"forbidden from the day after the last", []limit.Row{clean(), low(days("2027-06-26", ""))}, "2027-06-25", finding.Clear},
		{"forbidden until the first day", []limit.Row{clean(), low(days("", "2027-06-21"))}, "2027-06-25", finding.Review},
		{"forbidden until the day before", []limit.Row{clean(), low(days("", "2027-06-20"))}, "2027-06-25", finding.Clear},
		{"forbidden all the time", []limit.Row{clean(), low(days("2027-06-21", "2027-06-25"))}, "2027-06-25", finding.Forbidden},
		{"clear until the first day", []limit.Row{clean(days("", "2027-06-21"))}, "2027-06-25", finding.Unknown},
		{"superseded until the first day", []limit.Row{low(), clean(supersedes("low"), days("", "2027-06-21"))}, "2027-06-25", finding.Forbidden},
		{"superseded all the time", []limit.Row{low(), clean(supersedes("low"), days("", "2027-06-25"))}, "2027-06-25", finding.Clear},
		{"stale at the end", []limit.Row{clean(func(r *limit.Row) { r.ReadOn = date("2026-06-23") })}, "2027-06-25", finding.Unknown},
		{"no bound known, forbidden within a fortnight", []limit.Row{clean(), low(days("2027-07-05", ""))}, "", finding.Review},
		{"no bound known, forbidden later", []limit.Row{clean(), low(days("2027-07-06", ""))}, "", finding.Clear},
	} {
		p := Stay{Jurisdictions: []string{"CA-XX"}, OwnerKnown: true}
		if tc.latest != "" {
			p.Latest = date(tc.latest).Add(12 * time.Hour)
		}
		f := rule(t, of(tc.rows...).Check(high(410), p, on("12:00")), "height")
		if f.Outcome != tc.want {
			t.Errorf("%s: %s (%s), want %s", tc.name, f.Outcome, says(f), tc.want)
		}
		if tc.want == finding.Review && (len(f.Settles) == 0 || !f.Citations[0].Decides) {
			t.Errorf("%s: %+v", tc.name, f)
		}
	}
}

// An answer that runs out, or begins, while a leg may be driven settles nothing
// of it.
func TestAnswersSettleUnknownHoursOnlyThroughout(t *testing.T) {
	row := clean(status(finding.Memory))
	for _, tc := range []struct {
		name  string
		cells map[string]string
		want  finding.Outcome
	}{
		{"without end", nil, finding.Clear},
		{"until the last day", map[string]string{"expires_on": "2027-06-25"}, finding.Clear},
		{"until the first day", map[string]string{"expires_on": "2027-06-21"}, finding.Unknown},
		{"from the second day on", map[string]string{"valid_from": "2027-06-22"}, finding.Unknown},
		{"given a year before the last day", map[string]string{"answered_on": "2026-06-25"}, finding.Clear},
		{"given a year before the first day", map[string]string{"answered_on": "2026-06-22"}, finding.Unknown},
	} {
		cells := map[string]string{"outcome": "clear", "settles": "height", "height": "4.1 m", "width": "2.6 m", "length": "20 m", "mass": "10 t"}
		for column, text := range tc.cells {
			cells[column] = text
		}
		k := contact(t, cells)
		tables := NewTables("test", Rows{Limits: []*limit.Row{&row}, Contacts: []*permit.Contact{&k}}, nil)
		p := Stay{Jurisdictions: []string{"CA-XX"}, Latest: date("2027-06-25")}
		if f := rule(t, tables.Check(measured(410, 260), p, on("00:00")), "height"); f.Outcome != tc.want {
			t.Errorf("%s: %s (%s), want %s", tc.name, f.Outcome, says(f), tc.want)
		}
	}
}

// measured is a vehicle of a height and a width in centimetres, 20 m long and of
// 10 t.
func measured(high, wide limit.Amount) Vehicle {
	return Vehicle{Measures: map[limit.Quantity]Measure{
		limit.Height: measure.Exactly(high * centi), limit.Width: measure.Exactly(wide * centi), limit.CombinationLength: measure.Exactly(20 * metre),
		limit.GrossMass: measure.Exactly(limit.Amount(10 * measure.Tonne)),
	}}
}
