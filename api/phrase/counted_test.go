package phrase

import (
	"strings"
	"testing"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/rates"
	"wayhouse/routing/trip/quote"
)

// The plural rules of CLDR (cardinal): English has "one" for 1 alone, French for every number
// from 0 to less than 2, with decimals too.
func TestUnitsOfQuantitiesArePlural(t *testing.T) {
	for _, tc := range []struct{ amount, english, french string }{
		{"0", "0 nights", "0 nuit"}, {"1", "1 night", "1 nuit"}, {"1.0", "1 night", "1 nuit"},
		{"1.5", "1.5 nights", "1,5 nuit"}, {"2", "2 nights", "2 nuits"}, {"5", "5 nights", "5 nuits"},
	} {
		d, _, err := apd.NewFromString(tc.amount)
		if err != nil {
			t.Fatal(err)
		}
		l := quote.Line{Quantity: quote.Exactly(d), Unit: rates.Night}
		l.Rate, l.Amount, l.Currency = quote.Count(2), quote.Count(3), "CAD"
		for in, want := range map[*Language]string{English(): tc.english, French(): tc.french} {
			if got := in.Say(l.Counts("CAD")); got != want {
				t.Errorf("%s: %q, want %q", tc.amount, got, want)
			}
			if got := in.Say(l.Multiplied("CAD")); !strings.Contains(got, "("+want+" ") {
				t.Errorf("%s: %q lacks %q", tc.amount, got, want)
			}
		}
	}
}
