package regs

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/window"
)

// off is a vehicle of a height in millimetres that may turn out more.
func off(millimetres, by limit.Amount, designed bool) Vehicle {
	const milli = limit.Amount(measure.Millimetre)
	v := with(limit.Subject{}, limit.Height, millimetres*milli)
	v.Uncertain = map[limit.Quantity]Uncertainty{limit.Height: {By: by * milli, Designed: designed}}
	return v
}

// A designed height keeps 0.05 m before a legal limit and a measured one 0.02 m,
// as before structures; at less than that left a person must decide.
func TestDesignedHeightKeepsItsUncertaintyBeforeALegalLimit(t *testing.T) {
	recalled := clean(at("recalled", 415), status(finding.Memory))
	for name, tc := range map[string]struct {
		rows     []limit.Row
		v        Vehicle
		want     finding.Outcome
		says, by string
	}{
		"designed at the limit":            {[]limit.Row{clean()}, off(4150, 50, true), finding.Review, "limit.nearly_designed(", "clean!"},
		"designed, less left":              {[]limit.Row{clean()}, off(4101, 50, true), finding.Review, "0.05 m", "clean!"},
		"designed, as much left":           {[]limit.Row{clean()}, off(4100, 50, true), finding.Clear, "", "clean!"},
		"designed, as much, inclusive":     {[]limit.Row{clean(inclusive)}, off(4100, 50, true), finding.Review, "", "clean!"},
		"measured at the limit":            {[]limit.Row{clean()}, off(4150, 20, false), finding.Review, "limit.nearly_measured(", "clean!"},
		"measured, less left":              {[]limit.Row{clean()}, off(4131, 20, false), finding.Review, "0.02 m", "clean!"},
		"measured, as much left":           {[]limit.Row{clean()}, off(4130, 20, false), finding.Clear, "", "clean!"},
		"exact":                            {[]limit.Row{clean()}, off(4150, 0, true), finding.Clear, "", "clean!"},
		"beyond":                           {[]limit.Row{clean()}, off(4151, 50, true), finding.Conditional, "limit.beyond(", "clean!"},
		"a recalled one is near":           {[]limit.Row{clean(at("clean", 430)), recalled}, off(4150, 50, true), finding.Review, "", "recalled! clean"},
		"a country's is near":              {[]limit.Row{clean(at("clean", 430)), clean(at("country", 415), inside("CA"))}, off(4150, 50, true), finding.Review, "", "country! clean"},
		"a further step is far":            {[]limit.Row{clean(), clean(at("ban", 460), further, asks(finding.Forbidden))}, off(4151, 50, true), finding.Conditional, "", "clean! ban"},
		"a further ban is near":            {[]limit.Row{clean(), clean(at("ban", 460), further, asks(finding.Forbidden))}, off(4551, 50, true), finding.Review, "limit.nearly_more(", "clean! ban!"},
		"a further escort is near":         {[]limit.Row{clean(), clean(at("step", 460), further, escorts(1))}, off(4600, 50, true), finding.Review, "limit.nearly_more(", "clean! step!"},
		"a recalled one is exceeded":       {[]limit.Row{clean(), clean(at("lower", 410), status(finding.Memory))}, off(4150, 50, true), finding.Review, "", "lower! clean!"},
		"only a recalled one, near":        {[]limit.Row{recalled}, off(4150, 50, true), finding.Unknown, "", "recalled"},
		"one that is no more in force":     {[]limit.Row{clean(at("clean", 430)), clean(at("past", 415), func(r *limit.Row) { r.ValidTo = dayFromJune(-1) })}, off(4150, 50, true), finding.Clear, "", "clean!"},
		"known only as a least value":      {[]limit.Row{clean()}, atLeast(off(4150, 50, true)), finding.Unknown, "limit.at_least(", "clean"},
		"forbidden is near":                {[]limit.Row{clean(asks(finding.Forbidden))}, off(4150, 50, true), finding.Review, "", "clean!"},
		"the uncertainty of another given": {[]limit.Row{clean()}, other(off(4150, 50, true)), finding.Clear, "", "clean!"},
	} {
		f := answer(t, of(tc.rows...), tc.v, "CA-XX", limit.Height, june)
		if f.Outcome != tc.want || !strings.Contains(says(f), tc.says) || ids(f) != tc.by || (len(f.Settles) == 0) != (f.Outcome == finding.Clear) {
			t.Errorf("%s: %s by %q, %q; want %s by %q that says %q", name, f.Outcome, ids(f), says(f), tc.want, tc.by, tc.says)
		}
	}
}

func atLeast(v Vehicle) Vehicle {
	height, _ := v.Measures[limit.Height].Value()
	v.Measures[limit.Height] = measure.AtLeast(height)
	return v
}

func other(v Vehicle) Vehicle {
	v.Uncertain = map[limit.Quantity]Uncertainty{limit.Width: v.Uncertain[limit.Height]}
	return v
}

// The margin is what is left by the measure; what it is uncertain by is not in it.
func TestMarginOfAnUncertainHeight(t *testing.T) {
	f := answer(t, of(clean()), off(4140, 50, true), "CA-XX", limit.Height, june)
	if want := "0.01 m"; metric(f.Margin) != want || metric(f.Value) != "4.14 m" {
		t.Errorf("value %q, margin %q; want %s", f.Value, f.Margin, want)
	}
}

// What would clear a design, and the largest that would be clear, keep its
// uncertainty; what a jurisdiction allows on the road does not.
func TestEnvelopeKeepsTheUncertainty(t *testing.T) {
	for name, tc := range map[string]struct {
		v             Vehicle
		clear, most   string
		outcome       finding.Outcome
		alsoInclusive string
	}{
		"designed": {off(4150, 50, true), "0.05 m", "4.1 m", finding.Review, "0.051 m"},
		"measured": {off(4150, 20, false), "0.02 m", "4.13 m", finding.Review, "0.021 m"},
		"exact":    {off(4150, 0, true), "", "4.15 m", finding.Clear, "0.001 m"},
	} {
		a := designed(t, of(clean()), tc.v, "CA-XX", limit.Height)
		l := largestOf(t, of(clean()).Design(tc.v, []string{"CA-XX"}, june).Free, limit.Height)
		if a.Findings[0].Outcome != tc.outcome || metric(lessBy(a)) != tc.clear || metric(l.Proven) != tc.most {
			t.Errorf("%s: %s, %q to clear, %q at the most; want %q, %q", name, a.Findings[0].Outcome, a.ToClear, l.Proven, tc.clear, tc.most)
		}
		if a = designed(t, of(clean(inclusive)), tc.v, "CA-XX", limit.Height); metric(lessBy(a)) != tc.alsoInclusive {
			t.Errorf("%s, inclusive: %q to clear, want %q", name, a.ToClear, tc.alsoInclusive)
		}
		if l := largestOf(t, of(clean()).Largest(tc.v, "CA-XX", june), limit.Height); metric(l.Proven) != "4.15 m" {
			t.Errorf("%s: on the road %q", name, l.Proven)
		}
	}
}

// Hours, notices, permits and answers of offices, too, take no height for within a
// size that it may turn out to be beyond.
func TestUncertainHeightIsNotSurelyWithinOtherSizes(t *testing.T) {
	size := measure.Length(4150) * measure.Millimetre
	row := permitRow(t, map[string]string{"over_height": "4.15 m"})
	tables := NewTables("test", Rows{Contacts: pointers(settlingRow("asked", limit.Height, finding.Clear, limit.Amount(size)))}, nil)
	for name, tc := range map[string]struct {
		v      Vehicle
		within bool
	}{"designed, less left": {off(4101, 50, true), false}, "designed, as much": {off(4100, 50, true), true}, "measured": {off(4130, 20, false), true}, "exact": {off(4150, 0, false), true}} {
		c := &checking{t: tables, v: tc.v, p: Stay{Jurisdictions: []string{"CA-XX"}, OwnerKnown: true}, at: june}
		if over, _ := c.beyond(window.Sizes{Height: &size}); (over == limit.No) != tc.within || over == limit.Yes {
			t.Errorf("%s: hours bind %d", name, over)
		}
		if got := surelyWithin(tc.v, &row); got != tc.within {
			t.Errorf("%s: surely within a permit's size: %v", name, got)
		}
		for q, m := range measured(0, 250).Measures {
			if q != limit.Height {
				tc.v.Measures[q] = m
			}
		}
		if f := answer(t, tables, tc.v, "CA-XX", limit.Height, june); (f.Outcome == finding.Clear) != tc.within {
			t.Errorf("%s: answered for 4.15 m: %s", name, f.Outcome)
		}
	}
}

// The more uncertain a size, the less is clear: no answer becomes clear, and
// one that a person must decide stays one.
func TestUncertaintyClearsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, v := drawRows(t), drawVehicle(t)
		q := rapid.SampledFrom(drawnQuantities).Draw(t, "quantity")
		var before finding.Finding
		for by := limit.Amount(0); by <= 3; by++ {
			v.Uncertain = map[limit.Quantity]Uncertainty{q: {By: by, Designed: true}}
			f := answer(t, of(rows...), v, "CA-XX", q, june)
			if by > 0 && rank(f.Outcome) < rank(before.Outcome) {
				t.Fatalf("uncertain by %d: %s by %s; by less: %s by %s", by, f.Outcome, ids(f), before.Outcome, ids(before))
			}
			if f.Outcome == finding.Clear && by > 0 {
				a, _ := v.Measures[q].Value()
				w := with(v.Subject, q, a+by)
				if g := answer(t, of(rows...), w, "CA-XX", q, june); g.Outcome != finding.Clear {
					t.Fatalf("uncertain by %d it is clear, and more by that it is %s by %s", by, g.Outcome, ids(g))
				}
			}
			before = f
		}
	})
}
