package regs

import (
	"slices"
	"strings"
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
)

// Quebec, C-24.2, r. 31, s. 10 (as amended D. 24-2013): a trailer may be 2.6 m wide if
// every axle measures 2.5 m or more over its tires, and 2.5 m if not. Where that is not
// known, both figures show and a person reads the condition.
func TestQuebecAsksForTheWidthOverTires(t *testing.T) {
	tables := shipped(t)
	const mm = measure.Millimetre
	over := func(lengths ...measure.Length) (out []limit.Across) {
		for _, l := range lengths {
			out = append(out, limit.Across{Over: l, Tires: 4})
		}
		return out
	}
	for name, tc := range map[string]struct {
		width   measure.Length
		axles   []limit.Across
		want    finding.Outcome
		decides string
		reads   bool // a condition is left to read
	}{
		"2.60 m on wide axles":       {2600 * mm, over(2500*mm, 2500*mm), finding.Clear, "2,6 m", false},
		"2.61 m on wide axles":       {2610 * mm, over(2500*mm, 2500*mm), finding.Conditional, "2,6 m", false},
		"2.55 m on narrow axles":     {2550 * mm, over(2500*mm, 2400*mm), finding.Conditional, "2,5 m", false},
		"2.50 m on narrow axles":     {2500 * mm, over(2400*mm, 2400*mm), finding.Clear, "2,5 m", false},
		"2.55 m, tires not known":    {2550 * mm, nil, finding.Conditional, "2,5 m", true},
		"2.45 m, tires not known":    {2450 * mm, nil, finding.Unknown, "", false},
		"2.55 m, one axle not known": {2550 * mm, over(2500*mm, 0), finding.Conditional, "2,5 m", true},
	} {
		for _, form := range []limit.Form{limit.Trailer, limit.Semitrailer} {
			v := Vehicle{Subject: limit.Subject{Form: form, Tow: limit.TruckTractor, Kind: limit.HouseTrailer, Use: limit.Private}, Across: tc.axles,
				Measures: map[limit.Quantity]Measure{limit.Width: measure.Exactly(limit.Amount(tc.width))}}
			found := tables.Check(v, Stay{Jurisdictions: []string{"CA-QC"}, OwnerKnown: true}, june)
			f := found[slices.IndexFunc(found, func(f finding.Finding) bool { return f.Rule == "width" })]
			i := slices.IndexFunc(f.Citations, func(r finding.Citation) bool { return r.Decides && r.Published == tc.decides })
			switch {
			case f.Outcome != tc.want, len(f.Demands.Conditions) > 0 != tc.reads:
				t.Errorf("%s as a %s: %s, conditions %q: %s", name, form, f.Outcome, f.Demands.Conditions, says(f))
			case tc.decides != "" && i < 0:
				t.Errorf("%s as a %s: decided by %+v", name, form, f.Citations)
			case tc.decides != "" && !tc.reads && !strings.Contains(bears(f.Citations[i]), "every axle >= 2.5 m over tires"):
				t.Errorf("%s as a %s: the row does not say by what it is firm: %q", name, form, bears(f.Citations[i]))
			}
		}
	}
}
