package keep

import (
	"encoding/json"
	"testing"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
)

// What is said reads alike in both languages when it comes out of a document again, whatever
// values it has.
func TestRemarksStay(t *testing.T) {
	day := time.Date(2027, 5, 11, 0, 0, 0, 0, time.UTC)
	for _, r := range []say.Remark{
		{}, say.Text("Traverse, à l'est"), say.That("quote.no_price", "card", "tern"),
		say.That("quote.unpriced", "count", 3), say.That("quote.doubt", "why", finding.Stale),
		say.That("quote.no_quantity", "unit", rates.Hour), say.That("quote.unmatched", "length", measure.Distance(12_345)),
		say.That("quote.no_tax", "from", say.Jurisdiction("CA-ON"), "to", say.Jurisdiction("")),
		say.That("quote.expired", "until", say.Day(day)), say.That("screen.time", "time", 90*time.Minute),
		say.That("quote.not_priced", "what", say.Text("a"), "why", say.That("quote.no_value"), "whom", say.Remark{}),
		say.That("quote.draft", "why", []say.Remark{say.That("quote.forbidden"), say.That("quote.invented")}),
		say.That("quote.card", "card", "tern", "apart", []say.Term{rates.Toll}),
		say.That("fix.one_of", "words", []string{"a", "b"}),
	} {
		raw, err := json.Marshal(newRemark(r))
		if err != nil {
			t.Fatal(err)
		}
		var kept *Remark
		if err := json.Unmarshal(raw, &kept); err != nil {
			t.Fatal(err)
		}
		for _, in := range []*phrase.Language{phrase.English(), phrase.French()} {
			if got, want := in.Say(kept.says()), in.Say(r); got != want {
				t.Errorf("%s reads %q, want %q", raw, got, want)
			}
		}
	}
}
