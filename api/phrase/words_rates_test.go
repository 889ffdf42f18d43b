package phrase

import (
	"testing"

	"wayhouse/regs/rates"
	"wayhouse/routing/trip/quote"
)

// Every item and every unit of a price has its word in each language.
func TestWordsOfRates(t *testing.T) {
	for _, l := range []*Language{English(), French()} {
		for _, item := range rates.Items() {
			if !l.Has(item.Term()) || len(item.Units()) == 0 {
				t.Errorf("%s: %s has no word or no unit", l.Tag(), item)
			}
		}
		for _, h := range quote.Headings() {
			if !l.Has(h.Term()) {
				t.Errorf("%s: %s has no word", l.Tag(), h)
			}
		}
		for _, unit := range rates.Units() {
			if !l.Has(unit.Term()) || !l.Has(rates.Several(unit).Term()) {
				t.Errorf("%s: %s has no word", l.Tag(), unit)
			}
		}
	}
}
