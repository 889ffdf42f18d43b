package trip

import (
	"slices"
	"testing"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/routing/trip/quote"
	"wayhouse/routing/trip/timetable"
)

// escorted is a plan of three legs that two escorts go with in Ontario, on the last of them
// one, and perhaps one in Quebec; it rests a night in Ontario, waits there and at the border.
func escortedPlan() *Plan {
	zone := time.FixedZone("", -5*3600)
	at := func(day, hour int) time.Time { return time.Date(2027, 5, day, hour, 0, 0, 0, zone) }
	leg := func(code string, sure, perhaps int) Leg {
		l := Leg{Jurisdictions: []string{code}, Length: 100_000, Findings: []finding.Finding{
			{Jurisdiction: code, Outcome: finding.Conditional, Demands: finding.Demands{EscortsRear: sure}},
			{Jurisdiction: code, Outcome: finding.Review, Demands: finding.Demands{EscortsRear: perhaps}},
		}}
		l.Time.Duration, l.Time.Slow = 2*time.Hour, 3*time.Hour
		return l
	}
	entry := func(k timetable.Kind, leg int, from, to time.Time) timetable.Entry {
		return timetable.Entry{Kind: k, Leg: leg, From: from, To: to}
	}
	return &Plan{
		Legs: []Leg{leg("CA-ON", 2, 2), leg("CA-ON", 1, 1), leg("CA-QC", 0, 1)},
		Timetable: &Timetable{Table: timetable.Table{
			Departure: at(11, 9), Arrival: timetable.Moment{Slow: at(13, 14)},
			Entries: []timetable.Entry{
				entry(timetable.Packing, -1, at(11, 8), at(11, 9)), entry(timetable.Driving, 0, at(11, 9), at(11, 12)),
				entry(timetable.Wait, 0, at(11, 12), at(11, 15)), entry(timetable.Stay, -1, at(11, 15), at(11, 16)),
				entry(timetable.Rest, 0, at(11, 16), at(12, 6)), entry(timetable.Driving, 1, at(12, 6), at(12, 9)),
				entry(timetable.Wait, 1, at(12, 9), at(12, 11)), entry(timetable.Rest, 1, at(12, 11), at(13, 11)),
				entry(timetable.Driving, 2, at(13, 11), at(13, 14)), entry(timetable.Stay, -1, at(13, 14), at(15, 8)),
			},
		}},
	}
}

// quantities are those of the parts of an item by jurisdiction: low and likely.
func quantities(parts []quote.Part, item rates.Item, unit rates.Unit) (out []string) {
	for _, p := range parts {
		if p.Item != item {
			continue
		}
		said := p.Jurisdiction + " " + string(p.Unknown.Code)
		for _, q := range p.Quantities {
			if q.Unit == unit {
				said = p.Jurisdiction + " " + money.To(q.Low, 0).Text('f') + " to " + money.To(q.Likely, 0).Text('f')
			}
		}
		out = append(out, said)
	}
	return out
}

// Escorts spend the nights and wait where they go on with the rig: in Ontario one of two for a
// night and four hours; what lies between two jurisdictions, before the first drive and behind
// the last is nobody's.
func TestEscortsStandBy(t *testing.T) {
	p := escortedPlan()
	d := Deal{}.scheduled(p.Timetable)
	parts := p.escorts(d)
	for _, tc := range []struct {
		item rates.Item
		unit rates.Unit
		want []string
	}{
		{rates.EscortNight, rates.Night, []string{"CA-ON 1 to 1"}},
		{rates.EscortStandby, rates.Hour, []string{"CA-ON 4 to 4"}},
		{rates.Escort, rates.Hour, []string{"CA-ON 6 to 6", "CA-QC 0 to 2"}},
		{rates.Escort, rates.Day, []string{"CA-ON 3 to 3", "CA-QC 0 to 1"}},
	} {
		if got := quantities(parts, tc.item, tc.unit); !slices.Equal(got, tc.want) {
			t.Errorf("%s in %s: %q, want %q", tc.item, tc.unit, got, tc.want)
		}
	}
	for n, want := range map[int]string{4: "CA-ON 1 to 1", 5: "CA-ON quote.nights_nowhere"} {
		said := p.escorts(Deal{Nights: &n}.scheduled(p.Timetable))
		if got := quantities(said, rates.EscortNight, rates.Night); got[0] != want {
			t.Errorf("%d nights said: %q, want %q", n, got, want)
		}
	}
	p.Timetable.Arrival = timetable.Moment{}
	got := quantities(p.escorts(Deal{}.scheduled(p.Timetable)), rates.EscortNight, rates.Night)
	if got[0] != "CA-ON quote.no_nights" {
		t.Errorf("never there: %q", got)
	}
}

// Lodging is asked for where there are nights, or may be, whether the card has a price or not.
func TestLodgingIsNeeded(t *testing.T) {
	none, two := 0, 2
	for name, tc := range map[string]struct {
		nights *int
		want   int
	}{"none": {&none, 0}, "two": {&two, 1}, "not known": {nil, 1}} {
		q := quote.Of(nil, quote.Work{Card: "tern", Parts: (&Plan{}).crew(Deal{Nights: tc.nights})})
		lines := slices.DeleteFunc(
			slices.Clone(q.Lines),
			func(l quote.Line) bool { return l.Item != rates.Lodging || l.Priced() },
		)
		if len(lines) != tc.want {
			t.Errorf("%s: %+v", name, lines)
		}
	}
}
