package regs

import (
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
)

// What a row hangs on that the user can answer is a question about a field; what the
// words of its law leave open is one to whoever knows the law.
func TestRowsThatHangOnTheRigAskTheUser(t *testing.T) {
	for name, tc := range map[string]struct {
		row   limit.Row
		s     limit.Subject
		field string
	}{
		"kind":                     {limit.Row{Kind: limit.TinyHome}, limit.Subject{}, "unit.kind"},
		"use":                      {limit.Row{Kind: limit.CommercialUse}, limit.Subject{}, "use"},
		"form":                     {limit.Row{Form: limit.Trailer}, limit.Subject{}, "unit.combination"},
		"axles":                    {limit.Row{Axles: 5}, limit.Subject{}, "unit.axles"},
		"tow vehicle":              {limit.Row{Tows: limit.Tows{limit.Truck}}, limit.Subject{}, "tow.form"},
		"a semitrailer of any":     {limit.Row{Form: limit.Semitrailer}, limit.Subject{Form: limit.Semitrailer}, "tow.form"},
		"any but semitrailers":     {limit.Row{Form: limit.NotTractorSemitrailer}, limit.Subject{}, "unit.combination"},
		"a pickup, by a law alone": {limit.Row{Tows: limit.Tows{limit.Truck}}, limit.Subject{Tow: limit.Pickup}, ""},
	} {
		if tc.row.Kind == "" {
			tc.row.Kind = limit.All
		}
		if tc.row.Form == "" {
			tc.row.Form = limit.AnyForm
		}
		_, hangs := tc.row.Match(tc.s)
		b := appliedLimit{row: &tc.row, hangs: hangs, vehicle: len(hangs)}
		steps := (&checking{v: Vehicle{Subject: tc.s}}).hanging(b)
		want := finding.Step{By: finding.Answer, Of: tc.field}
		if tc.field == "" {
			want = finding.Step{By: finding.Confirm, Of: tc.row.ID}
		}
		if len(hangs) != 1 || len(steps) != 1 || steps[0].By != want.By || steps[0].Of != want.Of {
			t.Errorf("%s: hangs on %v, settled by %+v; want %+v", name, hangs, steps, want)
		}
	}
}
