package money

import (
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// Half a unit goes away from zero (Excise Tax Act, R.S.C. 1985, c. E-15, s. 165.2, from memory), to the
// smallest unit of the currency: the yen has none, the Bahraini dinar has 1000 (ISO 4217).
func TestText(t *testing.T) {
	for _, tc := range []struct{ amount, currency, want string }{
		{"48", "CAD", "48.00"}, {"0.005", "CAD", "0.01"}, {"0.0049999", "CAD", "0.00"}, {"2.675", "USD", "2.68"},
		{"2.665", "USD", "2.67"}, {"1.5", "JPY", "2"}, {"1.2345", "BHD", "1.235"}, {"3.005", "XQQ", "3.01"},
	} {
		d, err := Parse(trimmed(tc.amount))
		if err != nil {
			t.Fatal(err)
		}
		if got := Text(d, tc.currency); got != tc.want {
			t.Errorf("%s %s: %s, want %s", tc.amount, tc.currency, got, tc.want)
		}
	}
}

// trimmed keeps the six decimals that an amount may have.
func trimmed(text string) string { return text[:min(len(text), 8)] }

func TestParseMoney(t *testing.T) {
	for text, want := range map[string]string{"48 CAD": "48.00 CAD", "0.5 USD": "0.50 USD", "1250.005 CAD": "1250.01 CAD"} {
		if got, err := ParseMoney(text); err != nil || got.String() != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "48", "CAD", "48CAD", "48 cad", "-48 CAD", "48 QQQ", "4.8.0 CAD", "1e3 CAD", "48 CAD ", "1234567890 CAD"} {
		if got, err := ParseMoney(text); err == nil {
			t.Errorf("%q is taken for %v", text, got)
		}
	}
}

// Rounding is that of math/big, whose FloatString rounds halves away from zero.
func TestToIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := fmt.Sprintf("%d.%06d", rapid.Int64Range(0, 999_999_999).Draw(t, "whole"), rapid.IntRange(0, 999_999).Draw(t, "millionths"))
		d, err := Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		places := rapid.IntRange(0, 6).Draw(t, "places")
		want, _ := new(big.Rat).SetString(text)
		if got := To(d, places).Text('f'); got != want.FloatString(places) {
			t.Fatalf("%s to %d: %s, want %s", text, places, got, want.FloatString(places))
		}
	})
}
