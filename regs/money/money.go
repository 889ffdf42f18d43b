// Package money holds exact decimal amounts of a currency and the one rule by which they
// are rounded.
package money

import (
	"regexp"

	"github.com/cockroachdb/apd/v3"
	"golang.org/x/text/currency"

	"wayhouse/regs/say"
)

// Exact has room for every sum and product of amounts, quantities and rates that are read:
// 9 digits before the point and 6 behind it each, a product of three at most, a million of
// which may be summed. It rounds half away from zero.
var Exact = apd.Context{
	Precision: 80, MaxExponent: apd.MaxExponent, MinExponent: apd.MinExponent, Traps: apd.DefaultTraps,
	Rounding: apd.RoundHalfUp,
}

// Money is an amount of a currency.
type Money struct {
	Amount   *apd.Decimal
	Currency string // ISO 4217
}

// String writes the amount to the smallest unit of its currency, and the currency: 48.00 CAD.
func (m Money) String() string { return Text(m.Amount, m.Currency) + " " + m.Currency }

// Text writes an amount to the smallest unit of a currency.
func Text(amount *apd.Decimal, currency string) string { return Round(amount, currency).Text('f') }

// Round rounds an amount to the smallest unit of a currency, half away from zero: as the
// law rounds the goods and services tax (Excise Tax Act, R.S.C. 1985, c. E-15, s. 165.2: half a
// cent or more is a cent; from memory, the section was not read).
func Round(amount *apd.Decimal, currency string) *apd.Decimal { return To(amount, Places(currency)) }

// To rounds to so many decimals, half away from zero. Amounts that are read have room for it.
func To(amount *apd.Decimal, places int) *apd.Decimal {
	out := new(apd.Decimal)
	if _, err := Exact.Quantize(out, amount, -int32(places)); err != nil { //nolint:gosec // a few decimals
		return new(apd.Decimal).Set(amount)
	}
	return out
}

// Places is how many decimals the smallest unit of a currency has: 2 of those that are not
// known, and of most that are (Unicode CLDR, currency data, which follows ISO 4217).
func Places(code string) int {
	unit, err := currency.ParseISO(code)
	if err != nil {
		return 2
	}
	places, _ := currency.Standard.Rounding(unit)
	return places
}

// amountForm keeps sums within the precision of the arithmetic.
var amountForm = regexp.MustCompile(`^\d{1,9}(\.\d{1,6})?$`)

// Parse reads an amount without its currency, such as 48 or 0.085.
func Parse(text string) (*apd.Decimal, error) {
	if !amountForm.MatchString(text) {
		return nil, say.Err(say.That("parse_error.no_amount", "text", text))
	}
	d, _, err := apd.NewFromString(text)
	return d, err
}

// moneyForm is an amount and the three letters of its currency.
var moneyForm = regexp.MustCompile(`^(\d{1,9}(?:\.\d{1,6})?) ([A-Z]{3})$`)

// ParseMoney reads an amount with its currency, such as 48.00 CAD.
func ParseMoney(text string) (Money, error) {
	parts := moneyForm.FindStringSubmatch(text)
	if parts == nil || !Known(parts[2]) {
		return Money{}, say.Err(say.That("parse_error.no_money", "text", text))
	}
	d, err := Parse(parts[1])
	return Money{d, parts[2]}, err
}

// codeForm is three capital letters.
var codeForm = regexp.MustCompile(`^[A-Z]{3}$`)

// Code reports whether a text is written as the code of a currency.
func Code(text string) bool { return codeForm.MatchString(text) }

// Known reports whether a text is the code of a currency (ISO 4217).
func Known(text string) bool {
	_, err := currency.ParseISO(text)
	return Code(text) && err == nil
}
