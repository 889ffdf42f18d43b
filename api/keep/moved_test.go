package keep

import (
	"testing"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/api/phrase"
	"wayhouse/regs/compare"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
)

// priced is a quote of one line of CAD: haulage in km at a rate of a row, or without a price.
func priced(km, rate, amount, row string) *Quoted {
	exactly := func(text string) Ends {
		d, _, err := apd.NewFromString(text)
		if err != nil {
			return Ends{}
		}
		return Ends{d, d, d}
	}
	l := QuotedLine{
		Item: rates.Haulage, Unit: rates.KM, Currency: "CAD", Quantity: exactly(km), Rate: exactly(rate),
		Amount: exactly(amount), Row: &QuotedRow{ID: row, Item: rates.Haulage}, Revision: len(row),
	}
	if amount == "" {
		l.Unknown = newRemark(say.That("quote.no_days"))
	}
	return &Quoted{Currency: "CAD", Lines: []QuotedLine{l}, Subtotal: l.Amount, Total: l.Amount}
}

// By hand: 330 km at 4.35 are 1,435.50 and 339.9 km at 4.60 are 1,563.54. 9.9 km more at 4.35 make
// 43.07 (43.065: half a cent is one) of the 128.04, the rate the other 84.97.
func TestWhatMoved(t *testing.T) {
	before := priced("330", "4.35", "1435.50", "a")
	for name, tc := range map[string]struct {
		was, now *Quoted
		want     string
	}{
		"both": {before, priced("339.9", "4.60", "1563.54", "bb"),
			"haulage, loaded: 128.04 CAD more: 43.07 CAD more by the quantity, 84.97 CAD more by the rate" +
				" (bb, revision 2, before: a, revision 1)"},
		"quantity": {
			before, priced("100", "4.35", "435.00", "a"),
			"haulage, loaded: 1,000.50 CAD less, by the quantity (a, revision 1)",
		},
		"rate": {
			before, priced("330", "4", "1320.00", "a"),
			"haulage, loaded: 115.50 CAD less, by the rate (a, revision 1)",
		},
		"opposite": {
			before, priced("300", "5", "1500.00", "a"),
			"haulage, loaded: 64.50 CAD more: 130.50 CAD less by the quantity, " +
				"195.00 CAD more by the rate (a, revision 1)",
		},
		"gone": {
			before, &Quoted{Currency: "CAD"},
			"haulage, loaded: 1,435.50 CAD less, is no part of it any more",
		},
		"unpriced": {
			before, priced("330", "4", "", "a"),
			"haulage, loaded: 1,435.50 CAD less, HAS NO PRICE ANY MORE",
		},
		"new": {
			&Quoted{Currency: "CAD"}, before,
			"haulage, loaded: 1,435.50 CAD more, had no price before (a, revision 1)",
		},
		"priced now": {
			priced("330", "4", "", "a"), before,
			"haulage, loaded: 1,435.50 CAD more, had no price before (a, revision 1)",
		},
		"the same": {before, before, ""},
	} {
		var a, b compare.Side
		said := ""
		for _, r := range Prices(&a, &b, tc.was, tc.now) {
			said += phrase.English().Say(r)
		}
		if said != tc.want {
			t.Errorf("%s: %q, want %q", name, said, tc.want)
		}
		if len(a.Facts) < 3 || len(b.Facts) < 3 {
			t.Errorf("%s: %+v, %+v", name, a.Facts, b.Facts)
		}
	}
}
