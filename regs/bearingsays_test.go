package regs

import (
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
)

// What a row hangs on that the user can answer is a question about a field, and
// every field that is asked for is one on which some row hangs.
func TestRowsThatHangOnTheRigAskTheUser(t *testing.T) {
	asked := map[say.Code]bool{}
	for name, tc := range map[string]struct {
		row   limit.Row
		s     limit.Subject
		field string
	}{
		"kind":                     {limit.Row{Kind: limit.TinyHome}, limit.Subject{}, "unit.kind"},
		"use":                      {limit.Row{Kind: limit.CommercialUse}, limit.Subject{}, "use"},
		"form":                     {limit.Row{Form: limit.Trailer}, limit.Subject{}, "unit.coupling"},
		"axles":                    {limit.Row{Axles: 5}, limit.Subject{}, "unit.axles"},
		"tow vehicle":              {limit.Row{Tows: limit.Tows{limit.Truck}}, limit.Subject{}, "tow.form"},
		"a semitrailer of any":     {limit.Row{Form: limit.Semitrailer}, limit.Subject{Form: limit.Semitrailer}, "tow.form"},
		"any but semitrailers":     {limit.Row{Form: limit.NotTractorSemitrailer}, limit.Subject{}, "tow.form"},
		"a pickup, by a law alone": {limit.Row{Tows: limit.Tows{limit.Truck}}, limit.Subject{Tow: limit.Pickup}, ""},
	} {
		if tc.row.Kind == "" {
			tc.row.Kind = limit.All
		}
		if tc.row.Form == "" {
			tc.row.Form = limit.AnyForm
		}
		_, hangs := tc.row.Match(tc.s)
		steps := appliedLimit{row: &tc.row, hangs: hangs, why: finding.KindOpen}.settles()
		if len(hangs) != 1 || (len(steps) > 0) != (tc.field != "") || len(steps) > 0 && (steps[0].By != finding.Answer || steps[0].Of != tc.field) {
			t.Errorf("%s: hangs on %v, settled by %+v; want an answer to %q", name, hangs, steps, tc.field)
			continue
		}
		asked[hangs[0].Code] = true
	}
	for code := range answers {
		if !asked[code] {
			t.Errorf("no row hangs on %s", code)
		}
	}
}
