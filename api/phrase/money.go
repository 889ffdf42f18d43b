package phrase

import (
	"github.com/cockroachdb/apd/v3"
	"golang.org/x/text/number"

	"wayhouse/regs/money"
)

// Money writes an amount exactly, at least to the smallest unit of its currency, with the marks
// of the language and the code of the currency behind it.
func (l *Language) Money(m money.Money) string { return l.Amount(m) + " " + m.Currency }

// Amount writes an amount alone.
func (l *Language) Amount(m money.Money) string {
	return l.digits(float(m.Amount), number.MinFractionDigits(money.Places(m.Currency)), number.MaxFractionDigits(6))
}

// Decimal writes a number as exactly as amounts are read.
func (l *Language) Decimal(d *apd.Decimal) string { return l.decimal(float(d), 6) }

// float is a decimal of no more digits than a float64 holds, as amounts of sums that anybody
// pays are.
func float(d *apd.Decimal) float64 {
	v, _ := d.Float64()
	return v
}
