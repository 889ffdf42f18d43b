package wire

import (
	"encoding/json"
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/regs"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/roads"
)

// The log of a plan says what each entry is for, so that whoever reads it can
// compare it with the trip; the entry is invented.
func TestLogSaysWhatAnEntryIsFor(t *testing.T) {
	numbered, err := roads.Parse("ref=7")
	if err != nil {
		t.Fatal(err)
	}
	k := permit.Contact{
		ID: "k", Jurisdiction: "CA-XX", Asked: "may it pass", PermitNumber: "1", Kind: limit.TinyHome, Use: limit.Private, Roads: numbered,
		Sizes: map[limit.Quantity]limit.Amount{limit.Width: limit.Amount(3 * measure.Metre)},
	}
	raw, err := json.Marshal([]PermitNeed{teller{phrase.English()}.newPermitNeed(regs.Need{Jurisdiction: "CA-XX", Log: []*permit.Contact{&k}})})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"kind":"tiny_home"`, `"use":"private"`, `"roads":"ref=7"`, `"sizes":[{"quantity":"width","value":"3 m`} {
		if !strings.Contains(string(raw), want) {
			t.Errorf("%s does not say %s", raw, want)
		}
	}
}
