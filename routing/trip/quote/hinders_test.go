package quote

import (
	"testing"

	"wayhouse/regs/rates"
)

// A price that the hauler has yet to confirm is no matter of the customer's, who does read of
// what has no price; the quote is as little final to either.
func TestHindersShownToTheCustomer(t *testing.T) {
	old := rate("haul", rates.Haulage, rates.KM, "2")
	old.ReadOn = day.AddDate(-2, 0, 0)
	haul := Part{Item: rates.Haulage, Quantities: []Quantity{km("100")}, Needed: true}
	q := Of([]*rates.Rate{old, gst()}, work(haul))
	if own, shown := q.HindersShown(false), q.HindersShown(true); len(own) != 1 || len(shown) != 0 ||
		len(q.Hindrances()) != 1 {
		t.Errorf("%v, to the customer %v", own, shown)
	}
	q = Of([]*rates.Rate{gst()}, work(haul))
	if shown := q.HindersShown(true); len(shown) != 1 || shown[0].Code != "quote.unpriced" {
		t.Errorf("to the customer %v", shown)
	}
}
