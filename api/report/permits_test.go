package report_test

import (
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/regs"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/roads"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/driving"
)

// The report says of an entry of the log what it is for; the entry is invented.
func TestReportSaysWhatAnEntryIsFor(t *testing.T) {
	numbered, err := roads.Parse("ref=7")
	if err != nil {
		t.Fatal(err)
	}
	k := permit.Contact{
		ID: "k", Jurisdiction: "CA-XX", Asked: "may it pass", PermitNumber: "1", Kind: limit.TinyHome, Use: limit.Private, Roads: numbered,
		Sizes: map[limit.Quantity]limit.Amount{limit.Width: limit.Amount(3 * measure.Metre)},
	}
	var out strings.Builder
	p := &trip.Plan{Rig: rig.Rig{}, Road: &driving.Drive{}, Permits: []regs.Need{{Jurisdiction: "CA-XX", Log: []*permit.Contact{&k}}}}
	if err := report.Text(&out, report.View{In: phrase.English()}, p, nil); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"width up to 3 m", "for tiny home, for private, for ref=7", "no answer yet"} {
		if !strings.Contains(strings.Join(strings.Fields(out.String()), " "), want) {
			t.Errorf("the report does not say %q:\n%s", want, out.String())
		}
	}
}
