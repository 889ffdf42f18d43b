package permit

import "testing"

// A permit for half a year, or for a year, is one.
func TestPermitForAYear(t *testing.T) {
	for _, days := range []string{"100", "180", "365"} {
		if _, err := permitOf(map[string]string{"valid_days": days}); err != nil {
			t.Errorf("%s days: %v", days, err)
		}
	}
}

// A currency is three capital letters.
func TestCurrency(t *testing.T) {
	for _, currency := range []string{"123", "cad"} {
		if _, err := permitOf(map[string]string{"currency": currency, "fee": "48"}); err == nil {
			t.Errorf("%q is taken for a currency", currency)
		}
	}
}
