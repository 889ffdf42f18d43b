package clearance

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Every structure, rig and letter of this file is invented.

func long(mm int64) *measure.Length {
	l := measure.Length(mm) * measure.Millimetre
	return &l
}

func tonnes(kg int64) *measure.Mass {
	m := measure.Mass(kg) * measure.Kilogram
	return &m
}

// plainCase is a rig 4.00 m high, 2.60 m wide and of 8 t, without allowances,
// so that margins are plain differences; it may come by from 1 to 8 June.
func plainCase(change ...func(*Case)) Case {
	c := Case{
		Body: Body{Height: designed(4000 * mm), Width: measure.Given(long(2600)), Mass: measure.Given(tonnes(8000))},
		From: june, Until: june.AddDate(0, 0, 7), Term: term,
	}
	for _, f := range change {
		f(&c)
	}
	return c
}

func reviewed(c *Case) { c.Review = 150 * mm }
func sides(c *Case)    { c.Side = 150 * mm }
func noHeight(c *Case) { c.Height = Height{} }
func noWidth(c *Case)  { c.Width = measure.Known[measure.Length]{} }
func noMass(c *Case)   { c.Mass = measure.Known[measure.Mass]{} }
func high(l int64) func(*Case) {
	return func(c *Case) { c.Height = designed(measure.Length(l) * mm) }
}

// thing is a trusted structure that says nothing yet.
func thing(change ...func(*Structure)) Structure {
	s := Structure{ID: "x", Name: "a bridge", Status: finding.Published, ReadOn: june.AddDate(0, -1, 0)}
	for _, f := range change {
		f(&s)
	}
	return s
}

func signed(l int64) func(*Structure)          { return func(s *Structure) { s.Posted = long(l) } }
func measured(l int64) func(*Structure)        { return func(s *Structure) { s.Measured = long(l) } }
func wide(l int64) func(*Structure)            { return func(s *Structure) { s.Width = long(l) } }
func carries(kg int64) func(*Structure)        { return func(s *Structure) { s.Mass = tonnes(kg) } }
func said(text string) func(*Structure)        { return func(s *Structure) { s.Words = text } }
func windy(text string) func(*Structure)       { return func(s *Structure) { s.Wind = text } }
func doubted(text string) func(*Structure)     { return func(s *Structure) { s.Doubt = text } }
func graded(g Grade) func(*Structure)          { return func(s *Structure) { s.Grade = g } }
func known(st finding.Status) func(*Structure) { return func(s *Structure) { s.Status = st } }
func leastWidthOf(c *Case)                     { c.Width = c.Width.OrMore() }
func leastMass(c *Case)                        { c.Mass = c.Mass.OrMore() }
func rival(s *Structure)                       { s.ID += rows.RivalSuffix }
func shutRoad(s *Structure)                    { s.Closed = true }
func old(s *Structure)                         { s.ReadOn = june.AddDate(-2, 0, 0) }
func made(year string) func(*Structure)        { return func(s *Structure) { s.Year = year } }

// measuredOn is the day of a measurement, so many days before june.
func measuredOn(days int) func(*Structure) {
	return func(s *Structure) { s.MeasuredOn = june.AddDate(0, 0, -days) }
}

// days are those on which a structure binds, of June 2027; 0 is not stated.
func days(from, until int) func(*Structure) {
	return func(s *Structure) {
		if from > 0 {
			s.From = time.Date(2027, 6, from, 0, 0, 0, 0, time.UTC)
		}
		if until > 0 {
			s.Until = time.Date(2027, 6, until, 0, 0, 0, 0, time.UTC)
		}
	}
}

func TestThrough(t *testing.T) {
	const (
		clear   = finding.Clear
		unknown = finding.Unknown
		review  = finding.Review
		shut    = finding.Forbidden
	)
	for _, tc := range []struct {
		name string
		s    Structure
		c    Case
		want finding.Outcome
		says string // of what else is asked
	}{
		// Posted and measured stand side by side and the lower binds.
		{"posted lower", thing(signed(3900), measured(4200)), plainCase(), shut, ""},
		{"measured lower", thing(signed(4200), measured(3900)), plainCase(), shut, ""},
		{"both high", thing(signed(4200), measured(4300)), plainCase(), clear, ""},
		{"measured alone", thing(measured(4200)), plainCase(), clear, ""},
		{"a margin to review", thing(signed(4100), measured(4300)), plainCase(reviewed), review, ""},
		{"no figure", thing(), plainCase(), unknown, ""},
		{"a figure, the rig's height not known", thing(signed(4200)), plainCase(noHeight), unknown, ""},
		{"second-hand figure", thing(signed(4200), known(finding.Secondary)), plainCase(), unknown, ""},
		{"second-hand figure, too low", thing(signed(3900), known(finding.Secondary)), plainCase(), shut, ""},

		// Width, with room to either side.
		{"wide enough", thing(wide(2900), signed(4200)), plainCase(sides), clear, "2.9 m"},
		{"wide enough, the height not known", thing(wide(2900)), plainCase(sides), unknown, "2.9 m"},
		{"wide enough, under a bridge of no height", thing(wide(2900), graded(Under)), plainCase(sides), unknown, "2.9 m"},
		{"wide enough, on a bridge", thing(wide(2900), graded(On)), plainCase(sides), clear, "2.9 m"},
		{"little room", thing(wide(2899)), plainCase(sides), review, "2.899 m"},
		{"as wide as the rig", thing(wide(2600)), plainCase(sides), review, "2.6 m"},
		{"narrower than the rig", thing(wide(2599)), plainCase(sides), shut, "passage.too_narrow("},
		{"no allowance", thing(wide(2600), graded(On)), plainCase(), clear, "2.6 m"},
		{"a least width, within", thing(wide(2900), graded(On)), plainCase(leastWidthOf), unknown, "passage.width_open("},
		{"a least width, beyond", thing(wide(2599), graded(On)), plainCase(leastWidthOf), shut, "passage.too_narrow("},
		{"the rig's width not known", thing(wide(2900)), plainCase(noWidth), unknown, "passage.width_open("},
		{"a width that cannot clear", thing(wide(2900), known(finding.Memory)), plainCase(sides), unknown, ""},
		{"a width read too long ago", thing(wide(2900), old), plainCase(sides), unknown, ""},
		{"too narrow, read too long ago", thing(wide(2599), old), plainCase(sides), shut, ""},

		// Mass of the whole rig.
		{"light enough", thing(carries(8000), signed(4200)), plainCase(), clear, "8000 kg"},
		{"light enough, the height not known", thing(carries(8000)), plainCase(), unknown, "8000 kg"},
		{"light enough, on a bridge", thing(carries(8000), graded(On)), plainCase(), clear, "8000 kg"},
		{"a least mass, within", thing(carries(9000), graded(On)), plainCase(leastMass), unknown, "passage.mass_open("},
		{"a least mass, beyond", thing(carries(7999), graded(On)), plainCase(leastMass), shut, "passage.mass(posted: "},
		{"on a bridge, a row that cannot clear", thing(carries(8000), graded(On), known(finding.Memory)), plainCase(), unknown, ""},
		{"on a bridge, read too long ago", thing(carries(8000), graded(On), old), plainCase(), unknown, ""},
		{"too heavy", thing(carries(7999)), plainCase(), shut, "passage.mass(posted: "},
		{"the rig's mass not known", thing(carries(9000)), plainCase(noMass), unknown, "passage.mass_open("},
		{"a mass that cannot clear", thing(carries(9000), known(finding.Invented)), plainCase(), unknown, ""},

		// Words and wind are for a person.
		{"words", thing(signed(5000), said("left lane only")), plainCase(), review, "left lane only"},
		{"words alone", thing(said("posted for load")), plainCase(), review, "posted for load"},
		{"wind alone", thing(windy("no high vehicles above 70 km/h")), plainCase(noHeight), review, "70 km/h"},
		{"wind", thing(signed(5000), windy("no high vehicles above 70 km/h")), plainCase(), review, "70 km/h"},
		{"words, and too low", thing(signed(3900), said("left lane only")), plainCase(), shut, "left lane only"},

		// Closed on every day of passing, on some, on none.
		{"closed", thing(shutRoad), plainCase(), shut, "passage.closed(days: )"},
		{"closed on all days", thing(shutRoad, days(1, 8)), plainCase(), shut, "days.between(from: 2027-06-01, to: 2027-06-08)"},
		{"closed for longer", thing(shutRoad, days(0, 30)), plainCase(), shut, "days.to(to: 2027-06-30)"},
		{"closed from the second day on", thing(shutRoad, days(2, 0)), plainCase(), review, "passage.closed_some_days("},
		{"closed but on the last", thing(shutRoad, days(0, 7)), plainCase(), review, "passage.closed_some_days("},
		{"closed on one day between", thing(shutRoad, days(4, 4)), plainCase(), review, "passage.closed_some_days("},

		// Several at once: the gravest counts.
		{"high and wide enough", thing(signed(4200), wide(3000), carries(9000)), plainCase(sides), clear, "3 m"},
		{"high enough, too heavy", thing(signed(4200), carries(7000)), plainCase(), shut, "7000 kg"},
		{"height not known, too narrow", thing(signed(4200), wide(2500)), plainCase(noHeight), shut, "passage.too_narrow("},
		{"height not known, wide enough", thing(signed(4200), wide(3000)), plainCase(noHeight), unknown, ""},

		// What the road carries has the sky above it unless a figure says more.
		{"a bridge that carries the road, of which nothing is known", thing(graded(On)), plainCase(), unknown, ""},
		{"the shipped version of a changed row", thing(signed(4200), rival), plainCase(), unknown, ""},
		{"the shipped version of a changed row, too low", thing(signed(3900), rival), plainCase(), shut, ""},
		{"the shipped version of a changed row, on a bridge", thing(carries(9000), graded(On), rival), plainCase(), unknown, ""},
		{"a bridge that carries the road, of too little height", thing(graded(On), signed(3900)), plainCase(), shut, ""},
		{"a bridge over the road, of no height", thing(graded(Under)), plainCase(), unknown, ""},

		// Where it may be another road that it binds it neither clears nor shuts.
		{"doubt, high enough", thing(signed(4200), doubted("two roads are near")), plainCase(), unknown, "two roads are near"},
		{"doubt, too low", thing(signed(3900), doubted("two roads are near")), plainCase(), review, "two roads are near"},
		{"doubt, a margin to review", thing(signed(4100), doubted("two roads are near")), plainCase(reviewed), review, "two roads are near"},
		{"doubt, closed", thing(shutRoad, doubted("two roads are near")), plainCase(), review, "two roads are near"},
		{"doubt, too narrow", thing(wide(2000), doubted("two roads are near")), plainCase(), review, "passage.too_narrow("},
	} {
		p, ok := Through(tc.s, tc.c)
		if !ok || p.Outcome != tc.want || !strings.Contains(strings.Join(say.Strings(p.Others), "; "), tc.says) {
			t.Errorf("%s: %s (binds %v), others %q; want %s with %q", tc.name, p.Outcome, ok, p.Others, tc.want, tc.says)
		}
		if (p.Reason == "") != (p.Outcome == finding.Clear) {
			t.Errorf("%s: %s because %q", tc.name, p.Outcome, p.Reason)
		}
	}
}

// What is not clear says why, whichever of its parts keeps it from clearing.
func TestReasonOfAPassage(t *testing.T) {
	for name, tc := range map[string]struct {
		s    Structure
		c    Case
		want finding.Reason
	}{
		"clear":               {thing(signed(4200)), plainCase(), ""},
		"no figure":           {thing(), plainCase(), finding.NotMeasured},
		"too low":             {thing(signed(3900)), plainCase(), finding.Exceeded},
		"little to spare":     {thing(signed(4100)), plainCase(reviewed), finding.Little},
		"no height":           {thing(signed(4200)), plainCase(noHeight), finding.NotGiven},
		"second-hand":         {thing(signed(4200), known(finding.Secondary)), plainCase(), finding.SecondHand},
		"recalled, beside":    {thing(graded(On), carries(9000), known(finding.Memory)), plainCase(), finding.Recalled},
		"read long ago":       {thing(signed(4200), old), plainCase(), finding.Stale},
		"a shipped rival":     {thing(signed(4200), rival), plainCase(), finding.Contradicts},
		"two roads":           {thing(signed(3900), doubted("two roads are near")), plainCase(), finding.Perhaps},
		"words":               {thing(signed(4200), said("left lane only")), plainCase(), finding.ToRead},
		"closed on some days": {thing(signed(4200), shutRoad, days(2, 0)), plainCase(), finding.TimeOpen},
		"too heavy":           {thing(signed(4200), carries(7000)), plainCase(), finding.Exceeded},
	} {
		if p, ok := Through(tc.s, tc.c); !ok || p.Reason != tc.want {
			t.Errorf("%s: %s because %q, want %q", name, p.Outcome, p.Reason, tc.want)
		}
	}
}

// A structure that binds on other days is none on these.
func TestThroughOnOtherDays(t *testing.T) {
	for _, tc := range []struct {
		from, until int
		want        bool
	}{{9, 30, false}, {8, 30, true}, {0, 1, true}, {5, 5, true}, {9, 0, false}, {0, 0, true}, {0, 8, true}} {
		s := thing(shutRoad, days(tc.from, tc.until))
		if _, ok := Through(s, plainCase()); ok != tc.want {
			t.Errorf("from %d to %d of June: %v", tc.from, tc.until, ok)
		}
	}
	may := thing(shutRoad)
	may.Until = time.Date(2027, 5, 31, 0, 0, 0, 0, time.UTC)
	if p, ok := Through(may, plainCase()); ok {
		t.Errorf("closed until the end of May: %s in June", p.Outcome)
	}
	// The days are those of the clock of the place: 31 May 23:00 there is 1 June
	// in UTC.
	east := time.FixedZone("east", -4*3600)
	c := plainCase()
	c.From, c.Until = time.Date(2027, 5, 31, 23, 0, 0, 0, east), time.Date(2027, 5, 31, 23, 30, 0, 0, east)
	if p, ok := Through(may, c); !ok || p.Outcome != finding.Forbidden {
		t.Errorf("on the evening of 31 May: %s, %v", p.Outcome, ok)
	}
}

// Of the days on which the rig may come by the stricter counts: snow is allowed
// for where any of them lies in a month of winter.
func TestThroughStricterDay(t *testing.T) {
	for _, tc := range []struct {
		from string
		want measure.Length
	}{{"2027-10-20", 300 * mm}, {"2027-10-28", 250 * mm}, {"2027-04-28", 250 * mm}, {"2027-05-02", 300 * mm}} {
		day, err := time.Parse(time.DateOnly, tc.from)
		if err != nil {
			t.Fatal(err)
		}
		c := plainCase()
		c.Snow, c.WinterMonths = 50*mm, DefaultAllowances().WinterMonths
		c.From, c.Until = day, day.AddDate(0, 0, 7)
		s := thing(signed(4300))
		s.ReadOn = day
		if p, _ := Through(s, c); p.Margin != tc.want {
			t.Errorf("from %s: margin %v, want %v (%s)", tc.from, p.Margin, tc.want, p.Sum())
		}
	}
	// A reading that grows stale on the way clears nothing.
	s := thing(signed(4300))
	s.ReadOn = june.Add(-term + 48*time.Hour)
	if p, _ := Through(s, plainCase()); p.Outcome != finding.Unknown {
		t.Errorf("stale on the third day: %s", p.Outcome)
	}
}

// letter allows a height from 1 to 8 June 2027 and was read in May.
func letter(l int64, change ...func(*Letter)) *Letter {
	out := &Letter{
		ID: "l", Structure: "x", By: "the county", Height: measure.Length(l) * mm,
		From: time.Date(2027, 6, 1, 0, 0, 0, 0, time.UTC), Until: time.Date(2027, 6, 8, 0, 0, 0, 0, time.UTC),
		Proof: rows.Proof{Status: finding.Verified, Source: "made up", ReadOn: june.AddDate(0, -1, 0)},
	}
	for _, f := range change {
		f(out)
	}
	return out
}

// A letter of the authority raises what is too low to a review, never further,
// and only where it is firm, holds on every day and allows enough.
func TestLetters(t *testing.T) {
	on := func(month time.Month, day int) time.Time { return time.Date(2027, month, day, 0, 0, 0, 0, time.UTC) }
	low := thing(signed(3900))
	for _, tc := range []struct {
		name    string
		letters []*Letter
		want    finding.Outcome
	}{
		{"none", nil, finding.Forbidden},
		{"high enough", []*Letter{letter(4000)}, finding.Review},
		{"far higher is still a review", []*Letter{letter(9000)}, finding.Review},
		{"not high enough", []*Letter{letter(3999)}, finding.Forbidden},
		{"without days", []*Letter{letter(4000, func(l *Letter) { l.From, l.Until = time.Time{}, time.Time{} })}, finding.Review},
		{"ends a day early", []*Letter{letter(4000, func(l *Letter) { l.Until = on(time.June, 7) })}, finding.Forbidden},
		{"begins a day late", []*Letter{letter(4000, func(l *Letter) { l.From = on(time.June, 2) })}, finding.Forbidden},
		{"second-hand", []*Letter{letter(4000, func(l *Letter) { l.Status = finding.Secondary })}, finding.Forbidden},
		{"recalled", []*Letter{letter(4000, func(l *Letter) { l.Status = finding.Memory })}, finding.Forbidden},
		{"invented", []*Letter{letter(4000, func(l *Letter) { l.Status = finding.Invented })}, finding.Forbidden},
		{"read too long ago", []*Letter{letter(4000, func(l *Letter) { l.ReadOn = june.AddDate(-2, 0, 0) })}, finding.Forbidden},
		{"never read", []*Letter{letter(4000, func(l *Letter) { l.ReadOn = time.Time{} })}, finding.Forbidden},
		{"one of two", []*Letter{letter(3000), letter(4000)}, finding.Review},
	} {
		p, _ := Through(low, plainCase(func(c *Case) { c.Letters = tc.letters }))
		if p.Outcome != tc.want || tc.want == finding.Review && !(p.Why.Code == "passage.letter" && p.Why.Get("letter") == "l" && p.Why.Get("by") == "the county") {
			t.Errorf("%s: %s, %q; want %s", tc.name, p.Outcome, p.Why, tc.want)
		}
		if p.Margin != -100*mm || p.Parts[0].Length != 3900*mm {
			t.Errorf("%s: the sum must stay that of the sign: %s", tc.name, p.Sum())
		}
	}
	allowed := func(c *Case) { c.Letters = []*Letter{letter(9000)} }
	// It speaks of height alone, and does not open what is closed.
	for name, s := range map[string]Structure{
		"too narrow": thing(signed(3900), wide(2000)), "too heavy": thing(signed(3900), carries(1000)), "closed": thing(signed(3900), shutRoad),
	} {
		if p, _ := Through(s, plainCase(allowed)); p.Outcome != finding.Forbidden {
			t.Errorf("%s, with a letter about the height: %s", name, p.Outcome)
		}
	}
	// It changes nothing where the sign is high enough, or not known.
	for want, s := range map[finding.Outcome]Structure{finding.Clear: thing(signed(4200)), finding.Unknown: thing()} {
		if p, _ := Through(s, plainCase(allowed)); p.Outcome != want || strings.HasPrefix(string(p.Why.Code), "passage.letter") {
			t.Errorf("%s, with a letter: %s, %q", want, p.Outcome, p.Why)
		}
	}
	// One that allows less than the sign, and too little, is a doubt, however it is
	// known; not one of other days.
	for name, tc := range map[string]struct {
		l    *Letter
		want finding.Outcome
	}{
		"less": {letter(3999), finding.Review}, "less, recalled": {letter(3999, func(l *Letter) { l.Status = finding.Memory }), finding.Review},
		"less, for a part of the days": {letter(3999, func(l *Letter) { l.Until = on(time.June, 2) }), finding.Review},
		"less, before":                 {letter(3999, func(l *Letter) { l.From, l.Until = on(time.May, 1), on(time.May, 31) }), finding.Clear},
		"as much as the sign":          {letter(4200), finding.Clear},
	} {
		p, _ := Through(thing(signed(4200)), plainCase(func(c *Case) { c.Letters = []*Letter{tc.l} }))
		if p.Outcome != tc.want || (tc.want == finding.Review) != (p.Why.Code == "passage.letter_low") {
			t.Errorf("%s: %s, %q; want %s", name, p.Outcome, p.Why, tc.want)
		}
	}
	// A sign that is less sure does not make the doubt go away.
	if p, _ := Through(thing(signed(4200), known(finding.Secondary)), plainCase(func(c *Case) { c.Letters = []*Letter{letter(3999)} })); p.Outcome != finding.Review {
		t.Errorf("less than a second-hand sign: %s, %q", p.Outcome, p.Why)
	}
	// Of what nobody has measured it makes nothing else.
	for name, s := range map[string]Structure{"under": thing(graded(Under)), "wide": thing(wide(3000)), "on": thing(graded(On))} {
		for _, mm := range []int64{3000, 9000} {
			if p, _ := Through(s, plainCase(func(c *Case) { c.Letters = []*Letter{letter(mm)} })); p.Outcome != finding.Unknown {
				t.Errorf("%s, a letter of %d mm: %s", name, mm, p.Outcome)
			}
		}
	}
	// The allowances count against the letter too.
	tight := plainCase(func(c *Case) { c.Letters, c.Base = []*Letter{letter(4050)}, 100*mm })
	if p, _ := Through(low, tight); p.Outcome != finding.Forbidden {
		t.Errorf("a letter that leaves no room for the allowances: %s", p.Outcome)
	}
}

// order is how grave an outcome is where something is asked.
var order = map[finding.Outcome]int{finding.Clear: 0, finding.Unknown: 1, finding.Review: 2, finding.Forbidden: 3}

// A lower figure, a narrower width, a smaller posted mass, a taller, wider or
// heavier rig, more allowance, another word: none makes the answer milder.
func TestThroughMonotone(t *testing.T) {
	statuses := []finding.Status{finding.Published, finding.Verified, finding.Secondary, finding.Memory, finding.Invented}
	seen := map[finding.Outcome]int{}
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, least, most int64) int64 { return rapid.Int64Range(least, most).Draw(t, name) }
		yes := func(name string) bool { return rapid.Bool().Draw(t, name) }
		s := thing(known(rapid.SampledFrom(statuses).Draw(t, "status")), graded(rapid.SampledFrom([]Grade{AnyGrade, On, Under}).Draw(t, "grade")))
		if yes("posted") {
			s.Posted = long(draw("posted mm", 3800, 4600))
		}
		if yes("measured") {
			s.Measured = long(draw("measured mm", 3800, 4600))
		}
		if yes("width") {
			s.Width = long(draw("width mm", 2400, 3200))
		}
		if yes("mass") {
			s.Mass = tonnes(draw("mass kg", 7000, 9000))
		}
		if yes("old") {
			s.ReadOn = june.Add(-term).AddDate(0, 0, int(draw("days", -5, 5)))
		}
		if yes("closed") && yes("days") {
			s.Closed = true
			days(int(draw("from", 0, 9)), 0)(&s)
		}
		c := plainCase(reviewed, sides)
		tall := designed(measure.Length(draw("height mm", 3900, 4400)) * mm)
		c.Height = tall
		if yes("at least") {
			c.Height.Of = tall.Of.OrMore()
		}
		if yes("letter") {
			c.Letters = []*Letter{letter(draw("letter mm", 3900, 4600))}
		}
		if yes("roomy") { // otherwise hardly anything is clear
			s = thing(signed(draw("high mm", 4500, 5000)), graded(s.Grade), days(0, rapid.SampledFrom([]int{0, 8}).Draw(t, "until")))
			s.Width = long(draw("wide mm", 2890, 3500))
			c.Height = tall
		}
		base, binds := Through(s, c)
		if !binds {
			return
		}
		seen[base.Outcome]++
		more := measure.Length(draw("more mm", 0, 500)) * mm
		kg := measure.Mass(draw("more kg", 0, 2000)) * measure.Kilogram
		lower := func(l *measure.Length) *measure.Length {
			if l == nil {
				return nil
			}
			v := max(*l-more, 1)
			return &v
		}
		worse := map[string]func(*Structure, *Case){
			"a lower sign":         func(s *Structure, _ *Case) { s.Posted = lower(s.Posted) },
			"a lower measurement":  func(s *Structure, _ *Case) { s.Measured = lower(s.Measured) },
			"a narrower width":     func(s *Structure, _ *Case) { s.Width = lower(s.Width) },
			"a taller rig":         func(_ *Structure, c *Case) { c.Height.Of = measure.Sum(c.Height.Of, measure.Exactly(more)) },
			"a wider rig":          func(_ *Structure, c *Case) { c.Width = measure.Sum(c.Width, measure.Exactly(more)) },
			"a heavier rig":        func(_ *Structure, c *Case) { c.Mass = measure.Sum(c.Mass, measure.Exactly(kg)) },
			"more allowance":       func(_ *Structure, c *Case) { c.Base += more },
			"more room to a side":  func(_ *Structure, c *Case) { c.Side += more },
			"a wider review":       func(_ *Structure, c *Case) { c.Review += more },
			"no letter":            func(_ *Structure, c *Case) { c.Letters = nil },
			"words":                func(s *Structure, _ *Case) { s.Words = "left lane only" },
			"closed":               func(s *Structure, _ *Case) { s.Closed = true },
			"a figure less sure":   func(s *Structure, _ *Case) { s.Status = finding.Secondary },
			"the mass not known":   func(_ *Structure, c *Case) { c.Mass = unlessHeavy(s, c.Mass) },
			"a second, low figure": func(s *Structure, _ *Case) { s.Measured = lower(s.Posted) },
			"a smaller posted mass": func(s *Structure, _ *Case) {
				if s.Mass != nil {
					m := max(*s.Mass-kg, 1)
					s.Mass = &m
				}
			},
		}
		for name, change := range worse {
			if name == "a second, low figure" && s.Measured != nil {
				continue // it would take one away
			}
			if name == "no letter" && base.Why.Code == "passage.letter_low" {
				continue // it allows less than the sign: a doubt is taken away
			}
			s2, c2 := s, c
			change(&s2, &c2)
			got, ok := Through(s2, c2)
			if !ok || order[got.Outcome] < order[base.Outcome] {
				t.Fatalf("%s made %s of %s", name, got.Outcome, base.Outcome)
			}
		}
	})
	for o := range order {
		if seen[o] == 0 {
			t.Errorf("nothing drawn is %s: %v", o, seen)
		}
	}
}

// unlessHeavy takes a mass away where it does not shut the road.
func unlessHeavy(s Structure, m measure.Known[measure.Mass]) measure.Known[measure.Mass] {
	if mass, _ := m.Value(); s.Mass != nil && mass > *s.Mass {
		return m
	}
	return measure.Known[measure.Mass]{}
}

// With a doubt about the road nothing is cleared and nothing is shut, whatever
// else is said.
func TestDoubtNeitherClearsNorShuts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := thing(doubted("two roads are near"), signed(rapid.Int64Range(3000, 6000).Draw(t, "posted")))
		for name, set := range map[string]func(*Structure){
			"width": wide(rapid.Int64Range(2000, 4000).Draw(t, "width")), "mass": carries(rapid.Int64Range(1000, 20000).Draw(t, "mass")),
			"words": said("left lane only"), "closed": shutRoad, "grade": graded(On),
		} {
			if rapid.Bool().Draw(t, name) {
				set(&s)
			}
		}
		if p, ok := Through(s, plainCase(reviewed, sides)); !ok || p.Outcome != finding.Unknown && p.Outcome != finding.Review {
			t.Fatalf("%s", p.Outcome)
		}
	})
}

func TestReadLetters(t *testing.T) {
	const head = "id,structure,by,height,document,valid_from,valid_to,note,status,source,section,source_year,source_url,read_on\n"
	got, _, err := Letters().ReadCSV([]byte(head + "l,x,the county,4.3 m,letter of 3 May,2027-06-01,2027-06-08,one trip,verified,letter,,2027,,2027-05-04\n"))
	if err != nil || len(got) != 1 || got[0].Height != 4300*mm || got[0].Structure != "x" || !got[0].holds(june, june.AddDate(0, 0, 7)) {
		t.Fatalf("%+v, %v", got, err)
	}
	for column, line := range map[string]string{
		"height":    "l,x,the county,,,,,,verified,letter,,,,\n",
		"structure": "l,,the county,4.3 m,,,,,verified,letter,,,,\n",
		"by":        "l,x,,4.3 m,,,,,verified,letter,,,,\n",
		"valid_to":  "l,x,the county,4.3 m,,,8 June,,verified,letter,,,,\n",
		"status":    "l,x,the county,4.3 m,,,,,certain,letter,,,,\n",
	} {
		_, _, err := Letters().ReadCSV([]byte(head + line))
		var cell *rows.CellError
		if !errors.As(err, &cell) || cell.Column != column || cell.Line != 2 {
			t.Errorf("%s: %v", column, err)
		}
	}
}

func TestReadNotices(t *testing.T) {
	const head = "id,jurisdiction,roads,place,text,closed,height,width,mass,valid_from,valid_to,status,source,section,source_year,source_url,read_on\n"
	got, _, err := Notices().ReadCSV([]byte(head + "n,CA-XX,ref=17,west of the town,lanes narrowed,yes,4.3 m,3.5 m,20 t,2027-06-01,2027-06-08,invented,made up,,,,2027-05-04\n"))
	if err != nil || len(got) != 1 {
		t.Fatalf("%+v, %v", got, err)
	}
	n := got[0]
	if !n.Closed || *n.Height != 4300*mm || *n.Width != 3500*mm || *n.Mass != *tonnes(20_000) || n.Status != finding.Invented {
		t.Errorf("read %+v", n)
	}
	for _, tc := range []struct {
		from, until int
		want        bool
	}{{1, 8, true}, {8, 20, true}, {9, 20, false}, {3, 4, true}} {
		from, until := time.Date(2027, 6, tc.from, 12, 0, 0, 0, time.UTC), time.Date(2027, 6, tc.until, 12, 0, 0, 0, time.UTC)
		if n.Binds(from, until) != tc.want {
			t.Errorf("from %d to %d of June: %v", tc.from, tc.until, !tc.want)
		}
	}
	if n.Binds(june.AddDate(0, -1, 0), june.AddDate(0, 0, -1)) || !(Notice{}).Binds(june, june) {
		t.Error("it binds in May, or one without days does not")
	}
	for column, line := range map[string]string{
		"place":    "n,CA-XX,,,lanes narrowed,,,,,,,invented,made up,,,,\n",
		"text":     "n,CA-XX,,west,,,,,,,,invented,made up,,,,\n",
		"closed":   "n,CA-XX,,west,lanes narrowed,no,,,,,,invented,made up,,,,\n",
		"width":    "n,CA-XX,,west,lanes narrowed,,,3.5,,,,invented,made up,,,,\n",
		"valid_to": "n,CA-XX,,west,lanes narrowed,,,,,2027-06-02,2027-06-01,invented,made up,,,,\n",
	} {
		_, _, err := Notices().ReadCSV([]byte(head + line))
		var cell *rows.CellError
		if !errors.As(err, &cell) || cell.Column != column {
			t.Errorf("%s: %v", column, err)
		}
	}
}

// The columns that came later may be left out; those that are there are read.
func TestReadStructureColumns(t *testing.T) {
	full := strings.TrimSuffix(head, "\n") + ",width,mass,words,grade,way,doubt,closed,valid_from,valid_to,wind,source_url\n"
	row := "a,Mill bridge,45.3,-75.1,417,E,4.3 m,,,,invented,made up,,,2026-11-25,note,3.5 m,20 t,left lane,under,12345,perhaps the ramp,yes,2027-06-01,2027-06-08,none above 70 km/h,http://example.org\n"
	got, err := ReadCSV([]byte(full + row))
	if err != nil || len(got) != 1 {
		t.Fatalf("%+v, %v", got, err)
	}
	s := got[0]
	if *s.Width != 3500*mm || *s.Mass != *tonnes(20_000) || s.Words != "left lane" || s.Grade != Under || s.Way != 12345 || s.Doubt != "perhaps the ramp" || !s.Closed ||
		s.From.Day() != 1 || s.Until.Day() != 8 || s.Wind == "" || s.URL != "http://example.org" || s.Note != "note" {
		t.Errorf("read %+v", s)
	}
	for column, change := range map[string][2]string{
		"grade": {",under,", ",over,"}, "way": {",12345,", ",-3,"}, "closed": {",yes,", ",true,"}, "valid_to": {"2027-06-08", "2027-05-08"}, "width": {"3.5 m", "wide"}, "mass": {"20 t", "20"},
	} {
		_, err := ReadCSV([]byte(full + strings.Replace(row, change[0], change[1], 1)))
		var cell *rows.CellError
		if !errors.As(err, &cell) || cell.Column != column {
			t.Errorf("%s: %v", column, err)
		}
	}
	some := strings.TrimSuffix(head, "\n") + ",width,closed\n"
	if got, err := ReadCSV([]byte(some + "a,Mill bridge,45.3,-75.1,417,E,4.3 m,,,,invented,made up,,,,,3.5 m,yes\n")); err != nil || got[0].Width == nil || !got[0].Closed {
		t.Errorf("two of them: %+v, %v", got, err)
	}
	if _, err := ReadCSV([]byte(strings.TrimSuffix(head, "\n") + ",closed,width\n")); err == nil || !strings.Contains(err.Error(), "error.head_order") {
		t.Errorf("in another order: %v", err)
	}
	if !slices.Equal(Structures().Columns[len(Structures().Columns)-len(Structures().Optional):], Structures().Optional) {
		t.Error("the columns that may be left out are not the last")
	}
}

// A figure is as old as its measurement, however lately it was read: past two years
// (23 CFR 650.311(a), the longest between routine inspections; from memory) it
// clears no height, no width and no mass, and shuts as before. The days between which
// the rig may pass both count: a term that ends on the way has ended.
func TestOldMeasurementsClearNothing(t *testing.T) {
	const two = 731
	for _, tc := range []struct {
		name string
		s    Structure
		c    Case
		want finding.Outcome
	}{
		{"measured lately", thing(measured(4200), measuredOn(30)), plainCase(), finding.Clear},
		{"measured two years ago on the last day", thing(measured(4200), measuredOn(two-7)), plainCase(), finding.Clear},
		{"two years are over while it may pass", thing(measured(4200), measuredOn(two-6)), plainCase(), finding.Unknown},
		{"measured too long ago", thing(measured(4200), measuredOn(3*365)), plainCase(), finding.Unknown},
		{"measured too long ago, too low", thing(measured(3900), measuredOn(3*365)), plainCase(), finding.Forbidden},
		{"measured too long ago, little room", thing(measured(4100), measuredOn(3*365)), plainCase(reviewed), finding.Review},
		{"a day that is still to come", thing(measured(4200), measuredOn(-30)), plainCase(), finding.Unknown},
		{"a sign beside an old measurement", thing(signed(4200), measured(4300), measuredOn(3*365)), plainCase(), finding.Clear},
		{"an old measurement below a sign", thing(signed(4300), measured(4200), measuredOn(3*365)), plainCase(), finding.Unknown},
		{"a sign alone, of an old day", thing(signed(4200), measuredOn(3*365)), plainCase(), finding.Unknown},
		{"a source of this year", thing(measured(4200), made("2027")), plainCase(), finding.Clear},
		{"an old source", thing(measured(4200), made("2024")), plainCase(), finding.Unknown},
		{"an old source of a sign", thing(signed(4200), made("2024")), plainCase(), finding.Unknown},
		{"an old source of a new measurement", thing(measured(4200), made("2024"), measuredOn(30)), plainCase(), finding.Clear},
		{"a new source of an old measurement", thing(measured(4200), made("2027"), measuredOn(3*365)), plainCase(), finding.Unknown},
		{"an old width", thing(graded(On), wide(2900), measuredOn(3*365)), plainCase(), finding.Unknown},
		{"an old width, too narrow", thing(graded(On), wide(2500), measuredOn(3*365)), plainCase(), finding.Forbidden},
		{"an old mass", thing(graded(On), carries(9000), made("2020")), plainCase(), finding.Unknown},
		{"a shorter term", thing(measured(4200), measuredOn(60)), plainCase(func(c *Case) { c.FigureTerm = 30 * 24 * time.Hour }), finding.Unknown},
		{"a longer one", thing(measured(4200), measuredOn(3*365)), plainCase(func(c *Case) { c.FigureTerm = 4 * 365 * 24 * time.Hour }), finding.Clear},
		{"that of the row", thing(measured(4200), measuredOn(60), func(s *Structure) { s.Term = 30 * 24 * time.Hour }), plainCase(), finding.Unknown},
	} {
		if p, ok := Through(tc.s, tc.c); !ok || p.Outcome != tc.want {
			t.Errorf("%s: %s (%s), want %s", tc.name, p.Outcome, p.Why, tc.want)
		}
	}
	a := DefaultAllowances()
	if a.FigureTerm++; !a.Reduced() {
		t.Error("that figures may be older is not said")
	}
}

// An older measurement is never the milder.
func TestOlderIsMonotone(t *testing.T) {
	grave := map[finding.Outcome]int{finding.Clear: 0, finding.Unknown: 1, finding.Review: 2, finding.Forbidden: 3}
	rapid.Check(t, func(t *rapid.T) {
		s := thing(measured(rapid.Int64Range(3900, 4300).Draw(t, "height")), measuredOn(rapid.IntRange(0, 1500).Draw(t, "days")))
		older := s
		older.MeasuredOn = s.MeasuredOn.AddDate(0, 0, -rapid.IntRange(0, 1500).Draw(t, "more"))
		a, _ := Through(s, plainCase(reviewed))
		b, _ := Through(older, plainCase(reviewed))
		if grave[b.Outcome] < grave[a.Outcome] {
			t.Fatalf("%s became %s", a.Outcome, b.Outcome)
		}
	})
}

// A row that ended takes a closure with it, and no bridge: what stands there is
// unmeasured. Where it ends while the rig may pass, it clears nothing.
func TestExpiredRowsLeaveAStructure(t *testing.T) {
	may := func(s *Structure) { s.Until = time.Date(2027, 5, 31, 0, 0, 0, 0, time.UTC) }
	for _, tc := range []struct {
		name string
		s    Structure
		want finding.Outcome // "" where nothing is left
	}{
		{"a height", thing(signed(4200), may), finding.Unknown},
		{"a height too low", thing(signed(3900), may), finding.Unknown},
		{"an unmeasured bridge", thing(graded(Under), may), finding.Unknown},
		{"a posted mass", thing(graded(On), carries(9000), may), finding.Unknown},
		{"a closure", thing(shutRoad, may), ""},
		{"words", thing(said("one lane"), may), ""},
		{"ends on the way", thing(signed(4200), days(0, 3)), finding.Unknown},
		{"ends on the way, too low", thing(signed(3900), days(0, 3)), finding.Forbidden},
		{"ends after it", thing(signed(4200), days(0, 8)), finding.Clear},
		{"begins after it", thing(signed(4200), days(9, 0)), ""},
	} {
		if p, ok := Through(tc.s, plainCase()); ok != (tc.want != "") || ok && p.Outcome != tc.want || p.Outcome == finding.Unknown && ok && p.Why.None() {
			t.Errorf("%s: %s (%v, %s), want %s", tc.name, p.Outcome, ok, p.Why, tc.want)
		}
	}
}
